"""Scales of shades: even ones, ones at given lightness, and shades known by colour only.

A shade is called by its family and its CIE lightness, `moss 62`; where two would share a name a letter follows.
Even means even in CIEDE2000 between neighbours, reached by arc length along the run of mixes and then corrected.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from bossage.colour.difference import JUST_SEEN_DE, delta_e
from bossage.colour.mixing import Paint, fraction_at_lightness, fractions_at_lightness, mix_lab
from bossage.colour.spaces import FloatArray, hex_to_lab, into_gamut, lab_to_hex
from bossage.errors import BossageError

# Under a millilitre of tinter in a litre no small shop's spoon or syringe can be trusted (common practice, no source).
STOCK_BELOW_FRACTION: Final = 0.001
# An amount should be ten times what can be told apart: its error is then about a tenth of a shade's tinter at most.
MEASURED_TIMES: Final = 10
EVEN_TOLERANCE: Final = 5e-4  # half of the thousandth that is promised
_EVEN_ROUNDS: Final = 24
_STRETCH_ROUNDS: Final = 6
# Sampling uniform in ln(c + offset) follows the colour closely at both ends of a run of mixes.
_OFFSET: Final = 1e-4
_SAMPLES: Final = 128
_LENGTH_SAMPLES: Final = 512


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """One colour of a family."""

    family: str
    name: str  # `moss 62`
    lab: tuple[float, float, float]  # CIELAB D65
    hex: str  # for screen and print, inside sRGB
    fraction: float | None  # all tinters over the whole mix; None when there is no paint model
    shares: tuple[float, ...] = ()  # of each tinter in the whole mix; empty when there is no paint model


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """The shades of one family in the order asked for."""

    family: str
    shades: tuple[Shade, ...]
    step_de: tuple[float, ...]  # CIEDE2000 between neighbours, one fewer than shades
    paints: tuple[Paint, ...]  # one a tinter; none: colours are shown, but no mix is predicted
    assumptions: tuple[str, ...] = ()

    @property
    def paint(self) -> Paint | None:
        """The paint of a family with one tinter; None without a paint model or with several tinters."""
        return self.paints[0] if len(self.paints) == 1 else None

    @property
    def modelled(self) -> bool:
        """Whether a paint model stands behind the colours."""
        return bool(self.paints)

    @property
    def labs(self) -> FloatArray:
        """CIELAB of all shades, one row each."""
        return np.array([shade.lab for shade in self.shades]).reshape(-1, 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaleFault:
    """Shades that a person could not tell apart, or one that nobody can measure out."""

    kind: str  # 'alike' or 'unmeasurable'
    shades: tuple[str, ...]
    found: float  # CIEDE2000, or millilitres of tinter
    allowed: float
    text: str


def even_fractions(paint: Paint, from_fraction: float, to_fraction: float, count_n: int) -> FloatArray:
    """Fractions of tinter of `count_n` mixes whose neighbours are equally far apart in CIEDE2000.

    Args:
        paint: The family's base and tinter.
        from_fraction: First mix, 0 (base alone) to 1.
        to_fraction: Last mix, different from the first.
        count_n: How many shades, both ends included, 2 or more.

    Returns:
        The fractions in order; largest over smallest step is at most 1.0005 in practice.

    Raises:
        BossageError: Fewer than two shades, or both ends alike.
    """
    if count_n < 2 or from_fraction == to_fraction:
        raise BossageError(
            f"An even scale needs two different ends and 2 shades or more; it was asked for {count_n} "
            f"from {from_fraction:g} to {to_fraction:g} of tinter."
        )
    run = _Run.of(paint, from_fraction, to_fraction, _SAMPLES)
    end = float(run.S[-1])
    if end == 0:
        raise BossageError(f"Both ends of the scale of {paint.name} have the same colour; take ends further apart.")
    at = np.linspace(0, end, count_n)
    best, best_ratio = run.fractions(at), np.inf
    for turn in range(_EVEN_ROUNDS):
        c = run.fractions(at)
        d = _steps_de(paint, c)
        least = float(d.min())
        ratio = float(d.max()) / least if least > 0 else np.inf
        if ratio < best_ratio:
            best, best_at, best_ratio = c, at, ratio
        if ratio - 1 < EVEN_TOLERANCE or count_n == 2:
            break
        if turn < _STRETCH_ROUNDS:
            growth = np.diff(at) * (d.mean() / np.maximum(d, 1e-12))
            at = np.concatenate([[0.0], np.cumsum(growth)])
            at *= end / at[-1]
        else:
            at = _levelled(paint, best_at if turn == _STRETCH_ROUNDS else at, run)
    return best


def even_lightness(
    labs_at: Callable[[FloatArray], FloatArray], from_lightness: float, to_lightness: float, count_n: int
) -> FloatArray:
    """CIE lightness of `count_n` colours whose neighbours are equally far apart in CIEDE2000, ends as given.

    Args:
        labs_at: CIELAB of the colours that have given lightnesses, one row each.
        from_lightness: Of the first colour.
        to_lightness: Of the last one.
        count_n: How many, 2 or more.
    """
    grid = np.linspace(from_lightness, to_lightness, _SAMPLES)
    lab = labs_at(grid)
    S = np.concatenate([[0.0], np.cumsum(delta_e(lab[1:], lab[:-1]))])
    at = np.linspace(0, S[-1], count_n)
    for _ in range(_STRETCH_ROUNDS):
        L = np.interp(at, S, grid)
        lab = labs_at(L)
        d = delta_e(lab[1:], lab[:-1])
        if count_n == 2 or float(d.min()) <= 0 or float(d.max() / d.min()) - 1 < EVEN_TOLERANCE:
            break
        at = np.concatenate([[0.0], np.cumsum(np.diff(at) * d.mean() / d)])
        at *= S[-1] / at[-1]
    L = np.interp(at, S, grid)
    L[0], L[-1] = from_lightness, to_lightness
    return L


def even_scale(
    family: str, paint: Paint, count_n: int, *, lightest: float | None = None, darkest: float | None = None
) -> Scale:
    """K shades between two lightnesses, light to dark, even in CIEDE2000.

    Args:
        family: Name of the family.
        paint: Its base and tinter.
        count_n: How many shades.
        lightest: CIE lightness of the first; by default the base itself.
        darkest: CIE lightness of the last; by default the tinter at full strength.

    Raises:
        BossageError: A lightness is out of the paint's reach, or fewer than two shades are asked for.
    """
    start = 0.0 if lightest is None else fraction_at_lightness(paint, lightest)
    end = 1.0 if darkest is None else fraction_at_lightness(paint, darkest)
    return scale_of_fractions(family, paint, even_fractions(paint, start, end, count_n))


def scale_at_lightness(family: str, paint: Paint, lightnesses: Sequence[float]) -> Scale:
    """Shades of a family at given CIE lightnesses, in the order given.

    Raises:
        BossageError: A lightness is out of the paint's reach; the message gives the range there is.
    """
    return scale_of_fractions(family, paint, fractions_at_lightness(paint, lightnesses))


def scale_of_fractions(family: str, paint: Paint, fractions: ArrayLike) -> Scale:
    """Shades of a family at given fractions of tinter, in the order given."""
    c = np.asarray(fractions, dtype=np.float64)
    return scale_of_labs(family, mix_lab(paint, c), c[:, None], paints=(paint,), assumptions=paint.assumptions)


def scale_from_colour(family: str, lightnesses: Sequence[float], hexes: str | Sequence[str]) -> Scale:
    """Shades known by colour only: hue and chroma from a hex colour, lightness as asked, chroma cut to fit sRGB.

    Args:
        family: Name of the family.
        lightnesses: CIE lightness of each shade, in order, 0 to 100.
        hexes: One hex colour for the whole family, or one for each shade.

    Raises:
        BossageError: A hex colour cannot be read, or their number fits neither one nor all shades.
    """
    given = [hexes] if isinstance(hexes, str) else list(hexes)
    if len(given) not in (1, len(lightnesses)):
        raise BossageError(
            f"{family} has {len(lightnesses)} shades but {len(given)} hex colours; give one for all or one for each."
        )
    lab = np.array([hex_to_lab(text) for text in given])
    lab = np.broadcast_to(lab, (len(lightnesses), 3)).copy()
    lab[:, 0] = lightnesses
    note = f"No paint model of {family}: its colours are shown, no mix is predicted. Give a base and a tinter."
    return scale_of_labs(family, into_gamut(lab), assumptions=(note,))


def scale_of_labs(
    family: str,
    labs: ArrayLike,
    shares: ArrayLike | None = None,
    *,
    paints: tuple[Paint, ...] = (),
    names: Sequence[str] = (),
    assumptions: tuple[str, ...] = (),
) -> Scale:
    """A scale from finished colours: names and steps are worked out, nothing is mixed.

    Args:
        family: Name of the family.
        labs: CIELAB of each shade, one row each.
        shares: Share of each tinter in each mix, one row a shade; None without a paint model.
        paints: The paints behind it, one a tinter.
        names: Names that the shades have already; by default they are called by their lightness.
        assumptions: Printed beside the scale.
    """
    lab = np.asarray(labs, dtype=np.float64).reshape(-1, 3)
    mixed = None if shares is None else np.asarray(shares, dtype=np.float64).reshape(len(lab), -1)
    shades = tuple(
        Shade(
            family=family,
            name=name,
            lab=(float(row[0]), float(row[1]), float(row[2])),
            hex=lab_to_hex(row),
            fraction=None if mixed is None else float(mixed[i].sum()),
            shares=() if mixed is None else tuple(float(v) for v in mixed[i]),
        )
        for i, (name, row) in enumerate(zip(names or shade_names(family, lab[:, 0]), lab, strict=True))
    )
    steps = tuple(float(v) for v in delta_e(lab[1:], lab[:-1]))
    return Scale(family=family, shades=shades, step_de=steps, paints=paints, assumptions=assumptions)


def shade_names(family: str, lightness: ArrayLike) -> tuple[str, ...]:
    """Names such as `moss 62`; where several shades round to one number, all of them get a letter, `moss 62a`."""
    whole = [int(v) for v in np.floor(np.asarray(lightness, dtype=np.float64) + 0.5)]
    names, seen = [], dict.fromkeys(whole, 0)
    for L in whole:
        letter = chr(ord("a") + seen[L]) if whole.count(L) > 1 else ""
        seen[L] += 1
        names.append(f"{family} {L}{letter}")
    return tuple(names)


def scale_length_de(paint: Paint, from_fraction: float, to_fraction: float) -> float:
    """Arc length of a run of mixes: the sum of CIEDE2000 over many small steps."""
    return float(_Run.of(paint, from_fraction, to_fraction, _LENGTH_SAMPLES).S[-1])


def same_step_counts(lengths_de: Sequence[float], total_n: int) -> tuple[int, ...]:
    """How many shades each family should have, `total_n` in all, so that their steps come out as equal as can be.

    Args:
        lengths_de: `scale_length_de` of each family.
        total_n: Shades in all, at least two a family.

    Raises:
        BossageError: Fewer than two shades a family.
    """
    if total_n < 2 * len(lengths_de):
        raise BossageError(
            f"{total_n} shades are too few for {len(lengths_de)} families; each needs two, so {2 * len(lengths_de)}."
        )
    counts = [2] * len(lengths_de)
    for _ in range(total_n - sum(counts)):
        # The widest step gets the next shade: what is left is the smallest widest step there is.
        widest = max(range(len(counts)), key=lambda i: lengths_de[i] / (counts[i] - 1))
        counts[widest] += 1
    return tuple(counts)


def scale_faults(
    scale: Scale,
    *,
    least_step_de: float = JUST_SEEN_DE,
    volume_ml: float | None = None,
    resolution_ml: float = 0.0,
) -> tuple[ScaleFault, ...]:
    """Neighbours that cannot be told apart, and shades whose tinter cannot be measured out.

    Args:
        scale: The scale to look at.
        least_step_de: What a person can still tell apart.
        volume_ml: Paint needed of each shade; None leaves out the measuring.
        resolution_ml: The least that the maker's syringe, spoon or scale can tell, in millilitres.
    """
    faults = [
        ScaleFault(
            kind="alike",
            shades=(first.name, second.name),
            found=step,
            allowed=least_step_de,
            text=f"{first.name} and {second.name} lie {step:.1f} apart; under {least_step_de:g} nobody can tell them "
            "apart. Use fewer shades or ends further apart.",
        )
        for first, second, step in zip(scale.shades, scale.shades[1:], scale.step_de, strict=False)
        if step < least_step_de
    ]
    for shade in scale.shades:
        if shade.fraction is None or shade.fraction == 0:
            continue
        tinter_ml = shade.fraction * (1000.0 if volume_ml is None else volume_ml)
        least_ml = 1000.0 * STOCK_BELOW_FRACTION if volume_ml is None else MEASURED_TIMES * resolution_ml
        if shade.fraction < STOCK_BELOW_FRACTION or tinter_ml < least_ml:
            batch = "a litre" if volume_ml is None else f"{volume_ml:g} mL"
            faults.append(
                ScaleFault(
                    kind="unmeasurable",
                    shades=(shade.name,),
                    found=tinter_ml,
                    allowed=least_ml,
                    text=f"{shade.name} holds {tinter_ml:.2g} mL of tinter in {batch}, too little to measure. "
                    "Mix it from a diluted stock, and paint a test card first.",
                )
            )
    return tuple(faults)


def most_shades(
    paint: Paint,
    from_fraction: float,
    to_fraction: float,
    *,
    least_step_de: float = JUST_SEEN_DE,
    volume_ml: float | None = None,
    resolution_ml: float = 0.0,
) -> int:
    """The largest number of even shades that can be told apart and, with a volume given, measured out; 1 when none.

    Measuring: each shade's tinter, and its difference from its neighbour's, must be at least the resolution.
    """

    def good(count_n: int) -> bool:
        c = even_fractions(paint, from_fraction, to_fraction, count_n)
        apart = bool(_steps_de(paint, c).min() >= least_step_de)
        amounts = np.append(np.abs(np.diff(c)), c[c > 0])
        measurable = volume_ml is None or bool(amounts.min() * volume_ml >= resolution_ml)
        return apart and measurable

    low = 1
    high = int(scale_length_de(paint, from_fraction, to_fraction) / least_step_de) + 2
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if good(middle) else (low, middle - 1)
    return low


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """A run of mixes by arc length: between samples the logarithm of the tinter runs straight."""

    ln_c: FloatArray  # ln(fraction + _OFFSET)
    S: FloatArray  # sum of CIEDE2000 up to there
    ends: tuple[float, float]

    @classmethod
    def of(cls, paint: Paint, from_fraction: float, to_fraction: float, samples_n: int) -> _Run:
        ln_c = np.linspace(np.log(from_fraction + _OFFSET), np.log(to_fraction + _OFFSET), samples_n)
        c = np.exp(ln_c) - _OFFSET
        c[0], c[-1] = from_fraction, to_fraction
        S = np.concatenate([[0.0], np.cumsum(_steps_de(paint, c))])
        return cls(ln_c=ln_c, S=S, ends=(from_fraction, to_fraction))

    def fractions(self, at: FloatArray) -> FloatArray:
        """Fractions at arc lengths; the ends are exact."""
        c = np.exp(np.interp(at, self.S, self.ln_c)) - _OFFSET
        c[0], c[-1] = self.ends
        return c


def _levelled(paint: Paint, at: FloatArray, run: _Run) -> FloatArray:
    """One Newton step towards equal steps, for runs of mixes that turn too sharply for stretching alone."""
    inner = len(at) - 2
    h = 1e-5 * float(run.S[-1])
    moved = at.copy()
    moved[1:-1] += h
    here, ahead = (mix_lab(paint, run.fractions(x)) for x in (at, moved))
    d = delta_e(here[1:], here[:-1])
    by_end = (delta_e(ahead[1:], here[:-1]) - d) / h
    by_start = (delta_e(here[1:], ahead[:-1]) - d) / h
    J = np.zeros((inner, inner))
    row = np.arange(inner)
    # Row i: step i + 1 less step i; both share the inner point i.
    J[row, row] = by_start[1:] - by_end[:-1]
    J[row[:-1], row[1:]] = by_end[1:-1]
    J[row[1:], row[:-1]] = -by_start[1:-1]
    try:
        move = np.linalg.solve(J, -np.diff(d))
    except np.linalg.LinAlgError:
        return at
    room = 0.4 * np.minimum(np.diff(at)[:-1], np.diff(at)[1:])
    new = at.copy()
    new[1:-1] += move * min(1.0, float((room / np.maximum(np.abs(move), 1e-15)).min()))
    return new


def _steps_de(paint: Paint, c: FloatArray) -> FloatArray:
    lab = mix_lab(paint, c)
    return delta_e(lab[1:], lab[:-1])
