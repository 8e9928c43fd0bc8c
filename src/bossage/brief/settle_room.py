"""From tables to records: the room as it is lived in, and what is hot in it."""

from __future__ import annotations

from bossage.brief.room import HeatSource, Room
from bossage.brief.sections import Tables
from bossage.brief.settle_site import names_of
from bossage.units import format_length


def settle_room(tables: Tables) -> Room:
    """The room."""
    table = tables.one("room")
    return Room(children_reach_nm=table.children_reach, earthquakes=table.earthquakes, sun_hours=table.sun_hours)


def settle_heat(tables: Tables) -> tuple[HeatSource, ...]:
    """What is hot, each named, its edges in order."""
    names = names_of(tables, "heat", {path: table.kind for path, table in tables.many("heat")})
    out = []
    for path, table in tables.many("heat"):
        for low, high in (("bottom", "top"), ("near", "far")):
            one, other = getattr(table, low), getattr(table, high)
            if other <= one and tables.sound(f"{path}.{low}", f"{path}.{high}"):
                found = f"{low} {format_length(one, tables.unit)}, {high} {format_length(other, tables.unit)}"
                tables.fault(f"{path}.{high}", found, f"{low} below {high}", "Measure both, and exchange them.")
        out.append(
            HeatSource(
                name=names[path],
                kind=table.kind,
                x_nm=table.x,
                width_nm=table.width,
                bottom_nm=table.bottom,
                top_nm=table.top,
                near_nm=table.near,
                far_nm=table.far,
                clear_nm=table.clear,
            )
        )
    return tuple(out)
