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


#: For maps and cards, whose lengths nobody takes with a rule: every tenth.
TENTHS = tuple(count / 10 for count in range(10, 400)) + SCALES[-5:]


def fitted(
    draw: Callable[[float], Drawing], *, width_mm: float, height_mm: float, scales: tuple[float, ...] = SCALES
) -> Drawing:
    """The drawing at the largest scale with which it fits.

    Args:
        draw: Makes the drawing for the n of 1 : n; figures keep their size on paper, so it must be made anew.
        width_mm: Room on paper.
        height_mm: Room on paper.
        scales: The n that may be taken, the smallest first.
    """
    low, high = 0, len(scales)  # what fits at one scale fits at every smaller one, so the list is halved
    found: Drawing | None = None
    while low < high:
        middle = (low + high) // 2
        drawing = draw(scales[middle])
        if drawing.paper_width_mm <= width_mm and drawing.paper_height_mm <= height_mm:
            found, high = drawing, middle
        else:
            low = middle + 1
    if found is not None:
        return found
    raise BossageError(f"{draw(scales[-1]).title} fits no sheet, not even at 1 : {scales[-1]:.0f}.")


def scale_words(scale_n: float) -> str:
    """`1 : 20`."""
    return f"1 : {scale_n:g}"
