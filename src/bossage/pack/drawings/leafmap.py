"""The map of a leaf: every block where it lies, with its level and its shade."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Fill, Ink, Label, Line, Rect, Shape, Stand, Stroke
from bossage.fade.records import Shade
from bossage.letters import clusters
from bossage.pack.drawings.fit import legible_size
from bossage.pack.words import Words
from bossage.plan import Plan

#: CIE L* at which white and black words stand out alike, by 4.58 : 1 (contrast of WCAG 2.2: no ink does better).
DARK_BELOW = 49.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Which rows of a leaf a map shows, both ends counted; of which columns, where it does not show all."""

    first: int
    last: int
    first_column: int = 1
    last_column: int = 10**6

    def hold(self, row: NDArray[np.int64] | int, column: NDArray[np.int64] | int) -> NDArray[np.bool_]:
        """Whether the map shows a place."""
        return np.asarray(
            (row >= self.first) & (row <= self.last) & (column >= self.first_column) & (column <= self.last_column)
        )

    @property
    def words(self) -> str:
        """`rows 1 to 8`, `rows 1 to 8, columns 1 to 4`."""
        columns = f", columns {self.first_column} to {self.last_column}" if self.last_column < 10**6 else ""
        return f"rows {self.first} to {self.last}{columns}"


def ink_on(shade: Shade) -> Ink:
    """What words on a shade are written in, so that they can be read without colour too."""
    return Ink.PAPER if shade.lightness < DARK_BELOW else Ink.BLACK


def tiles_of(plan: Plan, leaf: int, *, across: int, down: int) -> list[Rows]:
    """A leaf's rows and columns cut into that many equal parts, row by row; a part without blocks is left out."""
    blocks, place = plan.layout.blocks, plan.layout.leaves[leaf]
    mine = blocks.leaf == leaf
    columns = _parts(place.columns, across)
    tiles = [
        Rows(first=top, last=foot, first_column=left, last_column=right if len(columns) > 1 else 10**6)
        for top, foot in _parts(place.rows, down)
        for left, right in columns
    ]
    return [tile for tile in tiles if bool((mine & tile.hold(blocks.row, blocks.column)).any())]


def shade_keys(shades: tuple[Shade, ...]) -> dict[str, str]:
    """A short form of each shade's name that fits on a block: `moss 62` is `M 62`, or `Mo 62` beside `mist 84`."""
    families = list(dict.fromkeys(shade.family for shade in shades))
    keys = {}
    for family in families:
        letters = clusters(family)
        length = 1
        while length < len(letters) and any(
            other != family and _begins_alike(other, "".join(letters[:length])) for other in families
        ):
            length += 1
        keys[family] = "".join(letters[:length]).capitalize()  # a small l would pass for a 1
    return {
        shade.name: (keys[shade.family] + shade.name[len(shade.family) :]).replace(" ", "\u2009") for shade in shades
    }


def _begins_alike(name: str, beginning: str) -> bool:
    return name.casefold().startswith(beginning.casefold())


@dataclass(frozen=True, slots=True, kw_only=True)
class Letters:
    """The largest type on a block, on paper."""

    level_mm: float = 5.0
    shade_mm: float = 2.8


def map_drawing(
    plan: Plan, leaf: int, words: Words, *, rows: Rows | None = None, letters: Letters | None = None
) -> Callable[[float], Drawing]:
    """The map of one leaf, or of some of its rows, seen from the front, for the n of 1 : n."""
    type_ = letters or Letters()

    def draw(scale_n: float) -> Drawing:
        return _map(plan, leaf, words, rows, scale_n, type_)

    return draw


def _map(plan: Plan, leaf: int, words: Words, rows: Rows | None, scale_n: float, letters: Letters) -> Drawing:
    blocks, place = plan.layout.blocks, plan.layout.leaves[leaf]
    mine = np.flatnonzero(blocks.leaf == leaf)
    if rows is not None:
        mine = mine[rows.hold(blocks.row[mine], blocks.column[mine])]
    keys = shade_keys(plan.fade.shades)
    shapes: list[Shape] = []
    for block in mine.tolist():
        shapes += _block(plan, block, words, keys, scale_n, letters)
    for cell in plan.layout.open_cells:
        if cell.leaf == leaf and (rows is None or rows.hold(cell.row, cell.column)):
            left, low = cell.x_nm / 1e6, cell.y_nm / 1e6
            right, high = left + cell.width_nm / 1e6, low + cell.height_nm / 1e6
            shapes.append(Rect(x_mm=left, y_mm=low, width_mm=right - left, height_mm=high - low, layer="open"))
            shapes.append(Line(start=(left, low), end=(right, high), stroke=Stroke.THIN, layer="open"))
            shapes.append(Line(start=(left, high), end=(right, low), stroke=Stroke.THIN, layer="open"))
    shapes += _numbers(plan, leaf, mine, scale_n)
    part = f", {rows.words}" if rows is not None else ""
    return Drawing(
        title=f"Map of leaf {place.name}{part}",
        description=(
            f"{mine.size} blocks in {place.rows} rows of {place.columns}, seen from the front; every block carries its "
            "level and its shade. The same in words stands in blocks.csv."
        ),
        shapes=tuple(shapes),
        scale_n=scale_n,
        reading=tuple(block_lines(plan, mine, words)),
    )


