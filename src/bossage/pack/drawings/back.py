"""The back of a leaf at true scale, seen from behind: every part named and numbered, measured from one corner.

Left and right change places. Lengths run from the backer's lower left corner as it is seen here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from bossage.body import Part, Role
from bossage.drawing.box import Box
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Fill, Hatch, Ink, Label, Line, Rect, Shape, Stroke
from bossage.layout.records import Leaf
from bossage.pack.drawings.cut import hidden_by
from bossage.pack.drawings.marks import NAME_MM, Named, block, block_size_mm, datum, leader, row_width_mm, spread
from bossage.pack.words import Words
from bossage.plan import Plan

NM = 1e6
LINE_MM = 3.9  # on paper, from one figure to the next under it
CROSS_MM = 1.6
RIGHT_OF_FIGURES_MM = 22.0  # on paper, past the figures of the screws
GRID_MM = 2.0  # on paper, from one place tried for a name to the next
ON_THE_WALL = (Role.WALL_HALF, Role.WALL_PACKER)


@dataclass(frozen=True, slots=True, kw_only=True)
class BackView:
    """The leaf's parts as boxes seen from behind, from the datum corner: the backer's lower left one seen so."""

    backer: Part
    parts: tuple[Part, ...]
    screws: tuple[tuple[float, float], ...]  # of the panel half

    def box(self, part: Part) -> Box:
        """A part's outline."""
        around = part.box
        return self.of(around.x0, around.y0, around.x1, around.y1)

    def of(self, x0: int, y0: int, x1: int, y1: int) -> Box:
        """A rectangle of the wall, nm."""
        right, foot = self.backer.to_x_nm, self.backer.box.y0
        return Box(
            left_mm=(right - x1) / NM,
            bottom_mm=(y0 - foot) / NM,
            right_mm=(right - x0) / NM,
            top_mm=(y1 - foot) / NM,
        )

    def slots(self, part: Part) -> list[Box]:
        """Openings and notches of a part."""
        box = part.box
        return [
            *(self.of(*opening) for opening in part.openings_nm),
            *(self.of(x0, box.y0, x1, box.y1) for x0, x1, _, _ in part.notches_nm),
        ]


def back_view(plan: Plan, leaf: Leaf) -> BackView:
    """What the back of a leaf shows, the parts nearest to whoever looks last."""
    parts = plan.body.of(leaf.name, leaf.copy)
    backer = next(part for part in parts if part.role is Role.BACKER)
    hung = next(one for one in plan.hang.leaves if one.leaf == leaf.name and one.copy == leaf.copy)
    screws = hung.cleat.panel.screws if hung.cleat is not None else ()
    right, foot = backer.to_x_nm - leaf.x_nm, backer.box.y0 - leaf.y_nm
    return BackView(
        backer=backer,
        parts=tuple(sorted(parts, key=lambda part: -part.box.z0)),
        screws=tuple(
            ((right - screw.from_leaf_left_nm) / NM, (screw.from_leaf_foot_nm - foot) / NM) for screw in screws
        ),
    )


def back_drawing(plan: Plan, leaf: Leaf, words: Words) -> Callable[[float], Drawing]:
    """The back for the n of 1 : n."""
    view = back_view(plan, leaf)
    hidden = [(one.name, view.of(one.box.x0, one.box.y0, one.box.x1, one.box.y1)) for one in hidden_by(plan, leaf)]

    def draw(scale_n: float) -> Drawing:
        shapes: list[Shape] = []
        for part in view.parts:
            shapes += _part(view, part)
        shapes += [
            _rect(view.box(part), Stroke.HIDDEN, "hidden edges", "") for part in view.parts if _half_hidden(view, part)
        ]
        shapes += [_rect(box, Stroke.HIDDEN, "fixtures", name) for name, box in hidden]
        for x, y in view.screws:
            shapes += _cross(x, y, CROSS_MM * scale_n)
        shapes += datum((0.0, 0.0), scale_n)
        shapes += _names(view, hidden, scale_n)
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


def _half_hidden(view: BackView, part: Part) -> bool:
    """Whether a nearer part hides some of its edges."""
    if part.role in ON_THE_WALL:
        return False
    near = [one for one in view.parts if one.box.z0 < part.box.z0 and one.role not in ON_THE_WALL]
    box = view.box(part)
    return any(view.box(one).meets(box) and not box.grown(-1e-3).holds(view.box(one)) for one in near)


