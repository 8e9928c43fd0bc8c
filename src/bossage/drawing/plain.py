"""Shapes taken apart into lines, areas, circles and labels: all that a writer must know."""

from __future__ import annotations

import math

from bossage.drawing.shapes import (
    Arrow,
    Dimension,
    Fill,
    Ink,
    Label,
    Line,
    Outline,
    Point,
    Rect,
    Shape,
    Stand,
    Stroke,
)

GAP_MM, PAST_MM, TICK_MM, RAISE_MM = 1.0, 1.5, 1.2, 0.9  # on paper: helper line's gap and overrun, tick, figure


def plain(shape: Shape, scale_n: float) -> tuple[Shape, ...]:
    """The shape in lines, areas, circles and labels only: arrows and dimensions taken apart, hatching drawn."""
    if isinstance(shape, Arrow):
        return _plain_arrow(shape, scale_n)
    if isinstance(shape, Dimension):
        return _plain_dimension(shape, scale_n)
    return (shape,)


def hatch_lines(rect: Rect, scale_n: float) -> tuple[Line, ...]:
    """A rectangle's hatching, clipped to it and counted from its centre, so that equal patches look equal."""
    if rect.hatch is None:
        return ()
    slope = math.radians(rect.hatch.angle_deg)
    along, normal = (math.cos(slope), math.sin(slope)), (-math.sin(slope), math.cos(slope))
    centre = (rect.x_mm + rect.width_mm / 2, rect.y_mm + rect.height_mm / 2)
    step_mm = rect.hatch.spacing_mm * scale_n
    reach_mm = math.hypot(rect.width_mm, rect.height_mm) / 2
    lines = []
    for count in range(-int(reach_mm / step_mm) - 1, int(reach_mm / step_mm) + 2):
        away_mm = (count + 0.5) * step_mm
        through = (centre[0] + normal[0] * away_mm, centre[1] + normal[1] * away_mm)
        ends = _clipped(through, along, rect)
        if ends is not None:
            lines.append(Line(start=ends[0], end=ends[1], stroke=Stroke.THIN, layer="hatching"))
    return tuple(lines)


def _clipped(through: Point, along: Point, rect: Rect) -> tuple[Point, Point] | None:
    low, high = -math.inf, math.inf
    for axis, (lower, size_mm) in enumerate(((rect.x_mm, rect.width_mm), (rect.y_mm, rect.height_mm))):
        if abs(along[axis]) < 1e-9:
            if not lower <= through[axis] <= lower + size_mm:
                return None
            continue
        ends = sorted(((lower - through[axis]) / along[axis], (lower + size_mm - through[axis]) / along[axis]))
        low, high = max(low, ends[0]), min(high, ends[1])
    if high - low <= 1e-9:
        return None
    return (
        (through[0] + along[0] * low, through[1] + along[1] * low),
        (through[0] + along[0] * high, through[1] + along[1] * high),
    )


def _plain_arrow(arrow: Arrow, scale_n: float) -> tuple[Shape, ...]:
    (x0, y0), (x1, y1) = arrow.start, arrow.end
    length_mm = math.hypot(x1 - x0, y1 - y0)
    if length_mm == 0:
        return ()
    ux, uy = (x1 - x0) / length_mm, (y1 - y0) / length_mm
    head_mm = arrow.head_mm * scale_n
    neck = (x1 - ux * head_mm, y1 - uy * head_mm)
    half_mm = head_mm * 0.16  # a slim head, about 18 degrees across
    ink = Ink.PENCIL if arrow.stroke is Stroke.PENCIL else Ink.INK
    head = Outline(
        points=(
            (x1, y1),
            (neck[0] - uy * half_mm, neck[1] + ux * half_mm),
            (neck[0] + uy * half_mm, neck[1] - ux * half_mm),
        ),
        stroke=None,
        fill=Fill(colour=ink),
        layer=arrow.layer,
    )
    shaft = Line(start=arrow.start, end=neck, stroke=arrow.stroke, layer=arrow.layer)
    return (shaft, head)


def _plain_dimension(dim: Dimension, scale_n: float) -> tuple[Shape, ...]:
    def at(along_mm: float, away_mm: float) -> Point:
        return (along_mm, away_mm) if dim.across else (away_mm, along_mm)

    axis = 0 if dim.across else 1
    shapes: list[Shape] = []
    low, high = dim.start[axis], dim.end[axis]
    for point in (dim.start, dim.end):
        foot_mm = point[1 - axis]
        side = 1.0 if dim.line_mm >= foot_mm else -1.0
        if abs(dim.line_mm - foot_mm) > GAP_MM * scale_n:
            shapes.append(
                _thin(
                    at(point[axis], foot_mm + side * GAP_MM * scale_n),
                    at(point[axis], dim.line_mm + side * PAST_MM * scale_n),
                    dim.layer,
                )
            )
        tick_mm = TICK_MM * scale_n
        across, upwards = at(point[axis], dim.line_mm)
        shapes.append(
            Line(
                start=(across - tick_mm, upwards - tick_mm),
                end=(across + tick_mm, upwards + tick_mm),
                stroke=Stroke.EDGE,
                layer=dim.layer,
            )
        )
    shapes.append(_thin(at(low, dim.line_mm), at(high, dim.line_mm), dim.layer))
    # Above a line that is read from below, left of one that is read from the right; a raised figure goes to the side
    # away from the object, where nothing else stands.
    natural = 1.0 if dim.across else -1.0
    outward = 1.0 if dim.line_mm >= dim.start[1 - axis] else -1.0
    over = dim.lift_n == 0 or outward == natural
    tier_mm = dim.size_mm * 0.7 + RAISE_MM
    raise_mm = (RAISE_MM + dim.lift_n * tier_mm) if over else RAISE_MM + PAST_MM + (dim.lift_n - 1) * tier_mm
    figure_mm = dim.line_mm + (natural if over else outward) * raise_mm * scale_n
    shapes.append(
        Label(
            at=at((low + high) / 2, figure_mm),
            text=dim.text,
            size_mm=dim.size_mm,
            stand=Stand.BOTTOM if over else Stand.TOP,
            upright=not dim.across,
            layer=dim.layer,
        )
    )
    return tuple(shapes)


def _thin(start: Point, end: Point, layer: str) -> Line:
    return Line(start=start, end=end, stroke=Stroke.THIN, layer=layer)
