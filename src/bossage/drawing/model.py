"""What a drawing is made of: shapes in the millimetres of the thing itself, y upwards like the wall.

Positions are true millimetres; what belongs to the paper (line widths, letter sizes, the reach of a tick) is
given in millimetres on paper, and the drawing's scale brings the two together. So one list of shapes serves a
sheet at 1 : 10 and a file at full size. Line widths follow the series of ISO 128-2, dimensions the practice of
ISO 129-1 (both from memory): read from below and from the right, placed outside, oblique strokes at the ends.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

Point = tuple[float, float]


class Stroke(StrEnum):
    """What a line says; its width and dashes follow from that."""

    OUTLINE = "outline"  # the thing that the drawing is about
    EDGE = "edge"  # other visible edges
    THIN = "thin"  # dimensions, leaders, hatching
    HIDDEN = "hidden"  # there, but behind something
    CENTRE = "centre"  # an axis
    PENCIL = "pencil"  # the carpenter's red pencil: act on this


class Ink(StrEnum):
    """Colour by what it is for; the writer knows the pigment."""

    INK = "ink"
    QUIET = "quiet"
    PENCIL = "pencil"
    PAPER = "paper"


class Align(StrEnum):
    """Where a label's point lies on its text, across."""

    LEFT = "left"
    MIDDLE = "middle"
    RIGHT = "right"


class Stand(StrEnum):
    """Where a label's point lies on its text, upwards."""

    BOTTOM = "bottom"
    MIDDLE = "middle"
    TOP = "top"


WIDTH_MM = {
    Stroke.OUTLINE: 0.5,
    Stroke.EDGE: 0.25,
    Stroke.THIN: 0.13,
    Stroke.HIDDEN: 0.25,
    Stroke.CENTRE: 0.13,
    Stroke.PENCIL: 0.5,
}
DASHES_MM: dict[Stroke, tuple[float, ...]] = {Stroke.HIDDEN: (2.0, 1.0), Stroke.CENTRE: (6.0, 1.0, 0.5, 1.0)}

TEXT_MM = 3.0  # letters of a drawing, size of the type: about 8.5 pt, capitals 2.1 mm high
SMALL_TEXT_MM = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """Colour of an area: a role, or the sRGB of a shade of the piece as `#rrggbb`."""

    colour: str | Ink = Ink.PAPER


@dataclass(frozen=True, slots=True, kw_only=True)
class Hatch:
    """Parallel lines over an area: the tone that survives a printer without colour."""

    spacing_mm: float  # on paper
    angle_deg: float = 45.0
    ink: Ink = Ink.INK


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line."""

    start: Point
    end: Point
    stroke: Stroke = Stroke.EDGE
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect:
    """An upright rectangle by its lower left corner; without a stroke it is only a patch."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    stroke: Stroke | None = Stroke.EDGE
    fill: Fill | None = None
    hatch: Hatch | None = None
    layer: str = ""
    name: str = ""  # a block's address, so that a file names what it draws


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A line through several points, closed to an area if so said."""

    points: tuple[Point, ...]
    closed: bool = True
    stroke: Stroke | None = Stroke.EDGE
    fill: Fill | None = None
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle; its radius is a true length unless `on_paper`."""

    centre: Point
    radius_mm: float
    stroke: Stroke | None = Stroke.EDGE
    fill: Fill | None = None
    on_paper: bool = False
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One line of text. `upright` text is turned to be read from the right."""

    at: Point
    text: str
    size_mm: float = TEXT_MM
    align: Align = Align.MIDDLE
    stand: Stand = Stand.MIDDLE
    bold: bool = False
    upright: bool = False
    ink: Ink = Ink.INK
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrow:
    """A line with a slim filled head at its end."""

    start: Point
    end: Point
    stroke: Stroke = Stroke.THIN
    head_mm: float = 2.5  # on paper
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A measured distance: helper lines from two points, a line with oblique ends, the figure.

    `across` measures along x and is read from below; otherwise along y, read from the right. `line_mm` is where
    the dimension line lies (its y, or its x). `lift_n` raises the figure by that many lines of text, for a chain
    whose figures are wider than the gaps.
    """

    start: Point
    end: Point
    text: str
    line_mm: float
    across: bool = True
    size_mm: float = TEXT_MM
    lift_n: int = 0
    layer: str = "dimensions"


