"""From tables to records: what stays clear of the piece, and what runs in the wall."""

from __future__ import annotations

from bossage.brief.by_name import clear_kind_of
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.settle_site import names_of, place_of
from bossage.brief.site import KeepClear, Run
from bossage.brief.terms import ClearKind, FoundBy
from bossage.units import NM_PER_MM, format_length

#: How far to keep from the middle of what runs in the wall, by how it is known; ours: half of a usual thickness, and
#: what a tape, a detector or a drawing may be off.
CLEAR_NM = {
    FoundBy.SEEN: 40 * NM_PER_MM,
    FoundBy.DETECTOR: 50 * NM_PER_MM,
    FoundBy.DRAWING: 100 * NM_PER_MM,
    FoundBy.TOLD: 150 * NM_PER_MM,
}


def settle_keep_clear(tables: Tables, notes: Notes) -> tuple[KeepClear, ...]:
    """Parts of the wall that must stay clear; what they are follows from their names where the brief does not say."""
    out = []
    for path, table in tables.many("keep_clear"):
        place = place_of(tables, path, table)
        if place is None:
            continue
        kind = table.kind
        if kind is None:
            kind = clear_kind_of(table.name)
            if kind is not ClearKind.OTHER:
                notes.add(f"{path}.kind", kind.value, "its name says so")
        out.append(
            KeepClear(
                name=table.name,
                x_nm=place[0],
                y_nm=place[1],
                width_nm=table.width,
                height_nm=table.height,
                why=table.why,
                margin_nm=table.margin,
                kind=kind,
            )
        )
    return tuple(out)


def settle_runs(tables: Tables, notes: Notes) -> tuple[Run, ...]:
    """What runs in the wall; the distance to keep follows from how it is known where it is left out."""
    names = names_of(tables, "run", {path: table.kind.value for path, table in tables.many("run")})
    wall = tables.one("wall")
    out = []
    for path, table in tables.many("run"):
        notes.table(path, table)
        start, end = getattr(table, "from"), table.to
        if start == end:
            found = "a run that ends where it begins"
            tables.fault(f"{path}.to", found, "two places", "Say where it begins and where it ends on the wall.")
        for key, (x, y) in (("from", start), ("to", end)):
            if wall is not None and tables.sound("wall.width", "wall.height") and (x > wall.width or y > wall.height):
                found = f"[{format_length(x, tables.unit)}, {format_length(y, tables.unit)}]"
                size = f"{format_length(wall.width, tables.unit)} × {format_length(wall.height, tables.unit)}"
                tables.fault(f"{path}.{key}", found, f"a place on the wall, {size}", "Let it end at the wall's edge.")
        clear = table.clear
        if clear is None:
            reason = f"how far off it may be where it is known by: {table.found.value} (ours)"
            clear = notes.length(f"{path}.clear", CLEAR_NM[table.found], reason)
        out.append(Run(name=names[path], kind=table.kind, from_nm=start, to_nm=end, clear_nm=clear, found=table.found))
    return tuple(out)
