"""A leaf cut through its cleat or hinge, what it hides and its foot: parts, depths and names as the body has them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from bossage.body import Role
from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain, chain_reach_mm
from bossage.drawing.shapes import Dimension, Fill, Line, Outline, Point, Shape, Stroke
from bossage.layout.records import Leaf
from bossage.pack.drawings.cut import Cut, Cuts, cut_of
from bossage.pack.drawings.marks import NAME_MM, ROW_MM, Named, leader, row, row_width_mm, spread, wall_strip
from bossage.pack.words import Words
from bossage.plan import Plan

WALL_MM = 4.0  # on paper
UPPER = (Role.PANEL_HALF, Role.PACKER, Role.FILLER, Role.WALL_HALF, Role.WALL_PACKER)
LOWER = (Role.FOOT,)
END_MM = 25.0  # of a level cut past the outermost parts
AWAY_MM = 9.0  # on paper, from the face to the column of names

Turn = Callable[[Point], Point]


def section_drawing(plan: Plan, leaf: Leaf, words: Words) -> Callable[[float], Drawing]:
    """The whole cut through a leaf, for the n of 1 : n: upright, or level with the wall on top."""
    cuts = cut_of(plan, leaf)

    def draw(scale_n: float) -> Drawing:
        shapes = cut_shapes(cuts, scale_n)
        if cuts.along == "y":
            shapes += _upright_figures(cuts, words, scale_n)
        else:
            shapes += _level_figures(cuts, words, scale_n, layers=not end_drawings(plan, leaf, words))
        way = "upright" if cuts.along == "y" else "level"
        return Drawing(
            title=f"Leaf {leaf.name}, {way} cut",
            description=section_words(cuts, words),
            shapes=tuple(shapes),
            scale_n=scale_n,
            reading=tuple(_said(cut, words) for cut in (*cuts.parts, *cuts.fixtures)),
        )

    return draw


def depth_drawing(plan: Plan, leaf: Leaf, words: Words, *, tall_mm: float = 22.0) -> Callable[[float], Drawing]:
    """A stretch of the cut, so long on paper, about the middle of what stands proudest: how deep it stands."""
    whole = cut_of(plan, leaf)
    low, high = reach_of(whole)
    proud = max(range(len(whole.fixtures)), key=lambda n: whole.fixtures[n].depths[1], default=None)
    if proud is not None:
        whole = replace(whole, fixtures=(whole.fixtures[proud],), airs=(whole.airs[proud],))
    middle = sum(whole.fixtures[0].reach) / 2 if whole.fixtures else (low + high) / 2

    def draw(scale_n: float) -> Drawing:
        half = min(tall_mm * scale_n, high - low) / 2
        at = min(max(middle, low + half), high - half)
        return _stretch(whole.within(at - half, at + half), f"How deep leaf {leaf.name} stands", words, scale_n)

    return draw


def end_drawings(plan: Plan, leaf: Leaf, words: Words) -> list[tuple[str, Callable[[float], Drawing]]]:
    """Both ends of a level cut with their names, larger: what is at the hinge and at the catch. None of an upright one.

    Each reaches from the leaf's edge to the first place past its outermost parts.
    """
    whole = cut_of(plan, leaf)
    if whole.along == "y":
        return []
    low, high = reach_of(whole)
    middle = (low + high) / 2
    short = [cut.reach for cut in whole.parts if cut.reach[1] - cut.reach[0] < (high - low) / 3]
    left = max((end for _, end in short if end < middle), default=low) + END_MM
    right = min((start for start, _ in short if start > middle), default=high) - END_MM
    found = []
    for name, start, end in (("left end", low, left), ("right end", right, high)):
        if END_MM < end - start < (high - low) / 2:
            cuts = whole.within(start, end)
            found.append((name, _drawn_stretch(cuts, f"Leaf {leaf.name}, {name} of the level cut", words)))
    return found


def _drawn_stretch(cuts: Cuts, title: str, words: Words) -> Callable[[float], Drawing]:
    return lambda scale_n: _stretch(cuts, title, words, scale_n)


def _stretch(cuts: Cuts, title: str, words: Words, scale_n: float) -> Drawing:
    shapes = cut_shapes(cuts, scale_n)
    low, _ = reach_of(cuts)
    if cuts.along == "y":
        shapes += _chain_below(cuts, low, words, scale_n)
        shapes += names_beside(cuts, scale_n, 0.5 * AWAY_MM)
    else:
        shapes += _level_figures(cuts, words, scale_n)
    return Drawing(title=title, description=section_words(cuts, words), shapes=tuple(shapes), scale_n=scale_n)


def section_words(cuts: Cuts, words: Words) -> str:
    """The depths, to be read aloud."""
    deep = max((cut.depths[1] for cut in cuts.blocks), default=max(cut.depths[1] for cut in cuts.parts))
    said = [f"{cut.words} from {words.of_mm(cut.depths[0])} to {words.of_mm(cut.depths[1])}" for cut in cuts.parts]
    hidden = [f"{cut.name} stands {words.of_mm(cut.depths[1])} proud" for cut in cuts.fixtures]
    return (
        f"Depths off the wall in {words.unit_name}: {'; '.join([*said, *hidden])}. The face here is at "
        f"{words.of_mm(deep)}."
    )


def cut_shapes(cuts: Cuts, scale_n: float) -> list[Shape]:
    """Wall, what is hidden and its air, parts and blocks; the nearest part is drawn last."""
    turn = turned(cuts)
    low, high = reach_of(cuts)
    wall, over = WALL_MM * scale_n, 3.0 * scale_n
    shapes: list[Shape] = []
    if cuts.along == "y":
        strip = wall_strip(x_mm=-wall, y_mm=low - over, width_mm=wall, height_mm=high - low + 2 * over)
    else:
        strip = wall_strip(x_mm=low - over, y_mm=0, width_mm=high - low + 2 * over, height_mm=wall)
    face = Line(start=turn((low - over, 0)), end=turn((high + over, 0)), stroke=Stroke.OUTLINE, layer="wall")
    shapes += [strip, face]
    shapes += [_outline(cut, turn, Stroke.EDGE, "blocks") for cut in cuts.blocks]
    shapes += [_outline(cut, turn, Stroke.EDGE, "fixtures") for cut in cuts.fixtures]
    shapes += [
        _outline(cut, turn, Stroke.OUTLINE, cut.parts[0].role.value, fill=True) for cut in cuts.parts if not cut.behind
    ]
    shapes += [_outline(cut, turn, Stroke.HIDDEN, cut.parts[0].role.value) for cut in cuts.parts if cut.behind]
    shapes += [_outline(cut, turn, Stroke.HIDDEN, "air") for cut in cuts.airs]
    return shapes


def turned(cuts: Cuts) -> Turn:
    """From place along the cut and depth to the paper: depth to the right, or downwards with the wall on top."""
    return (lambda at: (at[1], at[0])) if cuts.along == "y" else (lambda at: (at[0], -at[1]))


def names_beside(cuts: Cuts, scale_n: float, away_mm: float = AWAY_MM) -> list[Shape]:
    """Numbers and names in a column on the room's side of an upright cut, each with a thin line to its part."""
    wanted = sorted(_named(cuts), key=lambda one: one[1][0])
    column = max(z for cut in (*cuts.parts, *cuts.blocks) for _, z in cut.points) + away_mm * scale_n
    heights = spread([at[0] for _, at in wanted], (ROW_MM + 0.6) * scale_n)
    shapes: list[Shape] = []
    for (items, (along, depth)), height in zip(wanted, heights, strict=True):
        shapes += leader((depth, along), (column - 0.8 * scale_n, height))
        shapes += row(items, (column, height), scale_n)
    return shapes


def _names_below(cuts: Cuts, scale_n: float) -> list[Shape]:
    """The same under a level cut: from right to left, each name on the line on which its neighbours leave it room."""
    wanted = sorted(_named(cuts), key=lambda one: one[1][0])
    face = -max(z for cut in (*cuts.parts, *cuts.blocks) for _, z in cut.points) - 5.0 * scale_n
    places = spread([at[0] for _, at in wanted], 3.0 * scale_n)
    shapes: list[Shape] = []
    lanes: list[tuple[float, int]] = []
    for (items, (along, depth)), x in reversed(list(zip(wanted, places, strict=True))):
        end = x + (row_width_mm(items) + 2.0) * scale_n
        lane = 1 + max((n for left, n in lanes if left < end), default=-1)
        lanes.append((x, lane))
        y = face - (lane + 0.5) * (ROW_MM + 0.6) * scale_n
        shapes += leader((along, -depth), (x, face))
        shapes.append(Line(start=(x, face), end=(x, y), stroke=Stroke.THIN, layer="leaders"))
        shapes += row(items, (x + 0.6 * scale_n, y), scale_n)
    return shapes


def _named(cuts: Cuts) -> list[tuple[tuple[Named, ...], Point]]:
    """What is named, by number and name, and the point that its line comes from; pieces of one part once."""
    found: dict[str, tuple[tuple[Named, ...], Point]] = {}
    for cut in cuts.parts:
        number = cut.parts[0].number
        found.setdefault(cut.words, (((number, cut.words),), _point(cut)))
    for cut in cuts.fixtures:
        found.setdefault(cut.name, (((0, cut.name),), _point(cut)))
    return list(found.values())


def _point(cut: Cut) -> Point:
    """A point well inside; for a long part near its upper end, clear of what lies before its middle."""
    (low, high), (z0, z1) = cut.reach, cut.depths
    share = 0.5 if high - low < 6 * (z1 - z0) else 0.8 if cut.behind else 0.62
    return low + share * (high - low), (z0 + z1) / 2


