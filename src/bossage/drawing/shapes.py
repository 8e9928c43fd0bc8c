"""What a drawing is made of: shapes in the millimetres of the thing itself, y upwards like the wall.

Positions are true millimetres; what belongs to the paper (line widths, letter sizes, the reach of a tick) is
given in millimetres on paper, and the drawing's scale brings the two together. So one list of shapes serves a
sheet at 1 : 10 and a file at full size. Line widths follow the series of ISO 128-2, dimensions the practice of
ISO 129-1 (both from memory): read from below and from the right, placed outside, oblique strokes at the ends.
"""

from __future__ import annotations

from dataclasses import dataclass
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
    BLACK = "black"  # for words on a colour of middle lightness, on which ink is too pale


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
    name: str = ""  # a part's name, so that a file names what it draws


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Bits:
    """A square of dark and light cells by its lower left corner, rows from the top: `1` is dark. Drawn in ink."""

    x_mm: float
    y_mm: float
    side_mm: float
    rows: tuple[str, ...]
    layer: str = "code"
    name: str = ""  # what it says


Shape = Line | Rect | Outline | Circle | Label | Arrow | Dimension | Bits
