"""Contents by an integer program: what is proven of a price is its own cost, and never more than what is paid."""

from __future__ import annotations

import math
from itertools import product

import pytest

from bossage.saw import Piece, SawJob, StickStock
from bossage.saw.contents.exact import Exact, place_exactly
from bossage.saw.job.numbers import Core, build_core

WORK = 5.0


def core_of(lengths: dict[int, int], sticks: list[tuple[int, int]]) -> Core:
    """A kerf of 3, slices by length with their count, sticks by length with their price."""
    return build_core(
        SawJob(
            pieces=tuple(Piece(length_nm=length, count=count) for length, count in lengths.items()),
            sticks=tuple(
                StickStock(name=f"stick {k}", length_nm=length, price_cents=price, count=9)
                for k, (length, price) in enumerate(sticks)
            ),
            kerf_nm=3,
        )
    )


def cost_of(core: Core, found: Exact) -> int:
    """Price of the sticks that hold a slice."""
    assert found.filled is not None
    held = zip(found.filled.bins, found.filled.spans, strict=True)
    return sum(core.bins[b].price for b, stick in held if any(any(span) for span in stick))


def cheapest(lengths: dict[int, int], sticks: list[tuple[int, int]]) -> int:
    """Least price by hand: every way to deal the slices to sticks, three sticks of each kind."""
    slices = [length + 3 for length, count in lengths.items() for _ in range(count)]
    bought = [stick for stick in sticks for _ in range(3)]
    best = math.inf
    for dealt in product(range(len(bought)), repeat=len(slices)):
        load = [0] * len(bought)
        for width, k in zip(slices, dealt, strict=True):
            load[k] += width
        if all(used <= room for used, (room, _) in zip(load, bought, strict=True)):
            best = min(best, sum(price for used, (_, price) in zip(load, bought, strict=True) if used))
    assert best < math.inf
    return int(best)


JOBS = [
    ({60: 3, 40: 2}, [(130, 7)]),
    ({60: 3, 40: 2}, [(130, 7), (70, 4)]),
    ({97: 2, 45: 3}, [(150, 11), (100, 6)]),
]


@pytest.mark.parametrize(("lengths", "sticks"), JOBS)
def test_the_bound_of_an_optimal_filling_is_its_cost(lengths, sticks):
    core = core_of(lengths, sticks)
    found = place_exactly(core, 0, math.inf, 10_000, WORK, 1)
    assert found.optimal
    assert not found.impossible
    assert found.bound == cost_of(core, found) == cheapest(lengths, sticks)


@pytest.mark.parametrize(("lengths", "sticks"), JOBS)
def test_a_proof_never_claims_more_than_the_least_price(lengths, sticks):
    core, least = core_of(lengths, sticks), cheapest(lengths, sticks)
    # so little patience that some of these end without a proof
    for work in (1e-6, 1e-4, 1e-3, WORK):
        assert place_exactly(core, 0, math.inf, 10_000, work, 1).bound <= least
    # one cent dearer is undercut; the least price itself is not, and so it is the bound
    assert place_exactly(core, 0, least + 1, 10_000, WORK, 1).bound == least
    beaten = place_exactly(core, 0, least, 10_000, WORK, 1)
    assert (beaten.filled, beaten.bound, beaten.impossible) == (None, least, False)
