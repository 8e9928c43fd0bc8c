"""Stain, oil and wax on bare wood: the wood's own colour under an absorber that hides nothing.

A clear finish only takes light away. So the wood is a Kubelka-Munk layer that scatters, and the finish adds absorption
in proportion to how much of it has gone in: half the strength or half the coats, half the absorption. Nothing becomes
lighter. End grain drinks more, so a face of end grain is darker than a side by a stated factor.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from bossage.colour.coats import coat_of_lab
from bossage.colour.difference import delta_e
from bossage.colour.kubelka_munk import measured, ratio_of_measured, reflectance
from bossage.colour.mixing import TestCard
from bossage.colour.spaces import FloatArray
from bossage.colour.spectrum import spectrum_to_lab
from bossage.errors import BossageError

# End grain takes up more than a side: how much differs by wood and finish (common practice, no source).
END_GRAIN: Final = 1.5
MOST_COATS: Final = 4
# Beyond this a card says that the finish does not darken as an absorber does.
CARD_MISS_DE: Final = 4.0
_NEAR: Final = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Stain:
    """One finish on one wood. Strength 1 is one coat as it comes from the tin, on a side of the wood."""

    name: str
    wood_lab: tuple[float, float, float]
    k1: float
    k2: float
    Q_wood: FloatArray
    Q_coat: FloatArray  # what one coat adds
    end_grain: float  # by how much more of it goes into end grain
    miss_de: float  # from the colour given for one coat: a finish that lightens cannot be met
    card_miss_de: tuple[float, ...] = ()
    assumptions: tuple[str, ...] = ()


def stain_from_colours(
    name: str,
    wood_lab: ArrayLike,
    coat_lab: ArrayLike,
    cards: Sequence[TestCard] = (),
    *,
    end_grain: float = END_GRAIN,
    k2: float = 0.60,
) -> Stain:
    """A finish from the colour of the bare wood and that of one full coat on a side of it.

    Args:
        name: What is on the tin.
        wood_lab: CIELAB of the planed wood.
        coat_lab: CIELAB of one full coat, dry, on a side.
        cards: Painted on faces of end grain of the very wood; `fraction` is the strength. They settle the factor of
            end grain, for wood and finish together.
        end_grain: That factor where no card is.
        k2: Light turned back inside the surface.

    Raises:
        BossageError: No surface has such a colour.
    """
    wood, coat = np.asarray(wood_lab, dtype=np.float64), np.asarray(coat_lab, dtype=np.float64)
    (R_wood, k1_wood), (R_coat, k1_coat) = coat_of_lab(wood), coat_of_lab(coat)
    k1 = min(k1_wood, k1_coat)
    Q_wood, Q_full = ratio_of_measured(np.stack([R_wood, R_coat]), k1, k2)
    plain = Stain(
        name=name,
        wood_lab=(float(wood[0]), float(wood[1]), float(wood[2])),
        k1=k1,
        k2=k2,
        Q_wood=Q_wood,
        Q_coat=np.maximum(Q_full - Q_wood, 0.0),
        end_grain=end_grain,
        miss_de=0.0,
    )
    factor = _fitted(plain, cards) if cards else end_grain
    made = _with(plain, end_grain=factor, miss_de=float(delta_e(stained_lab(plain, 1.0, end_grain=False), coat)))
    misses = tuple(float(delta_e(stained_lab(made, card.fraction), card.lab)) for card in cards)
    return _with(made, card_miss_de=misses, assumptions=_notes(made, misses))


def stained_lab(stain: Stain, strength: ArrayLike, *, end_grain: bool = True) -> FloatArray:
    """CIELAB of the wood under so many coats' worth of the finish; any shape, colours on a new last axis."""
    s = np.asarray(strength, dtype=np.float64)[..., None] * (stain.end_grain if end_grain else 1.0)
    return spectrum_to_lab(measured(reflectance(stain.Q_wood + s * stain.Q_coat), stain.k1, stain.k2))


def strengths_at_lightness(stain: Stain, lightnesses: ArrayLike) -> FloatArray:
    """Strength whose face of end grain has each CIE lightness.

    Raises:
        BossageError: Lighter than the bare wood, or darker than the most coats; the text gives the range.
    """
    wanted = np.asarray(lightnesses, dtype=np.float64).reshape(-1)
    grid = np.concatenate([[0.0], np.geomspace(1e-3, MOST_COATS, 400)])
    seen = stained_lab(stain, grid)[:, 0]
    low, high = float(seen[-1]), float(seen[0])
    off = wanted[(wanted > high + 0.005) | (wanted < low - 0.005)]
    if off.size:
        raise BossageError(
            f"{stain.name} cannot reach L* {off[0]:g} on this wood: from bare to {MOST_COATS} coats its faces run from "
            f"{high:.1f} to {low:.1f}. A clear finish never lightens; take a lighter wood or a stronger finish."
        )
    # Lightness only falls with strength, so the run turned round can be read backwards.
    return np.asarray(np.interp(wanted, seen[::-1], grid[::-1]))


@dataclass(frozen=True, slots=True, kw_only=True)
class StainMix:
    """How one shade is made: so many coats, each of `parts` of finish to thinner."""

    coats: int
    parts: tuple[int, int]

    @property
    def strength(self) -> float:
        """Coats' worth of full finish."""
        return self.coats * self.parts[0] / sum(self.parts)


def stain_mix(strength: float, *, dilutes: bool) -> StainMix:
    """The fewest coats that reach a strength, let down with thinner; oil and wax take whole coats.

    Of all ratios of up to twelve parts to twelve, the plainest that comes within a twentieth of the strength is taken.
    """
    if not dilutes:
        return StainMix(coats=max(1, round(strength)), parts=(1, 0))
    coats = max(1, int(np.ceil(strength - 0.02)))
    share = strength / coats
    if share > 0.98:
        return StainMix(coats=coats, parts=(1, 0))
    ratios = [(p, q) for p in range(1, 13) for q in range(1, 13)]
    off = {(p, q): abs(np.log(p / (p + q) / share)) for p, q in ratios}
    near = [one for one in ratios if off[one] <= _NEAR] or [min(ratios, key=lambda one: off[one])]
    return StainMix(coats=coats, parts=min(near, key=lambda one: (sum(one), off[one])))


def _fitted(stain: Stain, cards: Sequence[TestCard]) -> float:
    """The factor of end grain that the cards agree with best, between a half and six."""
    tried = np.geomspace(0.5, 6.0, 241)

    def off(factor: float) -> float:
        made = _with(stain, end_grain=factor)
        return sum((float(delta_e(stained_lab(made, card.fraction), card.lab)) / card.sigma_de) ** 2 for card in cards)

    return float(tried[int(np.argmin([off(float(factor)) for factor in tried]))])


def _with(stain: Stain, **values: object) -> Stain:
    return replace(stain, **values)  # type: ignore[arg-type]


def _notes(stain: Stain, misses: tuple[float, ...]) -> tuple[str, ...]:
    notes = []
    if not misses:
        notes.append(
            f"No test card of {stain.name} on the wood itself: faces of end grain are taken to drink "
            f"{stain.end_grain:g} times as much as sides. Paint a card on a spare block."
        )
    if stain.miss_de > CARD_MISS_DE:
        notes.append(
            f"{stain.name} as given lies {stain.miss_de:.1f} from what a clear finish can do on this wood: it would "
            "have to lighten it. Give its colour on this very wood."
        )
    notes += [
        f"A test card of {stain.name} lies {miss:.1f} from the finish as fitted; go by the cards."
        for miss in misses
        if miss > CARD_MISS_DE
    ]
    return tuple(notes)
