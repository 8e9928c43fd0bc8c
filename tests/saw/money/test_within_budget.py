"""Patterns that a plan within a budget can use, against every pattern that goes into a stick."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from bossage.saw.job.numbers import Bin
from bossage.saw.money.records import Pattern, Worths
from bossage.saw.money.within_budget import choose_patterns, patterns_within

WIDTHS, DEMAND = np.array([503, 297, 200]), np.array([2, 2, 2])
STICK = Bin(stock=0, caps=(1000,), price=1000, count=9, fill=1000)
CELLS = 4 * 1001  # of a table that is not rounded


def listed(budget: int) -> set[tuple[int, ...]]:
    # A length is worth what it is long, so what a pattern is worth less than its stick is the waste.
    worths = Worths(types=WIDTHS.astype(float), tolls=np.zeros(1), value=2000.0)
    patterns = patterns_within([STICK], [None], WIDTHS, DEMAND, worths, budget, most=100, states=1000)
    assert patterns is not None
    return {pattern.spans[0] for pattern in patterns}


def wasting_at_most(waste: int) -> set[tuple[int, ...]]:
    loads = {counts: int(WIDTHS @ counts) for counts in product(range(3), repeat=3)}
    return {counts for counts, load in loads.items() if load and 1000 - waste <= load <= 1000}


@pytest.mark.parametrize("waste", [0, 6, 203, 999])
def test_patterns_that_waste_no_more_than_the_budget_leaves_are_listed(waste: int) -> None:
    assert listed(2000 + waste) == wasting_at_most(waste)


@pytest.mark.parametrize("cells", [CELLS - 1, 1000, 100])
def test_a_table_too_large_is_made_of_coarser_widths_and_misses_no_pattern(
    monkeypatch: pytest.MonkeyPatch, cells: int
) -> None:
    monkeypatch.setattr("bossage.saw.money.within_budget.MOST_CELLS", cells)
    monkeypatch.setattr("bossage.saw.whole.knapsack.MOST_CELLS", cells)
    for waste in (0, 6, 203, 999):
        assert wasting_at_most(waste) <= listed(2000 + waste) <= wasting_at_most(999)


def test_the_program_over_the_list_finds_a_plan_or_that_there_is_none() -> None:
    patterns = [Pattern(0, (counts,)) for counts in sorted(wasting_at_most(999))]
    two = choose_patterns([STICK], [None], DEMAND, patterns, 2000, nodes=100)
    assert two.chosen == ((Pattern(0, ((1, 1, 1),)), 2),)
    assert choose_patterns([STICK], [None], DEMAND, patterns, 1999, nodes=100).verdict == "none"
    assert choose_patterns([STICK], [1], DEMAND, patterns, 9000, nodes=100).verdict == "none"
