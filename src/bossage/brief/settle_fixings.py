"""From tables to records: what goes into the wall, and the screws of the panel half."""

from __future__ import annotations

from typing import Any

from bossage.brief.making import Cleat, Fixings, Ratings
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.site import Wall
from bossage.brief.terms import FixingKind, WallBuild
from bossage.fasteners import NoPlug, longest_sold_nm, plug_for, plug_screw_least_mm, shank_mm, shortest_sold_nm
from bossage.units import NM_PER_IN, NM_PER_MM

TIP_COVER_NM = 3 * NM_PER_MM

#: What the shops of a unit sell as a stout wood screw, and as a usual one for a panel half; common practice, no source.
WALL_GAUGE = {"mm": "5 mm", "in": "#10"}
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
    gauge = table.gauge
    if gauge is None:
        gauge = WALL_GAUGE[tables.unit]
        notes.add("fixings.gauge", gauge, "a stout wood screw; common practice, no source")
    panel_gauge = table.panel_gauge
    if panel_gauge is None:
        panel_gauge = PANEL_GAUGE[tables.unit]
        notes.add("fixings.panel_gauge", panel_gauge, "thinner where its thread would not go deep enough")
    return Fixings(
        kind=kind,
        gauge=gauge,
        length_nm=_wall_screw_nm(tables, notes, kind, gauge, wall, cleat),
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


def _wall_screw_nm(tables: Tables, notes: Notes, kind: FixingKind, gauge: str, wall: Wall | None, cleat: Cleat) -> int:
    """The brief's own length of the wall screws; else what a plug asks for, or what reaches well into a stud."""
    given: int | None = tables.one("fixings").length
    if given is not None:
        return given
    usual = WALL_LENGTH_NM[tables.unit]
    if kind is not FixingKind.PLUG:
        reason = "it reaches about 38 mm (1-1/2 in) into the stud through cleat and board; common practice, no source"
        return notes.length("fixings.length", usual, reason)
    screw_mm = shank_mm(gauge)
    try:
        plug = plug_for(screw_mm, tables.unit)
    except NoPlug:
        return notes.length("fixings.length", usual, "no plug of the table goes with that screw")
    plaster_mm = wall.covering_nm / NM_PER_MM if wall else 0.0
    least = plug_screw_least_mm(plug, cleat.thickness_nm / NM_PER_MM, plaster_mm, screw_mm)
    found = shortest_sold_nm(round(least * NM_PER_MM), tables.unit) or usual
    return notes.length("fixings.length", found, "through cleat, plaster and plug, one diameter past its end")
