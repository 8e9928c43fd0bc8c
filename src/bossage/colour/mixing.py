"""A base and its tinter: what colour a mix will have, and what mix has a wanted lightness.

Two-constant Kubelka-Munk per wavelength on spectra recovered from colours; scattering of the base is 1, that of the
tinter is fitted to test cards. Three fits: `shape` (no card: the scattering that measured tints usually have, so
ratios are a first guess), `strength` (one number on top of that) and `smooth` (a smooth curve for scattering and small
smooth corrections of absorption; the one to use once a card exists).
Accuracy: on measured oil tints in zinc white the smooth fit, from one card, is 3 CIEDE2000 off on average, and with no
card 9 (`bench/paint.py`). Blocks need opaque coats; metallic, pearl and fluorescent paints lie outside the model.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bossage.colour.coats import coat_of_lab
from bossage.colour.difference import delta_e
from bossage.colour.kubelka_munk import K1, K2, measured, ratio_of_measured, reflectance
from bossage.colour.spaces import FloatArray, chroma
from bossage.colour.spectrum import lab_to_spectrum, spectrum_to_lab, weights
from bossage.errors import BossageError

# A card that the fitted paint misses by more than this does not follow Kubelka-Munk (reference note on Prussian blue).
CARD_MISS_DE: Final = 1.5
# Reading error of a good colour meter in CIELAB, used when a card states none.
METER_SIGMA_DE: Final = 0.5
C_LEAST: Final = 1e-6
# Scattering of a tinter over that of its white base, and how it grows with wavelength (white pigment scatters blue
# light best). Set on four measured tints and shown on three others: docs/decisions/0013.
USUAL_SCATTERING: Final = 0.65
USUAL_SLOPE: Final = 3.0
# Measured tints took from 0.33 to 4.3 times the tinter that this guess asks for (16 mixes, docs/decisions/0013). So
# the first third never goes too far, and too little can be mended.
FIRST_SHARE: Final = 1 / 3
_MIDDLE_NM: Final = 550.0
_NARROWINGS_N: Final = 3


class Fit(StrEnum):
    """How much is known of a tinter."""

    SHAPE = "shape"
    STRENGTH = "strength"
    SMOOTH = "smooth"


@dataclass(frozen=True, slots=True, kw_only=True)
class TestCard:
    """A painted sample of a known mix."""

    __test__ = False  # keeps pytest from taking the class for a test

    fraction: float  # tinter over the whole mix, in the kind of measure of every other fraction
    lab: tuple[float, float, float]
    sigma_de: float = METER_SIGMA_DE


@dataclass(frozen=True, slots=True, kw_only=True)
class Paint:
    """One tinter in one base, ready to predict every mix of the two."""

    name: str
    fit: Fit
    base_lab: tuple[float, float, float]
    tinter_lab: tuple[float, float, float]
    k1: float
    k2: float
    Q_base: FloatArray
    Q_tinter: FloatArray
    S_tinter: FloatArray
    cards: tuple[TestCard, ...] = ()
    card_miss_de: tuple[float, ...] = ()  # of each card, after the fit
    card_miss_before_de: tuple[float, ...] = ()  # the same with no card known
    assumptions: tuple[str, ...] = ()


def paint_from_colours(
    name: str,
    base_lab: ArrayLike,
    tinter_lab: ArrayLike,
    cards: Sequence[TestCard] = (),
    *,
    fit: Fit | None = None,
    k1: float = K1,
    k2: float = K2,
    sigma_de: float = METER_SIGMA_DE,
) -> Paint:
    """Fit a tinter to its full-strength colour and to the test cards there are.

    Args:
        name: What the maker calls the tinter; used in messages.
        base_lab: CIELAB of the base alone.
        tinter_lab: CIELAB of the tinter alone, in an opaque coat.
        cards: Painted samples of known mixes, none to three; one half-way in lightness helps most.
        fit: Which fit; by default `smooth` with a card and `shape` without.
        k1: Light returned by the surface itself at most; 0 for readings with the gloss left out. A reading that no
            coat with its gloss can have lowers it for this tinter alone.
        k2: Light turned back inside the film.
        sigma_de: Reading error of `tinter_lab`, CIELAB units.

    Raises:
        BossageError: No surface has such a colour; a card's fraction is not between 0 and 1; a fit that needs a card
            has none.
    """
    base, tinter = _triple(base_lab), _triple(tinter_lab)
    for card in cards:
        if not 0 < card.fraction < 1:
            raise BossageError(
                f"A test card of {name} holds {card.fraction:g} of tinter; it must lie between 0 and 1, "
                "such as 0.05 for 1 part in 20 of mix."
            )
    chosen = fit or (Fit.SMOOTH if cards else Fit.SHAPE)
    if chosen is not Fit.SHAPE and not cards:
        raise BossageError(f"{name} has no test card, so only the run of its colours is known. Paint one card.")
    (R_base, k1_base), (R_tinter, k1_tinter) = coat_of_lab(np.array(base)), coat_of_lab(np.array(tinter))
    k1 = min(k1, k1_base, k1_tinter)
    Q_base, Q_tinter = ratio_of_measured(np.stack([R_base, R_tinter]), k1, k2)
    plain = _Model(Q_base=Q_base, k1=k1, k2=k2)
    S = USUAL_SCATTERING * usual_scattering()
    before = plain.miss(cards, Q_tinter, S)
    if chosen is Fit.STRENGTH:
        S = _fit_strength(plain, Q_tinter, cards, usual_scattering()) * usual_scattering()
    elif chosen is Fit.SMOOTH:
        strength = _fit_strength(plain, Q_tinter, cards, np.ones_like(Q_tinter))
        Q_tinter, S = _fit_smooth(plain, Q_tinter, tinter, cards, strength, sigma_de)
    after = plain.miss(cards, Q_tinter, S)
    for array in (Q_base, Q_tinter, S):
        array.setflags(write=False)
    return Paint(
        name=name,
        fit=chosen,
        base_lab=base,
        tinter_lab=tinter,
        k1=k1,
        k2=k2,
        Q_base=Q_base,
        Q_tinter=Q_tinter,
        S_tinter=S,
        cards=tuple(cards),
        card_miss_de=tuple(after),
        card_miss_before_de=tuple(before),
        assumptions=_assumptions(name, chosen, after),
    )


@lru_cache(maxsize=1)
def usual_scattering() -> FloatArray:
    """How scattering of a tinter over its base runs with wavelength where no card is known; 1 at 550 nm.

    Source:
        Geldof et al. 2018, measured oil tints in zinc white; docs/decisions/0013.
    """
    nm, _ = weights()
    run: FloatArray = (nm / _MIDDLE_NM) ** USUAL_SLOPE
    run.setflags(write=False)
    return run


def mix_lab(paint: Paint, fraction: ArrayLike) -> FloatArray:
    """CIELAB of mixes that hold `fraction` (0 to 1) of tinter; any shape, colours on a new last axis.

    Where a card stays more than CARD_MISS_DE off, nothing is bent to meet it: the paint carries the warning instead.
    """
    model = _Model(Q_base=paint.Q_base, k1=paint.k1, k2=paint.k2)
    return model.lab(np.asarray(fraction, dtype=np.float64), paint.Q_tinter, paint.S_tinter)


def fraction_at_lightness(paint: Paint, L: float) -> float:
    """Fraction of tinter whose mix has CIE lightness L; see `fractions_at_lightness`."""
    return float(fractions_at_lightness(paint, [L])[0])


def fractions_at_lightness(paint: Paint, lightnesses: ArrayLike) -> FloatArray:
    """Fractions of tinter whose mixes have given CIE lightnesses, all of them at once.

    Where lightness turns round on the way (a tinter as light as its base), the weakest mix that does it is given.

    Raises:
        BossageError: No mix is that light or that dark; the message gives the range there is.
    """
    wanted = np.asarray(lightnesses, dtype=np.float64).reshape(-1)
    grid = np.concatenate([[0.0], np.geomspace(C_LEAST, 1.0, 121)])
    seen = mix_lab(paint, grid)[:, 0]
    i, crosses = _first_crossing(np.broadcast_to(seen, (len(wanted), len(seen))), wanted)
    found = np.empty(len(wanted))
    # Between no tinter and one part in a million the run is a straight line for any eye.
    faint = crosses & (i == 0)
    found[faint] = (seen[0] - wanted[faint]) / (seen[0] - seen[1]) * C_LEAST
    rest = np.flatnonzero(crosses & (i > 0))
    found[rest] = np.exp(_narrowed(paint, wanted[rest], np.log(grid[i[rest]]), np.log(grid[i[rest] + 1])))
    reached = crosses.copy()
    for at, fraction in ((-1, 1.0), (0, 0.0)):
        # Half a hundredth of L* is far below any reading, so a shade that is the base or the tinter itself is one.
        end = np.abs(seen[at] - wanted) <= 0.005
        found[end], reached = fraction, reached | end
    if not reached.all():
        L, low, high = float(wanted[~reached][0]), float(seen.min()), float(seen.max())
        raise BossageError(
            f"{paint.name} cannot reach L* {L:g}: its mixes run from {low:.1f} to {high:.1f}. "
            f"Ask for a lightness in that range, or take a {'lighter base' if high < L else 'darker tinter'}."
        )
    return found


def best_card_fraction(paint: Paint, along: float = 0.5) -> float:
    """Where to paint the next test card: the mix that lies `along` of the way in lightness from base to tinter."""
    ends = mix_lab(paint, np.array([0.0, 1.0]))[:, 0]
    return fraction_at_lightness(paint, float(ends[0] + along * (ends[1] - ends[0])))


def _first_crossing(seen: FloatArray, wanted: FloatArray) -> tuple[NDArray[np.intp], NDArray[np.bool_]]:
    """Of each row, the first stretch between two samples that holds the wanted value, and whether there is one."""
    off = seen - wanted[:, None]
    holds = off[:, :-1] * off[:, 1:] <= 0
    return np.asarray(holds.argmax(axis=1)), np.asarray(holds.any(axis=1))


def _narrowed(paint: Paint, wanted: FloatArray, low: FloatArray, high: FloatArray) -> FloatArray:
    """Logarithms of the fractions between bounds: thrice a sixteenth of the stretch, then straight between samples."""
    row = np.arange(len(wanted))
    at = (low + high) / 2
    for _ in range(_NARROWINGS_N if len(wanted) else 0):
        x = low[:, None] + (high - low)[:, None] * np.linspace(0, 1, 17)
        seen = mix_lab(paint, np.exp(x))[..., 0]
        i, _ = _first_crossing(seen, wanted)
        low, high = x[row, i], x[row, i + 1]
        span = seen[row, i + 1] - seen[row, i]
        share = np.where(span == 0, 0.5, (wanted - seen[row, i]) / np.where(span == 0, 1.0, span))
        at = low + (high - low) * np.clip(share, 0, 1)
    return at


@dataclass(frozen=True, slots=True, kw_only=True)
class _Model:
    Q_base: FloatArray
    k1: float
    k2: float

    def lab(self, c: FloatArray, Q: FloatArray, S: FloatArray) -> FloatArray:
        # Q and S may carry leading axes (one row a trial); c then broadcasts against them from the left.
        c = c[..., None]
        white, tint = 1 - c, c * S
        mixed = (white * self.Q_base + tint * Q) / (white + tint)
        return spectrum_to_lab(measured(reflectance(mixed), self.k1, self.k2))

    def miss(self, cards: Sequence[TestCard], Q: FloatArray, S: FloatArray) -> list[float]:
        return [float(delta_e(self.lab(np.array(card.fraction), Q, S), card.lab)) for card in cards]


def _fit_strength(model: _Model, Q: FloatArray, cards: Sequence[TestCard], run: FloatArray) -> float:
    from scipy.optimize import least_squares

    c = np.array([card.fraction for card in cards])
    lab = np.array([card.lab for card in cards])
    sigma = np.array([card.sigma_de for card in cards])[:, None]

    def residual(x: FloatArray) -> FloatArray:
        S = np.exp(np.clip(x[0], -12, 12)) * run
        return np.asarray((model.lab(c, Q, S) - lab) / sigma).ravel()

    runs = [least_squares(residual, [start]) for start in (-1.5, 0.0, 1.5)]
    best = min(runs, key=lambda run: float(run.cost))
    return float(np.exp(np.clip(best.x[0], -12, 12)))


def _fit_smooth(
    model: _Model,
    Q_mass: FloatArray,
    tinter: tuple[float, float, float],
    cards: Sequence[TestCard],
    strength: float,
    sigma_de: float,
) -> tuple[FloatArray, FloatArray]:
    # A nearly black full-strength coat carries no hue and a pale card does, so every card is a start of its own.
    starts = [Q_mass]
    for card in cards:
        Q_card = ratio_of_measured(lab_to_spectrum(card.lab), model.k1, model.k2)
        c, s = card.fraction, strength
        lifted = Q_card * ((1 - c) + c * s) - (1 - c) * model.Q_base
        starts.append(np.maximum(np.maximum(lifted, 1e-5) / (c * s), 1e-4))
    fits = [_smooth_from(model, Q, tinter, cards, strength, sigma_de) for Q in starts]
    _, Q_best, S_best = min(fits, key=lambda fit: fit[0])
    return Q_best, S_best


def _smooth_from(
    model: _Model,
    Q_start: FloatArray,
    tinter: tuple[float, float, float],
    cards: Sequence[TestCard],
    strength: float,
    sigma_de: float,
) -> tuple[float, FloatArray, FloatArray]:
    from scipy.optimize import least_squares

    legendre, bumps = _smooth_basis()
    c = np.array([*(card.fraction for card in cards), 1.0])
    lab = np.array([*(card.lab for card in cards), tinter])
    sigma = np.array([*(card.sigma_de for card in cards), sigma_de])[:, None]
    # Eyes and meters are less sure of a vivid colour's a* and b*.
    scale = sigma * np.stack([np.ones(len(c)), *2 * [1 + 0.03 * chroma(lab)]], axis=1)
    centre = np.log(strength)
    n_s = legendre.shape[0]

    def curves(x: FloatArray) -> tuple[FloatArray, FloatArray]:
        ln_S, ln_Q = x[..., :n_s] @ legendre, x[..., n_s:] @ bumps
        return Q_start * np.exp(np.clip(ln_Q, -20, 20)), np.exp(np.clip(ln_S, -12, 12))

    def residual(x: FloatArray) -> FloatArray:
        Q, S = curves(x)
        off = (model.lab(c, Q[..., None, :], S[..., None, :]) - lab) / scale
        h = x[..., n_s:]
        priors = [(x[..., :1] - centre) / 1.5, x[..., 1:n_s] / 0.35, h / 1.2, np.diff(h, axis=-1) / 0.6]
        return np.concatenate([off.reshape(*x.shape[:-1], -1), *priors], axis=-1)

    def slope(x: FloatArray) -> FloatArray:
        step = 1e-6
        trials = x + step * np.eye(len(x))
        back = x - step * np.eye(len(x))
        return ((residual(trials) - residual(back)) / (2 * step)).T

    x0 = np.zeros(n_s + bumps.shape[0])
    x0[0] = centre
    run = least_squares(residual, x0, jac=slope, method="lm", max_nfev=200)
    Q, S = curves(run.x)
    return float(run.cost), Q, S


def _smooth_basis() -> tuple[FloatArray, FloatArray]:
    nm, _ = weights()
    x = 2 * (nm - nm[0]) / (nm[-1] - nm[0]) - 1
    legendre = np.polynomial.legendre.legvander(x, 3).T
    centres = np.linspace(390, 720, 9)
    bumps = np.exp(-0.5 * ((nm[None, :] - centres[:, None]) / 45) ** 2)
    return legendre, bumps


def _assumptions(name: str, fit: Fit, miss_de: Sequence[float]) -> tuple[str, ...]:
    notes = []
    if fit is Fit.SHAPE:
        notes.append(
            f"No test card of {name}: the ratios are a first guess. Measured tints took from a third of the tinter to "
            "four times as much; put in a third first, look at it dry, and go on from there."
        )
    for miss in miss_de:
        if miss > CARD_MISS_DE:
            notes.append(
                f"A test card of {name} lies {miss:.1f} from the fitted paint: it does not mix as the model says; "
                "mix by the cards and judge dry."
            )
    return tuple(notes)


def _triple(lab: ArrayLike) -> tuple[float, float, float]:
    L, a, b = (float(v) for v in np.asarray(lab, dtype=np.float64))
    return L, a, b
