"""Hours of the job: minutes a block, fixed hours, and repeats that go quicker."""

from __future__ import annotations

from bossage.brief.records import Rates
from bossage.costing.records import StepHours


def step_hours(rates: Rates, paint_min: float, blocks_per_copy: int, copies: int) -> tuple[StepHours, ...]:
    """Hours by step over all copies, each copy at its share of the first (`repeat_shares`).

    `paint_min` are the minutes a block that the way of painting takes; the brief's own stand before them.
    """
    shares = sum(repeat_shares(rates, copies))
    steps = {
        "saw": rates.saw_min,
        "break edges and sand": rates.sand_min,
        "prime and paint": paint_min if rates.paint_min is None else rates.paint_min,
        "lay": rates.lay_min,
        "glue": rates.glue_min,
    }
    return tuple(
        StepHours(step=step, minutes_per_block=minutes, hours=minutes * blocks_per_copy / 60 * shares)
        for step, minutes in steps.items()
    )


def minutes_per_block(rates: Rates, paint_min: float) -> float:
    """Minutes that one block takes from saw to glue."""
    return sum(step.minutes_per_block for step in step_hours(rates, paint_min, 1, 1))


def repeat_shares(rates: Rates, copies: int) -> tuple[float, ...]:
    """Share of the first copy's time that each copy takes: so many percent less each time, down to a floor."""
    floor = rates.repeat_floor_pct / 100
    return tuple(max(1 - rates.repeat_step_pct / 100 * number, floor) for number in range(copies))


def compounded_shares(rates: Rates, copies: int) -> tuple[float, ...]:
    """The same if each discount were taken off the copy before; shown for comparison only."""
    floor = rates.repeat_floor_pct / 100
    return tuple(max((1 - rates.repeat_step_pct / 100) ** number, floor) for number in range(copies))