def _over(view: BackView, near: Part, part: Part) -> bool:
    """Whether a nearer part hides all of another."""
    if near is part or near.box.z0 >= part.box.z0 or near.role in ON_THE_WALL:
        return False
    return view.box(near).holds(view.box(part))


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


def _names(view: BackView, hidden: Sequence[tuple[str, Box]], scale_n: float) -> list[Shape]:
    """Number and name in each part where it holds them, else beside it with a line; what it covers is named with it."""
    seen = [p for p in view.parts if not any(_over(view, other, p) for other in view.parts)]
    solid = [view.box(p) for p in seen if p.role is not Role.BACKER and p.role not in ON_THE_WALL]
    solid += [box for part in view.parts for box in view.slots(part)]
    dashed = [box for _, box in hidden]
    dashed += [view.box(p) for p in view.parts if p.role in ON_THE_WALL or _half_hidden(view, p)]
    edges = [edge for box in dashed for edge in _edges(box)]
    taken = [_round(x, y, CROSS_MM * scale_n) for x, y in view.screws]
    taken.append(_round(0.0, 0.0, 6.5 * scale_n))
    bounds = view.box(view.backer), _whole(view)
    shapes: list[Shape] = []
    left: list[tuple[tuple[Named, ...], Box, Ink]] = []
    for items, box, ink in _wanted(view, seen, hidden):
        blocked = [*taken, *(one for one in solid if one != box), *edges]
        for stacked in (False, True)[: len(items)]:
            size = _scaled(block_size_mm(items, stacked=stacked), scale_n)
            spot = next((s for s in _inside(box, *size, scale_n) if _free(s, blocked, scale_n)), None)
            if spot is not None:
                taken.append(spot)
                shapes += block(items, spot, scale_n, stacked=stacked, ink=ink)
                break
        else:
            left.append((items, box, ink))
    for items, box, ink in sorted(left, key=lambda one: -row_width_mm(one[0])):
        spot, stacked = _beside(items, box, bounds, [*taken, *solid, *edges], scale_n)
        if not spot.meets(box):
            start, end = _nearest(box, spot), _end(box, spot)
            shapes += leader(start, end)
            if abs(start[0] - end[0]) < scale_n or abs(start[1] - end[1]) < scale_n:
                taken.append(_between(start, end))
        taken.append(spot)
        shapes += block(items, spot, scale_n, stacked=stacked, ink=ink)
    return shapes


def _whole(view: BackView) -> Box:
    """The box round all parts."""
    whole = view.box(view.backer)
    for part in view.parts:
        whole = whole.joined(view.box(part))
    return whole


def _scaled(size_mm: tuple[float, float], scale_n: float) -> tuple[float, float]:
    return size_mm[0] * scale_n, size_mm[1] * scale_n


def _wanted(
    view: BackView, seen: Sequence[Part], hidden: Sequence[tuple[str, Box]]
) -> list[tuple[tuple[Named, ...], Box, Ink]]:
    """What is named, the smallest part first: number and name, of what lies under it too; its outline."""
    found: list[tuple[tuple[Named, ...], Box, Ink]] = []
    for part in sorted(seen, key=lambda p: view.box(p).width_mm * view.box(p).height_mm):
        under = [p for p in view.parts if _over(view, part, p) and part.role is not Role.BACKER]
        items = ((part.number, part.name), *((p.number, f"{p.name}, under it") for p in reversed(under)))
        found.append((items, view.box(part), Ink.INK))
    return [*found, *(((((0, name),), box, Ink.QUIET)) for name, box in hidden)]


def _round(x: float, y: float, reach: float) -> Box:
    return Box(left_mm=x - reach, bottom_mm=y - reach, right_mm=x + reach, top_mm=y + reach)


def _between(start: tuple[float, float], end: tuple[float, float]) -> Box:
    (x0, y0), (x1, y1) = start, end
    return Box(left_mm=min(x0, x1), right_mm=max(x0, x1), bottom_mm=min(y0, y1), top_mm=max(y0, y1))


def _edges(box: Box) -> list[Box]:
    """The four edges of an outline."""
    left, right, low, high = box.left_mm, box.right_mm, box.bottom_mm, box.top_mm
    ends = (
        ((left, low), (left, high)),
        ((right, low), (right, high)),
        ((left, low), (right, low)),
        ((left, high), (right, high)),
    )
    return [_between(start, end) for start, end in ends]


