"""The backer of a leaf at true size, seen from the back, with the points that are drilled into it."""

from __future__ import annotations

from collections.abc import Callable

from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain
from bossage.drawing.shapes import Align, Circle, Label, Line, Rect, Shape, Stand, Stroke
from bossage.pack.drawings.backview import back_view
from bossage.pack.words import Words
from bossage.plan import Plan

DATUM_MM = 8.0


def backer_drawing(plan: Plan, leaf: int, words: Words) -> Callable[[float], Drawing]:
    """Outline, open cells, screws of the cleat's panel half, hinges; left and right change places."""
    place = plan.layout.leaves[leaf]
    hung = next(one for one in plan.hang.leaves if one.leaf == place.name and one.copy == place.copy)
    view = back_view(plan, place)
    outline, points = view.box(view.backer), view.screws
    width, height = outline.width_mm, outline.height_mm
    hole = 1.0 if hung.cleat is None else hung.cleat.panel.hole_in_backer_mm

    def draw(scale_n: float) -> Drawing:
        shapes: list[Shape] = [
            Rect(
                x_mm=0, y_mm=0, width_mm=width, height_mm=height, stroke=Stroke.OUTLINE, layer="backer", name=place.name
            )
        ]
        shapes += [
            Rect(x_mm=hole.left_mm, y_mm=hole.bottom_mm, width_mm=hole.width_mm, height_mm=hole.height_mm, layer="open")
            for hole in view.slots(view.backer)
        ]
        for x, y in points:
            shapes += _hole(x, y, hole)
        if hung.hinges is not None:
            for hinge in hung.hinges.hinges:
                y = (hinge.y_nm - view.backer.box.y0) / 1e6
                shapes.append(Line(start=(0, y), end=(width, y), stroke=Stroke.CENTRE, layer="hinges"))
        shapes.append(Label(at=(width / 2, height / 2), text="back", size_mm=6.0, bold=True, layer="labels"))
        shapes.append(
            Label(at=(DATUM_MM, height - DATUM_MM), text="top", align=Align.LEFT, stand=Stand.TOP, layer="labels")
        )
        step = CHAIN_STEP_MM * scale_n
        across, upward = [0.0, *(x for x, _ in points), width], [0.0, *(y for _, y in points), height]
        shapes += chain(across, feet_mm=0.0, line_mm=-step, words=words.of_mm, scale_n=scale_n)
        shapes += chain(upward, feet_mm=0.0, line_mm=-step, words=words.of_mm, across=False, scale_n=scale_n)
        drilled = f"{len(points)} points to drill for the cleat" if points else "nothing to drill for a cleat"
        return Drawing(
            title=f"Backer of leaf {place.name}, seen from the back",
            description=f"{words.size(place.backer_width_nm, place.backer_height_nm)}; {drilled}.",
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def _hole(x: float, y: float, across_mm: float) -> list[Shape]:
    reach = across_mm / 2 + 3.0
    return [
        Circle(centre=(x, y), radius_mm=across_mm / 2, stroke=Stroke.EDGE, layer="drill"),
        Line(start=(x - reach, y), end=(x + reach, y), stroke=Stroke.THIN, layer="drill marks"),
        Line(start=(x, y - reach), end=(x, y + reach), stroke=Stroke.THIN, layer="drill marks"),
    ]
