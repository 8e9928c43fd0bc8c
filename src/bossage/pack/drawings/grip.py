"""The cleat cut from the side: how the halves grip, what lies between wall and backer, how high the leaf is lifted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from bossage.body import Role
from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain
from bossage.drawing.shapes import Align, Arrow, Dimension, Label, Outline, Shape, Stand, Stroke
from bossage.hang.records import CleatPlan, LeafHang
from bossage.layout.records import Leaf
from bossage.pack.drawings.cut import Cut, Cuts, cut_of
from bossage.pack.drawings.marks import NAME_MM
from bossage.pack.drawings.section import cut_shapes, depths_of, names_beside, reach_of
from bossage.pack.words import Words
from bossage.plan import Plan

AIR_MM = 8.0  # on paper, of wall and board past the cleat
OF_THE_CLEAT = (Role.PANEL_HALF, Role.PACKER, Role.FILLER, Role.WALL_HALF, Role.WALL_PACKER)


def grip_drawing(plan: Plan, hung: LeafHang, cleat: CleatPlan, leaf: Leaf, words: Words) -> Callable[[float], Drawing]:
    """A wooden cleat with the leaf on it, for the n of 1 : n; heights over the floor, depths from the wall.

    Dashed: where the panel half has to get to before it comes free.
    """
    whole = cut_of(plan, leaf)
    whole = replace(whole, fixtures=(), airs=(), parts=tuple(cut for cut in whole.parts if not cut.behind))
    halves = whole.of(*OF_THE_CLEAT)
    foot, head = min(cut.reach[0] for cut in halves), max(cut.reach[1] for cut in halves)
    lift = 0.0 if hung.room is None else hung.room.wanted_nm / 1e6

    def draw(scale_n: float) -> Drawing:
        low, high = foot - AIR_MM * scale_n, head + max(lift, AIR_MM * scale_n)
        cuts = whole.within(low, high)
        shapes = cut_shapes(cuts, scale_n)
        shapes += [
            Outline(
                points=tuple((z, y + lift) for y, z in cut.points), stroke=Stroke.HIDDEN, layer="lifted", name=cut.words
            )
            for cut in cuts.of(Role.PANEL_HALF)
        ]
        shapes += _depths(cuts, halves, words, scale_n)
        shapes += names_beside(cuts, scale_n)
        shapes += _engaged(cleat, halves, words, scale_n)
        if lift:
            shapes += _lifted(reach_of(cuts)[1], lift, words, scale_n)
        backer = cuts.of(Role.BACKER)
        off = words.of_mm(backer[0].depths[0]) if backer else words.of_mm(max(c.depths[1] for c in halves))
        return Drawing(
            title="How the halves grip",
            description=(
                f"Cut from the side: the halves grip {words.length(cleat.engagement_nm)} deep; to come free the leaf "
                f"is lifted {words.of_mm(lift)} {words.unit_name}. The backer stands {off} off the wall."
            ),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def _depths(cuts: Cuts, halves: tuple[Cut, ...], words: Words, scale_n: float) -> list[Shape]:
    """The layers from wall to face, under the cut."""
    low = reach_of(cuts)[0]
    layers = depths_of([*halves, *cuts.of(Role.BACKER)])
    line = low - CHAIN_STEP_MM * scale_n
    return list(chain(layers, feet_mm=low, line_mm=line, words=words.of_mm, scale_n=scale_n, size_mm=NAME_MM))


def _engaged(cleat: CleatPlan, halves: tuple[Cut, ...], words: Words, scale_n: float) -> list[Shape]:
    """How deep the halves grip, measured on the wall's side, where nothing else is drawn."""
    middle, half = cleat.line_nm / 1e6, cleat.engagement_nm / 2e6
    back = min(cut.depths[0] for cut in halves)
    line = back - CHAIN_STEP_MM * scale_n
    return [
        Dimension(
            start=(back, middle - half),
            end=(back, middle + half),
            text=words.bare(cleat.engagement_nm),
            line_mm=line,
            across=False,
            size_mm=NAME_MM,
        ),
    ]


def _lifted(high: float, lift: float, words: Words, scale_n: float) -> list[Shape]:
    """The arrow that says how far up."""
    up = high + 4.0 * scale_n
    x = 3.0 * scale_n
    return [
        Arrow(start=(x, up), end=(x, up + 8 * scale_n), stroke=Stroke.PENCIL, layer="lift"),
        Label(
            at=(x + 3 * scale_n, up + 4 * scale_n),
            text=f"lift {words.of_mm(lift)}",
            size_mm=NAME_MM,
            align=Align.LEFT,
            stand=Stand.MIDDLE,
            bold=True,
            layer="lift",
        ),
    ]
