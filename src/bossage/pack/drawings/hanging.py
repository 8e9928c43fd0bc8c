"""The hanging drawing: where the wall half goes, which fixing into what, where the foot spacer sits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from bossage.body import Part, Role
from bossage.body.lock import turn_button
from bossage.drawing.box import Box
from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain
from bossage.drawing.shapes import SMALL_TEXT_MM, Align, Circle, Dimension, Label, Line, Rect, Shape, Stand, Stroke
from bossage.hang.records import CleatPlan, LeafHang, WindowPlan
from bossage.hang.wall_records import FixingPoint
from bossage.layout.records import Leaf
from bossage.pack.drawings.zones import zone_shapes
from bossage.pack.words import Words, listed
from bossage.plan import Plan

CROSS_MM = 1.8
HAND_MM = 11 * 25.4 / 72  # figures that the hand measures by, at arm's length
BELOW_MM = 2.4  # the middle of a name under a fixture that is too narrow for it
LIFTS_MOST = 5  # a chain of dimensions that stacks its figures higher than this is no longer read


def hanging_drawing(plan: Plan, hung: LeafHang, leaf: Leaf, words: Words) -> Callable[[float], Drawing]:
    """One leaf's wall, seen from the front, for the n of 1 : n; the heights are over the floor."""

    def draw(scale_n: float) -> Drawing:
        left, bottom = leaf.x_nm / 1e6, leaf.y_nm / 1e6
        right, top = left + leaf.width_nm / 1e6, bottom + leaf.height_nm / 1e6
        shapes: list[Shape] = [
            Line(
                start=(x / 1e6, bottom - 3 * scale_n),
                end=(x / 1e6, top + 6 * scale_n),
                stroke=Stroke.CENTRE,
                layer="studs",
            )
            for x in plan.brief.wall.studs_nm
            if left - 120 <= x / 1e6 <= right + 120
        ]
        face = face_of(leaf)
        shapes = [*zone_shapes(plan, hung.copy, face, scale_n), *shapes]
        windowed = hung.if_windowed is not None and hung.if_windowed.fits
        shapes += _fixtures(plan, face, hung.copy, scale_n, windowed=windowed)
        shapes.append(
            Rect(
                x_mm=left,
                y_mm=bottom,
                width_mm=right - left,
                height_mm=top - bottom,
                stroke=Stroke.HIDDEN,
                layer="leaf",
            )
        )
        shapes += _on_the_wall(plan, hung)
        if hung.cleat is not None:
            shapes += _fixings(hung.cleat, words, scale_n, left, top)
        if hung.hinges is not None:
            shapes += _crosses(hung.hinges.every_fixing, scale_n)
            shapes += [
                Circle(
                    centre=(hinge.x_nm / 1e6, hinge.y_nm / 1e6),
                    radius_mm=2.0,
                    on_paper=True,
                    stroke=Stroke.PENCIL,
                    layer="hinges",
                )
                for hinge in hung.hinges.hinges
            ]
        if hung.if_windowed is not None and hung.if_windowed.fits:
            shapes += _window(hung.if_windowed, scale_n)
        shapes += _heights(plan, hung, leaf, words, scale_n)
        shapes += _from_corner(plan, hung, leaf, words, scale_n)
        shapes += _centre(hung, scale_n)
        return Drawing(
            title=f"Hanging leaf {leaf.name}",
            description=hang_words(plan, hung, words),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def face_of(leaf: Leaf) -> Box:
    """The outline of a leaf on the wall."""
    left, bottom = leaf.x_nm / 1e6, leaf.y_nm / 1e6
    right, top = left + leaf.width_nm / 1e6, bottom + leaf.height_nm / 1e6
    return Box(left_mm=left, bottom_mm=bottom, right_mm=right, top_mm=top)


def hang_words(plan: Plan, hung: LeafHang, words: Words) -> str:
    """Where everything goes, to be read aloud."""
    said = []
    if hung.cleat is not None:
        cleat = hung.cleat
        said.append(
            f"Lower edge of the wall half {words.length(cleat.wall_half_bottom_nm)} above the floor. It runs "
            f"{wall_half_reach(plan, hung, words)}, from the left corner."
        )
        places = ", ".join(f"{words.bare(f.x_nm)} into {f.into}" for f in sorted(cleat.fixings, key=lambda f: f.x_nm))
        said.append(f"Fixings at {places}." if places else "It has no place for a fixing.")
    if hung.hinges is not None:
        heights = ", ".join(words.bare(hinge.y_nm) for hinge in hung.hinges.hinges)
        said.append(
            f"Hinges on the {hung.hinges.side}, axis at {words.length(hung.hinges.axis_nm)}, heights {heights}. Outer "
            f"edge of their post at {words.length(hung.hinges.post.edge_nm)}."
        )
    if hung.feet:
        heights = listed(list(dict.fromkeys(words.length(foot.y_nm) for foot in hung.feet)))
        where = "on the wall" if still_of(plan, hung, Role.FOOT) else "on the leaf"
        said.append(
            f"Foot spacers {where} at {heights} above the floor, {words.length(hung.feet[0].thickness_nm)} thick."
        )
    said += [
        f"{part.name[:1].upper()}{part.name[1:]} from {words.bare(part.from_x_nm)} to {words.bare(part.to_x_nm)}, "
        f"{words.bare(part.box.y0)} to {words.bare(part.box.y1)} high."
        for part in still_of(plan, hung, Role.BUTTON, Role.KEEPER, Role.STAY)
    ]
    return " ".join(said)


def still_of(plan: Plan, hung: LeafHang, *roles: Role) -> list[Part]:
    """Parts of a leaf that stay on the wall, left to right."""
    parts = [p for p in plan.body.of(hung.leaf, hung.copy) if not p.moves and p.role in roles]
    return sorted(parts, key=lambda part: part.from_x_nm)


def wall_half_reach(plan: Plan, hung: LeafHang, words: Words) -> str:
    """From where to where each piece of the wall half runs."""
    halves = still_of(plan, hung, Role.WALL_HALF)
    return " and ".join(f"from {words.length(one.from_x_nm)} to {words.length(one.to_x_nm)}" for one in halves)


def _window(window: WindowPlan, scale_n: float) -> list[Shape]:
    """Where a window would be cut, for what is opened too often."""
    x, y, w, h = (v / 1e6 for v in (window.x_nm, window.y_nm, window.width_nm, window.height_nm))
    return [
        Rect(x_mm=x, y_mm=y, width_mm=w, height_mm=h, stroke=Stroke.HIDDEN, layer="window"),
        Label(
            at=(x + w / 2, y + h - 2.2 * scale_n),
            text="window",
            size_mm=SMALL_TEXT_MM,
            stand=Stand.MIDDLE,
            layer="window",
        ),
    ]


def _fixtures(plan: Plan, leaf: Box, copy: int, scale_n: float, *, windowed: bool) -> list[Shape]:
    shapes: list[Shape] = []
    drop_mm = (5.5 if windowed else 2.5) * scale_n  # a window's own word stands at its top
    for fixture in plan.brief.fixtures:
        if fixture.copies and copy not in fixture.copies:
            continue
        box = Box(
            left_mm=fixture.x_nm / 1e6,
            bottom_mm=fixture.y_nm / 1e6,
            right_mm=fixture.right_nm / 1e6,
            top_mm=fixture.top_nm / 1e6,
        )
        if box.meets(leaf):
            shapes.append(
                Rect(
                    x_mm=box.left_mm,
                    y_mm=box.bottom_mm,
                    width_mm=box.width_mm,
                    height_mm=box.height_mm,
                    stroke=Stroke.EDGE,
                    layer="fixtures",
                    name=fixture.name,
                )
            )
            inside = text_width(fixture.name) * SMALL_TEXT_MM * scale_n < 0.94 * box.width_mm
            shapes.append(
                Label(
                    at=(
                        (box.left_mm + box.right_mm) / 2,
                        box.top_mm - drop_mm if inside else box.bottom_mm - BELOW_MM * scale_n,
                    ),
                    text=fixture.name,
                    size_mm=SMALL_TEXT_MM,
                    stand=Stand.MIDDLE,
                    layer="fixtures",
                )
            )
    return shapes


def _on_the_wall(plan: Plan, hung: LeafHang) -> list[Shape]:
    """What stays on the wall, as the body has it; a foot that hangs with the leaf is dashed."""
    shapes: list[Shape] = []
    for part in plan.body.of(hung.leaf, hung.copy):
        if part.moves and part.role is not Role.FOOT:
            continue
        box = part.box
        stroke = Stroke.HIDDEN if part.moves else Stroke.OUTLINE if part.role is Role.WALL_HALF else Stroke.EDGE
        shapes.append(
            Rect(
                x_mm=box.x0 / 1e6,
                y_mm=box.y0 / 1e6,
                width_mm=(box.x1 - box.x0) / 1e6,
                height_mm=(box.y1 - box.y0) / 1e6,
                stroke=stroke,
                layer=part.role.value,
                name=part.name,
            )
        )
    return shapes


def _fixings(cleat: CleatPlan, words: Words, scale_n: float, leaf_left: float, leaf_top: float) -> list[Shape]:
    shapes = _crosses(cleat.fixings, scale_n)
    places = sorted({fixing.line_nm / 1e6 for fixing in cleat.fixings})
    if not places:
        return shapes
    line = cleat.line_nm / 1e6
    line_mm = leaf_top + CHAIN_STEP_MM * scale_n
    chained = chain([leaf_left, *places], feet_mm=line, line_mm=line_mm, words=words.of_mm, scale_n=scale_n)
    if max((dim.lift_n for dim in chained), default=0) <= LIFTS_MOST:
        return [*shapes, *chained]
    first = chain([leaf_left, places[0]], feet_mm=line, line_mm=line_mm, words=words.of_mm, scale_n=scale_n)
    gaps = [high - low for low, high in pairwise(places)]
    even = f"{len(gaps)} × {words.of_mm(gaps[0])}" if max(gaps) - min(gaps) < 0.5 else "places listed below"
    rest = chain([places[0], places[-1]], feet_mm=line, line_mm=line_mm, words=lambda mm: even, scale_n=scale_n)
    return [*shapes, *first, *rest]


def _crosses(fixings: tuple[FixingPoint, ...], scale_n: float) -> list[Shape]:
    arm = CROSS_MM * scale_n
    shapes: list[Shape] = []
    for fixing in fixings:
        x, y = fixing.x_nm / 1e6, fixing.y_nm / 1e6
        shapes += [
            Line(start=(x - arm, y), end=(x + arm, y), stroke=Stroke.PENCIL, layer="fixings"),
            Line(start=(x, y - arm), end=(x, y + arm), stroke=Stroke.PENCIL, layer="fixings"),
        ]
    return shapes


def crowded(drawing: Drawing) -> bool:
    """Whether a hanging drawing could not hold the place of every fixing, so that its sheet must list them."""
    crosses = sum(isinstance(shape, Line) and shape.layer == "fixings" for shape in drawing.shapes) // 2
    across = sum(isinstance(shape, Dimension) and shape.across for shape in drawing.shapes)
    return across < crosses


def _heights(plan: Plan, hung: LeafHang, leaf: Leaf, words: Words, scale_n: float) -> list[Shape]:
    """To the left of the leaf: heights over the floor, each as a figure on its own line, so that none is summed up."""
    left = leaf.x_nm / 1e6
    marks = [("top of the leaf", (leaf.y_nm + leaf.height_nm) / 1e6), ("foot of the leaf", leaf.y_nm / 1e6)]
    inwards: dict[float, float] = {}  # to what lies further in than the leaf's edge, its leader goes on
    if hung.cleat is not None:
        marks.append(("lower edge of the wall half", hung.cleat.wall_half_bottom_nm / 1e6))
        inwards[marks[-1][1]] = min(hung.cleat.from_nm, *(p.from_x_nm for p in still_of(plan, hung, Role.WALL_HALF)))
        rows = sorted({fixing.y_nm for fixing in hung.cleat.fixings})
        marks += [("row of fixings", y / 1e6) for y in rows if len(rows) > 1]
        inwards |= {y / 1e6: min(f.x_nm for f in hung.cleat.fixings if f.y_nm == y) for y in rows}
    marks += [("middle of the foot spacer", y / 1e6) for y in dict.fromkeys(foot.y_nm for foot in hung.feet)]
    if hung.hinges is not None:
        marks += [("middle of the hinge", hinge.y_nm / 1e6) for hinge in hung.hinges.hinges]
        marks += [("lower edge of the hinge post", part.box.y0 / 1e6) for part in still_of(plan, hung, Role.POST)]
    marks += [
        (f"middle of the {part.name}", (part.box.y0 + part.box.y1) / 2e6)
        for part in still_of(plan, hung, Role.KEEPER, Role.STAY)
    ]
    lock = turn_button(plan.body.of(hung.leaf, hung.copy))
    marks += [("screw of the lock button", lock.screw_y_nm / 1e6)] if lock else []
    shapes: list[Shape] = []
    at_least = 1.35 * HAND_MM * scale_n
    last = None
    for name, height in sorted(marks, key=lambda mark: mark[1]):
        y = height if last is None else max(height, last + at_least)
        last = y
        tip = left - 2 * scale_n
        bend = left - 8 * scale_n
        if height in inwards:
            end = (inwards[height] / 1e6 - 2 * scale_n, height)
            shapes.append(Line(start=(tip, height), end=end, stroke=Stroke.THIN, layer="heights"))
        shapes.append(Line(start=(tip, height), end=(bend, y), stroke=Stroke.THIN, layer="heights"))
        shapes.append(
            Label(
                at=(bend - 1.0 * scale_n, y),
                text=f"{name} {words.of_mm(height)}",
                size_mm=HAND_MM,
                align=Align.RIGHT,
                stand=Stand.MIDDLE,
                layer="heights",
            )
        )
    return shapes


def _from_corner(plan: Plan, hung: LeafHang, leaf: Leaf, words: Words, scale_n: float) -> list[Shape]:
    """Under the leaf: each place over the left corner of the wall, so that none is summed up either."""
    marks = [_Mark(leaf.x_nm, words), _Mark(leaf.x_nm + leaf.width_nm, words)]
    fixings: list[_Mark] = []
    if hung.cleat is not None:
        fixings += [_Mark(one.line_nm, words, bold=True, beside_nm=abs(one.beside_nm)) for one in hung.cleat.fixings]
    roles = (Role.WALL_HALF, Role.POST, Role.KEEPER, Role.STAY)
    marks += [_Mark(end, words) for part in still_of(plan, hung, *roles) for end in (part.from_x_nm, part.to_x_nm)]
    lock = turn_button(plan.body.of(hung.leaf, hung.copy))
    marks += [_Mark(lock.x_nm, words, bold=True)] if lock else []
    if hung.hinges is not None:
        fixings += [_Mark(fixing.x_nm, words, bold=True) for fixing in hung.hinges.every_fixing]
    lanes = _in_lanes([*marks, *fixings], scale_n)
    if fixings and max(lane for _, lane in lanes) > LIFTS_MOST:
        ends = (choose(fixings, key=lambda mark: mark.x_nm) for choose in (min, max))
        lanes = _in_lanes([*marks, *ends], scale_n)
    foot = leaf.y_nm / 1e6
    tick_foot = foot - 3.4 * scale_n  # a longer tick would run through a neighbour's figure
    shapes: list[Shape] = []
    for mark, lane in lanes:
        x, y = mark.x_nm / 1e6, foot - (5.6 + 1.25 * HAND_MM * lane) * scale_n
        shapes += [
            Line(start=(x, foot - 1.0 * scale_n), end=(x, tick_foot), stroke=Stroke.THIN, layer="corner"),
            Label(at=(x, y), text=mark.text, size_mm=HAND_MM, bold=mark.bold, stand=Stand.MIDDLE, layer="corner"),
        ]
    return shapes


@dataclass(frozen=True, slots=True)
class _Mark:
    """A place over the left corner of the wall; screws that stand to both sides of it say by how much."""

    x_nm: int
    words: Words
    bold: bool = False
    beside_nm: int = 0

    @property
    def text(self) -> str:
        """Its figure."""
        return self.words.bare(self.x_nm) + (f" ± {self.words.bare(self.beside_nm)}" if self.beside_nm else "")


def _in_lanes(marks: list[_Mark], scale_n: float) -> list[tuple[_Mark, int]]:
    """Places left to right, each with the line of figures, counted downwards, in which its own is clear of others."""
    found: list[tuple[_Mark, int]] = []
    taken: list[float] = []  # where the last figure of each line ends
    one_each = {mark.x_nm: mark for mark in sorted(marks, key=lambda mark: mark.bold)}
    for mark in sorted(one_each.values(), key=lambda mark: mark.x_nm):
        half = (text_width(mark.text, bold=mark.bold) * HAND_MM / 2 + 0.8) * scale_n
        x = mark.x_nm / 1e6
        lane = next((n for n, end in enumerate(taken) if x - half > end), len(taken))
        taken[lane : lane + 1] = [x + half]
        found.append((mark, lane))
    return found


def _centre(hung: LeafHang, scale_n: float) -> list[Shape]:
    """The centre of gravity: a circle with a cross."""
    x, y, radius = hung.x_nm / 1e6, hung.y_nm / 1e6, 1.6 * scale_n
    return [
        Circle(centre=(x, y), radius_mm=1.6, on_paper=True, stroke=Stroke.EDGE, layer="centre"),
        Line(start=(x - radius, y), end=(x + radius, y), stroke=Stroke.THIN, layer="centre"),
        Line(start=(x, y - radius), end=(x, y + radius), stroke=Stroke.THIN, layer="centre"),
    ]
