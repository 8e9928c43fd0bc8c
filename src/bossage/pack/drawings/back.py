"""The back of a leaf at true scale, seen from behind: every part named and numbered, measured from one corner.

Left and right change places. Lengths run from the backer's lower left corner as it is seen here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from bossage.body import Part
from bossage.drawing.box import Box
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Circle, Fill, Hatch, Ink, Label, Line, Rect, Shape, Stroke
from bossage.layout.records import Leaf
from bossage.pack.drawings.backnames import part_names
from bossage.pack.drawings.backview import ON_THE_WALL, BackView, back_view, half_hidden
from bossage.pack.drawings.cut import hidden_by
from bossage.pack.drawings.marks import NAME_MM, datum, spread
from bossage.pack.words import Words
from bossage.plan import Plan

LINE_MM = 3.9  # on paper, from one figure to the next under it
CROSS_MM = 1.6
PIN_MM = 0.7


def back_drawing(plan: Plan, leaf: Leaf, words: Words) -> Callable[[float], Drawing]:
    """The back for the n of 1 : n."""
    view = back_view(plan, leaf)
    hidden = [(one.name, view.of(one.box.x0, one.box.y0, one.box.x1, one.box.y1)) for one in hidden_by(plan, leaf)]

    def draw(scale_n: float) -> Drawing:
        shapes: list[Shape] = []
        for part in view.parts:
            shapes += _part(view, part)
        shapes += [
            _rect(view.box(part), Stroke.HIDDEN, "hidden edges", "") for part in view.parts if half_hidden(view, part)
        ]
        shapes += [_rect(box, Stroke.HIDDEN, "fixtures", name) for name, box in hidden]
        for x, y in view.screws:
            shapes += _cross(x, y, CROSS_MM * scale_n)
        shapes += [
            Circle(centre=at, radius_mm=PIN_MM * scale_n, stroke=Stroke.EDGE, layer="glue screws")
            for spots in view.pins.values()
            for at in spots
        ]
        shapes += datum((0.0, 0.0), scale_n)
        shapes += part_names(view, hidden, scale_n)
        shapes += _running(view, words, scale_n)
        return Drawing(
            title=f"The back of leaf {leaf.name}, seen from behind",
            description=_in_words(view, words),
            shapes=tuple(shapes),
            scale_n=scale_n,
            reading=tuple(place_words(view, part, words) for part in sorted(view.parts, key=lambda one: one.number)),
        )

    return draw


def place_words(view: BackView, part: Part, words: Words) -> str:
    """Where a part goes, to be read aloud."""
    box = view.box(part)
    holes = "".join(
        f" Sawn out from {words.of_mm(hole.left_mm)} to {words.of_mm(hole.right_mm)} across, "
        f"{words.of_mm(hole.bottom_mm)} to {words.of_mm(hole.top_mm)} up."
        for hole in view.slots(part)
    )
    return (
        f"{part.number}, {part.name}: from {words.of_mm(box.left_mm)} to {words.of_mm(box.right_mm)} across, "
        f"{words.of_mm(box.bottom_mm)} to {words.of_mm(box.top_mm)} up.{holes}"
    )


def _in_words(view: BackView, words: Words) -> str:
    box = view.backer.box
    screws = f" {len(view.screws)} screws hold the panel half." if view.screws else ""
    return (
        f"Seen from behind, left and right changed. The backer is {words.size(box.x1 - box.x0, box.y1 - box.y0)}; "
        f"{len(view.parts) - 1} other parts are drawn, measured from its lower left corner.{screws}"
    )


def _part(view: BackView, part: Part) -> list[Shape]:
    """A part over those that lie before it on the way to the wall; what stays on the wall is dashed."""
    if part.role in ON_THE_WALL:
        return [_rect(view.box(part), Stroke.HIDDEN, part.role.value, part.name)]
    own = _rect(view.box(part), Stroke.OUTLINE, part.role.value, part.name, fill=Fill())
    return [own, *(_hole(box) for box in view.slots(part))]


def _hole(box: Box) -> Rect:
    return Rect(
        x_mm=box.left_mm,
        y_mm=box.bottom_mm,
        width_mm=box.width_mm,
        height_mm=box.height_mm,
        hatch=Hatch(spacing_mm=1.6, angle_deg=-45.0, ink=Ink.QUIET),
        layer="openings",
    )


def _rect(box: Box, stroke: Stroke, layer: str, name: str, fill: Fill | None = None) -> Rect:
    return Rect(
        x_mm=box.left_mm,
        y_mm=box.bottom_mm,
        width_mm=box.width_mm,
        height_mm=box.height_mm,
        stroke=stroke,
        fill=fill,
        layer=layer,
        name=name,
    )


def _cross(x: float, y: float, arm: float) -> list[Shape]:
    return [
        Line(start=(x - arm, y), end=(x + arm, y), stroke=Stroke.PENCIL, layer="screws"),
        Line(start=(x, y - arm), end=(x, y + arm), stroke=Stroke.PENCIL, layer="screws"),
    ]


def _running(view: BackView, words: Words, scale_n: float) -> list[Shape]:
    """Figures from the datum corner: places across below, places up at the left; those of screws above and right."""
    own = [part for part in view.parts if part.role not in ON_THE_WALL]
    boxes = [*(view.box(part) for part in own), *(box for part in own for box in view.slots(part))]
    across = {0.0, *(edge for box in boxes for edge in (box.left_mm, box.right_mm))}
    upward = {0.0, *(edge for box in boxes for edge in (box.bottom_mm, box.top_mm))}
    left, foot = min(box.left_mm for box in boxes), min(box.bottom_mm for box in boxes)
    right, top = max(box.right_mm for box in boxes), max(box.top_mm for box in boxes)
    shapes = [*_figures_across(across, foot, -1.0, words, scale_n, bold=False)]
    shapes += _figures_up(upward, left, -1.0, words, scale_n, bold=False)
    shapes += _figures_across({x for x, _ in view.screws}, top, 1.0, words, scale_n, bold=True)
    shapes += _figures_up({y for _, y in view.screws}, right, 1.0, words, scale_n, bold=True)
    return shapes


def _figures_across(
    places: Iterable[float], edge: float, way: float, words: Words, scale_n: float, *, bold: bool
) -> list[Shape]:
    """Figures side by side, read from the right, each with a line to its place."""
    wanted = _distinct(places)
    shapes: list[Shape] = []
    for x, at in zip(wanted, spread(wanted, LINE_MM * scale_n), strict=True):
        near, bend, tip = (edge + way * away * scale_n for away in (0.8, 2.6, 5.4))
        shapes += [
            Line(start=(x, near), end=(x, bend), stroke=Stroke.THIN, layer="places"),
            Line(start=(x, bend), end=(at, tip), stroke=Stroke.THIN, layer="places"),
            Label(
                at=(at, tip + way * 0.8 * scale_n),
                text=words.of_mm(x),
                size_mm=NAME_MM,
                align=Align.RIGHT if way < 0 else Align.LEFT,
                bold=bold,
                upright=True,
                layer="places",
            ),
        ]
    return shapes


def _figures_up(
    places: Iterable[float], edge: float, way: float, words: Words, scale_n: float, *, bold: bool
) -> list[Shape]:
    """Figures one over the other, each with a line to its place."""
    wanted = _distinct(places)
    shapes: list[Shape] = []
    for y, at in zip(wanted, spread(wanted, LINE_MM * scale_n), strict=True):
        near, bend, tip = (edge + way * away * scale_n for away in (0.8, 2.6, 5.4))
        shapes += [
            Line(start=(near, y), end=(bend, y), stroke=Stroke.THIN, layer="places"),
            Line(start=(bend, y), end=(tip, at), stroke=Stroke.THIN, layer="places"),
            Label(
                at=(tip + way * 0.8 * scale_n, at),
                text=words.of_mm(y),
                size_mm=NAME_MM,
                align=Align.RIGHT if way < 0 else Align.LEFT,
                bold=bold,
                layer="places",
            ),
        ]
    return shapes


def _distinct(places: Iterable[float]) -> list[float]:
    return sorted({round(place, 6) for place in places})
