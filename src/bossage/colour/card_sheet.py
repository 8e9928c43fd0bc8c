"""The sheet that test cards are laid on for a photo: marks to find it by, greys to read it by, fields for cards.

White paper with a black square in each corner, the upper left one with a white hole, so that a photo shows which way is
up. Positions are millimetres from the sheet's upper left corner, x to the right and y down, as in a photo.
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
_WIDTH_MM, _HEIGHT_MM = 180.0, 116.0
_MARK_MM, _HOLE_MM, _MARK_FROM_EDGE_MM = 9.0, 4.0, 9.0
_FIELD_MM, _COLUMNS_N, _ROWS_N = 20.0, 6, 2


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

    @property
    def mark_centres_mm(self) -> FloatArray:
        """Centres of the marks: upper left, upper right, lower right, lower left."""
        a = _MARK_FROM_EDGE_MM
        w, h = self.width_mm, self.height_mm
        return np.array([[a, a], [w - a, a], [w - a, h - a], [a, h - a]])


def card_sheet(
    names: Sequence[str],
    *,
    grey_lightness: Sequence[float] = GREY_LIGHTNESS,
    paper_lightness: float = PAPER_LIGHTNESS,
) -> CardSheet:
    """A sheet with a row of greys and a field for each named test card, six a row.

    Raises:
        BossageError: More than twelve cards, or fewer than three or more than six greys.
    """
    if not 1 <= len(names) <= _COLUMNS_N * _ROWS_N or len(set(names)) != len(names):
        raise BossageError(
            f"A sheet holds 1 to {_COLUMNS_N * _ROWS_N} test cards of different names; it was given {len(names)}. "
            "Use a second sheet."
        )
    if not 3 <= len(grey_lightness) <= _COLUMNS_N:
        raise BossageError(
            f"A sheet wants 3 to {_COLUMNS_N} greys to read a photo by; it was given {len(grey_lightness)}."
        )
    step = (_WIDTH_MM - 2 * _MARK_FROM_EDGE_MM - 6) / _COLUMNS_N
    left = _MARK_FROM_EDGE_MM + 3 + (step - _FIELD_MM) / 2
    rows = [16.0, 47.0, 78.0]
    greys = [_field(f"grey {L:g}", left + i * step, rows[0], grey_lightness=L) for i, L in enumerate(grey_lightness)]
    cards = [_field(name, left + (i % _COLUMNS_N) * step, rows[1 + i // _COLUMNS_N]) for i, name in enumerate(names)]
    return CardSheet(
        width_mm=_WIDTH_MM,
        height_mm=_HEIGHT_MM,
        mark_mm=_MARK_MM,
        hole_mm=_HOLE_MM,
        fields=(*greys, *cards),
        paper_lightness=paper_lightness,
    )


def paper_spots_mm(sheet: CardSheet, clear_mm: float = 3.0) -> FloatArray:
    """Places where only paper shows, spread over the sheet: centres of spots of 2 mm."""
    x, y = np.meshgrid(np.arange(5, sheet.width_mm - 4, 5.0), np.arange(5, sheet.height_mm - 4, 5.0))
    spots = np.stack([x.ravel(), y.ravel()], axis=1)
    clear = np.ones(len(spots), dtype=bool)
    half = sheet.mark_mm / 2
    boxes = [(f.x_mm, f.y_mm, f.x_mm + f.width_mm, f.y_mm + f.height_mm) for f in sheet.fields]
    boxes += [(cx - half, cy - half, cx + half, cy + half) for cx, cy in sheet.mark_centres_mm]
    for x0, y0, x1, y1 in boxes:
        clear &= ~(
            (spots[:, 0] > x0 - clear_mm)
            & (spots[:, 0] < x1 + clear_mm)
            & (spots[:, 1] > y0 - clear_mm)
            & (spots[:, 1] < y1 + clear_mm)
        )
    return spots[clear]


def _field(name: str, x_mm: float, y_mm: float, grey_lightness: float | None = None) -> Field:
    return Field(
        name=name, x_mm=x_mm, y_mm=y_mm, width_mm=_FIELD_MM, height_mm=_FIELD_MM, grey_lightness=grey_lightness
    )
