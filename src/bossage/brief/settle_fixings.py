"""From tables to records: what goes into the wall, and the screws of the panel half."""

from __future__ import annotations

from typing import Any

from bossage.brief.making import Cleat, Fixings, Ratings
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.site import Wall
from bossage.brief.terms import FixingKind, WallBuild
from bossage.fasteners import TIP_COVER_NM, longest_sold_nm
from bossage.fasteners.wall_lengths import (
    USUAL_NM,
    WALL_GAUGES,
    Passed,
    WallScrew,
    hollow_screw,
    plug_or_none,
    plug_screw,
    stud_screw,
)
from bossage.units import NM_PER_MM

STOUT = "a stout wood screw; common practice, no source"

#: What the shops of a unit sell as a usual screw for a panel half; common practice, no source.
PANEL_GAUGE = {"mm": "4 mm", "in": "#8"}


def settle_fixings(tables: Tables, notes: Notes, wall: Wall | None, cleat: Cleat, passed: tuple[int, str]) -> Fixings:
    """What goes into the wall; the kind follows from what stands behind the covering.

    Args:
        tables: The brief's tables.
        notes: Where defaults are told.
        wall: The wall; None where it could not be read.
        cleat: The cleat, for the screws of its panel half.
        passed: What the wall screws go through before the wall, in nm, and its name.
    """
    table = tables.one("fixings")
    notes.table("fixings", table)
    kind = table.kind
    if kind is None:
        build = wall.build if wall else WallBuild.TIMBER_STUDS
        kind = {
            WallBuild.TIMBER_STUDS: FixingKind.WOOD_SCREW,
            WallBuild.MASONRY: FixingKind.PLUG,
            WallBuild.METAL_STUDS: FixingKind.STEEL if wall and wall.studs_nm else FixingKind.HOLLOW,
        }[build]
        notes.add("fixings.kind", kind.value, f"the wall is of {build.value}")
    panel_length = table.panel_length
    if panel_length is None:
        backer = tables.one("backer").thickness
        whole = cleat.thickness_nm + cleat.packer_nm + backer
        panel_length = notes.length(
            "fixings.panel_length",
            longest_sold_nm(whole - TIP_COVER_NM, tables.unit) or max(NM_PER_MM, whole * 3 // 4),
            "to begin with; the plan looks for the longest that holds and ends 3 mm (1/8 in) before the next face",
        )
    gauge, length = _wall_screw(tables, notes, kind, wall, cleat, passed)
    panel_gauge = table.panel_gauge
    if panel_gauge is None:
        panel_gauge = PANEL_GAUGE[tables.unit]
        notes.add("fixings.panel_gauge", panel_gauge, "thinner where its thread would not go deep enough")
    return Fixings(
        kind=kind,
        gauge=gauge,
        length_nm=length,
        count=table.count,
        per_stud=table.per_stud,
        allowable_g=table.allowable,
        rating_g=table.rating,
        pull_allowable_g=table.pull_allowable,
        pull_rating_g=table.pull_rating,
        board=_board(table.board),
        panel_gauge=panel_gauge,
        panel_length_nm=panel_length,
        panel_count=table.panel_count,
        panel_glued=table.panel_glued,
    )


def _board(table: Any) -> Ratings:
    if table is None:
        return Ratings()
    return Ratings(
        allowable_g=table.allowable,
        rating_g=table.rating,
        pull_allowable_g=table.pull_allowable,
        pull_rating_g=table.pull_rating,
    )


def _wall_screw(
    tables: Tables, notes: Notes, kind: FixingKind, wall: Wall | None, cleat: Cleat, passed: tuple[int, str]
) -> tuple[str, int]:
    """Gauge and length of the wall screws: the brief's own, else what is usual and reaches no deeper than is safe.

    Packers behind the wall half are not known yet: `hang.wall_screws` asks again with them.
    """
    table, unit = tables.one("fixings"), tables.unit
    before = passed_nm(cleat, kind) if passed[1] == "cleat" else passed[0]
    found = wall_screw(kind, wall, before, unit, gauge=table.gauge)
    if table.gauge is None:
        thinner = found.gauge != WALL_GAUGES[unit][0]
        reason = "the thickest that holds so near to the face" if thinner else STOUT
        notes.add("fixings.gauge", found.gauge, reason)
    if table.length is not None:
        return found.gauge, table.length
    return found.gauge, notes.length("fixings.length", found.length_nm, _length_reason(kind, found, unit, passed[1]))


def passed_nm(cleat: Cleat, kind: FixingKind) -> int:
    """What a wall screw passes of a cleat: a metal one is thin, without it a screw in wood is on the safe side."""
    return cleat.thickness_nm if cleat.kind == "wood" or kind is FixingKind.PLUG else 0


def wall_screw(
    kind: FixingKind, wall: Wall | None, before_nm: int, unit: str, *, gauge: str | None, packers_nm: int = 0
) -> WallScrew:
    """The screw that is usual for what goes into the wall, by all that it passes.

    Args:
        kind: What takes hold in the wall.
        wall: Its covering and studs; None where the brief has none.
        before_nm: What it passes of the wall half, or of the post of hinges.
        unit: Whose shelf.
        gauge: The brief's own; None where it is left open.
        packers_nm: Thickness of packers behind the wall half.
    """
    passed = Passed(
        cleat_nm=before_nm,
        packers_nm=packers_nm,
        covering_nm=wall.covering_nm if wall else 0,
    )
    if kind is FixingKind.PLUG:
        return plug_screw(passed, unit, gauge or WALL_GAUGES[unit][0])
    if kind is FixingKind.HOLLOW:
        return hollow_screw(passed, unit, gauge or WALL_GAUGES[unit][0])
    seen = wall is None or not wall.studs_nm or wall.studs_seen
    wood = kind is FixingKind.WOOD_SCREW
    return stud_screw(passed, unit, seen=seen, gauge=gauge or (None if wood else WALL_GAUGES[unit][0]), wood=wood)


def _length_reason(kind: FixingKind, screw: WallScrew, unit: str, passed: str) -> str:
    if kind is FixingKind.PLUG:
        if plug_or_none(screw.gauge, unit) is None:
            return "no plug of the table goes with that screw"
        return f"through {passed}, plaster and plug, one diameter past its end"
    if kind is FixingKind.HOLLOW:
        return "its packet says which screw goes with it"
    if screw.length_nm < USUAL_NM[unit]:
        return (
            "the longest on the shelf that holds and ends within 32 mm (1-1/4 in) of the stud's face, as nobody has "
            "looked into the stud"
        )
    return "it reaches about 38 mm (1-1/2 in) into the stud through cleat and board; common practice, no source"
