"""How a leaf swings: closed and open in one picture, seen along its hinges, with the arc that has to stay free."""

from __future__ import annotations

import math
from collections.abc import Callable

from bossage.body import Role, swing_of
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
        swing = swing_of(plan.brief, leaf, plan.layout.stand_off.stand_off_nm)
        low, size = (leaf.x_nm, leaf.width_nm) if upright else (leaf.y_nm, leaf.height_nm)
        edge = low if swing.sign > 0 else low + size
        pin, off = abs(swing.axis_nm - edge) / 1e6, swing.axis_z_nm / 1e6

        def at(u: float, v: float, turned: float) -> Point:
            """u along the leaf from its hung edge, v off the wall, turned about the pins."""
            along, w = u - pin, v - off
            x = sign * (pin + along * math.cos(turned) - w * math.sin(turned))
            y = -(off + along * math.sin(turned) + w * math.cos(turned))
            return (x, y)

        corners = ((0.0, back), (wide, back), (wide, deep), (0.0, deep))
        far = math.hypot(wide - pin, deep - off)
        arc = [at(wide, deep, angle * k / ARC_POINTS) for k in range(ARC_POINTS + 1)]
        post = tuple((sign * u, -v) for u, v in _post(plan, leaf, edge))
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
            Outline(points=post, stroke=Stroke.EDGE, layer="hinge post"),
            Circle(centre=(sign * pin, -off), radius_mm=1.4, on_paper=True, stroke=Stroke.PENCIL, layer="axis"),
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


def _post(plan: Plan, leaf: Leaf, edge_nm: int) -> tuple[Point, ...]:
    """The post of the hinges in the same plane: along the leaf from its hung edge, and off the wall."""
    box = next(part for part in plan.body.of(leaf.name, leaf.copy) if part.role is Role.POST).box
    upright = plan.brief.access.hinge in (Side.LEFT, Side.RIGHT)
    span = (box.x0, box.x1) if upright else (box.y0, box.y1)
    near, far = sorted(abs(at - edge_nm) / 1e6 for at in span)
    return ((near, 0.0), (far, 0.0), (far, box.z1 / 1e6), (near, box.z1 / 1e6))
