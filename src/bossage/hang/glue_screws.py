"""Screws that keep a joint of the back shut while its glue dries, and no longer: how many, which, from where."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.body import Part, Role
from bossage.brief.records import Brief, LengthUnit
from bossage.fasteners import LEAST_BITE_NM, TIP_COVER_NM, longest_sold_nm, wood_holes
from bossage.hang.case import gravity_of
from bossage.hang.threads import shank_or_reason
from bossage.units import NM_PER_IN, NM_PER_MM

EVERY_NM = 200 * NM_PER_MM
"""One screw for so much of a joint, and one more. Common practice, no source."""

FROM_END_NM = 40 * NM_PER_MM
"""The first and the last from the ends, so that nothing splits: ten shanks of a 4 mm screw. Ours."""

COVER_NM = {LengthUnit.MM: TIP_COVER_NM, LengthUnit.IN: NM_PER_IN // 8}
"""Wood that stays before the tip, as a rule of that shelf reads it."""

GAUGE = {LengthUnit.MM: "4 mm", LengthUnit.IN: "#8"}
SCREWED = (Role.STRIP, Role.RIB, Role.FRAME, Role.STILE, Role.FILLER)


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueScrews:
    """Screws of one part of the back, all alike, driven from the backer's face before a block is laid."""

    count: int
    gauge: str
    length_nm: int
    clearance_hole_mm: float  # through the backer; 0: nothing is known of the screw
    lead_hole_mm: float  # into the part


def screws_along(length_nm: int) -> int:
    """How many screws a joint of that length gets."""
    return 1 + length_nm // EVERY_NM


def glue_screws(brief: Brief, part: Part, backer: Part) -> GlueScrews | None:
    """What holds a part shut against the backer while the glue dries; None where clamps alone do.

    Args:
        brief: Unit, by which screws are sold.
        part: A part that is glued and screwed to the backer.
        backer: The backer of its leaf.
    """
    unit = brief.piece.unit
    through, deep = backer.box.z1 - backer.box.z0, part.box.z1 - part.box.z0
    if part.role not in SCREWED or part.box.z1 != backer.box.z0:
        return None
    length = longest_sold_nm(through + deep - COVER_NM[unit], unit, least_nm=through + LEAST_BITE_NM)
    if length is None:
        return None
    gauge = GAUGE[unit]
    shank, gravity, box = shank_or_reason(gauge), gravity_of(part.material), part.box
    holes = None if isinstance(shank, str) else wood_holes(shank.shank_mm, shank.root_mm, gravity, unit)
    return GlueScrews(
        count=max(2, screws_along(max(box.x1 - box.x0, box.y1 - box.y0))),
        gauge=gauge,
        length_nm=length,
        clearance_hole_mm=holes.clearance_mm if holes else 0.0,
        lead_hole_mm=holes.pilot_mm if holes else 0.0,
    )