def reach_of(cuts: Cuts) -> tuple[float, float]:
    """From and to along the cut, of parts and blocks."""
    ends = [end for cut in (*cuts.parts, *cuts.blocks) for end in cut.reach]
    return min(ends), max(ends)


def _outline(cut: Cut, turn: Turn, stroke: Stroke, layer: str, *, fill: bool = False) -> Outline:
    return Outline(
        points=tuple(turn(point) for point in cut.points),
        stroke=stroke,
        fill=Fill() if fill else None,
        layer=layer,
        name=cut.words,
    )


def _upright_figures(cuts: Cuts, words: Words, scale_n: float) -> list[Shape]:
    """Depths at the cleat above, those at the foot below, under these what is hidden with its air; then the names."""
    low, high = reach_of(cuts)
    middle = (low + high) / 2
    above = [cut for cut in cuts.parts if cut.reach[1] > middle and not cut.behind and cut.parts[0].role not in LOWER]
    line = high + CHAIN_STEP_MM * scale_n
    shapes: list[Shape] = list(
        chain(depths_of(above), feet_mm=high, line_mm=line, words=words.of_mm, scale_n=scale_n, size_mm=NAME_MM)
    )
    return [*shapes, *_chain_below(cuts, low, words, scale_n), *names_beside(cuts, scale_n)]


def _chain_below(cuts: Cuts, low: float, words: Words, scale_n: float) -> list[Shape]:
    middle = sum(reach_of(cuts)) / 2
    lower = [cut for cut in cuts.parts if cut.reach[0] < middle and not cut.behind and cut.parts[0].role not in UPPER]
    layers = [*depths_of(lower), max(cut.depths[1] for cut in (*cuts.blocks, *cuts.parts))]
    line = low - CHAIN_STEP_MM * scale_n
    first = chain(layers, feet_mm=low, line_mm=line, words=words.of_mm, scale_n=scale_n, size_mm=NAME_MM)
    shapes: list[Shape] = list(first)
    line -= chain_reach_mm(first, scale_n)
    for fixture, air in zip(cuts.fixtures, cuts.airs, strict=False):
        line -= 0.7 * CHAIN_STEP_MM * scale_n
        places = sorted({0.0, fixture.depths[1], air.depths[1]})
        more = chain(places, feet_mm=low, line_mm=line, words=words.of_mm, scale_n=scale_n, size_mm=NAME_MM)
        shapes += more
        line -= chain_reach_mm(more, scale_n)
    return shapes


def depths_of(cuts: Sequence[Cut]) -> list[float]:
    """Where the faces of some parts lie off the wall, the wall's among them."""
    return sorted({0.0, *(depth for cut in cuts for depth in cut.depths)})


def _level_figures(cuts: Cuts, words: Words, scale_n: float, *, layers: bool = True) -> list[Shape]:
    low, _ = reach_of(cuts)
    return [*_chain_beside(cuts, low, words, scale_n, layers=layers), *_names_below(cuts, scale_n)]


def _chain_beside(cuts: Cuts, low: float, words: Words, scale_n: float, *, layers: bool) -> list[Shape]:
    """Depths to the left of a level cut, read from the right: of every layer, or, where its ends show these, in all."""
    deep = max(cut.depths[1] for cut in (*cuts.blocks, *cuts.parts))
    told = depths_of([cut for cut in cuts.parts if not cut.behind]) if layers else [0.0]
    of_layers = [-depth for depth in {*told, deep}]
    line = low - CHAIN_STEP_MM * scale_n
    first: tuple[Dimension, ...] = chain(
        of_layers, feet_mm=low, line_mm=line, words=words.of_mm, across=False, scale_n=scale_n, size_mm=NAME_MM
    )
    shapes: list[Shape] = list(first)
    line -= chain_reach_mm(first, scale_n)
    for fixture, air in zip(cuts.fixtures, cuts.airs, strict=False):
        line -= 0.7 * CHAIN_STEP_MM * scale_n
        places = [-depth for depth in {0.0, fixture.depths[1], air.depths[1]}]
        more = chain(
            places, feet_mm=low, line_mm=line, words=words.of_mm, across=False, scale_n=scale_n, size_mm=NAME_MM
        )
        shapes += more
        line -= chain_reach_mm(more, scale_n)
    return shapes


def _said(cut: Cut, words: Words) -> str:
    number = f"{cut.parts[0].number}, " if cut.parts else ""
    (low, high), (z0, z1) = cut.reach, cut.depths
    return (
        f"{number}{cut.words}: from {words.of_mm(low)} to {words.of_mm(high)} along the cut, "
        f"{words.of_mm(z0)} to {words.of_mm(z1)} off the wall."
    )
