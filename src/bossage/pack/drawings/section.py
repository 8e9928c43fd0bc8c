"""The piece cut from the side: wall, stand-off, backer, lowest and highest level, with the depths that add up."""

from __future__ import annotations

from collections.abc import Callable

from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain, chain_reach_mm, named_beside
from bossage.drawing.shapes import Dimension, Hatch, Line, Rect, Shape, Stroke
from bossage.pack.words import Words
from bossage.plan import Plan

BLOCKS = 5


def section_drawing(plan: Plan, words: Words) -> Callable[[float], Drawing]:
    """The section, for the n of 1 : n. Depths are to scale; only a few blocks' height of the piece is shown."""

    def draw(scale_n: float) -> Drawing:
        stand_off = plan.layout.stand_off.stand_off_nm / 1e6
        backer = plan.brief.backer.thickness_nm / 1e6
        levels = [level / 1e6 for level in plan.relief.levels_nm]
        face = stand_off + backer
        tall = 26.0 * scale_n  # on paper: the height of the cut is not a length of the piece
        each = tall / BLOCKS
        wall = 4.0 * scale_n
        shapes: list[Shape] = [
            Rect(
                x_mm=-wall,
                y_mm=-0.1 * tall,
                width_mm=wall,
                height_mm=1.2 * tall,
                stroke=None,
                hatch=Hatch(spacing_mm=1.4),
                layer="wall",
            ),
            Line(start=(0, -0.1 * tall), end=(0, 1.1 * tall), stroke=Stroke.OUTLINE, layer="wall"),
            Rect(x_mm=stand_off, y_mm=0, width_mm=backer, height_mm=tall, stroke=Stroke.OUTLINE, layer="backer"),
        ]
        for block in range(BLOCKS):
            level = levels[(block * 2) % len(levels)] if block != BLOCKS - 1 else levels[-1]
            shapes.append(
                Rect(
                    x_mm=face, y_mm=block * each, width_mm=level, height_mm=each, stroke=Stroke.OUTLINE, layer="blocks"
                )
            )
        proud = max((fixture.proud_nm for fixture in plan.brief.fixtures), default=0) / 1e6
        if proud > 0:
            shapes.append(
                Rect(
                    x_mm=0,
                    y_mm=0.3 * tall,
                    width_mm=proud,
                    height_mm=0.4 * tall,
                    stroke=Stroke.HIDDEN,
                    layer="fixtures",
                )
            )
        below = chain(
            [0.0, stand_off, face, face + levels[-1]],
            feet_mm=0.0,
            line_mm=-CHAIN_STEP_MM * scale_n,
            words=words.of_mm,
            scale_n=scale_n,
        )
        shapes += below
        shapes.append(
            Dimension(
                start=(0, 0),
                end=(face + levels[-1], 0),
                text=words.of_mm(face + levels[-1]),
                line_mm=-CHAIN_STEP_MM * scale_n - chain_reach_mm(below, scale_n) - 0.7 * CHAIN_STEP_MM * scale_n,
            )
        )
        named = (
            ("highest block", (stand_off + backer + 0.5 * levels[-1], 0.9 * tall)),
            ("backer", (stand_off + 0.5 * backer, 0.62 * tall)),
            ("stand-off", (0.5 * stand_off, 0.2 * tall)),
        )
        right = stand_off + backer + levels[-1]
        shapes += named_beside(named, tip_mm=right + 8 * scale_n, scale_n=scale_n)
        return Drawing(
            title="The piece cut from the side",
            description=_in_words(plan, words),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def _in_words(plan: Plan, words: Words) -> str:
    layout = plan.layout
    return (
        f"From the wall: stand-off {words.length(layout.stand_off.stand_off_nm)}, backer "
        f"{words.length(plan.brief.backer.thickness_nm)}, highest level {words.length(plan.relief.levels_nm[-1])}; "
        f"together {words.length(layout.depth_nm)}."
    )
