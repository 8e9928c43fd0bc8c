"""What the turn button of an anti-lift lock is fixed to the wall with, and what is drilled for it."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.records import Brief, FixingKind
from bossage.fasteners import plug_screw_least_mm, shank_mm, shortest_sold_nm
from bossage.fasteners.wall_lengths import WallScrew, plug_or_none
from bossage.hang.wall_holes import fixing_words, wall_holes
from bossage.hang.wall_records import WallHoles
from bossage.units import NM_PER_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class LockFixing:
    """One fixing as it is bought. `holes` is None where its packet says what to drill."""

    what: str
    holes: WallHoles | None


def lock_fixing(brief: Brief, thick_nm: int) -> LockFixing:
    """The fixing of a turn button: the brief's plug with the shortest screw sold that passes it.

    Args:
        brief: Kind of fixing, its gauge, covering of the wall.
        thick_nm: Thickness of the button.

    Returns:
        A fixing for boards where the wall is no masonry: no stud is looked for behind the button.
    """
    gauge, unit = brief.fixings.gauge, brief.piece.unit
    plug = plug_or_none(gauge, unit) if brief.fixings.kind is FixingKind.PLUG else None
    if plug is None:
        return LockFixing(what="plugs for wallboard with their own screws", holes=None)
    covering_mm = brief.wall.covering_nm / NM_PER_MM
    least_nm = round(NM_PER_MM * plug_screw_least_mm(plug, thick_nm / NM_PER_MM, covering_mm, shank_mm(gauge)))
    screw = WallScrew(gauge=gauge, length_nm=shortest_sold_nm(least_nm, unit) or least_nm)
    return LockFixing(what=fixing_words(brief, "masonry", screw), holes=wall_holes(brief, screw, thick_nm))
