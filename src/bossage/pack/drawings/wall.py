"""The wall as it is measured up: studs, what is hidden, what stands before it, and where the piece goes."""

from __future__ import annotations

from collections.abc import Callable

from bossage.drawing.box import Box
from bossage.drawing.extent import label_box
from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, Wanted, chain, chain_reach_mm, placed
from bossage.drawing.shapes import SMALL_TEXT_MM, Circle, Hatch, Ink, Label, Line, Rect, Shape, Stroke
from bossage.layout.records import Leaf
from bossage.pack.drawings.zones import zone_shapes
from bossage.pack.words import Words
from bossage.plan import Plan

MOST_CHAINS = 4  # further fixtures stand in the table of margins only


def wall_drawing(plan: Plan, words: Words, *, copy: int = 1, plain: bool = False) -> Callable[[float], Drawing]:
    """The wall drawing of one copy, for the n of 1 : n.

    `plain` leaves to a client what a client looks for: where the piece comes, without studs and without the dimensions
    of what it hides, and with no name that does not fit into its own outline.
    """

    def draw(scale_n: float) -> Drawing:
        shapes = [] if plain else list(zone_shapes(plan, copy, whole_wall(plan), scale_n))
        shapes += [*_site(plan, studs=not plain), *_piece(plan, copy)]
        shapes += _dimensions(plan, words, scale_n, copy, plain=plain)
        shapes += _own_names(plan, scale_n, copy) if plain else _names(plan, words, scale_n, copy)
        return Drawing(
            title=f"Wall with {plan.brief.piece.name}",
            description=_in_words(plan, words, copy),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def whole_wall(plan: Plan) -> Box:
    """The wall from corner to corner, from floor to ceiling."""
    wall = plan.brief.wall
    return Box(left_mm=0.0, bottom_mm=0.0, right_mm=wall.width_nm / 1e6, top_mm=wall.height_nm / 1e6)


def leaves_of(plan: Plan, copy: int) -> list[Leaf]:
    """The leaves of one copy, left to right."""
    return sorted((leaf for leaf in plan.layout.leaves if leaf.copy == copy), key=lambda leaf: (leaf.x_nm, leaf.y_nm))


def _site(plan: Plan, *, studs: bool) -> list[Shape]:
    wall = plan.brief.wall
    width, height = wall.width_nm / 1e6, wall.height_nm / 1e6
    shapes: list[Shape] = [
        Line(start=(x / 1e6, 0), end=(x / 1e6, height), stroke=Stroke.CENTRE, layer="studs")
        for x in (wall.studs_nm if studs else ())
    ]
    shapes += [
        Line(start=(0, 0), end=(width, 0), stroke=Stroke.OUTLINE, layer="wall"),
        Line(start=(0, 0), end=(0, height), stroke=Stroke.EDGE, layer="wall"),
        Line(start=(width, 0), end=(width, height), stroke=Stroke.EDGE, layer="wall"),
        Line(start=(0, height), end=(width, height), stroke=Stroke.EDGE, layer="wall"),
    ]
    for thing in plan.brief.furniture:
        shapes.append(
            Rect(
                x_mm=thing.x_nm / 1e6,
                y_mm=thing.bottom_nm / 1e6,
                width_mm=thing.width_nm / 1e6,
                height_mm=(thing.top_nm - thing.bottom_nm) / 1e6,
                stroke=Stroke.EDGE,
                layer="furniture",
            )
        )
    for clear in plan.brief.keep_clear:
        shapes.append(
            Rect(
                x_mm=clear.x_nm / 1e6,
                y_mm=clear.y_nm / 1e6,
                width_mm=clear.width_nm / 1e6,
                height_mm=clear.height_nm / 1e6,
                stroke=Stroke.PENCIL,
                hatch=Hatch(spacing_mm=2.0, ink=Ink.PENCIL),
                layer="keep clear",
            )
        )
    return shapes


def _piece(plan: Plan, copy: int) -> list[Shape]:
    shapes: list[Shape] = []
    for leaf in leaves_of(plan, copy):
        shapes.append(
            Rect(
                x_mm=leaf.x_nm / 1e6,
                y_mm=leaf.y_nm / 1e6,
                width_mm=leaf.width_nm / 1e6,
                height_mm=leaf.height_nm / 1e6,
                stroke=Stroke.OUTLINE,
                layer="piece",
                name=leaf.name,
            )
        )
    for fixture in plan.brief.fixtures:
        if fixture.copies and copy not in fixture.copies:
            continue
        shapes.append(
            Rect(
                x_mm=fixture.x_nm / 1e6,
                y_mm=fixture.y_nm / 1e6,
                width_mm=fixture.width_nm / 1e6,
                height_mm=fixture.height_nm / 1e6,
                stroke=Stroke.HIDDEN,
                layer="fixtures",
                name=fixture.name,
            )
        )
        shapes += [
            Circle(centre=(x / 1e6, y / 1e6), radius_mm=0.6, on_paper=True, stroke=Stroke.EDGE, layer="fixtures")
            for x, y in fixture.cover_screws_nm
        ]
    return shapes


def _fixtures(plan: Plan, copy: int) -> list[tuple[float, float, float, float, str]]:
    return [
        (f.x_nm / 1e6, f.y_nm / 1e6, f.right_nm / 1e6, f.top_nm / 1e6, f.name)
        for f in plan.brief.fixtures
        if not f.copies or copy in f.copies
    ]


def _dimensions(plan: Plan, words: Words, scale_n: float, copy: int, *, plain: bool) -> list[Shape]:
    """Across: the leaves below, the fixtures under them, the studs above. Upwards: leaves left, fixtures right."""
    wall, step = plan.brief.wall, CHAIN_STEP_MM * scale_n
    width, height = wall.width_nm / 1e6, wall.height_nm / 1e6
    leaves, fixtures = leaves_of(plan, copy), [] if plain else _fixtures(plan, copy)
    across = [0.0, width, *(x / 1e6 for leaf in leaves for x in (leaf.x_nm, leaf.x_nm + leaf.width_nm))]
    upward = [0.0, height, *(y / 1e6 for leaf in leaves for y in (leaf.y_nm, leaf.y_nm + leaf.height_nm))]
    upward += [
        thing.top_nm / 1e6 for thing in plan.brief.furniture if thing.x_nm < plan.layout.x_nm + plan.layout.width_nm
    ]
    shapes: list[Shape] = []
    below = chain(across, feet_mm=0.0, line_mm=-step, words=words.of_mm, scale_n=scale_n)
    shapes += below
    down, out = -step - chain_reach_mm(below, scale_n), width + 0.4 * step
    for left, bottom, right, top, _ in fixtures[:MOST_CHAINS]:  # one line each: fixtures may stand over one another
        line = chain([0.0, left, right], feet_mm=0.0, line_mm=down - 0.7 * step, words=words.of_mm, scale_n=scale_n)
        down -= 0.7 * step + chain_reach_mm(line, scale_n) - 2.0 * scale_n
        beside = chain(
            [0.0, bottom, top],
            feet_mm=width,
            line_mm=out + 0.7 * step,
            words=words.of_mm,
            across=False,
            scale_n=scale_n,
        )
        out += 0.7 * step + chain_reach_mm(beside, scale_n) - 2.0 * scale_n
        shapes += [*line, *beside]
    shapes += chain(upward, feet_mm=0.0, line_mm=-step, words=words.of_mm, across=False, scale_n=scale_n)
    if wall.studs_nm and not plain:
        studs = [0.0, *(x / 1e6 for x in wall.studs_nm)]
        shapes += chain(studs, feet_mm=height, line_mm=height + step, words=words.of_mm, scale_n=scale_n)
    return shapes


def _names(plan: Plan, words: Words, scale_n: float, copy: int) -> list[Shape]:
    brief = plan.brief
    within = Box(left_mm=0, bottom_mm=0, right_mm=brief.wall.width_nm / 1e6, top_mm=brief.wall.height_nm / 1e6)
    leaves = leaves_of(plan, copy)
    wanted = [
        Wanted(at=((left + right) / 2, (bottom + top) / 2), text=name, size_mm=SMALL_TEXT_MM)
        for left, bottom, right, top, name in _fixtures(plan, copy)
    ]
    wanted += [
        Wanted(
            at=((leaf.x_nm + leaf.width_nm / 2) / 1e6, (leaf.y_nm + leaf.height_nm) / 1e6 - 4.0 * scale_n),
            text=f"{leaf.name} {words.size(leaf.width_nm, leaf.height_nm)}",
            bold=True,
        )
        for leaf in leaves
    ]
    wanted += [
        Wanted(at=((t.x_nm + t.right_nm) / 2e6, (t.bottom_nm + t.top_nm) / 2e6), text=t.name, size_mm=SMALL_TEXT_MM)
        for t in brief.furniture
    ]
    wanted += [
        Wanted(
            at=((c.x_nm + c.width_nm / 2) / 1e6, (c.y_nm + c.height_nm / 2) / 1e6),
            text=f"keep clear: {c.name}",
            size_mm=SMALL_TEXT_MM,
            ink=Ink.PENCIL,
            bold=True,
        )
        for c in brief.keep_clear
    ]
    return list(placed(wanted, scale_n=scale_n, within=within, backed=True))


def _own_names(plan: Plan, scale_n: float, copy: int) -> list[Shape]:
    """Names of what is hidden and of what stands before the wall, each where its own outline holds it."""
    boxes = [(left, bottom, right, top, name) for left, bottom, right, top, name in _fixtures(plan, copy)]
    boxes += [(t.x_nm / 1e6, t.bottom_nm / 1e6, t.right_nm / 1e6, t.top_nm / 1e6, t.name) for t in plan.brief.furniture]
    labels: list[Shape] = []
    taken: list[Box] = []
    for left, bottom, right, top, name in boxes:
        label = Label(at=((left + right) / 2, (bottom + top) / 2), text=name, size_mm=SMALL_TEXT_MM, layer="labels")
        box = label_box(label, scale_n)
        own = Box(left_mm=left, bottom_mm=bottom, right_mm=right, top_mm=top)
        if own.holds(box.grown(0.6 * scale_n)) and not any(box.meets(other, scale_n) for other in taken):
            labels.append(label)
            taken.append(box)
    return labels


def _in_words(plan: Plan, words: Words, copy: int) -> str:
    wall = plan.brief.wall
    said = [f"The wall is {words.size(wall.width_nm, wall.height_nm)}."]
    for leaf in leaves_of(plan, copy):
        said.append(
            f"Leaf {leaf.name}, {words.size(leaf.width_nm, leaf.height_nm)}, begins {words.length(leaf.x_nm)} from the "
            f"left corner and {words.length(leaf.y_nm)} above the floor."
        )
    for left, bottom, right, top, name in _fixtures(plan, copy):
        said.append(
            f"{name} lies from {words.of_mm(left)} to {words.of_mm(right)} and "
            f"{words.of_mm(bottom)} to {words.of_mm(top)} high."
        )
    if wall.studs_nm:
        said.append("Studs at " + ", ".join(words.bare(x) for x in wall.studs_nm) + ".")
    return " ".join(said)
