"""Numbers and names on the back of a leaf: in the part where it holds them, else at the nearest free place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bossage.body import Part, Role
from bossage.drawing.box import Box
from bossage.drawing.shapes import Ink, Shape
from bossage.pack.drawings.backview import ON_THE_WALL, BackView, half_hidden, hides
from bossage.pack.drawings.marks import Named, block, block_size_mm, leader, row_width_mm

RIGHT_OF_FIGURES_MM = 22.0  # on paper, past the figures of the screws
GRID_MM = 2.0  # on paper, from one place tried for a name to the next
SCREW_MM, PIN_MM, CORNER_MM = 1.6, 1.0, 6.5  # on paper, kept free about screws and about the datum corner


def part_names(view: BackView, hidden: Sequence[tuple[str, Box]], scale_n: float) -> list[Shape]:
    """Number and name in each part where it holds them, else beside it with a line; what it covers is named with it."""
    seen = [p for p in view.parts if not any(hides(view, other, p) for other in view.parts) and not _covers(view, p)]
    solid = [view.box(p) for p in seen if p.role is not Role.BACKER and p.role not in ON_THE_WALL]
    solid += [box for part in view.parts for box in view.slots(part)]
    dashed = [box for _, box in hidden]
    dashed += [view.box(p) for p in view.parts if p.role in ON_THE_WALL or half_hidden(view, p)]
    edges = [edge for box in dashed for edge in _edges(box)]
    taken = [_round(x, y, SCREW_MM * scale_n) for x, y in view.screws]
    taken += [_round(x, y, PIN_MM * scale_n) for spots in view.pins.values() for x, y in spots]
    taken.append(_round(0.0, 0.0, CORNER_MM * scale_n))
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


def _covers(view: BackView, post: Part) -> str:
    """The part of the leaf that a part on the wall covers edge for edge, by name: both are named in one place."""
    if post.role not in ON_THE_WALL:
        return ""
    same = (p.name for p in view.parts if p.moves and p.role is not Role.BACKER and view.box(p) == view.box(post))
    return next(same, "")


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
        under = [p for p in view.parts if hides(view, part, p) and part.role is not Role.BACKER]
        over = [p for p in view.parts if _covers(view, p) == part.name]
        items = ((part.number, part.name), *((p.number, f"{p.name}, under it") for p in reversed(under)))
        items += tuple((p.number, f"{p.name}, over it, on the wall") for p in over)
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
