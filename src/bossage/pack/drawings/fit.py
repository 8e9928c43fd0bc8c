"""Choosing the scale at which a drawing fits its sheet."""

from __future__ import annotations

from collections.abc import Callable

from bossage.drawing.model import Drawing
from bossage.errors import BossageError

#: The n of 1 : n; those of ISO 5455 and the ones between that rules are sold for.
SCALES = (
    1.0,
    2.0,
    2.5,
    3.0,
    4.0,
    5.0,
    6.0,
    8.0,
    10.0,
    12.0,
    15.0,
    20.0,
    25.0,
    30.0,
    40.0,
    50.0,
    75.0,
    100.0,
    200.0,
    500.0,
)


def fitted(draw: Callable[[float], Drawing], *, width_mm: float, height_mm: float) -> Drawing:
    """The drawing at the largest scale with which it fits.

    Args:
        draw: Makes the drawing for the n of 1 : n; figures keep their size on paper, so it must be made anew.
        width_mm: Room on paper.
        height_mm: Room on paper.
    """
    for scale_n in SCALES:
        drawing = draw(scale_n)
        if drawing.paper_width_mm <= width_mm and drawing.paper_height_mm <= height_mm:
            return drawing
    raise BossageError(f"{drawing.title} fits no sheet, not even at 1 : {SCALES[-1]:.0f}.")


def scale_words(scale_n: float) -> str:
    """`1 : 20`."""
    return f"1 : {scale_n:g}"
