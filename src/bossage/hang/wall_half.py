"""The wall half of a cleat as a beam between its fixings: bent down by the weight, out by the push of the bevel."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from bossage.hang.case import DURATION, Case, link, product
from bossage.hang.prying import straight_mm
from bossage.hang.records import Link
from bossage.hang.strengths import SOURCE, bending_mpa, twisted_mpa
from bossage.layout.grid import bevel_rise_nm
from bossage.units import NM_PER_MM

NAME = "wall half"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """The stretch that is bent most: N·mm for each newton of the leaf, room between fixings, end beyond them."""

    moment_mm: float
    between_mm: float
    over_mm: float

    @property
    def room_mm(self) -> float:
        """What of the wall half twists one way from a fixing: half the room to the next, or the free end."""
        return max(self.between_mm / 2, self.over_mm)

    @property
    def by_end(self) -> bool:
        """Whether its free end rules, which no further fixing mends."""
        return self.between_mm < 2 * self.over_mm


def wall_half(case: Case, places_nm: Sequence[int]) -> Link | None:
    """Its link, for fixings at those places; None of a metal one, which its maker's rating covers."""
    brief = case.brief
    if brief.cleat.kind == "metal":
        return None
    bent = most_bent(case, places_nm)
    if bent is None:
        which = "it" if len(case.cleat.pieces) == 1 else "one of two"
        return link(
            case,
            NAME,
            part="all",
            demand_n=case.weight_n,
            allowable_n=0.0,
            basis=f"nothing is counted on: no fixing holds {which}",
            source="",
        )
    thick_mm = brief.cleat.thickness_nm / NM_PER_MM
    high_mm = max(1.0, (brief.cleat.strip_nm - bevel_rise_nm(brief)) / NM_PER_MM)
    down, out = case.weight_n * bent.moment_mm, case.thrust_n * bent.moment_mm
    stress = down / (thick_mm * high_mm**2 / 6) + out / (high_mm * thick_mm**2 / 6)
    damp = case.board_factors(brief.cleat.material)
    strength = bending_mpa(brief.cleat.material) * DURATION.value * product(damp)
    say = case.voice
    twist, held = _twisted_mpa(case, bent), twisted_mpa(brief.cleat.material) * product(damp)
    if stress / strength < twist / held:
        return link(
            case,
            NAME,
            part=f"twisted beside a fixing, {say.mm(bent.room_mm)} of it on one",
            demand_n=case.weight_n,
            allowable_n=case.weight_n * held / twist,
            basis=f"torsion {say.stress(twist)} of {say.stress(held)} allowable shear",
            factors=damp,
            assumptions=("the bevel pushes evenly along the cleat, above its fixings",),
            source=f"{SOURCE}; torsion of a flat bar, 3 T / (h t²) (1 + 0.6 t / h) (Roark, from memory)",
        )
    return link(
        case,
        NAME,
        part=f"its end, {say.mm(bent.over_mm)} out"
        if bent.by_end
        else f"between fixings {say.mm(bent.between_mm)} apart",
        demand_n=case.weight_n,
        allowable_n=case.weight_n * strength / stress if stress else math.inf,
        basis=f"bending {say.stress(stress)} of {say.stress(strength)} allowable",
        factors=(DURATION, *damp),
        assumptions=("the weight is spread evenly over the cleat",),
        source=SOURCE,
    )


def _twisted_mpa(case: Case, bent: Bent) -> float:
    """Shear in the wall half beside a fixing: the bevel pushes it out above the middle of its height."""
    brief = case.brief
    thick, high = brief.cleat.thickness_nm / NM_PER_MM, straight_mm(case)
    above = (brief.cleat.strip_nm - bevel_rise_nm(brief) / 2) / NM_PER_MM - high / 2
    along = case.thrust_n * max(case.cleat_shares) * above / (case.cleat.length_nm / NM_PER_MM)
    torque = along * bent.room_mm
    short, long = sorted((thick, high))
    return torque * 3 / (long * short**2) * (1 + 0.6 * short / long)


def most_bent(case: Case, places_nm: Sequence[int]) -> Bent | None:
    """Where it is bent most; None where a piece of it has no fixing."""
    length_mm = case.cleat.length_nm / NM_PER_MM
    found = []
    for (start, stop), share in zip(case.cleat.on_wall, case.cleat_shares, strict=True):
        xs = sorted({x for x in places_nm if start <= x <= stop})
        if not xs:
            return None
        between = max((b - a for a, b in pairwise(xs)), default=0) / NM_PER_MM
        over = max(xs[0] - start, stop - xs[-1], 0) / NM_PER_MM
        moment = share * max(between**2 / 8, over**2 / 2) / length_mm
        found.append(Bent(moment_mm=moment, between_mm=between, over_mm=over))
    return max(found, key=lambda bent: bent.moment_mm)
