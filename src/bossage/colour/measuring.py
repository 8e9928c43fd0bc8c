"""What paint is measured out with: for each amount a tool, how often it is filled, and how far that may be off.

No tool measures 190 mL to a tenth: a small syringe has fine marks and would be filled two hundred times, a cylinder is
filled twice and has coarse ones. An amount is rounded to the marks of its own tool, and its error is that tool's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, sqrt
from typing import Final

import numpy as np

from bossage.errors import BossageError

MOST_FILLS: Final = 3
"""A tool is filled so often for one amount, and no more; then the next larger one is taken (our own rule)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A measuring tool."""

    name: str  # `10 mL syringe`
    holds_ml: float
    mark_ml: float
    error_ml: float  # of one fill


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """An amount as it is measured out."""

    ml: float  # a whole number of the tool's marks
    tool: Measure
    fills: int
    error_ml: float  # of all fills, each off on its own


SHELF: Final = (
    Measure(name="10 mL syringe", holds_ml=10.0, mark_ml=0.5, error_ml=0.25),
    Measure(name="100 mL cylinder", holds_ml=100.0, mark_ml=1.0, error_ml=1.0),
    Measure(name="500 mL cylinder", holds_ml=500.0, mark_ml=5.0, error_ml=5.0),
    Measure(name="1000 mL cylinder", holds_ml=1000.0, mark_ml=10.0, error_ml=10.0),
)
"""Tools beside the finest one. Syringes within half a mark, which is within ISO 7886-1 (4 % of what is expelled from
half full on); cylinders within one mark, class B of ISO 4788; both standards from memory. What clings to a tool is not
counted: a syringe is wiped outside and emptied whole, a cylinder is scraped out."""


def measures_of(finest_ml: float) -> tuple[Measure, ...]:
    """The finest tool of the shop, then those of the shelf that hold more, none with finer marks than it.

    Args:
        finest_ml: The least that the maker can measure out (`tools.measure`): the marks of a small syringe.

    Raises:
        BossageError: It is not above 0.
    """
    if not finest_ml > 0:
        raise BossageError(
            f"The measuring resolution is {finest_ml:g} mL; give what the syringe, spoon or scale can tell, such as "
            "0.1."
        )
    holds_ml = max(1.0, 10 * finest_ml)
    finest = Measure(name=f"{holds_ml:g} mL syringe", holds_ml=holds_ml, mark_ml=finest_ml, error_ml=finest_ml / 2)
    return (finest, *(tool for tool in SHELF if tool.holds_ml > holds_ml and tool.mark_ml >= finest_ml))


def measured(ml: float, tools: Sequence[Measure], *, up: bool = False) -> Measured:
    """An amount by the first tool that holds it in a few fills, rounded to its marks; the last tool takes any amount.

    Args:
        ml: What is wanted.
        tools: Smallest first.
        up: Round up: for what may not run short.
    """
    tool = next((one for one in tools if ml <= MOST_FILLS * one.holds_ml), tools[-1])
    marks = ml / tool.mark_ml
    # A hair of slack, so that 5.000000001 is not taken for more than 5.
    rounded = float(np.ceil(marks - 1e-9) if up else np.rint(marks)) * tool.mark_ml
    fills = max(1, ceil(rounded / tool.holds_ml - 1e-9))
    return Measured(ml=rounded, tool=tool, fills=fills, error_ml=tool.error_ml * sqrt(fills))
