"""Several tinters in one base: a scale that bends from one tinter's colours to another's.

Shares are found by least squares on CIELAB. With test cards of the single tinters only, a mix of two is right in
direction but may be 5 to 9 CIEDE2000 off (simulated acrylics); a card of the very mix settles it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from bossage.colour.difference import delta_e
from bossage.colour.kubelka_munk import measured, mixed_ratio, reflectance
from bossage.colour.mixing import Paint, fraction_at_lightness, mix_lab
from bossage.colour.scales import Scale, scale_of_labs, shade_names
from bossage.colour.spaces import FloatArray, chroma
from bossage.colour.spectrum import spectrum_to_lab
from bossage.errors import BossageError

# A tinter whose leaving out changes the colour by less is left out: nobody would see what it is for.
_SEEN_DE: Final = 0.1
_RUN_N: Final = 600
_REACH: Final = 0.005  # half a hundredth of L* is far below any reading
_LN_LEAST, _LN_MOST = np.log(1e-6), np.log(1e3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Blend:
    """One mix of base and several tinters that comes nearest to a wanted colour."""

    shares: tuple[float, ...]  # of each tinter in the whole mix; the rest is base
    lab: tuple[float, float, float]
    miss_de: float  # from the colour that was wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class BentScale:
    """A scale from several tinters."""

    scale: Scale
    blends: tuple[Blend, ...]  # one a shade


def blend_lab(paints: Sequence[Paint], shares: ArrayLike) -> FloatArray:
    """CIELAB of mixes that hold `shares` (last axis the tinters) of each tinter, the rest base.

    Each absorption was found under its own tinter's `k1`, so each counts with it: the base is the mean of the base
    under each tinter's `k1`, and the mix's `k1` their mean, both weighted by the tinters' shares. A tinter that is not
    in the mix so has no say, and the order of tinters has none. The paints must share their base.
    """
    c = np.asarray(shares, dtype=np.float64)
    tinter = c.sum(axis=-1, keepdims=True)
    # With no tinter at all the base under any one of them is the base's own colour.
    weight = np.where(tinter > 0, c / np.where(tinter > 0, tinter, 1.0), np.eye(len(paints))[0])
    full = np.concatenate([(1 - tinter) * weight, c], axis=-1)
    S = np.stack([*(np.ones_like(paint.Q_base) for paint in paints), *(paint.S_tinter for paint in paints)])
    Q = np.stack([*(paint.Q_base for paint in paints), *(paint.Q_tinter for paint in paints)])
    k1 = weight @ np.array([[paint.k1] for paint in paints])
    return spectrum_to_lab(measured(reflectance(mixed_ratio(full, S, Q)), k1, paints[0].k2))


def match_blend(paints: Sequence[Paint], target_lab: ArrayLike) -> Blend:
    """The mix of one base and several tinters nearest to a wanted CIELAB colour.

    Raises:
        BossageError: The paints do not share one base.
    """
    from scipy.optimize import least_squares

    _one_base(paints)
    target = np.asarray(target_lab, dtype=np.float64)
    scale = np.array([1.0, *2 * [1 + 0.03 * float(chroma(target))]])

    def residual(x: FloatArray) -> FloatArray:
        return np.asarray((blend_lab(paints, _shares(x)) - target) / scale)

    runs = [
        least_squares(residual, np.clip(start, _LN_LEAST, _LN_MOST), bounds=(_LN_LEAST - 1e-9, _LN_MOST + 1e-9))
        for start in _starts(paints, float(target[0]))
    ]
    shares = _shares(min(runs, key=lambda run: float(run.cost)).x)
    for i in np.argsort(shares):
        fewer = shares.copy()
        fewer[i] = 0.0
        if delta_e(blend_lab(paints, fewer), blend_lab(paints, shares)) < _SEEN_DE:
            shares = fewer
    lab = blend_lab(paints, shares)
    return Blend(
        shares=tuple(float(v) for v in shares),
        lab=(float(lab[0]), float(lab[1]), float(lab[2])),
        miss_de=float(delta_e(lab, target)),
    )


def bent_scale(family: str, paints: Sequence[Paint], lightnesses: Sequence[float]) -> BentScale:
    """A scale at given lightnesses that bends from the first tinter's colour to the last one's as it darkens.

    Raises:
        BossageError: The paints do not share one base, or no tinter reaches a lightness.
    """
    L = np.asarray(lightnesses, dtype=np.float64)
    targets = bent_labs(paints, float(L.max()), float(L.min()))(L)
    blends = tuple(match_blend(paints, target) for target in targets)
    notes = [note for paint in paints for note in paint.assumptions]
    notes.append(f"{family} mixes {len(paints)} tinters; the colours between them are a first guess until a test card.")
    scale = scale_of_labs(
        family,
        [blend.lab for blend in blends],
        [blend.shares for blend in blends],
        paints=tuple(paints),
        names=shade_names(family, L),
        assumptions=tuple(dict.fromkeys(notes)),
    )
    return BentScale(scale=scale, blends=blends)


def bent_labs(paints: Sequence[Paint], first: float, last: float) -> Callable[[FloatArray], FloatArray]:
    """The wanted colours of a scale between two lightnesses, as CIELAB by lightness.

    At each lightness the wanted colour lies between those of the single tinters at that lightness, moving from one to
    the next in equal steps of lightness; a scale of one shade takes the middle. A tinter that is not that dark, or not
    that light, lends its nearest hue.

    Raises:
        BossageError: The paints do not share one base, or no tinter reaches one of the two lightnesses.
    """
    _one_base(paints)
    runs = [_run_by_lightness(paint) for paint in paints]
    for L in (first, last):
        if not any(run[0, 0] - _REACH <= L <= run[-1, 0] + _REACH for run in runs):
            fraction_at_lightness(paints[-1], L)  # says what range there is
    light, span = max(first, last), abs(first - last)

    def labs_at(lightnesses: FloatArray) -> FloatArray:
        L = np.asarray(lightnesses, dtype=np.float64)
        single = np.stack([[np.interp(L, run[:, 0], run[:, axis]) for axis in (1, 2)] for run in runs])
        along = (light - L) / span * (len(paints) - 1) if span > 0 else np.full_like(L, (len(paints) - 1) / 2)
        weight = np.maximum(1 - np.abs(along[None, :] - np.arange(len(paints))[:, None]), 0)
        a, b = (weight[:, None, :] * single).sum(axis=0)
        return np.stack([L, a, b], axis=1)

    return labs_at


def _run_by_lightness(paint: Paint) -> FloatArray:
    """CIELAB of a tinter's mixes by rising lightness, as far as lightness does not turn round."""
    lab = mix_lab(paint, np.concatenate([[0.0], np.geomspace(1e-6, 1.0, _RUN_N)]))
    way = np.sign(lab[-1, 0] - lab[0, 0]) or -1.0
    turns = np.flatnonzero(way * np.diff(lab[:, 0]) <= 0)
    # The first part in a million may change nothing to the last digit.
    turns = turns[turns > 5]
    run = lab[: int(turns[0]) + 1] if len(turns) else lab
    return run[np.argsort(run[:, 0], kind="stable")]


def _shares(x: FloatArray) -> FloatArray:
    ratio = np.exp(x)
    return np.asarray(ratio / (1 + ratio.sum()))


def _starts(paints: Sequence[Paint], L: float) -> list[FloatArray]:
    """Each tinter alone at about the wanted lightness, and all of them together."""
    alone = []
    for paint in paints:
        run = np.concatenate([[1e-6], np.geomspace(1e-4, 0.999, 40)])
        c = float(run[np.abs(mix_lab(paint, run)[:, 0] - L).argmin()])
        alone.append(np.log(c / (1 - c)))
    starts = [np.where(np.arange(len(paints)) == i, alone, np.array(alone) - 4) for i in range(len(paints))]
    return [*starts, np.array(alone) - np.log(len(paints))]


def _one_base(paints: Sequence[Paint]) -> None:
    for paint in paints[1:]:
        if delta_e(paint.base_lab, paints[0].base_lab) > 0.5:
            raise BossageError(
                f"{paints[0].name} and {paint.name} are mixed into different bases; a scale of several tinters needs "
                "one base. Give both the same."
            )