def block_lines(plan: Plan, mine: NDArray[np.int64], words: Words) -> Iterator[str]:
    """Blocks to be read aloud, one a line, row after row: `7·12: 35 mm, moss 62.`"""
    blocks = plan.layout.blocks
    row = 0
    for block in mine.tolist():
        if int(blocks.row[block]) != row:
            row = int(blocks.row[block])
            yield f"Row {row}."
        level = words.compact(plan.relief.levels_nm[int(plan.relief.level[block])])
        yield f"{blocks.address(block)}: {level} {words.unit}, {plan.fade.shades[int(plan.fade.shade[block])].name}."


def _block(plan: Plan, block: int, words: Words, keys: dict[str, str], scale_n: float, letters: Letters) -> list[Shape]:
    blocks = plan.layout.blocks
    x, y = int(blocks.x_nm[block]) / 1e6, int(blocks.y_nm[block]) / 1e6
    width, height = int(blocks.width_nm[block]) / 1e6, int(blocks.height_nm[block]) / 1e6
    shade = plan.fade.shades[int(plan.fade.shade[block])]
    level = words.compact(plan.relief.levels_nm[int(plan.relief.level[block])])
    ink = ink_on(shade)
    paper_w, paper_h = width / scale_n, height / scale_n
    key = keys[shade.name]
    big = legible_size(level, width_mm=paper_w, height_mm=0.62 * paper_h, most_mm=letters.level_mm, bold=True)
    small = legible_size(key, width_mm=paper_w, height_mm=0.46 * paper_h, most_mm=letters.shade_mm)
    middle = x + width / 2
    return [
        Rect(
            x_mm=x,
            y_mm=y,
            width_mm=width,
            height_mm=height,
            stroke=Stroke.THIN,
            fill=Fill(colour=shade.colour_hex),
            layer="blocks",
            name=blocks.address(block),
        ),
        Label(
            at=(middle, y + 0.66 * height),
            text=level,
            size_mm=big,
            bold=True,
            ink=ink,
            stand=Stand.MIDDLE,
            layer="level",
        ),
        Label(at=(middle, y + 0.24 * height), text=key, size_mm=small, ink=ink, stand=Stand.MIDDLE, layer="shade"),
    ]


def _numbers(plan: Plan, leaf: int, mine: NDArray[np.int64], scale_n: float) -> list[Shape]:
    """Row numbers on both sides, column numbers above and below, each beside the middle of its module."""
    blocks, place, asked = plan.layout.blocks, plan.layout.leaves[leaf], plan.brief.blocks
    wide, tall, gap = (nm / 1e6 for nm in (asked.module_width_nm, asked.module_height_nm, asked.gap_nm))
    shapes: list[Shape] = []
    away = 2.2 * scale_n
    left = int(blocks.x_nm[mine].min()) / 1e6
    right = int((blocks.x_nm[mine] + blocks.width_nm[mine]).max()) / 1e6
    for row in range(int(blocks.row[mine].min()), int(blocks.row[mine].max()) + 1):
        high = (place.y_nm + place.height_nm) / 1e6 - (row - 1) * (tall + gap)
        low = high - tall
        size_mm = legible_size("88", width_mm=8, height_mm=(high - low) / scale_n, most_mm=4.0, bold=True)
        for x, align in ((left - away, Align.RIGHT), (right + away, Align.LEFT)):
            shapes.append(
                Label(at=(x, (low + high) / 2), text=str(row), size_mm=size_mm, bold=True, align=align, layer="rows")
            )
    low = int(blocks.y_nm[mine].min()) / 1e6
    high = int((blocks.y_nm[mine] + blocks.height_nm[mine]).max()) / 1e6
    for column in range(int(blocks.column[mine].min()), place.columns + 1):
        from_mm = place.x_nm / 1e6 + (column - 1) * (wide + gap)
        if from_mm > right - wide / 2:
            break
        to_mm = from_mm + wide
        size_mm = legible_size("88", width_mm=(to_mm - from_mm) / scale_n, height_mm=8, most_mm=4.0, bold=True)
        for y, stand in ((high + away, Stand.BOTTOM), (low - away, Stand.TOP)):
            shapes.append(
                Label(
                    at=((from_mm + to_mm) / 2, y),
                    text=str(column),
                    size_mm=size_mm,
                    bold=True,
                    stand=stand,
                    layer="columns",
                )
            )
    return shapes


def _parts(count: int, parts: int) -> list[tuple[int, int]]:
    each = -(-count // min(max(parts, 1), count))
    return [(start, min(start + each - 1, count)) for start in range(1, count + 1, each)]
