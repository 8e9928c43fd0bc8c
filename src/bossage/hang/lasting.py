"""Screws from the backer's face that hold a part of the back for good: a hinge stile, the leaf block of a stay.

Their thread goes deep enough for a load that never leaves, and the heads are sunk below the face where that takes it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from bossage.body import Part
from bossage.brief.records import Brief, LengthUnit
from bossage.errors import BossageError
from bossage.fasteners import (
    LEAST_BITE_NM,
    TIP_COVER_NM,
    head_hole_mm,
    head_pull_through_n,
    longest_sold_nm,
    wood_holes,
)
from bossage.hang.case import Case, gravity_of
from bossage.hang.case import product as together
from bossage.hang.screw_records import GlueScrews, ScrewSpot
from bossage.hang.threads import Held, Shank, bite_of, held_by, shank_or_reason, thinner_than
from bossage.units import NM_PER_IN, NM_PER_MM

GAUGE = {LengthUnit.MM: "4 mm", LengthUnit.IN: "#8"}
COVER_NM = {LengthUnit.MM: TIP_COVER_NM, LengthUnit.IN: NM_PER_IN // 8}
"""Wood that stays before the tip, as a rule of that shelf reads it."""

SINK_STEP_NM = {LengthUnit.MM: NM_PER_MM, LengthUnit.IN: NM_PER_IN // 32}
LEAST_UNDER_HEAD_NM = 3 * NM_PER_MM
"""Board that stays under a head that is sunk below the backer's face: ours."""

GROUP_SOURCE = "EN 1995-1-1 8.7.2(8), from memory"
"""Of a group of screws that are drawn out together: `fasteners.group`."""

MOST_SUNK_NM = 6 * NM_PER_MM
"""A head is sunk no deeper: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A screw from the backer's face into one part."""

    shank: Shank
    length_nm: int
    sunk_nm: int  # its head, below the backer's face


def while_glue_dries(brief: Brief, part: Part, backer: Part) -> Size | None:
    """The longest usual screw that stays covered; None where none bites."""
    unit, shank = brief.piece.unit, shank_or_reason(GAUGE[brief.piece.unit])
    through, deep = _deep_nm(backer), _deep_nm(part)
    length = longest_sold_nm(through + deep - COVER_NM[unit], unit, least_nm=through + LEAST_BITE_NM)
    if length is None or isinstance(shank, str):
        return None
    return Size(shank=shank, length_nm=length, sunk_nm=0)


def for_good(brief: Brief, part: Part, backer: Part) -> Size | None:
    """The thickest usual screw whose thread goes deep enough and stays covered, its head sunk no more than it must.

    None where no screw of that shelf does.
    """
    unit = brief.piece.unit
    through, deep, step = _deep_nm(backer), _deep_nm(part), SINK_STEP_NM[unit]
    for gauge in (GAUGE[unit], *thinner_than(GAUGE[unit])):
        shank = shank_or_reason(gauge)
        if isinstance(shank, str):
            continue
        most, head = through + deep - COVER_NM[unit], round(shank.head_mm / 2 * NM_PER_MM)
        for sunk, length in product(range(0, MOST_SUNK_NM + 1, step), sorted(shank.lengths_nm, reverse=True)):
            if length + sunk > most or (sunk and through - sunk - head < LEAST_UNDER_HEAD_NM):
                continue
            if bite_of(shank, length, through - sunk, deep).enough:
                return Size(shank=shank, length_nm=length, sunk_nm=sunk)
    return None


def screws_of(brief: Brief, part: Part, size: Size, spots: tuple[tuple[int, int], ...], *, lasting: bool) -> GlueScrews:
    """The screws of one part, with their drills."""
    shank, unit = size.shank, brief.piece.unit
    holes = wood_holes(shank.shank_mm, shank.root_mm, gravity_of(part.material), unit)
    return GlueScrews(
        part=part.name,
        gauge=shank.name,
        length_nm=size.length_nm,
        clearance_hole_mm=holes.clearance_mm,
        lead_hole_mm=holes.pilot_mm,
        spots=tuple(ScrewSpot(x_nm=x, y_nm=y) for x, y in spots),
        lasting=lasting,
        sunk_nm=size.sunk_nm,
        head_hole_mm=head_hole_mm(shank.head_mm, unit) if size.sunk_nm else 0.0,
    )


def pull_of(case: Case, part: Part, screws: GlueScrews) -> tuple[Held, str] | str:
    """What one of these screws holds straight out, with its basis: its thread, or its head through the backer.

    Returns:
        The lesser of both with its factors; or why nothing is counted on.
    """
    shank, say, backer = shank_or_reason(screws.gauge), case.voice, case.brief.backer
    if isinstance(shank, str):
        return shank
    try:
        found = bite_of(shank, screws.length_nm, backer.thickness_nm - screws.sunk_nm, _deep_nm(part))
        held = held_by(shank, part.material, found, case.service_factors)
        net_mm = max(1.0, (backer.thickness_nm - screws.sunk_nm) / NM_PER_MM - shank.head_mm / 2)
        head_n = head_pull_through_n(gravity_of(backer.material), shank.head_mm, net_mm) * together(case.wood_factors)
    except BossageError as error:
        return say.retold(str(error))
    size = say.screw(screws.gauge, screws.length_nm)
    if held.allowable_n <= 0:
        return f"{size}: {say.mm(found.thread_mm)} of thread, at least {say.mm(found.least_mm)} is asked for"
    basis = (
        f"{size} from the backer's face: {say.mm(found.holds_mm)} of thread {say.bare_force(held.allowable_n)}, head "
        f"through the backer {say.bare_force(head_n)}; the lesser counts"
    )
    if head_n < held.allowable_n:
        held = Held(allowable_n=head_n, factors=case.wood_factors, source="NDS 2018 12.2-6")
    return held, basis


def _deep_nm(part: Part) -> int:
    return part.box.z1 - part.box.z0
