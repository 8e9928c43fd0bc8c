"""A row at true scale in parts that overlap, to be taped together and laid under the blocks."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Fill, Ink, Label, Line, Outline, Rect, Shape, Stand, Stroke
from bossage.pack.drawings.fit import LEAST_TEXT_MM, legible_size
from bossage.pack.drawings.leafmap import block_lines, ink_on
from bossage.pack.words import Words
from bossage.plan import Plan

OVERLAP_MM = 10.0
MARK_MM = 2.0  # a triangle at the rim of the strip at each end of an overlap


def strip_drawings(plan: Plan, leaf: int, row: int, words: Words, *, width_mm: float) -> list[Drawing]:
    """The parts of one row, left to right, each at most `width_mm` wide at 1 : 1.

    Neighbouring parts show the same `OVERLAP_MM` of the row; a mark at both ends of it lies on its twin when they are
    taped.
    """
    blocks, place = plan.layout.blocks, plan.layout.leaves[leaf]
    mine = np.flatnonzero((blocks.leaf == leaf) & (blocks.row == row))
    low = int(blocks.y_nm[mine].min()) / 1e6
    high = int((blocks.y_nm[mine] + blocks.height_nm[mine]).max()) / 1e6
    left, right = place.x_nm / 1e6, (place.x_nm + place.width_nm) / 1e6
    parts = part_spans(right - left, width_mm)
    drawings = []
    for number, (start, end) in enumerate(parts, start=1):
        from_mm, to_mm = left + start, left + end
        shown = mine[_meets(plan, mine, from_mm, to_mm)]
        shapes = [shape for block in shown.tolist() for shape in _block(plan, block, words, from_mm, to_mm)]
        marks = [left + parts[number - 1][0], left + parts[number - 2][1]] if number > 1 else []
        if number < len(parts):
            marks += [left + parts[number][0], left + end]
        for mark in marks:
            shapes += _mark(mark, low, high)
        which = f", part {number} of {len(parts)}" if len(parts) > 1 else ""
        drawings.append(
            Drawing(
                title=f"Row {row}{which}",
                description=(
                    f"{shown.size} blocks at true size, {words.of_mm(start)} to {words.of_mm(end)} from the left."
                ),
                shapes=tuple(shapes),
                scale_n=1.0,
                reading=tuple(line for line in block_lines(plan, shown, words) if "·" in line),
            )
        )
    return drawings


def part_spans(length_mm: float, width_mm: float) -> list[tuple[float, float]]:
    """From and to of each part along a row: all equally long, neighbours sharing the overlap."""
    parts = 1 if length_mm <= width_mm else int(np.ceil((length_mm - OVERLAP_MM) / (width_mm - OVERLAP_MM) - 1e-9))
    each = (length_mm - OVERLAP_MM) / parts + OVERLAP_MM if parts > 1 else length_mm
    return [(number * (each - OVERLAP_MM), number * (each - OVERLAP_MM) + each) for number in range(parts)]


def _meets(plan: Plan, mine: NDArray[np.int64], from_mm: float, to_mm: float) -> NDArray[np.bool_]:
    blocks = plan.layout.blocks
    begins = blocks.x_nm[mine] / 1e6
    ends = (blocks.x_nm[mine] + blocks.width_nm[mine]) / 1e6
    return np.asarray((begins < to_mm - 1e-6) & (ends > from_mm + 1e-6))


def _block(plan: Plan, block: int, words: Words, from_mm: float, to_mm: float) -> list[Shape]:
    """The part of a block that this part of the strip shows, with its words where they fit."""
    blocks = plan.layout.blocks
    x = max(int(blocks.x_nm[block]) / 1e6, from_mm)
    right = min(int(blocks.x_nm[block] + blocks.width_nm[block]) / 1e6, to_mm)
    y, height = int(blocks.y_nm[block]) / 1e6, int(blocks.height_nm[block]) / 1e6
    shade = plan.fade.shades[int(plan.fade.shade[block])]
    ink = ink_on(shade)
    shapes: list[Shape] = [
        Rect(
            x_mm=x, y_mm=y, width_mm=right - x, height_mm=height, stroke=Stroke.THIN,
            fill=Fill(colour=shade.colour_hex), layer="blocks", name=blocks.address(block),
        )
    ]  # fmt: skip
    level = words.compact(plan.relief.levels_nm[int(plan.relief.level[block])])
    for text, share, at, most, bold in (
        (blocks.address(block), 0.2, 0.84, 4.0, False),
        (level, 0.4, 0.52, 11.0, True),
        (shade.name, 0.2, 0.16, 4.0, False),
    ):
        size = legible_size(text, width_mm=right - x, height_mm=share * height, most_mm=most, bold=bold)
        if size >= LEAST_TEXT_MM:
            shapes.append(
                Label(
                    at=((x + right) / 2, y + at * height),
                    text=text, size_mm=size, bold=bold, ink=ink, stand=Stand.MIDDLE, layer="words",
                )
            )  # fmt: skip
    return shapes


def _mark(x: float, low: float, high: float) -> list[Shape]:
    """Twin marks: a hair over the strip's whole depth and a triangle above and below it."""
    shapes: list[Shape] = [
        Line(start=(x, low - MARK_MM), end=(x, high + MARK_MM), stroke=Stroke.CENTRE, layer="joins"),
    ]
    for rim, out in ((high, 1.0), (low, -1.0)):
        shapes.append(
            Outline(
                points=((x, rim), (x - 0.7, rim + out * MARK_MM), (x + 0.7, rim + out * MARK_MM)),
                stroke=None,
                fill=Fill(colour=Ink.PENCIL),
                layer="joins",
            )
        )
    return shapes
