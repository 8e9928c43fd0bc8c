"""Where two families meet: how far apart their ends look, and what would bring them together."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from bossage.colour.difference import delta_e
from bossage.colour.kubelka_munk import measured, mixed_ratio, reflectance
from bossage.colour.mixing import Paint, fractions_at_lightness, mix_lab
from bossage.colour.scales import Scale, Shade
from bossage.colour.spaces import FloatArray, chroma, lab_to_hex
from bossage.colour.spectrum import spectrum_to_lab

# Defaults of a meeting; a brief may state its own (assumption, no source).
MAX_DL: Final = 0.5
MAX_DE: Final = 5.0


class End(StrEnum):
    """Which ends of two scales meet."""

    LIGHTEST = "lightest"
    DARKEST = "darkest"
    NEAREST = "nearest"  # whichever ends lie closest in lightness
    ORDER = "order"  # the last shade of the first scale, the first of the second
    OUTER = "outer"  # the last shade of both, each the furthest from its family's home


class Joint(StrEnum):
    """How two families join in lightness."""

    LEVEL = "level"  # the same lightness
    STEP = "step"  # about one step of their own scales
    GAP = "gap"  # further: a maker would mix the two families to bridge it


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Two families at the place where they meet."""

    first: Shade
    second: Shade
    dl: float  # second minus first
    de: float  # CIEDE2000
    max_dl: float
    max_de: float
    joint: Joint
    lowest_lightness: float | None  # the least lightness at which both agree within max_de; None: unknown or never

    @property
    def meets(self) -> bool:
        """Whether both tolerances hold."""
        return abs(self.dl) <= self.max_dl and self.de <= self.max_de


@dataclass(frozen=True, slots=True, kw_only=True)
class Bridge:
    """A shade shared by two families: equal volumes of the two that meet."""

    lab: tuple[float, float, float]
    hex: str
    de_first: float
    de_second: float
    lost_chroma: float  # share of the two shades' mean chroma that the mix loses; near 1 is mud
    assumption: str


def meeting(
    first: Scale, second: Scale, *, ends: End = End.NEAREST, max_dl: float = MAX_DL, max_de: float = MAX_DE
) -> Meeting:
    """Compare the shades at which two families meet."""
    a, b = _ends(first, second, ends)
    dl = b.lab[0] - a.lab[0]
    lowest = None
    if first.paint is not None and second.paint is not None:
        lowest = lowest_common_lightness(first.paint, second.paint, max_de)
    step = max((abs(v) for scale in (first, second) for v in np.diff(scale.labs[:, 0])), default=0.0)
    joint = Joint.GAP
    if abs(dl) <= max_dl:
        joint = Joint.LEVEL
    elif abs(dl) <= step + max_dl:
        joint = Joint.STEP
    return Meeting(
        first=a,
        second=b,
        dl=dl,
        de=float(delta_e(a.lab, b.lab)),
        max_dl=max_dl,
        max_de=max_de,
        joint=joint,
        lowest_lightness=lowest,
    )


def difference_at_lightness(first: Paint, second: Paint, L: float) -> float:
    """CIEDE2000 between the mixes of two paints that share the CIE lightness L.

    Raises:
        BossageError: One of the two cannot be mixed to that lightness.
    """
    return float(_differences(first, second, [L])[0])


def lowest_common_lightness(first: Paint, second: Paint, max_de: float = MAX_DE) -> float | None:
    """The least lightness down to which the mixes of two paints stay within `max_de`; None when they never do.

    Looked for from the lightest lightness that both reach, in steps of 0.25, then in sixteenths down to 1e-6.
    """
    spans = [mix_lab(paint, np.array([0.0, 1.0]))[:, 0] for paint in (first, second)]
    top = float(min(span.max() for span in spans))
    bottom = float(max(span.min() for span in spans))
    if top < bottom:
        return None
    levels = np.concatenate([[top], np.arange(top - 0.25, bottom, -0.25), [bottom]])
    if difference_at_lightness(first, second, top) > max_de:
        return None
    while True:
        apart = _differences(first, second, levels) > max_de
        if not apart.any():
            return bottom
        at = max(int(apart.argmax()), 1)
        good, bad = float(levels[at - 1]), float(levels[at])
        if good - bad <= 1e-6:
            return good
        levels = np.linspace(good, bad, 17)


def cross_mix_lab(first: Paint, c_first: float, second: Paint, c_second: float, share_second: float) -> FloatArray:
    """CIELAB of a mix of two families: `share_second` (0 to 1) of a mix of the second, the rest of the first.

    Leaves out:
        How the two tinters' strengths compare, unless both were fitted to cards: the direction is right, the colour
        may be 5 to 15 CIEDE2000 off. Paint a card of the very mix.
    """
    shares = np.array(
        [
            (1 - share_second) * (1 - c_first),
            (1 - share_second) * c_first,
            share_second * (1 - c_second),
            share_second * c_second,
        ]
    )
    ones = np.ones_like(first.S_tinter)
    Q = mixed_ratio(
        shares,
        np.stack([ones, first.S_tinter, ones, second.S_tinter]),
        np.stack([first.Q_base, first.Q_tinter, second.Q_base, second.Q_tinter]),
    )
    k1 = (1 - share_second) * first.k1 + share_second * second.k1
    return spectrum_to_lab(measured(reflectance(Q), k1, first.k2))


def bridge(first: Scale, second: Scale, *, ends: End = End.NEAREST) -> Bridge | None:
    """The shade that equal volumes of the two meeting shades give; None where a family has no paint model."""
    a, b = _ends(first, second, ends)
    if first.paint is None or second.paint is None or a.fraction is None or b.fraction is None:
        return None
    lab = cross_mix_lab(first.paint, a.fraction, second.paint, b.fraction, 0.5)
    mean_chroma = float(chroma([a.lab, b.lab]).mean())
    return Bridge(
        lab=(float(lab[0]), float(lab[1]), float(lab[2])),
        hex=lab_to_hex(lab),
        de_first=float(delta_e(lab, a.lab)),
        de_second=float(delta_e(lab, b.lab)),
        lost_chroma=0.0 if mean_chroma == 0 else 1 - float(chroma(lab)) / mean_chroma,
        assumption=f"The mix of {a.name} and {b.name} is a first guess and may go muddy; paint a test card of it.",
    )


def _differences(first: Paint, second: Paint, lightnesses: ArrayLike) -> FloatArray:
    labs = [mix_lab(paint, fractions_at_lightness(paint, lightnesses)) for paint in (first, second)]
    return delta_e(labs[0], labs[1])


def _ends(first: Scale, second: Scale, ends: End) -> tuple[Shade, Shade]:
    if ends is End.ORDER:
        return first.shades[-1], second.shades[0]
    if ends is End.OUTER:
        return first.shades[-1], second.shades[-1]
    if ends is End.NEAREST:
        pairs = [(a, b) for a in (first.shades[0], first.shades[-1]) for b in (second.shades[0], second.shades[-1])]
        # Within the usual tolerance two lightnesses count as one, and the difference decides.
        return min(
            pairs,
            key=lambda pair: (
                max(abs(pair[0].lab[0] - pair[1].lab[0]) - MAX_DL, 0.0),
                float(delta_e(pair[0].lab, pair[1].lab)),
            ),
        )
    pick = max if ends is End.LIGHTEST else min
    return (
        pick(first.shades, key=lambda shade: shade.lab[0]),
        pick(second.shades, key=lambda shade: shade.lab[0]),
    )
