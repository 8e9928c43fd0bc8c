"""Rows of paint, movement, hours, money and crew."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from bossage.paint.records import CountedPaint
from bossage.units import NM_PER_IN
from tests.scenarios.cases import plan_of

Row = Callable[[str], Any]


def cents(value: int | None) -> Any:
    from fractions import Fraction

    assert value is not None
    return Fraction(value, 100)


def movement(footprint: str) -> Row:
    """Movement across the grain of the width that the row names, in the scenario's unit."""

    def row(scenario: str) -> float:
        plan = plan_of(scenario)
        moved_mm = plan.press.figures[f"move.{footprint}_mm"]
        return moved_mm if plan.brief.piece.unit == "mm" else moved_mm * 1e6 / NM_PER_IN

    return row


def quote(name: str) -> Row:
    return lambda s: cents(getattr(plan_of(s).cost.quote, f"{name}_cents"))


def counted(scenario: str) -> CountedPaint:
    found = plan_of(scenario).paint.counted
    assert found is not None
    return found


def big_per_leaf(scenario: str) -> int:
    blocks = plan_of(scenario).layout.blocks
    return int(np.bincount(blocks.leaf[blocks.footprint == 0])[0])


ROWS: dict[str, Row] = {
    # The rows' own definition is faces and 0.6 of the sides up to their level: the maker's count of earlier pieces.
    "paint.area": lambda s: counted(s).painted_mm2 / 1e6,
    # ... and without the primer's reserve, which a tray and a brush keep back.
    "paint.seal": lambda s: counted(s).primer_ml / (1 + plan_of(s).brief.paint.primer_reserve),
    "paint.colour": lambda s: counted(s).colour_ml,
    "paint.per_shade": lambda s: counted(s).mean_per_shade_ml,
    **{f"move.{name}": movement(name) for name in ("big", "small", "45", "70", "95", "90", "3.5", "58", "2.5")},
    "time.hours": lambda s: plan_of(s).cost.hours,
    "time.first": lambda s: plan_of(s).cost.first_h,
    "time.series": lambda s: plan_of(s).cost.hours,
    "time.series_if_compounded": lambda s: plan_of(s).cost.if_compounded_h,
    "time.saw_hours": lambda s: next(step.hours for step in plan_of(s).cost.steps if step.step == "saw"),
    "cost.materials": lambda s: cents(plan_of(s).cost.materials_cents),
    "cost.left": lambda s: cents(plan_of(s).cost.budget_left_cents),
    **{f"quote.{name}": quote(name) for name in ("labour", "total", "each", "deposit")},
    "crew.blocks_per_pupil": lambda s: big_per_leaf(s) * len(plan_of(s).layout.leaves) // 92,
    "crew.per_leaf": lambda s: big_per_leaf(s) // 92,
}
