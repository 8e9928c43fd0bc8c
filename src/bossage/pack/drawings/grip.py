"""The cleat cut from the side: how the halves grip, what lies between wall and backer, how high the leaf is lifted."""

from __future__ import annotations

from collections.abc import Callable

from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain, named_beside
from bossage.drawing.shapes import (
    SMALL_TEXT_MM,
    Align,
    Arrow,
    Dimension,
    Fill,
    Hatch,
    Label,
    Line,
    Outline,
    Point,
    Rect,
    Shape,
    Stand,
    Stroke,
)
from bossage.hang.records import CleatPlan, LeafHang
from bossage.pack.words import Words
from bossage.plan import Plan

AIR_MM = 8.0  # on paper, of wall and board past the cleat


def grip_drawing(plan: Plan, hung: LeafHang, cleat: CleatPlan, words: Words) -> Callable[[float], Drawing]:
    """A wooden cleat with the leaf on it, for the n of 1 : n; heights count from the cleat line, depths from the wall.

    Dashed: where the panel half has to get to before it comes free.
    """
    thick, strip = plan.brief.cleat.thickness_nm / 1e6, plan.brief.cleat.strip_nm / 1e6
    rise, stand_off = cleat.engagement_nm / 1e6, plan.layout.stand_off.stand_off_nm / 1e6
    backer = plan.brief.backer.thickness_nm / 1e6
    packer, tall_packer = plan.brief.cleat.packer_nm / 1e6, plan.brief.cleat.packer_height_nm / 1e6
    lift = 0.0 if hung.room is None else hung.room.wanted_nm / 1e6
    wall_half: tuple[Point, ...] = ((0, rise / 2 - strip), (thick, rise / 2 - strip), (thick, rise / 2), (0, -rise / 2))

    def panel_half(up: float) -> tuple[Point, ...]:
        return ((0, up - rise / 2), (thick, up + rise / 2), (thick, up + strip - rise / 2), (0, up + strip - rise / 2))

    def draw(scale_n: float) -> Drawing:
        low, high = rise / 2 - strip - AIR_MM * scale_n, strip - rise / 2 + max(lift, AIR_MM * scale_n)
        wall = 4.0 * scale_n
        shapes: list[Shape] = [
            Rect(
                x_mm=-wall,
                y_mm=low,
                width_mm=wall,
                height_mm=high - low,
                stroke=None,
                hatch=Hatch(spacing_mm=1.4),
                layer="wall",
            ),
            Line(start=(0, low), end=(0, high), stroke=Stroke.OUTLINE, layer="wall"),
            Rect(
                x_mm=stand_off, y_mm=low, width_mm=backer, height_mm=high - low, stroke=Stroke.OUTLINE, layer="backer"
            ),
            Outline(points=panel_half(lift), stroke=Stroke.HIDDEN, layer="lifted"),
            Outline(points=wall_half, stroke=Stroke.OUTLINE, fill=Fill(), layer="wall half"),
            Outline(points=panel_half(0.0), stroke=Stroke.OUTLINE, fill=Fill(), layer="panel half"),
        ]
        if packer:
            foot = min(strip, tall_packer) if tall_packer else strip
            shapes.append(
                Rect(
                    x_mm=thick,
                    y_mm=strip - rise / 2 - foot,
                    width_mm=packer,
                    height_mm=foot,
                    stroke=Stroke.EDGE,
                    layer="packer",
                )
            )
        shapes += chain(
            [0.0, thick, *([thick + packer] if packer else []), stand_off, stand_off + backer],
            feet_mm=low,
            line_mm=low - CHAIN_STEP_MM * scale_n,
            words=words.of_mm,
            scale_n=scale_n,
        )
        shapes += _upright(words, scale_n, thick=thick, rise=rise, right=stand_off + backer)
        if lift:
            up = high + 1.5 * scale_n
            shapes += [
                Arrow(start=(thick / 2, up), end=(thick / 2, up + 8 * scale_n), stroke=Stroke.PENCIL, layer="lift"),
                Label(
                    at=(thick / 2 + 3 * scale_n, up + 4 * scale_n),
                    text=f"lift {words.of_mm(lift)}",
                    size_mm=SMALL_TEXT_MM,
                    align=Align.LEFT,
                    bold=True,
                    layer="lift",
                ),
            ]
        named: list[tuple[str, Point]] = [
            ("panel half", (thick / 2, strip / 2)),
            ("wall half", (thick / 2, -strip / 2)),
        ]
        if packer:
            named.append(("packer", (thick + packer / 2, strip * 0.8)))
        shapes += named_beside(named, tip_mm=stand_off + backer + 3 * scale_n, scale_n=scale_n)
        return Drawing(
            title="How the halves grip",
            description=(
                f"Cut from the side: the halves grip {words.of_mm(rise)} deep; to come free the leaf is lifted "
                f"{words.of_mm(lift)} {words.unit_name}. The backer stands {words.of_mm(stand_off)} off the wall."
            ),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def _upright(words: Words, scale_n: float, *, thick: float, rise: float, right: float) -> list[Shape]:
    """How deep the halves grip, measured beside the backer."""
    line = right + CHAIN_STEP_MM * scale_n
    return [
        Dimension(start=(thick, -rise / 2), end=(thick, rise / 2), text=words.of_mm(rise), line_mm=line, across=False),
        Label(
            at=(line + 2.5 * scale_n, 0),
            text="grip",
            size_mm=SMALL_TEXT_MM,
            align=Align.LEFT,
            stand=Stand.MIDDLE,
            layer="dimensions",
        ),
    ]