Shape = Line | Rect | Outline | Circle | Label | Arrow | Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An upright rectangle that says how far something reaches."""

    left_mm: float
    bottom_mm: float
    right_mm: float
    top_mm: float

    @property
    def width_mm(self) -> float:
        """From left to right."""
        return self.right_mm - self.left_mm

    @property
    def height_mm(self) -> float:
        """From bottom to top."""
        return self.top_mm - self.bottom_mm

    def meets(self, other: Box, slack_mm: float = 0.0) -> bool:
        """Whether the two share more than an edge, or come nearer than `slack_mm`."""
        return (
            self.left_mm < other.right_mm + slack_mm
            and other.left_mm < self.right_mm + slack_mm
            and self.bottom_mm < other.top_mm + slack_mm
            and other.bottom_mm < self.top_mm + slack_mm
        )

    def holds(self, other: Box) -> bool:
        """Whether `other` lies wholly inside."""
        return (
            self.left_mm <= other.left_mm
            and self.bottom_mm <= other.bottom_mm
            and self.right_mm >= other.right_mm
            and self.top_mm >= other.top_mm
        )

    def joined(self, other: Box) -> Box:
        """The smallest box round both."""
        return Box(
            left_mm=min(self.left_mm, other.left_mm),
            bottom_mm=min(self.bottom_mm, other.bottom_mm),
            right_mm=max(self.right_mm, other.right_mm),
            top_mm=max(self.top_mm, other.top_mm),
        )

    def grown(self, by_mm: float) -> Box:
        """A box that reaches further on every side."""
        return Box(
            left_mm=self.left_mm - by_mm,
            bottom_mm=self.bottom_mm - by_mm,
            right_mm=self.right_mm + by_mm,
            top_mm=self.top_mm + by_mm,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Shapes with what a reader who cannot see them needs: a title and a sentence or two.

    `scale_n` is the n of 1 : n on paper. `frame` is what the page shows; without it, all that is drawn.
    """

    title: str
    description: str
    shapes: tuple[Shape, ...]
    scale_n: float = 1.0
    frame: Box | None = None

    def extent(self) -> Box:
        """The frame, or the box round all shapes with half a heavy line to spare."""
        if self.frame is not None:
            return self.frame
        return bounds(self.shapes, self.scale_n).grown(0.3 * self.scale_n)

    @property
    def paper_width_mm(self) -> float:
        """Width on paper."""
        return self.extent().width_mm / self.scale_n

    @property
    def paper_height_mm(self) -> float:
        """Height on paper."""
        return self.extent().height_mm / self.scale_n


def bounds(shapes: tuple[Shape, ...] | list[Shape], scale_n: float = 1.0) -> Box:
    """The box round all shapes, their text included; line widths are left out.

    Raises:
        ValueError: There is no shape.
    """
    found: Box | None = None
    for shape in shapes:
        for part in plain(shape, scale_n):
            box = _box_of(part, scale_n)
            found = box if found is None else found.joined(box)
    if found is None:
        raise ValueError("a drawing without shapes has no bounds")
    return found


def plain(shape: Shape, scale_n: float) -> tuple[Shape, ...]:
    """The shape in lines, areas, circles and labels only: arrows and dimensions taken apart, hatching drawn."""
    if isinstance(shape, Arrow):
        return _plain_arrow(shape, scale_n)
    if isinstance(shape, Dimension):
        return _plain_dimension(shape, scale_n)
    return (shape,)


def label_box(label: Label, scale_n: float) -> Box:
    """Where a label's ink lies, from the measured widths of the font: capitals and figures, without descenders."""
    from bossage.drawing.metrics import CAP_HEIGHT, text_width

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

    if isinstance(shape, Rect):
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
    if isinstance(shape, Circle):
        radius_mm = shape.radius_mm * (scale_n if shape.on_paper else 1.0)
        x, y = shape.centre
        return Box(left_mm=x, bottom_mm=y, right_mm=x, top_mm=y).grown(radius_mm)
    points = shape.points if isinstance(shape, Outline) else (shape.start, shape.end)
    across, upwards = [x for x, _ in points], [y for _, y in points]
    return Box(left_mm=min(across), bottom_mm=min(upwards), right_mm=max(across), top_mm=max(upwards))


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


GAP_MM, PAST_MM, TICK_MM, RAISE_MM = 1.0, 1.5, 1.2, 0.9  # on paper: helper line's gap and overrun, tick, figure


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
