"""From tables to records: footprints that cover cells of the grid, and whether their counts come to it."""

from __future__ import annotations

from collections import Counter

from bossage.brief.face import Fill, Footprint, LeafBrief
from bossage.brief.mosaic import area_of, mosaic_counts
from bossage.brief.sections import Tables
from bossage.brief.terms import EdgeStyle

MOST_BLOCKS = 20_000
_SOUND = ("footprint[*].cells", "footprint[*].count", "footprint[*].quotas", "blocks.ring_quotas")


def settle_cells(tables: Tables) -> tuple[Fill, ...]:
    """A mosaic has no fills: faults for fills beside cells, and for keys that do not go together."""
    if tables.repeated["fill"]:
        tables.fault(
            "fill", "fills beside footprints with cells", "one of the two", "Take the fills out, or the cells."
        )
    seen: dict[tuple[int, int], str] = {}
    for path, table in tables.many("footprint"):
        if table.cells is None:
            if tables.sound(f"{path}.cells"):
                allowed = "cells on every footprint, or on none"
                tables.fault(f"{path}.cells", "nothing", allowed, "Say how many columns and rows it covers: [1, 1].")
            continue
        if table.cells in seen:
            found = f"{table.cells[0]} × {table.cells[1]} cells, as in {seen[table.cells]}"
            tables.fault(f"{path}.cells", found, "each size in cells once", "Put the two together.")
        seen.setdefault(table.cells, path)
        if table.count is not None and table.share is not None:
            tables.fault(f"{path}.share", "both a count and a share", "one of the two", "Take the share out.")
    outrigger = tables.one("edge").style is EdgeStyle.OUTRIGGER and tables.sound("edge.style")
    if outrigger and (1, 1) not in seen and tables.sound("footprint[*].cells"):
        allowed = "a footprint of one cell, [1, 1], beside an outrigger edge"
        tables.fault("footprint", "none of one cell", allowed, "Add one: the ring is made of it.")
    return ()


def check_no_cells(tables: Tables) -> None:
    """Without cells there is no mosaic: faults for keys that only a mosaic has."""
    for path, table in tables.many("footprint"):
        for key in ("count", "share"):
            if getattr(table, key) is not None and tables.sound(f"{path}.cells"):
                remedy = "Say how many columns and rows it covers, cells = [1, 1], or count the modules of a fill."
                tables.fault(f"{path}.{key}", "a number without cells", "cells beside it", remedy)
    if "through_joints" in tables.one("blocks").model_fields_set and tables.sound("footprint[*].cells"):
        allowed = "footprints with cells beside it"
        remedy = "On a grid of modules every joint runs through; give the footprints cells, or take it out."
        tables.fault("blocks.through_joints", "a rule for footprints with cells", allowed, remedy)


def cell_size(footprints: tuple[Footprint, ...], gap_nm: int) -> tuple[int, int]:
    """The cell that every footprint is at least large enough for: wood can be taken off, not put on."""
    wide = min((f.width_nm + gap_nm) // (f.cells or (1, 1))[0] - gap_nm for f in footprints)
    tall = min((f.height_nm + gap_nm) // (f.cells or (1, 1))[1] - gap_nm for f in footprints)
    return max(1, wide), max(1, tall)


def check_mosaic(
    tables: Tables,
    footprints: tuple[Footprint, ...],
    leaves: tuple[LeafBrief, ...],
    ring_quotas: tuple[int, ...] | None,
    copies: int,
) -> int | None:
    """Whether counts and quotas come to the grid, leaf by leaf; the blocks of the whole piece where counts fix them."""
    blocks = tables.one("blocks")
    if not tables.sound(*_SOUND):
        return None
    fixed = sum(f.count is None for f in footprints) <= 1
    total = 0
    told: set[int] = set()
    for leaf in leaves:
        cells = blocks.columns * blocks.rows - len(leaf.open_cells)
        counts = mosaic_counts(footprints, cells)
        if counts is None:
            _not_the_grid(tables, footprints, leaf, cells)
            return None
        total += sum(counts)
        if cells not in told:
            told.add(cells)
            _check_quotas(tables, footprints, counts, ring_quotas, leaf, fixed)
    if total * copies > MOST_BLOCKS:
        found = f"{total * copies:,} blocks"
        tables.fault("blocks", found, f"at most {MOST_BLOCKS:,} in all", "Make the blocks larger or the piece smaller.")
        return None
    return total if fixed else None


def _not_the_grid(tables: Tables, footprints: tuple[Footprint, ...], leaf: LeafBrief, cells: int) -> None:
    given = sum((f.count or 0) * area_of(f) for f in footprints)
    blocks = tables.one("blocks")
    allowed = f"{cells}: {blocks.columns} × {blocks.rows} less {len(leaf.open_cells)} open"
    if given > cells or all(f.count is not None for f in footprints):
        found = f"blocks for {given} cells on leaf {leaf.name}"
        remedy = f"Change counts by {abs(cells - given)} cells, or leave the count of one footprint out."
        tables.fault("footprint", found, allowed, remedy)
        return
    sizes = " and ".join(f"{area_of(f)}" for f in footprints if f.count is None)
    found = f"{cells - given} cells left on leaf {leaf.name} for blocks of {sizes} cells"
    tables.fault("footprint", found, "cells that whole blocks make up", "Change a count, or add a footprint of [1, 1].")


def _check_quotas(
    tables: Tables,
    footprints: tuple[Footprint, ...],
    counts: tuple[int, ...],
    ring_quotas: tuple[int, ...] | None,
    leaf: LeafBrief,
    fixed: bool,
) -> None:
    """Quotas need counts, and must come to them; the ring is made of the footprint of one cell."""
    blocks = tables.one("blocks")
    paths = {table.name or "block": path for path, table in tables.many("footprint")}
    ring: Counter[str] = Counter()
    single = next((f.name for f in footprints if f.cells == (1, 1)), None)
    if ring_quotas is not None and single is not None:
        opened = sum(r in {1, blocks.rows} or c in {1, blocks.columns} for r, c in leaf.open_cells)
        ring[single] = 2 * (blocks.columns + blocks.rows) - 4 - opened
        _compare(tables, "blocks.ring_quotas", sum(ring_quotas), ring[single], "blocks in the ring")
    for footprint, count in zip(footprints, counts, strict=True):
        if footprint.quotas is None:
            continue
        path = f"{paths[footprint.name]}.quotas"
        if footprint.count is None and not fixed:
            allowed = "a count beside quotas"
            tables.fault(path, "quotas of a footprint laid by share", allowed, "Add count, or write weights instead.")
            continue
        _compare(tables, path, sum(footprint.quotas), count - ring[footprint.name], f"blocks of {footprint.name}")


def _compare(tables: Tables, path: str, given: int, wanted: int, what: str) -> None:
    if given != wanted:
        remedy = f"Ask for {abs(wanted - given)} {'more' if given < wanted else 'fewer'}."
        tables.fault(path, f"quotas that sum to {given}", f"{wanted}, the {what}", remedy)
