"""What is cut from board stock and how; x runs across the sheet, y along its length and its grain."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """Rectangles of one size; `turn` False where the grain must run along `length_nm`."""

    name: str
    width_nm: int
    length_nm: int
    count: int
    turn: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """One kind of board; `trim_nm` comes off each factory edge, `count` None means as many as wanted."""

    name: str
    width_nm: int
    length_nm: int
    price_cents: int
    count: int | None = None
    owned: bool = False
    trim_nm: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetJob:
    """Panels of one board material, the sheets they may come from, and the saw."""

    panels: tuple[Panel, ...]
    sheets: tuple[SheetStock, ...]
    kerf_nm: int
    orders: int = 24  # orders of placing that are tried where the exact search would be too long


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPanel:
    """One panel on its sheet, lower-left corner; sizes as it lies. `mark` is pencilled on it."""

    name: str
    mark: str = ""
    x_nm: int
    y_nm: int
    width_nm: int
    length_nm: int
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCut:
    """One cut from edge to edge of the board in hand, in the order of sawing.

    `along` y is a rip along the length at x = `at_nm`; along x a crosscut at y = `at_nm`. The kerf follows `at_nm`
    (for a trim of a near edge it lies before it). The board in hand is given by its corners.
    """

    number: int
    along: Literal["x", "y"]
    at_nm: int
    board: tuple[int, int, int, int]  # x from, y from, x to, y to
    trim: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOffcut:
    """A rectangle that is left."""

    x_nm: int
    y_nm: int
    width_nm: int
    length_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheet:
    """One sheet with its panels, cuts in order, and what is left."""

    stock: SheetStock
    number: int
    panels: tuple[PlacedPanel, ...]
    cuts: tuple[SheetCut, ...]
    offcuts: tuple[SheetOffcut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """Every panel out of its sheet by guillotine cuts, with the proof."""

    sheets: tuple[CutSheet, ...]
    money_cents: int
    bound_cents: int
    bound_sheets: int
    proven: bool
    why_proven: str
    # panel, sheet, how many, one more proven impossible; only for panels that go few to a sheet
    most_per_sheet: tuple[tuple[str, str, int, bool], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCure:
    """The cheapest way out found: so many more of a sheet that runs out, or one at least as large as `sheet` is."""

    sheet: SheetStock
    count: int
    larger: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetShortfall:
    """The sheets do not suffice: what fits no sheet at all, or what stays uncut; and the cheapest way out found."""

    too_big: tuple[Panel, ...]
    missing: tuple[Panel, ...]
    proven: bool
    cure: SheetCure | None = None
