"""How far shapes reach, their words included, and the same shape somewhere else."""

from __future__ import annotations

from dataclasses import replace

from bossage.drawing.box import Box
from bossage.drawing.metrics import CAP_HEIGHT, text_width
from bossage.drawing.plain import plain
from bossage.drawing.shapes import Align, Bits, Circle, Dimension, Label, Outline, Point, Rect, Shape, Stand


def bounds(shapes: tuple[Shape, ...] | list[Shape], scale_n: float = 1.0) -> Box:
    """The box round all shapes, their text included; line widths are left out.

    Raises:
        ValueError: There is no shape.
    """
    boxes = [_box_of(part, scale_n) for shape in shapes for part in plain(shape, scale_n)]
    if not boxes:
        raise ValueError("a drawing without shapes has no bounds")
    return Box(
        left_mm=min(box.left_mm for box in boxes),
        bottom_mm=min(box.bottom_mm for box in boxes),
        right_mm=max(box.right_mm for box in boxes),
        top_mm=max(box.top_mm for box in boxes),
    )


def label_box(label: Label, scale_n: float) -> Box:
    """Where a label's ink lies, from the measured widths of the font: capitals and figures, without descenders."""
    along = text_width(label.text, bold=label.bold) * label.size_mm * scale_n
    tall = CAP_HEIGHT * label.size_mm * scale_n
    back = {Align.LEFT: 0.0, Align.MIDDLE: 0.5, Align.RIGHT: 1.0}[label.align]
    down = {Stand.BOTTOM: 0.0, Stand.MIDDLE: 0.5, Stand.TOP: 1.0}[label.stand]
    x, y = label.at
    if label.upright:  # turned a quarter to the left: along runs upwards, 'up' points left
        return Box(
            left_mm=x - tall * (1 - down),
            right_mm=x + tall * down,
            bottom_mm=y - along * back,
            top_mm=y + along * (1 - back),
        )
    return Box(
        left_mm=x - along * back,
        right_mm=x + along * (1 - back),
        bottom_mm=y - tall * down,
        top_mm=y + tall * (1 - down),
    )


def moved(shape: Shape, dx_mm: float, dy_mm: float) -> Shape:
    """The same shape somewhere else."""

    def shift(point: Point) -> Point:
        return (point[0] + dx_mm, point[1] + dy_mm)

    if isinstance(shape, Rect | Bits):
        return replace(shape, x_mm=shape.x_mm + dx_mm, y_mm=shape.y_mm + dy_mm)
    if isinstance(shape, Outline):
        return replace(shape, points=tuple(shift(point) for point in shape.points))
    if isinstance(shape, Circle):
        return replace(shape, centre=shift(shape.centre))
    if isinstance(shape, Label):
        return replace(shape, at=shift(shape.at))
    if isinstance(shape, Dimension):
        line_mm = shape.line_mm + (dy_mm if shape.across else dx_mm)
        return replace(shape, start=shift(shape.start), end=shift(shape.end), line_mm=line_mm)
    return replace(shape, start=shift(shape.start), end=shift(shape.end))


def _box_of(shape: Shape, scale_n: float) -> Box:
    if isinstance(shape, Label):
        return label_box(shape, scale_n)
    if isinstance(shape, Rect):
        return Box(
            left_mm=shape.x_mm,
            bottom_mm=shape.y_mm,
            right_mm=shape.x_mm + shape.width_mm,
            top_mm=shape.y_mm + shape.height_mm,
        )
    if isinstance(shape, Bits):
        return Box(
            left_mm=shape.x_mm,
            bottom_mm=shape.y_mm,
            right_mm=shape.x_mm + shape.side_mm,
            top_mm=shape.y_mm + shape.side_mm,
        )
    if isinstance(shape, Circle):
        radius_mm = shape.radius_mm * (scale_n if shape.on_paper else 1.0)
        x, y = shape.centre
        return Box(left_mm=x, bottom_mm=y, right_mm=x, top_mm=y).grown(radius_mm)
    points = shape.points if isinstance(shape, Outline) else (shape.start, shape.end)
    across, upwards = [x for x, _ in points], [y for _, y in points]
    return Box(left_mm=min(across), bottom_mm=min(upwards), right_mm=max(across), top_mm=max(upwards))
