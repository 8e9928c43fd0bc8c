"""The sheet that test cards lie on for a photo: marks to find it by, greys to read it by, fields for cards.

White paper with a black square in each corner, the upper left one with a white hole, so that a photo shows which way is
up. Positions are millimetres from the sheet's upper left corner, x to the right and y down, as in a photo. The pack
prints this very sheet at true size, and `bossage read-card` reads photos of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from bossage.colour.spaces import FloatArray
from bossage.errors import BossageError

# CIE lightness of the six fields of a usual grey scale, and of plain paper (common practice, no source); a maker's own
# values go in instead.
GREY_LIGHTNESS: Final = (88.0, 74.0, 60.0, 46.0, 34.0, 24.0)
PAPER_LIGHTNESS: Final = 94.0
# How far the reflectance of a bought grey scale, and of greys from a printer at home, may be off as a whole
# (our assumptions, no source).
BOUGHT_GREYS: Final = 0.02
PRINTED_GREYS: Final = 0.10
MOST_CARDS: Final = 12
# Narrow enough for the margins of A4 and of Letter.
_WIDTH_MM, _HEIGHT_MM = 172.0, 140.0
_MARK_MM, _HOLE_MM, _MARK_FROM_EDGE_MM = 9.0, 4.0, 9.0
_FIELD_MM, _COLUMNS_N = 18.0, 6
_ROWS_MM = (19.0, 56.0, 93.0)  # greys, then two rows of cards
_LABEL_GAP_MM, _LABEL_MM = 1.0, 9.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One rectangle of the sheet: a grey of known lightness, or a test card to be read."""

    name: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    grey_lightness: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CardSheet:
    """The whole sheet."""

    width_mm: float
    height_mm: float
    mark_mm: float
    hole_mm: float
    fields: tuple[Field, ...]
    paper_lightness: float
    grey_error: float  # relative error of the greys' reflectance that they may share

    @property
    def mark_centres_mm(self) -> FloatArray:
        """Centres of the marks: upper left, upper right, lower right, lower left."""
        a = _MARK_FROM_EDGE_MM
        w, h = self.width_mm, self.height_mm
        return np.array([[a, a], [w - a, a], [w - a, h - a], [a, h - a]])

    def label_box_mm(self, field: Field) -> tuple[float, float, float, float]:
        """Where a field's name is printed: x, y, width, height; no plain paper is looked for there."""
        step = _column_step_mm()
        left = field.x_mm - (step - field.width_mm) / 2
        return left, field.y_mm + field.height_mm + _LABEL_GAP_MM, step, _LABEL_MM


def card_sheet(
    names: Sequence[str],
    *,
    grey_lightness: Sequence[float] = GREY_LIGHTNESS,
    paper_lightness: float = PAPER_LIGHTNESS,
    grey_error: float = PRINTED_GREYS,
) -> CardSheet:
    """A sheet with a row of greys and a field for each named test card, six a row.

    Raises:
        BossageError: More than twelve cards, fewer than three or more than six greys, or greys not darker than paper.
    """
    if not 1 <= len(names) <= MOST_CARDS or len(set(names)) != len(names):
        raise BossageError(
            f"A sheet holds 1 to {MOST_CARDS} test cards of different names; it was given {len(names)}. "
            "Use a second sheet."
        )
    if not 3 <= len(grey_lightness) <= _COLUMNS_N or len(set(grey_lightness)) != len(grey_lightness):
        raise BossageError(
            f"A sheet wants 3 to {_COLUMNS_N} different greys to read a photo by; it was given {len(grey_lightness)}."
        )
    if not 0 < min(grey_lightness) < max(grey_lightness) < paper_lightness <= 100:
        raise BossageError(
            f"Greys run from L* {min(grey_lightness):g} to {max(grey_lightness):g} on paper of {paper_lightness:g}; "
            "they must lie above 0 and be darker than the paper."
        )
    step = _column_step_mm()
    left = _MARK_FROM_EDGE_MM + 3 + (step - _FIELD_MM) / 2
    greys = [
        _field(f"grey {L:g}", left + i * step, _ROWS_MM[0], grey_lightness=L) for i, L in enumerate(grey_lightness)
    ]
    cards = [
        _field(name, left + (i % _COLUMNS_N) * step, _ROWS_MM[1 + i // _COLUMNS_N]) for i, name in enumerate(names)
    ]
    return CardSheet(
        width_mm=_WIDTH_MM,
        height_mm=_HEIGHT_MM,
        mark_mm=_MARK_MM,
        hole_mm=_HOLE_MM,
        fields=(*greys, *cards),
        paper_lightness=paper_lightness,
        grey_error=grey_error,
    )


def paper_spots_mm(sheet: CardSheet, clear_mm: float = 2.6) -> FloatArray:
    """Places where only paper shows, spread over the sheet: centres of spots of 1.4 mm."""
    x, y = np.meshgrid(np.arange(4, sheet.width_mm - 3, 2.0), np.arange(4, sheet.height_mm - 3, 4.0))
    spots = np.stack([x.ravel(), y.ravel()], axis=1)
    clear = np.ones(len(spots), dtype=bool)
    half = sheet.mark_mm / 2
    boxes = [(f.x_mm, f.y_mm, f.width_mm, f.height_mm) for f in sheet.fields]
    boxes += [(cx - half, cy - half, sheet.mark_mm, sheet.mark_mm) for cx, cy in sheet.mark_centres_mm]
    for x0, y0, width, height in boxes:
        clear &= ~_within(spots, x0 - clear_mm, y0 - clear_mm, width + 2 * clear_mm, height + 2 * clear_mm)
    for field in sheet.fields:
        clear &= ~_within(spots, *sheet.label_box_mm(field))
    return spots[clear]


def _within(
    spots: FloatArray, x: float, y: float, width: float, height: float
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    inside: np.ndarray[tuple[int], np.dtype[np.bool_]] = (
        (spots[:, 0] > x) & (spots[:, 0] < x + width) & (spots[:, 1] > y) & (spots[:, 1] < y + height)
    )
    return inside


def _column_step_mm() -> float:
    return (_WIDTH_MM - 2 * _MARK_FROM_EDGE_MM - 6) / _COLUMNS_N


def _field(name: str, x_mm: float, y_mm: float, grey_lightness: float | None = None) -> Field:
    return Field(
        name=name, x_mm=x_mm, y_mm=y_mm, width_mm=_FIELD_MM, height_mm=_FIELD_MM, grey_lightness=grey_lightness
    )
