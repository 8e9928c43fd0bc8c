"""From tables to records: footprints, fills, leaves and pins, and whether their counts agree."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

from bossage.brief.face import Fill, Footprint, LeafBrief
from bossage.brief.kinds import nearest
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.settle_mosaic import cell_size, check_mosaic, check_no_cells, settle_cells
from bossage.units import NM_PER_MM, format_length

DEFAULT_LEVELS_NM = tuple(level * NM_PER_MM for level in (12, 18, 24, 30, 36))
MOST_BLOCKS = 20_000
LONGEST_NM = 20_000 * NM_PER_MM
_SIZES = (
    "blocks.module",
    "blocks.gap",
    "fill[*].rows",
    "footprint[*].name",
    "footprint[*].width",
    "footprint[*].height",
)
_COUNTED = ("blocks.columns", "blocks.rows", "fill[*].rows", "fill[*].count", "footprint[*].name", "leaf[*].open")
_READ_LEVEL = "Write a height that the blocks have."


def settle_levels(tables: Tables, notes: Notes) -> tuple[int, ...]:
    """Heights, lowest first; faults for equal ones and for too few."""
    table = tables.one("blocks")
    levels = table.levels
    if levels is None:
        if tables.sound("blocks.levels"):
            said = ", ".join(format_length(level, tables.unit, bare=True) for level in DEFAULT_LEVELS_NM)
            notes.add("blocks.levels", f"{said} {tables.unit}", "five heights read well and need five stop settings")
        levels = DEFAULT_LEVELS_NM
    for number, level in enumerate(levels, 1):
        if level in levels[: number - 1]:
            found = f"{format_length(level, tables.unit)} twice"
            tables.fault(f"blocks.levels[{number}]", found, "each level once", "Take one out.")
    if len(set(levels)) <= table.min_step and tables.sound("blocks.levels", "blocks.min_step"):
        allowed = f"at least {table.min_step + 1}, so that neighbours can differ by {table.min_step}"
        tables.fault("blocks.levels", f"{len(levels)} level", allowed, "Add levels, or lower blocks.min_step.")
    return tuple(sorted(set(levels)))


def settle_footprints(tables: Tables, levels: tuple[int, ...], notes: Notes) -> tuple[Footprint, ...]:
    """Face sizes with one number a level each."""
    entries = tables.many("footprint")
    names: dict[str, str] = {}
    out = []
    for path, table in entries:
        name = table.name
        if name is None:
            name = "block" if len(tables.repeated["footprint"]) == 1 else ""
            if not name and tables.sound(f"{path}.name"):
                tables.fault(f"{path}.name", "nothing", "a name for fills to call it by", "Add a name.")
        elif name.casefold() in names:
            found = f'"{name}", as in {names[name.casefold()]}'
            tables.fault(f"{path}.name", found, "a name that stands once", "Give each footprint a name of its own.")
        names.setdefault(name.casefold(), path)
        notes.table(path, table)
        allowed = _allowed_levels(tables, path, table, levels)
        quotas, weights = _shares(tables, path, table, levels, allowed, notes)
        out.append(
            Footprint(
                name=name,
                width_nm=table.width,
                height_nm=table.height,
                section=table.section or "",
                quotas=quotas,
                weights=weights,
                allowed=allowed,
                spread_nm=table.spread,
                cells=table.cells,
                count=table.count,
                share=None if table.cells is None or table.count is not None else table.share or 1.0,
            )
        )
    return tuple(out)


def settle_fills(tables: Tables, footprints: tuple[Footprint, ...]) -> tuple[Fill, ...]:
    """How footprints fill a module; a single footprint fills it alone."""
    if any(table.cells for _, table in tables.many("footprint")):
        return settle_cells(tables)
    check_no_cells(tables)
    names = [table.name for _, table in tables.many("footprint")]
    known = {name.casefold(): name for name in names if name}
    if not tables.repeated["fill"]:
        if len(tables.repeated["footprint"]) > 1 and tables.sound("fill"):
            allowed = "at least one [[fill]] whose rows name the footprints"
            tables.fault("fill", "nothing", allowed, "Say how the footprints lie in a cell, row by row from the top.")
        return (Fill(rows=((footprints[0].name,),), count=None),) if footprints else ()
    if len(tables.repeated["footprint"]) == 1 and not known and footprints:
        known = {footprints[0].name.casefold(): footprints[0].name}
    out, open_counts = [], []
    for path, table in tables.many("fill"):
        for row_number, row in enumerate(table.rows, 1):
            for number, word in enumerate(row, 1):
                if word.casefold() not in known and tables.sound("footprint[*].name"):
                    near = nearest(word.casefold(), known)
                    advice = f'Did you mean "{known[near]}"?' if near else "Name a footprint of this brief."
                    where = f"{path}.rows[{row_number}][{number}]"
                    tables.fault(where, f'"{word}"', f"a footprint: {', '.join(known.values())}", advice)
        rows = tuple(tuple(known.get(word.casefold(), word) for word in row) for row in table.rows)
        out.append(Fill(rows=rows, count=table.count))
        if table.count is None and tables.sound(f"{path}.count"):
            open_counts.append(path)
    if len(open_counts) > 1:
        tables.fault(
            f"{open_counts[1]}.count", "nothing", "a count in all fills but one", "One fill alone can take the rest."
        )
    used = {word for fill in out for row in fill.rows for word in row}
    for path, table in tables.many("footprint"):
        if table.name and table.name not in used and tables.sound("fill[*].rows", "footprint[*].name"):
            tables.fault(
                path, f'"{table.name}" in no fill', "a fill for each footprint", "Add it to a fill, or take it out."
            )
    return tuple(out)


def settle_module(tables: Tables, footprints: tuple[Footprint, ...], fills: tuple[Fill, ...]) -> tuple[int, int]:
    """Width and height of a module: as given, or the largest of what its fills need."""
    table = tables.one("blocks")
    if table.module is None and any(print_.cells for print_ in footprints):
        return cell_size(footprints, table.gap)
    sizes = {print_.name: (print_.width_nm, print_.height_nm) for print_ in footprints}
    wide = tall = 0
    for number, fill in enumerate(fills, 1):
        if any(word not in sizes for row in fill.rows for word in row):
            continue
        gap = table.gap
        width = max(sum(sizes[word][0] for word in row) + gap * (len(row) - 1) for row in fill.rows)
        height = sum(max(sizes[word][1] for word in row) for row in fill.rows) + gap * (len(fill.rows) - 1)
        larger = table.module and (width > table.module[0] or height > table.module[1])
        if larger and tables.repeated["fill"] and tables.sound(*_SIZES):
            allowed = f"at most {_size(tables, *table.module)}, the module"
            tables.fault(f"fill[{number}].rows", _size(tables, width, height), allowed, "Enlarge blocks.module.")
        wide, tall = max(wide, width), max(tall, height)
    return table.module or (wide or 1, tall or 1)


def settle_leaves(tables: Tables) -> tuple[LeafBrief, ...]:
    """The leaves, named by their place where they have no name; open cells must lie on the grid."""
    blocks = tables.one("blocks")
    entries = tables.many("leaf")
    if not entries:
        return (LeafBrief(name="whole", x_nm=None, y_nm=None, open_cells=()),)
    plain = {1: ("whole",), 2: ("left", "right"), 3: ("left", "middle", "right")}.get(
        len(entries), tuple(str(number) for number in range(1, len(entries) + 1))
    )
    seen: dict[str, str] = {}
    out = []
    for (path, table), word in zip(entries, plain, strict=True):
        name = table.name or word
        if name.casefold() in seen:
            found = f'"{name}", as in {seen[name.casefold()]}'
            tables.fault(f"{path}.name", found, "a name that stands once", "Give each leaf a name of its own.")
        seen.setdefault(name.casefold(), path)
        cells = Counter(table.open)
        sized = blocks.columns is not None and blocks.rows is not None
        if cells and not sized and tables.sound("blocks.columns", "blocks.rows"):
            allowed = "blocks.columns and blocks.rows beside open cells"
            tables.fault(f"{path}.open", "no size of the grid", allowed, "Add both, so that cells can be counted.")
        for number, (row, column) in enumerate(table.open, 1):
            where, found = f"{path}.open[{number}]", f"row {row}, column {column}"
            if sized and (row > blocks.rows or column > blocks.columns):
                allowed = f"row 1 to {blocks.rows}, column 1 to {blocks.columns}, from the upper left"
                tables.fault(where, found, allowed, "Write [row, column], in that order.")
            elif (row, column) in table.open[: number - 1]:
                tables.fault(where, f"{found} twice", "each open cell once", "Take one out.")
        out.append(LeafBrief(name=name, x_nm=table.x, y_nm=table.y, open_cells=tuple(sorted(cells))))
    return tuple(out)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """What the counts are taken over."""

    columns: int
    rows: int
    fills: tuple[Fill, ...]
    footprints: tuple[Footprint, ...]
    leaf: LeafBrief

    @property
    def open_count(self) -> int:
        """Cells left open."""
        return len(self.leaf.open_cells)

    @property
    def modules(self) -> int:
        """Cells that hold blocks."""
        return self.columns * self.rows - self.open_count

    @property
    def ring_modules(self) -> int:
        """Cells on the outer ring that hold blocks."""
        ring = 2 * (self.columns + self.rows) - 4 if min(self.columns, self.rows) > 1 else self.columns * self.rows
        opened = sum(row in {1, self.rows} or column in {1, self.columns} for row, column in self.leaf.open_cells)
        return ring - opened

    def fill_counts(self) -> tuple[int, ...] | None:
        """Modules of each fill, None where they do not come to the grid."""
        given = sum(fill.count or 0 for fill in self.fills)
        rest = self.modules - given
        open_ended = any(fill.count is None for fill in self.fills)
        if rest < 0 or (rest > 0 and not open_ended):
            return None
        return tuple(rest if fill.count is None else fill.count for fill in self.fills)

    def blocks(self) -> Counter[str]:
        """Blocks of each footprint."""
        out: Counter[str] = Counter()
        for fill, count in zip(self.fills, self.fill_counts() or (), strict=True):
            for word, each in _words(fill).items():
                out[word] += each * count
        return out

    def ring(self) -> Counter[str] | None:
        """Blocks of each footprint in the ring: modules there take the fill that takes the rest. None if unknown."""
        rest = [fill for fill in self.fills if fill.count is None] or (list(self.fills) if len(self.fills) == 1 else [])
        if not rest:
            return None
        return Counter({word: each * self.ring_modules for word, each in _words(rest[0]).items()})


def check_counts(
    tables: Tables,
    footprints: tuple[Footprint, ...],
    fills: tuple[Fill, ...],
    leaves: tuple[LeafBrief, ...],
    ring_quotas: tuple[int, ...] | None,
    copies: int,
) -> int | None:
    """Whether fills and quotas come to the grid, leaf by leaf; returns the blocks of the whole piece, if known."""
    blocks = tables.one("blocks")
    quotas_given = [path for path, table in tables.many("footprint") if table.quotas is not None]
    if blocks.columns is None or blocks.rows is None:
        if quotas_given and tables.sound("blocks.columns", "blocks.rows"):
            allowed = "blocks.columns and blocks.rows beside quotas"
            remedy = "Add both, or write weights instead of quotas and let the size be found."
            tables.fault(f"{quotas_given[0]}.quotas", "quotas without the size of the grid", allowed, remedy)
        return None
    if not tables.sound(*_COUNTED) or not footprints:
        return None
    if any(print_.cells for print_ in footprints):
        return check_mosaic(tables, footprints, leaves, ring_quotas, copies)
    total = 0
    checked: set[tuple[int, int]] = set()
    for leaf in leaves:
        grid = Grid(columns=blocks.columns, rows=blocks.rows, fills=fills, footprints=footprints, leaf=leaf)
        if grid.fill_counts() is None:
            given = sum(fill.count or 0 for fill in fills)
            found = f"fills for {given} cells on leaf {leaf.name}"
            allowed = f"{grid.modules}: {blocks.columns} × {blocks.rows} less {grid.open_count} open"
            remedy = f"Change a count by {abs(grid.modules - given)}, or leave one out: it takes the rest."
            tables.fault("fill", found, allowed, remedy)
            return None
        if grid.modules == 0:
            found = f"{grid.open_count} of {grid.open_count} cells open on leaf {leaf.name}"
            tables.fault("leaf", found, "some cells with blocks", "Close some, or take the leaf out.")
            return None
        total += sum(grid.blocks().values())
        # leaves that are filled alike would only say the same thing again
        if (grid.modules, grid.ring_modules) not in checked:
            checked.add((grid.modules, grid.ring_modules))
            _check_quotas(tables, grid, ring_quotas, f" on leaf {leaf.name}" if len(leaves) > 1 else "")
    if total * copies > MOST_BLOCKS:
        found = f"{total * copies:,} blocks"
        remedy = "Make the blocks larger or the piece smaller; look at columns, rows and copies."
        tables.fault("blocks", found, f"at most {MOST_BLOCKS:,} in all", remedy)
        return None
    return total


def check_span(tables: Tables, module: tuple[int, int]) -> None:
    """No leaf longer than 20 m."""
    blocks = tables.one("blocks")
    for key, count, size in (("columns", blocks.columns, module[0]), ("rows", blocks.rows, module[1])):
        if count is not None and tables.sound(f"blocks.{key}", *_SIZES):
            span = count * (size + blocks.gap) - blocks.gap
            if span > LONGEST_NM:
                found = f"{count:,} {key}, together {format_length(span, tables.unit)}"
                allowed = f"at most {format_length(LONGEST_NM, tables.unit)}"
                tables.fault(f"blocks.{key}", found, allowed, f"Take fewer {key} or smaller blocks.")


def per_level(tables: Tables, path: str, value: Any, levels: tuple[int, ...], allowed: tuple[int, ...]) -> Any:
    """One number for each level from a list or a table by height, None with a fault noted."""
    written = tables.one("blocks").levels or levels
    takes = [level for level in written if levels.index(level) in allowed]
    if isinstance(value, dict):
        numbers = dict.fromkeys(takes, 0)
        for nm, (key, number) in value.items():
            if nm not in numbers:
                found, known = f'"{key}"', ", ".join(format_length(level, tables.unit) for level in takes)
                tables.fault(f'{path}."{key}"', found, f"one of the levels {known}", _READ_LEVEL)
            else:
                numbers[nm] = number
    elif len(value) != len(takes):
        found = f"{len(value)} numbers"
        tables.fault(path, found, f"{len(takes)}, one for each level", "Write them in the order of the levels.")
        return None
    else:
        numbers = dict(zip(takes, value, strict=True))
    return tuple(numbers.get(level, 0) for level in levels) if tables.sound(path) else None


def _check_quotas(tables: Tables, grid: Grid, ring_quotas: tuple[int, ...] | None, where: str) -> None:
    blocks, ring = grid.blocks(), grid.ring() if ring_quotas is not None else Counter()
    paths = {table.name or "block": path for path, table in tables.many("footprint")}
    if ring_quotas is not None and ring is not None:
        _compare(tables, "blocks.ring_quotas", sum(ring_quotas), sum(ring.values()), f"blocks in the ring{where}")
    for print_ in grid.footprints:
        if print_.quotas is None or ring is None:
            continue
        zone = " in the field" if ring_quotas is not None else ""
        wanted = blocks[print_.name] - ring[print_.name]
        path = f"{paths[print_.name]}.quotas"
        _compare(tables, path, sum(print_.quotas), wanted, f"blocks of {print_.name}{zone}{where}")
    if ring is None and ring_quotas is not None and all(print_.quotas is not None for print_ in grid.footprints):
        given = sum(ring_quotas) + sum(sum(print_.quotas or ()) for print_ in grid.footprints)
        _compare(tables, "blocks.ring_quotas", given, sum(blocks.values()), f"blocks of ring and field{where}")


def _compare(tables: Tables, path: str, given: int, wanted: int, what: str) -> None:
    if given != wanted:
        word = "more" if given < wanted else "fewer"
        remedy = f"Ask for {abs(wanted - given)} {word}."
        tables.fault(path, f"quotas that sum to {given}", f"{wanted}, the {what}", remedy)


def _allowed_levels(tables: Tables, path: str, table: Any, levels: tuple[int, ...]) -> tuple[int, ...]:
    if table.levels is None or not tables.sound("blocks.levels"):
        return tuple(range(len(levels)))
    for number, level in enumerate(table.levels, 1):
        if level not in levels:
            known = ", ".join(format_length(one, tables.unit) for one in levels)
            found = format_length(level, tables.unit)
            remedy = "Add it to blocks.levels, or take it out here."
            tables.fault(f"{path}.levels[{number}]", found, f"one of the levels {known}", remedy)
    return tuple(index for index, level in enumerate(levels) if level in table.levels)


def _shares(
    tables: Tables, path: str, table: Any, levels: tuple[int, ...], allowed: tuple[int, ...], notes: Notes
) -> tuple[tuple[int, ...] | None, tuple[float, ...] | None]:
    """Quotas or weights, one a level; equal weights where the brief gives neither."""
    equal = tuple(1.0 if index in allowed else 0.0 for index in range(len(levels)))
    if table.quotas is not None and table.weights is not None:
        tables.fault(f"{path}.weights", "both quotas and weights", "one of the two", "Take the weights out.")
        return None, equal
    if not tables.sound("blocks.levels", f"{path}.levels", f"{path}.quotas", f"{path}.weights"):
        return None, equal
    if table.quotas is not None:
        return per_level(tables, f"{path}.quotas", table.quotas, levels, allowed), None
    if table.weights is None:
        notes.add(f"{path}.weights", "equal shares", "neither quotas nor weights were given")
        return None, equal
    weights = per_level(tables, f"{path}.weights", table.weights, levels, allowed)
    if weights is not None and not sum(weights) > 0:
        tables.fault(
            f"{path}.weights", "weights that are all 0", "at least one above 0", "Write shares such as 1, 2, 1."
        )
    return None, weights and tuple(float(weight) for weight in weights)


def _words(fill: Fill) -> Counter[str]:
    return Counter(word for row in fill.rows for word in row)


def _size(tables: Tables, width: int, height: int) -> str:
    return f"{format_length(width, tables.unit, bare=True)} × {format_length(height, tables.unit)}"
