"""Planted optima: full sticks split at random, so that their number is the optimum; and laws of the walk."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from bossage.saw import Patience, Piece, SawJob, SawPlan, StickStock, plan_sticks
from bossage.saw.job.contents import paid, rank
from bossage.saw.job.numbers import build_core
from bossage.saw.money.search import solve
from bossage.saw.settings.search import finish
from tests.saw.sticks import checker as stick_checker

MONEY_ONLY = Patience(settings_steps=0, settings_work=0.0)


def full_sticks(seed: int, sticks: int, length: int, kerf: int) -> Counter[int]:
    """Slices that, kerfs with them, fill so many sticks without any waste."""
    rng = random.Random(seed)
    menu = rng.sample(range(length // 12, length // 3), 7)
    cut: Counter[int] = Counter()
    for _ in range(sticks):
        left = length
        while left > length // 2:
            part = rng.choice(menu)
            cut[part - kerf] += 1
            left -= part
        cut[left - kerf] += 1
    return cut


@pytest.mark.parametrize("seed", range(12))
def test_sticks_without_waste_are_found_again(seed: int) -> None:
    sticks, kerf = 6 + seed, seed % 4
    cut = full_sticks(seed, sticks, 1000, kerf)
    job = SawJob(
        pieces=tuple(Piece(length_nm=l_nm, count=n) for l_nm, n in cut.items()),
        sticks=(StickStock(name="s", length_nm=1000, price_cents=7),),
        kerf_nm=kerf,
        patience=MONEY_ONLY,
    )
    plan = plan_sticks(job, advise=False)
    assert isinstance(plan, SawPlan)
    assert (len(plan.sticks), plan.money_cents, plan.proven) == (sticks, 7 * sticks, True)
    assert plan.need_nm == plan.usable_nm
    assert not stick_checker.faults(job, plan)


@pytest.mark.parametrize("seed", range(6))
def test_the_walk_keeps_the_money_and_every_slice_and_never_adds_a_setting(seed: int) -> None:
    rng = random.Random(seed)
    lengths = rng.sample(range(12, 70), 6)
    job = SawJob(
        pieces=tuple(Piece(length_nm=1000 * l_mm, count=rng.randint(20, 50)) for l_mm in lengths),
        sticks=(
            StickStock(name="new", length_nm=2_400_000, price_cents=1450, stub_nm=150_000),
            StickStock(name="knotty", length_nm=1_800_000, price_cents=700, count=1, no_go=((700_000, 730_000),)),
            *(StickStock(name=f"o{k}", length_nm=1000 * rng.randint(300, 900), price_cents=0, count=1) for k in "abc"),
        ),
        kerf_nm=2_500,
    )
    core = build_core(job)
    solved = solve(core, job.patience, seed)
    assert solved.filled is not None
    done = finish(core, solved.filled, Patience(settings_steps=600, settings_work=0.0), seed).filled
    assert rank(core, done) <= rank(core, solved.filled)
    assert paid(core.bins, done) == paid(core.bins, solved.filled)
    for i, wanted in enumerate(core.demand):
        assert sum(span[i] for stick in done.spans for span in stick) == wanted
    for b, stick in zip(done.bins, done.spans, strict=True):
        for cap, span in zip(core.bins[b].caps, stick, strict=True):
            assert sum(w * n for w, n in zip(core.widths, span, strict=True)) <= cap


@pytest.mark.parametrize("seed", range(4))
def test_lengths_of_no_common_measure_are_bounded_as_well(seed: int) -> None:
    # to the nanometre, so that prices of patterns are looked for in rounded widths
    sticks, kerf, length = 5 + seed, 3_175_001, 2_438_400_007
    cut = full_sticks(seed, sticks, length, kerf)
    job = SawJob(
        pieces=tuple(Piece(length_nm=l_nm, count=n) for l_nm, n in cut.items()),
        sticks=(StickStock(name="s", length_nm=length, price_cents=7),),
        kerf_nm=kerf,
        patience=MONEY_ONLY,
    )
    plan = plan_sticks(job, advise=False)
    assert isinstance(plan, SawPlan)
    assert plan.money_cents >= 7 * sticks
    assert plan.proven == (plan.bound_cents == plan.money_cents)
    assert not stick_checker.faults(job, plan)
    # the slices fill the sticks, so the wood alone asks for as many
    assert plan.bound_cents == 7 * sticks
