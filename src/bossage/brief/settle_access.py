"""From tables to records: how the piece opens, and on which hinges."""

from __future__ import annotations

from dataclasses import replace

from bossage.brief.hinges import USUAL, Butt, post_and_stile_nm, swung_stand_off_nm
from bossage.brief.making import Access, BehindPart
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.settle_making import edge_behind_nm
from bossage.brief.site import Fixture
from bossage.brief.terms import EdgeStyle, Opens
from bossage.units import format_length

USUAL_LINE = "the middle of what shows of a flap; ours: measure the hinge that you buy"
USUAL_HINGE = "a usual narrow butt hinge; common practice, no source: measure the one that you buy"


def settle_access(tables: Tables, notes: Notes) -> Access:
    """How it opens."""
    table = tables.one("access")
    notes.table("access", table)
    return Access(
        opens=table.opens,
        tool=table.tool,
        hinge=table.hinge,
        angle_deg=table.angle,
        marked=table.marked,
        lock=table.lock,
        tug_g=table.tug,
        lock_allowable_g=table.lock_allowable,
        fixed_to_fixture=table.fixed_to_fixture,
        air_nm=table.air,
        opened_by=table.opened_by,
        grip_nm=table.grip,
        butt=_butt(tables, notes),
    )


def _butt(tables: Tables, notes: Notes) -> Butt | None:
    """The hinge as measured, what is left out as a usual one has it; None where nothing was measured."""
    access = tables.one("access")
    usual, swings = USUAL[tables.unit], access.opens is Opens.SWING
    given: dict[str, int | str] = {}
    for name in ("height", "flap", "knuckle", "thickness", "holes", "gauge"):
        asked = None if access.butt is None else getattr(access.butt, name)
        field = name if name in ("holes", "gauge") else f"{name}_nm"
        if asked is not None:
            given[field] = asked
        elif swings:
            value = getattr(usual, field)
            shown = format_length(value, tables.unit) if field.endswith("_nm") else str(value)
            notes.add(f"access.butt.{name}", shown, USUAL_HINGE)
    line = None if access.butt is None else access.butt.line
    if not given and line is None:
        return None
    butt = replace(usual, **given, holes_nm=line)  # type: ignore[arg-type]
    if swings and line is None:
        notes.add("access.butt.line", format_length(butt.line_nm, tables.unit), USUAL_LINE)
    if butt.flap_nm < butt.knuckle_nm:
        found = format_length(butt.flap_nm, tables.unit)
        allowed = f"more than the knuckle's diameter, {format_length(butt.knuckle_nm, tables.unit)}"
        tables.fault("access.butt.flap", found, allowed, "Measure from the middle of the pin to the edge of one flap.")
    elif not butt.knuckle_nm // 2 < butt.line_nm < butt.flap_nm:
        low, high = (format_length(nm, tables.unit) for nm in (butt.knuckle_nm // 2, butt.flap_nm))
        tables.fault(
            "access.butt.line",
            format_length(butt.line_nm, tables.unit),
            f"more than half the knuckle, {low}, and less than the flap, {high}",
            "Measure from the middle of the pin to the middles of the holes.",
        )
    return butt


def passed_by_wall_screws_nm(
    tables: Tables, access: Access, fixtures: tuple[Fixture, ...], behind: tuple[BehindPart, ...], cleat_nm: int
) -> tuple[int, str]:
    """What a wall screw goes through before it meets the wall, and its name: the post of a piece that swings."""
    if access.opens is Opens.LIFT_OFF:
        return cleat_nm, "cleat"
    strips = tables.one("edge").style is EdgeStyle.OUTRIGGER
    deep = swung_stand_off_nm(
        access.butt or USUAL[tables.unit],
        tables.unit,
        fixture_nm=max(fixture.proud_nm for fixture in fixtures) + access.air_nm if fixtures else 0,
        strips_nm=edge_behind_nm(tables) if strips else 0,
        lipping_nm=0 if strips else edge_behind_nm(tables),
        behind_nm=max((part.depth_nm for part in behind), default=0),
    )
    return post_and_stile_nm(deep, tables.unit)[0], "hinge post"
