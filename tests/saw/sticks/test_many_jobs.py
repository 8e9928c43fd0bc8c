"""Ten thousand jobs drawn by seed, each plan re-added by a checker that shares no code with the planner."""

from __future__ import annotations

import random

import pytest

from bossage.saw import Patience, Piece, SawJob, SawPlan, Shortfall, StickStock, TimeModel, plan_sticks
from tests.saw.sticks import checker as stick_checker

JOBS, BLOCKS = 10_000, 40
MM, IN_64 = 1_000_000, 396_875
QUICK = Patience(restarts=2, mixes=2, rounds=8, dives=1, proof_work=0.05, settings_steps=20, settings_work=0.0)


def drawn(seed: int) -> SawJob:
    """A small shop's job: few lengths and pieces, one to three kinds of stick, knots, tapers, stock on the shelf."""
    rng = random.Random(seed)
    unit = rng.choice((MM, MM, IN_64))
    step = 1 if unit == MM else 4
    lengths = rng.sample(range(10 * step, 70 * step), rng.choice((1, 1, 1, 2, 2, 2, 3, 3, 4, 5)))
    pieces = []
    for length in lengths:
        count = rng.randint(1, 9)
        pieces.append(
            Piece(length_nm=length * unit, count=count, name=str(length), spares=rng.randint(0, min(2, count)))
        )
    sticks = []
    for k in range(rng.randint(1, 3)):
        length = rng.randint(250, 1200) * step
        owned = rng.random() < 0.3
        knots = []
        if rng.random() < 0.3:
            at = rng.randint(length // 8, length // 2)
            knots.append((at * unit, (at + rng.randint(1, 30 * step)) * unit))
        if rng.random() < 0.15:
            knots.append(((length - length // 6) * unit, length * unit))  # a taper at the end
        sticks.append(
            StickStock(
                name=f"s{k}",
                length_nm=length * unit,
                price_cents=0 if owned else rng.randint(0, 900),
                count=rng.randint(1, 3) if owned or rng.random() < 0.3 else None,
                owned=owned,
                trim_nm=rng.randint(0, 20) * unit,
                stub_nm=rng.randint(0, 60 * step) * unit,
                no_go=tuple(knots),
            )
        )
    time = TimeModel(
        change_s=rng.choice((1, 60, 180, 600)), load_s=rng.choice((1, 45, 300)), at_once=rng.choice((None, 1, 2, 3))
    )
    return SawJob(
        pieces=tuple(pieces),
        sticks=tuple(sticks),
        kerf_nm=rng.choice((0, 1, 2, 3)) * unit + (unit // 5 if unit == MM else 0),
        keep_offcut_nm=rng.choice((0, 300)) * unit,
        time=time,
        patience=QUICK,
        seed=seed,
    )


@pytest.mark.slow
@pytest.mark.parametrize("block", range(BLOCKS))
def test_ten_thousand_jobs_re_add(block: int) -> None:
    planned = 0
    for seed in range(block * JOBS // BLOCKS, (block + 1) * JOBS // BLOCKS):
        job = drawn(seed)
        plan = plan_sticks(job, advise=False)
        if isinstance(plan, Shortfall):
            assert plan.missing or plan.too_long, seed
            continue
        assert isinstance(plan, SawPlan)
        assert stick_checker.faults(job, plan) == [], seed
        planned += 1
    # the draw would prove little if most jobs were short of stock
    assert planned >= JOBS // BLOCKS // 2
