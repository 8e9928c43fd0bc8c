"""Choosing the scale at which a drawing fits its sheet."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from bossage.drawing.metrics import CAP_HEIGHT, text_width
from bossage.drawing.model import Drawing
from bossage.drawing.place import fitted_size
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


TALLER = (1.0, 1.3, 1.7, 2.2, 2.8)
"""A drawing that shares a page may take so much more of its height, where its words fit nowhere else."""

PAGE_MM = 277.0
"""No page is higher between its margins."""


def fitted(draw: Callable[[float], Drawing], *, width_mm: float, height_mm: float) -> Drawing:
    """The drawing at the largest usual scale with which it fits; taller than its room where its words alone need that.

    Args:
        draw: Makes the drawing for the n of 1 : n; figures keep their size on paper, so it must be made anew.
        width_mm: Room on paper.
        height_mm: Room on paper.
    """
    for more in TALLER:
        found = (
            _largest_that_fits(draw, width_mm, height_mm * more) if more == 1 or height_mm * more <= PAGE_MM else None
        )
        if found is not None:
            return found
    raise BossageError(f"{draw(SCALES[-1]).title} fits no sheet, not even at 1 : {SCALES[-1]:.0f}.")


def _largest_that_fits(draw: Callable[[float], Drawing], width_mm: float, height_mm: float) -> Drawing | None:
    low, high = 0, len(SCALES)  # what fits at one scale fits at every smaller one, so the list is halved
    found: Drawing | None = None
    while low < high:
        middle = (low + high) // 2
        drawing = draw(SCALES[middle]).framed()
        wide, tall = _on_paper(drawing)
        if wide <= width_mm and tall <= height_mm:
            found, high = drawing, middle
        else:
            low = middle + 1
    return found


def at_one_scale(
    draws: Sequence[Callable[[float], Drawing]], *, width_mm: float, height_mm: float
) -> tuple[Drawing, ...]:
    """Drawings at the largest usual scale with which each of them fits the same room; most are drawn only once."""
    scale_n = fitted(draws[0], width_mm=width_mm, height_mm=height_mm).scale_n
    while True:
        made: list[Drawing] = []
        for draw in draws:
            drawing = draw(scale_n).framed()
            wide, tall = _on_paper(drawing)
            if wide > width_mm or tall > height_mm:
                scale_n = fitted(draw, width_mm=width_mm, height_mm=height_mm).scale_n
                break
            made.append(drawing)
        else:
            return tuple(made)


def filling(draw: Callable[[float], Drawing], *, width_mm: float, height_mm: float, least_n: float = 1.0) -> Drawing:
    """The drawing as large as the room allows, to a tenth of n: for maps, whose lengths nobody takes with a rule.

    It is no larger than 1 : `least_n`, at which it says all that it has to say.

    What is drawn shrinks with the scale and what belongs to the paper does not, so two trials tell both, and the scale
    follows; a few steps of a tenth make up for words that are lifted out of each other's way.
    """
    ones, twos = _on_paper(draw(10.0)), _on_paper(draw(20.0))
    scale_n = max(1.0, least_n)
    for ten, twenty, room in zip(ones, twos, (width_mm, height_mm), strict=True):
        size, fixed = 20.0 * (ten - twenty), 2 * twenty - ten
        if room > fixed:
            scale_n = max(scale_n, size / (room - fixed))
    for tenths in range(math.ceil(10 * scale_n - 1e-6), math.ceil(10 * scale_n) + 200):
        drawing = draw(tenths / 10).framed()
        wide, tall = _on_paper(drawing)
        if wide <= width_mm and tall <= height_mm:
            return drawing
    raise BossageError(f"{drawing.title} fits no sheet.")


LEAST_TEXT_MM = 2.47
"""7 pt: nothing smaller is read at arm's length (common practice, no source)."""


def legible_size(text: str, *, width_mm: float, height_mm: float, most_mm: float, bold: bool = False) -> float:
    """Size of type for a field: with air round it, or without where only that keeps it at `LEAST_TEXT_MM`."""
    size_mm = fitted_size(text, width_mm=width_mm, height_mm=height_mm, most_mm=most_mm, bold=bold)
    if size_mm >= LEAST_TEXT_MM or not holds(text, width_mm=width_mm, height_mm=height_mm, bold=bold):
        return size_mm
    return LEAST_TEXT_MM


def holds(text: str, *, width_mm: float, height_mm: float, bold: bool = False) -> bool:
    """Whether the smallest type that may be used still goes into a field."""
    wide_mm = text_width(text, bold=bold) * LEAST_TEXT_MM
    return wide_mm <= 0.97 * width_mm and 0.9 * height_mm >= CAP_HEIGHT * LEAST_TEXT_MM


def scale_words(scale_n: float) -> str:
    """`1 : 20`."""
    return f"1 : {scale_n:g}"


def _on_paper(drawing: Drawing) -> tuple[float, float]:
    extent = drawing.extent()
    return extent.width_mm / drawing.scale_n, extent.height_mm / drawing.scale_n
