"""Putting words and figures where they can be read: dimension chains, labels that keep clear of each other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bossage.drawing.box import Box
from bossage.drawing.extent import label_box
from bossage.drawing.metrics import CAP_HEIGHT, text_width
from bossage.drawing.plain import RAISE_MM
from bossage.drawing.shapes import (
    TEXT_MM,
    Align,
    Dimension,
    Fill,
    Ink,
    Label,
    Line,
    Point,
    Rect,
    Shape,
    Stand,
    Stroke,
)

CHAIN_STEP_MM = 7.5  # on paper, from the object to the first dimension line and from line to line


def chain(
    along_mm: Sequence[float],
    *,
    feet_mm: float | Sequence[float],
    line_mm: float,
    words: Callable[[float], str],
    across: bool = True,
    scale_n: float = 1.0,
    size_mm: float = TEXT_MM,
) -> tuple[Dimension, ...]:
    """Dimensions one after the other on one line, between neighbouring places.

    Args:
        along_mm: Places, in any order; equal ones count once.
        feet_mm: Where the helper lines start (y of the object's edge, or x of it upright), one for all or one each.
        line_mm: Where the dimension line lies.
        words: How a length is written.
        across: Along x, read from below; else along y, read from the right.
        scale_n: The n of 1 : n.
        size_mm: Size of the type on paper.

    A figure too wide for its gap is raised until it is clear of the others.
    """
    feet = [feet_mm] * len(along_mm) if isinstance(feet_mm, int | float) else list(feet_mm)
    places = sorted(dict(zip(along_mm, feet, strict=True)).items())
    found: list[Dimension] = []
    taken: list[tuple[int, float, float]] = []
    for (low, low_foot), (high, high_foot) in pairwise(places):
        text = words(high - low)
        half_mm = (text_width(text) * size_mm / 2 + 0.8) * scale_n
        middle = (low + high) / 2
        lift_n = 1 if 2 * half_mm > high - low else 0
        while any(
            lift_n == level and middle - half_mm < right and left < middle + half_mm for level, left, right in taken
        ):
            lift_n += 1
        taken.append((lift_n, middle - half_mm, middle + half_mm))
        ends = ((low, low_foot), (high, high_foot))
        start, end = ends if across else tuple((foot, along) for along, foot in ends)
        found.append(
            Dimension(start=start, end=end, text=text, line_mm=line_mm, across=across, size_mm=size_mm, lift_n=lift_n)
        )
    return tuple(found)


def chain_reach_mm(dimensions: Sequence[Dimension], scale_n: float) -> float:
    """How far the raised figures of a chain reach past its line, in drawing millimetres."""
    lifted = max((dim.lift_n for dim in dimensions), default=0)
    size_mm = max((dim.size_mm for dim in dimensions), default=TEXT_MM)
    return ((lifted + 1) * (size_mm * 0.7 + RAISE_MM)) * scale_n


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A label that may stand anywhere near `at`, the thing that it names; `clear_mm` is kept from its point."""

    at: Point
    text: str
    size_mm: float = TEXT_MM
    bold: bool = False
    clear_mm: float = 1.2  # on paper
    ink: Ink = Ink.INK


def placed(
    wanted: Sequence[Wanted],
    *,
    scale_n: float,
    within: Box,
    taken: Sequence[Box] = (),
    backed: bool = False,
) -> tuple[Shape, ...]:
    """Labels moved so that none overlaps another, what is `taken`, or the edge of `within`.

    The point itself is tried first, then the sides, then rings further out; a label that had to leave its thing gets a
    leader. `backed` puts a patch of paper under each, for labels over hatching. One that finds no room is left out
    of the drawing only if 200 places fail, and then it is put at its point all the same: words lost are worse
    than words crossing.
    """
    shapes: list[Shape] = []
    boxes = list(taken)
    for item in wanted:
        label, box, led = _free_place(item, boxes, within, scale_n)
        boxes.append(box)
        if led:
            shapes.append(_leader(item.at, box))
        if backed:
            margin = 0.5 * scale_n
            ground = box.grown(margin)
            shapes.append(
                Rect(
                    x_mm=ground.left_mm,
                    y_mm=ground.bottom_mm,
                    width_mm=ground.width_mm,
                    height_mm=ground.height_mm,
                    stroke=None,
                    fill=Fill(colour=Ink.PAPER),
                    layer="labels",
                )
            )
        shapes.append(label)
    return tuple(shapes)


def fitted_size(text: str, *, width_mm: float, height_mm: float, most_mm: float, bold: bool = False) -> float:
    """Largest size of type, on paper, with which a word fits a field with a little air round it."""
    wide = text_width(text, bold=bold) or 1.0
    return min(most_mm, 0.86 * width_mm / wide, 0.72 * height_mm / CAP_HEIGHT)


def _free_place(item: Wanted, boxes: list[Box], within: Box, scale_n: float) -> tuple[Label, Box, bool]:
    base = Label(at=item.at, text=item.text, size_mm=item.size_mm, bold=item.bold, ink=item.ink, layer="labels")
    slack_mm = 0.6 * scale_n
    for count, (align, stand, dx, dy) in enumerate(_places(item, scale_n)):
        label = replace(base, at=(item.at[0] + dx, item.at[1] + dy), align=align, stand=stand)
        box = label_box(label, scale_n)
        if within.holds(box) and not any(box.meets(other, slack_mm) for other in boxes):
            return label, box, count > 8
    return base, label_box(base, scale_n), False


def _places(item: Wanted, scale_n: float) -> list[tuple[Align, Stand, float, float]]:
    near = item.clear_mm * scale_n
    found: list[tuple[Align, Stand, float, float]] = [(Align.MIDDLE, Stand.MIDDLE, 0.0, 0.0)]
    for ring in range(1, 25):
        away = near * (1 if ring == 1 else ring * 2.0)
        found += [
            (Align.LEFT, Stand.MIDDLE, away, 0.0),
            (Align.RIGHT, Stand.MIDDLE, -away, 0.0),
            (Align.MIDDLE, Stand.BOTTOM, 0.0, away),
            (Align.MIDDLE, Stand.TOP, 0.0, -away),
            (Align.LEFT, Stand.BOTTOM, away, away),
            (Align.RIGHT, Stand.BOTTOM, -away, away),
            (Align.LEFT, Stand.TOP, away, -away),
            (Align.RIGHT, Stand.TOP, -away, -away),
        ]
    return found


def _leader(at: Point, box: Box) -> Line:
    nearest = (
        min(max(at[0], box.left_mm), box.right_mm),
        min(max(at[1], box.bottom_mm), box.top_mm),
    )
    return Line(start=at, end=nearest, stroke=Stroke.THIN, layer="labels")
