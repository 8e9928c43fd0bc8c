"""The piece from the front with the leaves that hide something: which one to open, and what is behind it."""

from __future__ import annotations

from collections.abc import Callable

from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import SMALL_TEXT_MM, TEXT_MM, Ink, Label, Rect, Shape, Stand, Stroke
from bossage.pack.drawings.behind import hiding
from bossage.pack.drawings.cut import hidden_by
from bossage.pack.words import listed
from bossage.plan import Plan


def front_drawing(plan: Plan) -> Callable[[float], Drawing]:
    """The front for the n of 1 : n. Leaves that hide something are drawn heavy and named, the others are quiet."""
    leaves = [leaf for leaf in plan.layout.leaves if leaf.copy == plan.layout.leaves[0].copy]
    left, bottom = min(leaf.x_nm for leaf in leaves) / 1e6, min(leaf.y_nm for leaf in leaves) / 1e6
    opened = {one.leaf.name for one in hiding(plan) if one.things}

    def draw(scale_n: float) -> Drawing:
        shapes: list[Shape] = []
        for leaf in sorted(leaves, key=lambda one: one.name in opened):
            x, y = leaf.x_nm / 1e6 - left, leaf.y_nm / 1e6 - bottom
            wide, tall = leaf.width_nm / 1e6, leaf.height_nm / 1e6
            mine = leaf.name in opened
            stroke = Stroke.OUTLINE if mine else Stroke.THIN
            shapes.append(Rect(x_mm=x, y_mm=y, width_mm=wide, height_mm=tall, stroke=stroke, layer="leaf"))
            size = TEXT_MM if mine else SMALL_TEXT_MM
            text = leaf.name if text_width(leaf.name) * size * scale_n < 0.9 * wide else ""
            shapes.append(
                Label(
                    at=(x + wide / 2, y + tall - 1.5 * scale_n),
                    text=text,
                    size_mm=size,
                    stand=Stand.TOP,
                    bold=mine,
                    ink=Ink.INK if mine else Ink.QUIET,
                    layer="leaf",
                )
            )
            for thing in hidden_by(plan, leaf):
                box = thing.box
                shapes.append(
                    Rect(
                        x_mm=box.x0 / 1e6 - left,
                        y_mm=box.y0 / 1e6 - bottom,
                        width_mm=(box.x1 - box.x0) / 1e6,
                        height_mm=(box.y1 - box.y0) / 1e6,
                        stroke=Stroke.HIDDEN,
                        layer="fixtures",
                        name=thing.name,
                    )
                )
        return Drawing(
            title="Which leaf to open",
            description=f"From the front: {listed([*opened]) or 'no leaf'} hides something, drawn dashed.",
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw
