"""The leaf seen from its back, for the card glued there: what lies before it, where to hold, which way it goes."""

from __future__ import annotations

from collections.abc import Callable

from bossage.body import Part, Role
from bossage.brief.records import Opens, Side
from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import SMALL_TEXT_MM, Align, Arrow, Circle, Hatch, Ink, Label, Rect, Shape, Stroke
from bossage.hang.records import LeafHang
from bossage.layout.records import Leaf
from bossage.pack.drawings.cut import hidden_by
from bossage.plan import Plan


def access_drawing(plan: Plan, hung: LeafHang, leaf: Leaf) -> Callable[[float], Drawing]:
    """The back for the n of 1 : n: left and right have changed places."""
    left, bottom = leaf.x_nm / 1e6, leaf.y_nm / 1e6
    wide, tall = leaf.width_nm / 1e6, leaf.height_nm / 1e6

    def mirrored(x: float, width: float = 0.0) -> float:
        return wide - (x - left) - width

    def draw(scale_n: float) -> Drawing:
        shapes: list[Shape] = [Rect(x_mm=0, y_mm=0, width_mm=wide, height_mm=tall, stroke=Stroke.OUTLINE, layer="leaf")]
        for part in plan.body.of(leaf.name, leaf.copy):
            if part.role is Role.BACKER:
                for x0, y0, x1, y1 in part.openings_nm:
                    shapes.append(_opening(mirrored(x0 / 1e6, (x1 - x0) / 1e6), y0, x1 - x0, y1 - y0, bottom))
            elif part.role in (Role.BUTTON, Role.CATCH):
                shapes += _held(mirrored(part.from_x_nm / 1e6, part.length_nm / 1e6), part, bottom, wide, scale_n)
        for fixture in hidden_by(plan, leaf):
            box = fixture.box
            w, h = (box.x1 - box.x0) / 1e6, (box.y1 - box.y0) / 1e6
            x, y = mirrored(box.x0 / 1e6, w), box.y0 / 1e6 - bottom
            shapes.append(
                Rect(x_mm=x, y_mm=y, width_mm=w, height_mm=h, stroke=Stroke.HIDDEN, layer="fixtures", name=fixture.name)
            )
            if text_width(fixture.name) * SMALL_TEXT_MM * scale_n < 0.9 * w and h > 4 * scale_n:
                shapes.append(
                    Label(at=(x + w / 2, y + h / 2), text=fixture.name, size_mm=SMALL_TEXT_MM, layer="fixtures")
                )
        shapes += _swung(plan, wide, tall, scale_n) if hung.hinges is not None else _lifted(wide, tall, scale_n)
        opens = "swings" if plan.brief.access.opens is Opens.SWING else "lifts off"
        return Drawing(
            title=f"The back of leaf {leaf.name}",
            description=f"Seen from the back: what lies before it is dashed; it {opens} as the arrows say.",
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def _opening(x: float, y_nm: int, width_nm: int, height_nm: int, bottom: float) -> Rect:
    """Sawn through the backer: where it can be looked and reached through."""
    return Rect(
        x_mm=x,
        y_mm=y_nm / 1e6 - bottom,
        width_mm=width_nm / 1e6,
        height_mm=height_nm / 1e6,
        hatch=Hatch(spacing_mm=1.6, angle_deg=-45.0, ink=Ink.QUIET),
        layer="openings",
    )


def _held(x: float, part: Part, bottom: float, wide: float, scale_n: float) -> list[Shape]:
    """What keeps the leaf from coming off, in red pencil: it is opened first."""
    box = part.box
    w, h = part.length_nm / 1e6, (box.y1 - box.y0) / 1e6
    y = box.y0 / 1e6 - bottom
    out = -1 if x + w / 2 < wide / 2 else 1
    drawn = Rect(x_mm=x, y_mm=y, width_mm=w, height_mm=h, stroke=Stroke.PENCIL, layer="lock", name=part.name)
    if part.role is Role.CATCH:
        return [drawn]  # where to pull is said beside it
    return [
        drawn,
        Label(
            at=(-5 * scale_n if out < 0 else wide + 5 * scale_n, y + h / 2),
            text=part.name,
            size_mm=SMALL_TEXT_MM,
            align=Align.RIGHT if out < 0 else Align.LEFT,
            layer="lock",
        ),
    ]


def _lifted(wide: float, tall: float, scale_n: float) -> list[Shape]:
    """A hand at each side, a third from the foot, and up."""
    shapes: list[Shape] = []
    for x, out, align in ((0.0, -1, Align.RIGHT), (wide, 1, Align.LEFT)):
        at = x + out * 5 * scale_n
        shapes += [
            Circle(centre=(x, tall / 3), radius_mm=2.0, on_paper=True, stroke=Stroke.PENCIL, layer="hands"),
            Arrow(
                start=(at, tall / 3),
                end=(at, tall / 3 + 14 * scale_n),
                stroke=Stroke.PENCIL,
                head_mm=3.5,
                layer="hands",
            ),
            Label(
                at=(at + out * 2.5 * scale_n, tall / 3 + 4 * scale_n),
                text="hold, up",
                size_mm=SMALL_TEXT_MM,
                align=align,
                layer="hands",
            ),
        ]
    return shapes


def _swung(plan: Plan, wide: float, tall: float, scale_n: float) -> list[Shape]:
    """The hinged edge, and where to pull."""
    hinge = plan.brief.access.hinge
    edges = {
        Side.LEFT: ((wide, tall / 2), (0.0, tall / 2)),
        Side.RIGHT: ((0.0, tall / 2), (wide, tall / 2)),
        Side.TOP: ((wide / 2, tall), (wide / 2, 0.0)),
        Side.BOTTOM: ((wide / 2, 0.0), (wide / 2, tall)),
    }
    axis, pull = edges[hinge]
    shapes: list[Shape] = []
    for text, (x, y) in (("hinges", axis), ("pull here", pull)):
        out_x = (x > wide * 0.75) - (x < wide * 0.25)
        out_y = (y > tall * 0.75) - (y < tall * 0.25)
        align = {1: Align.LEFT, -1: Align.RIGHT, 0: Align.MIDDLE}[out_x]
        shapes += [
            Circle(centre=(x, y), radius_mm=2.0, on_paper=True, stroke=Stroke.PENCIL, layer="hands"),
            Label(
                at=(x + out_x * 4 * scale_n, y + out_y * 5 * scale_n),
                text=text,
                size_mm=SMALL_TEXT_MM,
                align=align,
                layer="hands",
            ),
        ]
    return shapes
