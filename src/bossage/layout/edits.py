"""A size and place as changes of the brief: grid, leaves, and every count that hangs on them.

Counts and quotas are kept in proportion, exact for the new grid; open cells and pinned blocks stay where they are on
the wall, in the cell that now lies there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from bossage.brief.mosaic import mosaic_counts
from bossage.brief.records import Brief, EdgeStyle, Footprint, LeafBrief, LengthUnit
from bossage.checks import Edit, EditValue
from bossage.layout.fill import fills_of
from bossage.layout.grid import plan_grid
from bossage.units import NM_PER_IN, NM_PER_MM

Place = tuple[int, int]


def size_edits(brief: Brief, columns: int, rows: int, places: Sequence[Place]) -> tuple[Edit, ...]:
    """The edits that give every leaf that grid and its lower left corner on the wall.

    Empty where no whole blocks in the brief's proportions make up the new grid: the maker has to choose counts then.
    """
    leaves = _leaves(brief, columns, rows, places)
    edits: list[Edit] = []
    resized = (columns, rows) != (brief.blocks.columns, brief.blocks.rows)
    if resized:
        edits += [_set(("blocks", "columns"), columns), _set(("blocks", "rows"), rows)]
    before, after = ([len(leaf.open_cells) for leaf in some] for some in (brief.blocks.leaves, leaves))
    # an open cell that comes to lie outside the leaf leaves a block more to be counted
    if resized or len(places) != max(1, len(brief.blocks.leaves)) or (before and before != after):
        counted = _counts(brief, columns, rows, leaves)
        if counted is None:
            return ()
        edits += counted
    if resized:
        edits += _behind_edits(brief, columns, rows)
    edits += _leaf_edits(brief, leaves)
    return (*edits, *_pin_edits(brief, columns, rows, leaves))


def with_size(brief: Brief, columns: int, rows: int, places: Sequence[Place]) -> Brief:
    """The brief as `size_edits` would make it, as far as size, places, open cells and back go; counts stay."""
    new = _leaves(brief, columns, rows, places)
    leaves = tuple(
        LeafBrief(
            name=leaf.name or str(number),
            x_nm=leaf.place[0],
            y_nm=leaf.place[1],
            open_cells=tuple(sorted(leaf.open_cells)),
        )
        for number, leaf in enumerate(new, 1)
    )
    resized = (columns, rows) != (brief.blocks.columns, brief.blocks.rows)
    said = dict(_grown(brief, columns, rows)) if resized else {}
    cleat = brief.cleat
    return replace(
        brief,
        blocks=replace(brief.blocks, columns=columns, rows=rows, leaves=leaves),
        behind=tuple(
            replace(part, length_nm=said.get(("behind", number, "length"), part.length_nm))
            for number, part in enumerate(brief.behind)
        ),
        cleat=replace(
            cleat,
            length_nm=said.get(("cleat", "length"), cleat.length_nm),
            arm_nm=said.get(("cleat", "arm"), cleat.arm_nm),
        ),
    )


def _behind_edits(brief: Brief, columns: int, rows: int) -> list[Edit]:
    """What is said of the back grows and shrinks with the leaf."""
    return [_set(path, toml_length(length, brief.piece.unit)) for path, length in _grown(brief, columns, rows)]


def _grown(brief: Brief, columns: int, rows: int) -> list[tuple[tuple[str | int, ...], int]]:
    """Lengths at the back that change with the leaf: parts along it, the cleat's length, the arm."""
    blocks, now = brief.blocks, plan_grid(brief)
    wider = (columns - now.columns) * (blocks.module_width_nm + blocks.gap_nm)
    taller = (rows - now.rows) * (blocks.module_height_nm + blocks.gap_nm)
    said: list[tuple[tuple[str | int, ...], int, int]] = [
        (("behind", number, "length"), part.length_nm, taller if part.upright else wider)
        for number, part in enumerate(brief.behind)
    ]
    cleat = brief.cleat
    for key, length, more in (("length", cleat.length_nm, wider), ("arm", cleat.arm_nm, taller)):
        if length is not None:
            said.append((("cleat", key), length, more))
    return [(path, old + more) for path, old, more in said if more and old + more > 0]


def toml_length(nm: int, unit: LengthUnit) -> EditValue:
    """A length as a brief holds it: a plain number in its unit where that is exact and short, else words."""
    per = NM_PER_MM if unit is LengthUnit.MM else NM_PER_IN
    number = Decimal(nm) / per
    if number == round(number, 4):
        return int(number) if number == int(number) else float(number)
    return f"{Decimal(nm) / NM_PER_MM} mm"


def in_proportion(counts: Sequence[float], total: int) -> tuple[int, ...]:
    """Whole numbers that sum to the total, nearest to the counts' proportions; the largest rests are rounded up."""
    whole = sum(counts)
    if not whole:
        return tuple(total * (k == 0) for k in range(len(counts)))
    exact = [count * total / whole for count in counts]
    out = [int(e) for e in exact]
    order = sorted(range(len(counts)), key=lambda k: (out[k] - exact[k], k))
    for k in order[: total - sum(out)]:
        out[k] += 1
    return tuple(out)


def _set(path: tuple[str | int, ...], value: EditValue) -> Edit:
    return Edit(op="set", path=path, value=value)


@dataclass(slots=True)
class _Leaf:
    """A leaf of the new size: where it lies, what is open in it."""

    name: str | None
    place: Place
    open_cells: list[tuple[int, int]]


def _leaves(brief: Brief, columns: int, rows: int, places: Sequence[Place]) -> list[_Leaf]:
    blocks = brief.blocks
    pitch_x, pitch_y = blocks.module_width_nm + blocks.gap_nm, blocks.module_height_nm + blocks.gap_nm
    height = rows * pitch_y - blocks.gap_nm
    names = [leaf.name for leaf in blocks.leaves] if len(places) == max(1, len(blocks.leaves)) else []
    new = [_Leaf(names[n] if names else None, place, []) for n, place in enumerate(places)]
    for x, y in _open_middles(brief):
        for leaf in new:
            column, row = (x - leaf.place[0]) // pitch_x + 1, (leaf.place[1] + height - y) // pitch_y + 1
            if 1 <= column <= columns and 1 <= row <= rows and (row, column) not in leaf.open_cells:
                leaf.open_cells.append((row, column))
    return new


def _open_middles(brief: Brief) -> list[Place]:
    """Middles of the open cells on the wall, as the brief has them now."""
    grid, blocks = plan_grid(brief), brief.blocks
    return [
        _middle(brief, place, grid.height_nm, row, column)
        for leaf, place in zip(blocks.leaves, grid.places, strict=False)
        for row, column in leaf.open_cells
    ]


def _middle(brief: Brief, place: Place, height: int, row: int, column: int) -> Place:
    blocks = brief.blocks
    return (
        place[0] + (column - 1) * (blocks.module_width_nm + blocks.gap_nm) + blocks.module_width_nm // 2,
        place[1] + height - (row - 1) * (blocks.module_height_nm + blocks.gap_nm) - blocks.module_height_nm // 2,
    )


def _counts(brief: Brief, columns: int, rows: int, leaves: list[_Leaf]) -> list[Edit] | None:
    """Counts of fills, quotas by level and by shade, for the new grid; None where they cannot be made up.

    Counts are those of each leaf, so leaves with different numbers of open cells cannot have them.
    """
    open_n = {len(leaf.open_cells) for leaf in leaves}
    blocks = brief.blocks
    counted = any(f.quotas is not None or f.count is not None for f in blocks.footprints) or any(
        fill.count is not None for fill in blocks.fills
    )
    if len(open_n) > 1 and counted:
        return None
    modules = columns * rows - min(open_n)
    ring = 2 * (columns + rows) - 4 if brief.edge.style is EdgeStyle.OUTRIGGER else 0
    made = _mosaic(brief, modules) if blocks.mosaic else _fills(brief, modules)
    if made is None:
        return None
    edits, by_name, ring_name = made
    total = 0
    for number, footprint in enumerate(blocks.footprints):
        have = by_name.get(footprint.name, 0)
        total += have * len(leaves)
        if footprint.quotas is not None:
            if blocks.ring_quotas is not None and footprint.name == ring_name:
                have -= ring
            edits.append(_quotas(brief, ("footprint", number, "quotas"), footprint, have))
    if blocks.ring_quotas is not None:
        edits.append(_by_height(brief, ("blocks", "ring_quotas"), in_proportion(blocks.ring_quotas, ring)))
    shades = [q for family in brief.families for q in family.quotas or ()]
    if shades:
        new = list(in_proportion(shades, total * brief.piece.copies))
        for number, family in enumerate(brief.families):
            mine, new = new[: len(family.quotas or ())], new[len(family.quotas or ()) :]
            edits.append(_set(("family", number, "quotas"), list(mine)))
    return edits


def _fills(brief: Brief, modules: int) -> tuple[list[Edit], dict[str, int], str] | None:
    """Fill counts in proportion, the blocks of each footprint on a leaf, and which one the ring is made of."""
    fills = fills_of(brief)
    rest = max(0, _own_modules(brief) - sum(fill.count or 0 for fill in fills))
    shares = in_proportion([rest if fill.count is None else fill.count for fill in fills], modules)
    if sum(fill.count or 0 for fill in fills) == 0:
        shares = tuple(modules if fill.count is None else 0 for fill in fills)
    edits = [
        _set(("fill", number, "count"), count)
        for number, (fill, count) in enumerate(zip(fills, shares, strict=True))
        if fill.count is not None
    ]
    by_name: dict[str, int] = {}
    for fill, count in zip(fills, shares, strict=True):
        for row in fill.rows:
            for name in row:
                by_name[name] = by_name.get(name, 0) + count
    ring_fill = next((fill for fill in fills if fill.count is None), fills[0])
    return edits, by_name, ring_fill.rows[0][0]