def _free(spot: Box, taken: Iterable[Box], scale_n: float) -> bool:
    return not any(spot.meets(other, 0.5 * scale_n) for other in taken)


def _inside(box: Box, wide: float, tall: float, scale_n: float) -> Iterable[Box]:
    """Places for a name within its own part: the middle first, then along it, then up and down."""
    slack_x, slack_y = box.width_mm - wide - 1.6 * scale_n, box.height_mm - tall - 0.6 * scale_n
    if slack_x < 0 or slack_y < 0:
        return
    for up in (0.5, 0.25, 0.75, 0.0, 1.0, 0.4, 0.6):
        for over in (0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95, 0.42, 0.58):
            left, foot = box.left_mm + 0.8 * scale_n + over * slack_x, box.bottom_mm + 0.3 * scale_n + up * slack_y
            yield Box(left_mm=left, bottom_mm=foot, right_mm=left + wide, top_mm=foot + tall)


def _beside(
    items: Sequence[Named], box: Box, bounds: tuple[Box, Box], blocked: Sequence[Box], scale_n: float
) -> tuple[Box, bool]:
    """The nearest free place on the backer for a name, and whether its lines are stacked; else right of the drawing."""
    backer, whole = bounds
    for stacked in (False, True)[: len(items)]:
        size = _scaled(block_size_mm(items, stacked=stacked), scale_n)
        spots = sorted(_grid(box, backer, size, scale_n), key=lambda spot: _away(box, spot))
        found = next((spot for spot in spots if _free(spot, blocked, scale_n)), None)
        if found is not None:
            return found, stacked
    wide, tall = _scaled(block_size_mm(items, stacked=True), scale_n)
    left, mid = whole.right_mm + RIGHT_OF_FIGURES_MM * scale_n, (box.bottom_mm + box.top_mm) / 2
    for step in range(200):
        y = mid + (step + 1) // 2 * (-1) ** step * 0.5 * scale_n
        spot = Box(left_mm=left, right_mm=left + wide, bottom_mm=y - tall / 2, top_mm=y + tall / 2)
        if _free(spot, blocked, scale_n):
            break
    return spot, True


def _grid(box: Box, backer: Box, size: tuple[float, float], scale_n: float) -> list[Box]:
    """Places all over the backer, and those level with a part."""
    wide, tall = size
    step = GRID_MM * scale_n
    columns = int(max(0.0, backer.width_mm - wide - step) / step)
    lines = int(max(0.0, backer.height_mm - tall - step) / step)
    level = (box.bottom_mm + box.top_mm - tall) / 2
    spots = [
        Box(left_mm=left, bottom_mm=foot, right_mm=left + wide, top_mm=foot + tall)
        for left in (backer.left_mm + step / 2 + n * step for n in range(columns + 1))
        for foot in (level, *(backer.bottom_mm + step / 2 + n * step for n in range(lines + 1)))
    ]
    return [spot for spot in spots if backer.holds(spot)]


def _away(box: Box, spot: Box) -> float:
    """How far a name is from its part; straight beside it counts less than over a corner."""
    x = max(box.left_mm - spot.right_mm, spot.left_mm - box.right_mm, 0.0)
    y = max(box.bottom_mm - spot.top_mm, spot.bottom_mm - box.top_mm, 0.0)
    aslant = abs((spot.bottom_mm + spot.top_mm - box.bottom_mm - box.top_mm) / 2)
    return x + 1.3 * y + min(x, y) + 0.02 * aslant


def _nearest(box: Box, spot: Box) -> tuple[float, float]:
    """A point well in a part, near to its name."""
    x = min(max((spot.left_mm + spot.right_mm) / 2, box.left_mm), box.right_mm)
    y = min(max((spot.bottom_mm + spot.top_mm) / 2, box.bottom_mm), box.top_mm)
    inset_x, inset_y = min(box.width_mm / 2, 4.0), min(box.height_mm / 2, 4.0)
    return (
        min(max(x, box.left_mm + inset_x), box.right_mm - inset_x),
        min(max(y, box.bottom_mm + inset_y), box.top_mm - inset_y),
    )


def _end(box: Box, spot: Box) -> tuple[float, float]:
    """Where the line to a name ends: on the side of the name that looks at its part."""
    x, y = _nearest(box, spot)
    return min(max(x, spot.left_mm), spot.right_mm), min(max(y, spot.bottom_mm), spot.top_mm)


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
