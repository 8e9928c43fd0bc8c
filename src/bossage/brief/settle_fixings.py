"""From tables to records: what goes into the wall, and the screws of the panel half."""

from __future__ import annotations

from typing import Any

from bossage.brief.making import Cleat, Fixings, Ratings
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.site import Wall
from bossage.brief.terms import FixingKind, WallBuild
from bossage.errors import BossageError
from bossage.fasteners import (
    LEAST_PENETRATION_DIAMETERS,
    MOST_IN_STUD_NM,
    TIP_COVER_NM,
    NoPlug,
    gauge_for_metric,
    longest_sold_nm,
    plug_for,
    plug_screw_least_mm,
    shank_mm,
    shortest_sold_nm,
    wood_screw,
)
from bossage.units import NM_PER_IN, NM_PER_MM

STOUT = "a stout wood screw; common practice, no source"

#: What the shops of a unit sell as stout wood screws, thickest first, and as a usual one for a panel half; common
#: practice, no source.
WALL_GAUGES = {"mm": ("5 mm", "4.5 mm", "4 mm"), "in": ("#10", "#8")}
PANEL_GAUGE = {"mm": "4 mm", "in": "#8"}
WALL_LENGTH_NM = {"mm": 80 * NM_PER_MM, "in": 3 * NM_PER_IN}


def settle_fixings(tables: Tables, notes: Notes, wall: Wall | None, cleat: Cleat) -> Fixings:
    """What goes into the wall; the kind follows from what stands behind the covering."""
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
            "the longest on the shelf that ends 3 mm (1/8 in) before the backer's face",
        )
    gauge, length = _wall_screw(tables, notes, kind, wall, cleat)
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


def _wall_screw(tables: Tables, notes: Notes, kind: FixingKind, wall: Wall | None, cleat: Cleat) -> tuple[str, int]:
    """Gauge and length of the wall screws: the brief's own, else what is usual and reaches no deeper than is safe."""
    table, unit = tables.one("fixings"), tables.unit
    if table.gauge is None and table.length is None and kind is FixingKind.WOOD_SCREW:
        for gauge in WALL_GAUGES[unit]:
            length = _within_nm(unit, gauge, wall, cleat)
            if length is not None:
                usual = gauge == WALL_GAUGES[unit][0]
                notes.add("fixings.gauge", gauge, STOUT if usual else "the thickest that holds so near to the face")
                return gauge, _noted_nm(notes, unit, length)
    gauge = table.gauge
    if gauge is None:
        gauge = WALL_GAUGES[unit][0]
        notes.add("fixings.gauge", gauge, STOUT)
    if table.length is not None:
        return gauge, table.length
    if kind is FixingKind.PLUG:
        return gauge, _plug_screw_nm(notes, unit, gauge, wall, cleat)
    if kind is FixingKind.HOLLOW:
        return gauge, notes.length("fixings.length", WALL_LENGTH_NM[unit], "its packet says which screw goes with it")
    found = _within_nm(unit, gauge, wall, cleat, wood=kind is FixingKind.WOOD_SCREW)
    return gauge, _noted_nm(notes, unit, found or WALL_LENGTH_NM[unit])


def _plug_screw_nm(notes: Notes, unit: str, gauge: str, wall: Wall | None, cleat: Cleat) -> int:
    """What a plug asks for."""
    screw_mm = shank_mm(gauge)
    try:
        plug = plug_for(screw_mm, unit)
    except NoPlug:
        return notes.length("fixings.length", WALL_LENGTH_NM[unit], "no plug of the table goes with that screw")
    plaster_mm = wall.covering_nm / NM_PER_MM if wall else 0.0
    least = plug_screw_least_mm(plug, cleat.thickness_nm / NM_PER_MM, plaster_mm, screw_mm)
    found = shortest_sold_nm(round(least * NM_PER_MM), unit) or WALL_LENGTH_NM[unit]
    return notes.length("fixings.length", found, "through cleat, plaster and plug, one diameter past its end")


def _within_nm(unit: str, gauge: str, wall: Wall | None, cleat: Cleat, *, wood: bool = True) -> int | None:
    """The longest on the shelf that ends within what is safe of a stud that nobody has looked into, and still holds.

    The usual length where it is no longer, and where there are no studs or somebody has looked. None where none does.
    """
    usual = WALL_LENGTH_NM[unit]
    if wall is None or not wall.studs_nm or wall.studs_seen:
        return usual
    # a metal cleat is thin: without it the screw is on the safe side
    before = wall.covering_nm + (cleat.thickness_nm if cleat.kind == "wood" else 0)
    most = min(usual, before + MOST_IN_STUD_NM)
    if not wood:
        return longest_sold_nm(most, unit)
    try:
        shank = wood_screw(int(gauge[1:])) if gauge.startswith("#") else gauge_for_metric(shank_mm(gauge))
    except BossageError:
        return longest_sold_nm(most, unit)
    least = round(LEAST_PENETRATION_DIAMETERS * shank.shank_mm * NM_PER_MM)
    return longest_sold_nm(most, unit, least_nm=before + least)


def _noted_nm(notes: Notes, unit: str, length_nm: int) -> int:
    if length_nm < WALL_LENGTH_NM[unit]:
        reason = (
            "the longest on the shelf that holds and ends within 32 mm (1-1/4 in) of the stud's face, as nobody has "
            "looked into the stud"
        )
    else:
        reason = "it reaches about 38 mm (1-1/2 in) into the stud through cleat and board; common practice, no source"
    return notes.length("fixings.length", length_nm, reason)
