"""Marks that several drawings of the back share: a part's number in a circle with its name, the wall, a datum."""

from __future__ import annotations

from collections.abc import Sequence

from bossage.drawing.box import Box
from bossage.drawing.metrics import text_width
from bossage.drawing.shapes import (
    Align,
    Circle,
    Fill,
    Hatch,
    Ink,
    Label,
    Line,
    Point,
    Rect,
    Shape,
    Stroke,
)

NAME_MM = 3.2  # 9 pt: read at arm's length
NUMBER_MM, CIRCLE_MM, GAP_MM, APART_MM = 3.9, 2.8, 0.9, 3.0  # on paper
ROW_MM, LINE_GAP_MM = 2 * CIRCLE_MM, 0.4

Named = tuple[int, str]
"""A part's number, 0 for what has none, and its name."""


def row_width_mm(items: Sequence[Named]) -> float:
    """How wide a row of numbers and names is on paper."""
    return sum(_width_mm(item) for item in items) + APART_MM * (len(items) - 1)


def row(items: Sequence[Named], at: Point, scale_n: float, *, ink: Ink = Ink.INK) -> list[Shape]:
    """Numbers in circles, each with its name after it; `at` is the left end of the row, at its middle height."""
    x, y = at
    shapes: list[Shape] = []
    for number, name in items:
        start = x
        if number:
            centre = (x + CIRCLE_MM * scale_n, y)
            shapes += [
                Circle(
                    centre=centre,
                    radius_mm=CIRCLE_MM,
                    on_paper=True,
                    stroke=Stroke.EDGE,
                    fill=Fill(colour=Ink.PAPER),
                    layer="numbers",
                ),
                Label(at=centre, text=str(number), size_mm=NUMBER_MM, bold=True, layer="numbers"),
            ]
            x += (2 * CIRCLE_MM + GAP_MM) * scale_n
        shapes.append(Label(at=(x, y), text=name, size_mm=NAME_MM, align=Align.LEFT, ink=ink, layer="names"))
        x = start + (_width_mm((number, name)) + APART_MM) * scale_n
    return shapes


def block_size_mm(items: Sequence[Named], *, stacked: bool) -> tuple[float, float]:
    """Width and height on paper of several numbers with names, in a row or one over the other."""
    if stacked:
        return max(_width_mm(item) for item in items), ROW_MM * len(items) + LINE_GAP_MM * (len(items) - 1)
    return row_width_mm(items), ROW_MM


def block(items: Sequence[Named], box: Box, scale_n: float, *, stacked: bool, ink: Ink = Ink.INK) -> list[Shape]:
    """The same drawn into a box of that size."""
    if not stacked:
        return row(items, (box.left_mm, (box.bottom_mm + box.top_mm) / 2), scale_n, ink=ink)
    shapes: list[Shape] = []
    for line, item in enumerate(items):
        y = box.top_mm - (ROW_MM / 2 + line * (ROW_MM + LINE_GAP_MM)) * scale_n
        shapes += row((item,), (box.left_mm, y), scale_n, ink=ink)
    return shapes


def spread(wanted: Sequence[float], apart: float) -> list[float]:
    """Places near those wanted, in their order, that keep so far apart: each run of crowded ones keeps its middle."""
    runs: list[tuple[float, int]] = []  # middle, count
    for place in sorted(wanted):
        middle, count = place, 1
        while runs and runs[-1][0] + (runs[-1][1] - 1) * apart / 2 + apart > middle - (count - 1) * apart / 2:
            before, many = runs.pop()
            middle = (before * many + middle * count) / (many + count)
            count += many
        runs.append((middle, count))
    return [middle + (n - (count - 1) / 2) * apart for middle, count in runs for n in range(count)]


def wall_strip(*, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> Rect:
    """The wall, cut: hatched."""
    return Rect(
        x_mm=x_mm,
        y_mm=y_mm,
        width_mm=width_mm,
        height_mm=height_mm,
        stroke=None,
        hatch=Hatch(spacing_mm=1.4),
        layer="wall",
    )


def datum(at: Point, scale_n: float) -> list[Shape]:
    """The corner from which everything is measured, in red pencil."""
    x, y = at
    arm = 6.0 * scale_n
    return [
        Line(start=(x, y + arm), end=(x, y), stroke=Stroke.PENCIL, layer="measured from"),
        Line(start=(x, y), end=(x + arm, y), stroke=Stroke.PENCIL, layer="measured from"),
        Circle(centre=at, radius_mm=1.2, on_paper=True, stroke=Stroke.PENCIL, layer="measured from"),
    ]


def leader(start: Point, end: Point) -> list[Shape]:
    """A thin line from a point of a part to its name, with a dot in the part."""
    return [
        Line(start=start, end=end, stroke=Stroke.THIN, layer="leaders"),
        Circle(
            centre=start,
            radius_mm=0.45,
            on_paper=True,
            stroke=Stroke.THIN,
            fill=Fill(colour=Ink.INK),
            layer="leaders",
        ),
    ]


def _width_mm(item: Named) -> float:
    number, name = item
    return text_width(name) * NAME_MM + (2 * CIRCLE_MM + GAP_MM if number else 0.0)