def _own_modules(brief: Brief) -> int:
    """Modules of the brief's own first leaf that hold blocks."""
    grid = plan_grid(brief)
    opened = len(brief.blocks.leaves[0].open_cells) if brief.blocks.leaves else 0
    return grid.columns * grid.rows - opened


def _mosaic(brief: Brief, cells: int) -> tuple[list[Edit], dict[str, int], str] | None:
    """Counts of a mosaic in proportion, as near as whole blocks make up the cells."""
    prints = brief.blocks.footprints
    if any(f.count is not None for f in prints):
        before = mosaic_counts(prints, _own_modules(brief))
        if before is None:
            return None
        prints = tuple(replace(f, count=None, share=n or 1e-9) for f, n in zip(prints, before, strict=True))
    counts = mosaic_counts(prints, cells)
    if counts is None:
        return None
    edits = [
        _set(("footprint", number, "count"), count)
        for number, (f, count) in enumerate(zip(brief.blocks.footprints, counts, strict=True))
        if f.count is not None
    ]
    single = next((f.name for f in prints if f.cells == (1, 1)), "")
    return edits, {f.name: n for f, n in zip(prints, counts, strict=True)}, single


def _quotas(brief: Brief, path: tuple[str | int, ...], footprint: Footprint, total: int) -> Edit:
    quotas = in_proportion(footprint.quotas or (), total)
    kept = tuple(n if level in footprint.allowed else None for level, n in enumerate(quotas))
    return _by_height(brief, path, kept)


def _by_height(brief: Brief, path: tuple[str | int, ...], numbers: Sequence[int | None]) -> Edit:
    """Numbers by level under the height of each, so that the order in the file does not matter."""
    table: dict[str, EditValue] = {}
    for level, number in zip(brief.blocks.levels_nm, numbers, strict=True):
        if number is not None:
            length = toml_length(level, brief.piece.unit)
            table[str(length)] = number
    return _set(path, table)


def _leaf_edits(brief: Brief, leaves: list[_Leaf]) -> list[Edit]:
    """Places and open cells of the leaves; key by key where the file surely has an entry for each."""
    old = brief.blocks.leaves
    unit = brief.piece.unit
    written = len(old) == len(leaves) and (
        len(old) > 1 or any(leaf.name != "whole" or leaf.x_nm is not None or leaf.open_cells for leaf in old)
    )
    if written:
        edits = []
        for number, (leaf, new) in enumerate(zip(old, leaves, strict=True)):
            for key, before, now in (("x", leaf.x_nm, new.place[0]), ("y", leaf.y_nm, new.place[1])):
                if before != now:
                    edits.append(_set(("leaf", number, key), toml_length(now, unit)))
            if sorted(new.open_cells) != sorted(leaf.open_cells):
                cells: list[EditValue] = [list(cell) for cell in sorted(new.open_cells)]
                edits.append(_set(("leaf", number, "open"), cells))
        return edits
    entries: list[EditValue] = []
    for new in leaves:
        entry: dict[str, EditValue] = {"x": toml_length(new.place[0], unit), "y": toml_length(new.place[1], unit)}
        if new.open_cells:
            entry["open"] = [list(cell) for cell in sorted(new.open_cells)]
        entries.append(entry)
    return [_set(("leaf",), entries)]


def _pin_edits(brief: Brief, columns: int, rows: int, leaves: list[_Leaf]) -> list[Edit]:
    """Pinned blocks under their new addresses; those that the piece no longer reaches are let go, last ones first."""
    if not brief.blocks.pins:
        return []
    grid, blocks = plan_grid(brief), brief.blocks
    at = dict(zip((leaf.name for leaf in blocks.leaves), grid.places, strict=False))
    pitch_x, pitch_y = blocks.module_width_nm + blocks.gap_nm, blocks.module_height_nm + blocks.gap_nm
    height = rows * pitch_y - blocks.gap_nm
    plain = {1: ("whole",), 2: ("left", "right"), 3: ("left", "middle", "right")}
    edits: list[Edit] = []
    gone: list[int] = []
    for number, pin in enumerate(blocks.pins):
        digits = pin.address.rstrip("abcdefghijklmnopqrstuvwxyz")
        row, column = (int(part) for part in digits.split("·"))
        x, y = _middle(brief, at[pin.leaf], grid.height_nm, row, column)
        for n, leaf in enumerate(leaves):
            new_column, new_row = (x - leaf.place[0]) // pitch_x + 1, (leaf.place[1] + height - y) // pitch_y + 1
            if 1 <= new_column <= columns and 1 <= new_row <= rows:
                address = f"{new_row}·{new_column}{pin.address[len(digits) :]}"
                if address != pin.address:
                    edits.append(_set(("pin", number, "block"), address))
                name = leaf.name or (plain[len(leaves)][n] if len(leaves) in plain else str(n + 1))
                if name != pin.leaf:
                    edits.append(_set(("pin", number, "leaf"), name))
                break
        else:
            gone.append(number)
    return [*edits, *(Edit(op="remove", path=("pin", number)) for number in reversed(gone))]
