"""How a leaf swings: closed and open in one picture, seen along its hinges, with the arc that has to stay free."""

from __future__ import annotations

import math
from collections.abc import Callable

from bossage.brief.records import Side
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import (
    SMALL_TEXT_MM,
    Align,
    Circle,
    Dimension,
    Label,
    Line,
    Outline,
    Point,
    Shape,
    Stand,
    Stroke,
)
from bossage.layout.records import Leaf
from bossage.pack.words import Words
from bossage.plan import Plan

ARC_POINTS = 48


def swing_drawing(plan: Plan, leaf: Leaf, words: Words) -> Callable[[float], Drawing]:
    """The wall on top, the room below it, for the n of 1 : n.

    A leaf hung on its left or right is seen from above, one hung on its head or foot from its side.
    """

    def draw(scale_n: float) -> Drawing:
        side, angle = plan.brief.access.hinge, math.radians(plan.brief.access.angle_deg)
        upright = side in (Side.LEFT, Side.RIGHT)
        wide = (leaf.width_nm if upright else leaf.height_nm) / 1e6
        deep = plan.layout.depth_nm / 1e6
        back = plan.layout.stand_off.stand_off_nm / 1e6
        sign = -1.0 if side is Side.RIGHT else 1.0

        def at(u: float, v: float, turned: float) -> Point:
            """u along the leaf from its axis, v off the wall, turned about the axis at the backer's back."""
            w = v - back
            x = sign * (u * math.cos(turned) - w * math.sin(turned))
            y = -(back + u * math.sin(turned) + w * math.cos(turned))
            return (x, y)

        corners = ((0.0, back), (wide, back), (wide, deep), (0.0, deep))
        far = math.hypot(wide, deep - back)
        lead = math.atan2(deep - back, wide)
        arc = [
            (
                sign * far * math.cos(lead + angle * k / ARC_POINTS),
                -(back + far * math.sin(lead + angle * k / ARC_POINTS)),
            )
            for k in range(ARC_POINTS + 1)
        ]
        room_mm = max(-y for _, y in (*arc, *(at(u, v, angle) for u, v in corners)))
        shapes: list[Shape] = [
            Line(
                start=(min(-sign * 60, sign * (wide + 60)), 0),
                end=(max(-sign * 60, sign * (wide + 60)), 0),
                stroke=Stroke.OUTLINE,
                layer="wall",
            ),
            Outline(points=tuple(at(u, v, 0.0) for u, v in corners), stroke=Stroke.HIDDEN, layer="closed"),
            Outline(points=tuple(at(u, v, angle) for u, v in corners), stroke=Stroke.EDGE, layer="open"),
            Outline(points=tuple(arc), closed=False, stroke=Stroke.PENCIL, layer="arc"),
            Circle(centre=(0, -back), radius_mm=1.4, on_paper=True, stroke=Stroke.PENCIL, layer="axis"),
            Label(
                at=(sign * wide / 2, 2 * scale_n),
                text="wall",
                size_mm=SMALL_TEXT_MM,
                stand=Stand.BOTTOM,
                align=Align.MIDDLE,
                layer="labels",
            ),
            Label(
                at=(sign * 0.45 * far, -(back + 0.45 * far * math.sin(angle / 2) / max(math.cos(angle / 2), 0.5))),
                text=f"opens {plan.brief.access.angle_deg:g}°",
                size_mm=SMALL_TEXT_MM,
                layer="labels",
            ),
            Dimension(
                start=(sign * (wide + 10), 0.0),
                end=(sign * (wide + 10), -room_mm),
                text=words.of_mm(room_mm),
                line_mm=sign * (wide + 10) + sign * 8 * scale_n,
                across=False,
            ),
        ]
        seen = "from above" if upright else "from its side"
        return Drawing(
            title=f"How leaf {leaf.name} swings",
            description=(
                f"Seen {seen}: hung on its {side.value}, it opens {plan.brief.access.angle_deg:g} degrees and needs "
                f"{words.of_mm(room_mm)} {words.unit_name} of free room before the wall."
            ),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw
