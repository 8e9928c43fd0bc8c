"""Words of a drawing that its picture cannot carry: letters that the project's own font lacks.

Typst reads a picture's words letter by letter, and fails on scripts whose letters join or stand on one another. So
labels with such letters are taken out of the picture, and the template sets them over it, at the same place and size.
"""

from __future__ import annotations

from dataclasses import replace

from bossage.drawing.box import Box
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Label, Stand
from bossage.drawing.svg import PIGMENT
from bossage.fonts import only_own

_ACROSS = {Align.LEFT: "left", Align.MIDDLE: "center", Align.RIGHT: "right"}
_UP = {Stand.BOTTOM: "bottom", Stand.MIDDLE: "horizon", Stand.TOP: "top"}


def words_apart(drawing: Drawing) -> tuple[Drawing, list[dict[str, object]]]:
    """The drawing without the labels that its picture cannot carry, in the same frame, and those as plain values.

    Places are in millimetres on paper from the upper left corner of the frame.
    """
    odd = [shape for shape in drawing.shapes if isinstance(shape, Label) and not only_own(shape.text)]
    if not odd:
        return drawing, []
    frame = drawing.extent()
    kept = tuple(shape for shape in drawing.shapes if not (isinstance(shape, Label) and shape in odd))
    return replace(drawing, shapes=kept, frame=frame), [_placed(label, frame, drawing.scale_n) for label in odd]


def _placed(label: Label, frame: Box, scale_n: float) -> dict[str, object]:
    return {
        "x": round((label.at[0] - frame.left_mm) / scale_n, 4),
        "y": round((frame.top_mm - label.at[1]) / scale_n, 4),
        "size": label.size_mm,
        "across": _ACROSS[label.align],
        "up": _UP[label.stand],
        "bold": label.bold,
        "upright": label.upright,
        "ink": PIGMENT[label.ink],
        "text": label.text,
    }
