"""What goes into the wall, as it is bought, and what is drilled for it."""

from __future__ import annotations

from bossage.brief.records import Brief, FixingKind, WallBuild
from bossage.errors import BossageError
from bossage.fasteners import Plug, drill_words, plug_for, screw_words, shank_mm, wood_holes
from bossage.hang.case import gravity_of
from bossage.hang.records import WallHoles
from bossage.hang.threads import shank_or_reason

CORE_SHARE = 0.6
"""Core of a wood screw over its shank (DIN 7997, from memory); only the clearance hole is asked for by it."""


def fixing_words(brief: Brief, into: str) -> str:
    """What goes into that part of the wall, as it is bought."""
    fixings = brief.fixings
    if in_hollow(brief, into):
        return f"{FixingKind.HOLLOW.value}s"
    screws = {
        FixingKind.WOOD_SCREW: "wood screws",
        FixingKind.PLUG: f"wall plugs{_plug_words(brief)} with screws",
        FixingKind.STEEL: "self-drilling screws for metal studs",
    }
    return f"{screws[fixings.kind]} {screw_words(fixings.gauge, fixings.length_nm, brief.piece.unit)}"


def in_hollow(brief: Brief, into: str) -> bool:
    """Whether a hollow-wall fixing goes there, whose packet says what to drill."""
    return brief.fixings.kind is FixingKind.HOLLOW or (into == "wallboard" and brief.into_studs)


def wall_holes(brief: Brief) -> WallHoles | None:
    """Holes for one wall screw, through the wall half and into masonry or a wooden stud; None where the packet says.

    Source:
        `fasteners.holes`: plugs and depths by common practice, holes in wood by the NDS.
    """
    fixings, unit = brief.fixings, brief.piece.unit
    if fixings.kind is FixingKind.PLUG:
        plug = plug_of(brief)
        if plug is None:
            return None
        across = shank_mm(fixings.gauge)
        through = wood_holes(across, CORE_SHARE * across, gravity_of(brief.cleat.material), unit).clearance_mm
        return WallHoles(
            into="masonry",
            clearance_hole_mm=through,
            drill_mm=plug.drill_mm,
            depth_mm=plug.hole_mm,
            plug_mm=plug.length_mm,
        )
    shank = shank_or_reason(fixings.gauge)
    if fixings.kind is not FixingKind.WOOD_SCREW or brief.wall.build is not WallBuild.TIMBER_STUDS:
        return None
    if isinstance(shank, str):
        return None
    found = wood_holes(shank.shank_mm, shank.root_mm, gravity_of(brief.wall.stud_species), unit)
    return WallHoles(
        into="stud", clearance_hole_mm=found.clearance_mm, drill_mm=found.pilot_mm, depth_mm=0.0, plug_mm=0.0
    )


def plug_of(brief: Brief) -> Plug | None:
    """The plug that the brief's screw spreads, of the shelf of its unit; None where no table knows one."""
    try:
        return plug_for(shank_mm(brief.fixings.gauge), brief.piece.unit)
    except BossageError:
        return None


def _plug_words(brief: Brief) -> str:
    """Size of the plug: drill and length."""
    plug, unit = plug_of(brief), brief.piece.unit
    if plug is None:
        return ""
    return f" {drill_words(plug.drill_mm, unit).removesuffix(f' {unit}')} × {drill_words(plug.length_mm, unit)}"
