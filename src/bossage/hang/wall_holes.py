"""What goes into the wall, as it is bought, and what is drilled for it."""

from __future__ import annotations

from bossage.body import wood_of
from bossage.brief.records import Brief, FixingKind, Opens, WallBuild
from bossage.fasteners import (
    Plug,
    drill_words,
    plug_for,
    plug_screw_least_mm,
    screw_words,
    shank_mm,
    shortest_sold_nm,
    wood_holes,
)
from bossage.fasteners.metric import CORE_SHARE
from bossage.fasteners.wall_lengths import WallScrew, plug_or_none
from bossage.hang.case import gravity_of
from bossage.hang.threads import shank_or_reason
from bossage.hang.wall_records import WallHoles
from bossage.units import NM_PER_MM


def own_screw(brief: Brief) -> WallScrew:
    """The brief's wall screw, or the usual one where nothing lies behind what it holds."""
    return WallScrew(gauge=brief.fixings.gauge, length_nm=brief.fixings.length_nm)


KEEPER_GAUGE = {"mm": "3 mm", "in": "#6"}
"""A screw whose head sinks in a plate of 2 mm (1/16 in or more); common practice, no source."""

KEEPER_SCREWS = 2
"""On one, the plate would turn. Ours."""


def fixing_words(brief: Brief, into: str, screw: WallScrew) -> str:
    """What goes into that part of the wall, as it is bought."""
    fixings, unit = brief.fixings, brief.piece.unit
    if in_hollow(brief, into):
        return f"{FixingKind.HOLLOW.value}s"
    screws = {
        FixingKind.WOOD_SCREW: "steel wood screws" if screw.gauge.startswith("#") else "hardened steel wood screws",
        FixingKind.PLUG: f"wall plugs{_plug_words(brief, screw)} with screws",
        FixingKind.STEEL: "self-drilling screws for metal studs",
    }
    return f"{screws[fixings.kind]} {screw_words(screw.gauge, screw.length_nm, unit)}"


def in_hollow(brief: Brief, into: str) -> bool:
    """Whether a hollow-wall fixing goes there, whose packet says what to drill."""
    return brief.fixings.kind is FixingKind.HOLLOW or (into == "wallboard" and brief.into_studs)


def wall_holes(brief: Brief, screw: WallScrew, before_nm: int) -> WallHoles | None:
    """Holes for one wall screw, through wall half or post, into masonry or a wooden stud; None where the packet says.

    Args:
        brief: Kind of fixing, wall half, wall.
        screw: Its gauge and length.
        before_nm: What it passes before the wall: wall half and packers, or the post of hinges.

    Returns:
        Drills and depths. Under less plaster than said the tip would meet the end of the hole, under more it would not
        pass the plug by the screw's own thickness.

    Source:
        `fasteners.holes`: plugs and depths by common practice, holes in wood by the NDS.
    """
    fixings, unit = brief.fixings, brief.piece.unit
    if fixings.kind is FixingKind.PLUG:
        plug = plug_or_none(screw.gauge, unit)
        if plug is None:
            return None
        across = shank_mm(screw.gauge)
        reach = (screw.length_nm - before_nm) / NM_PER_MM
        through = wood_holes(across, CORE_SHARE * across, gravity_of(_screwed_wood(brief)), unit).clearance_mm
        return WallHoles(
            into="masonry",
            clearance_hole_mm=through,
            drill_mm=plug.drill_mm,
            depth_mm=plug.hole_mm,
            plug_mm=plug.length_mm,
            reach_mm=reach,
            plaster_mm=(max(0.0, reach - plug.hole_mm), reach - plug.length_mm - across),
        )
    shank = shank_or_reason(screw.gauge)
    if fixings.kind is not FixingKind.WOOD_SCREW or brief.wall.build is not WallBuild.TIMBER_STUDS:
        return None
    if isinstance(shank, str):
        return None
    found = wood_holes(shank.shank_mm, shank.root_mm, gravity_of(brief.wall.stud_species), unit)
    deep = max(0, screw.length_nm - before_nm - brief.wall.covering_nm) / NM_PER_MM
    return WallHoles(
        into="stud", clearance_hole_mm=found.clearance_mm, drill_mm=found.pilot_mm, depth_mm=deep, plug_mm=0.0
    )


def _screwed_wood(brief: Brief) -> str:
    return brief.cleat.material if brief.access.opens is Opens.LIFT_OFF else wood_of(brief)


def keeper_plug(brief: Brief) -> Plug | None:
    """The plugs of a catch's keeper in masonry; None where the wall is hollow and the packet says what to drill."""
    if brief.wall.build is not WallBuild.MASONRY:
        return None
    return plug_for(shank_mm(KEEPER_GAUGE[brief.piece.unit]), brief.piece.unit)


def keeper_holes(brief: Brief) -> WallHoles | None:
    """What is drilled for the keeper of a catch in masonry; None where the packet says."""
    plug = keeper_plug(brief)
    if plug is None:
        return None
    across = shank_mm(KEEPER_GAUGE[brief.piece.unit])
    reach = keeper_screw_nm(brief, plug) / NM_PER_MM
    return WallHoles(
        into="masonry",
        clearance_hole_mm=0.0,
        drill_mm=plug.drill_mm,
        depth_mm=plug.hole_mm,
        plug_mm=plug.length_mm,
        reach_mm=reach,
        plaster_mm=(max(0.0, reach - plug.hole_mm), reach - plug.length_mm - across),
    )


def keeper_screw_nm(brief: Brief, plug: Plug) -> int:
    """The shortest screw sold that passes the plug behind the covering; the plate's thickness is left out."""
    least = plug_screw_least_mm(plug, 0.0, brief.wall.covering_nm / NM_PER_MM, shank_mm(KEEPER_GAUGE[brief.piece.unit]))
    return shortest_sold_nm(round(least * NM_PER_MM), brief.piece.unit) or round(least * NM_PER_MM)


def keeper_fixing(brief: Brief) -> str:
    """What the keeper of a catch is held with on the wall, as it is bought: it is only ever pulled by a magnet."""
    unit, gauge = brief.piece.unit, KEEPER_GAUGE[brief.piece.unit]
    plug = keeper_plug(brief)
    if plug is None:
        return "plugs for wallboard with their own screws"
    length = keeper_screw_nm(brief, plug)
    size = f"{drill_words(plug.drill_mm, unit).removesuffix(f' {unit}')} × {drill_words(plug.length_mm, unit)}"
    return f"wall plugs {size} with screws {screw_words(gauge, length, unit)}"


def _plug_words(brief: Brief, screw: WallScrew) -> str:
    """Size of the plug: drill and length."""
    unit = brief.piece.unit
    plug: Plug | None = plug_or_none(screw.gauge, unit)
    if plug is None:
        return ""
    return f" {drill_words(plug.drill_mm, unit).removesuffix(f' {unit}')} × {drill_words(plug.length_mm, unit)}"
