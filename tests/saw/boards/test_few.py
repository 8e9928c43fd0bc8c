"""Tiny sheet jobs against exhaustive search that shares no code: every edge-to-edge cut at every whole millimetre."""

from __future__ import annotations

import random
from functools import cache

import pytest

from bossage.saw import Panel, SheetJob, SheetPlan, SheetStock, plan_sheets
from tests.saw.boards import checker as sheet_checker

MM = 1_000_000


def tiny(seed):
    rng = random.Random(seed)
    items = [(rng.randint(4, 18), rng.randint(4, 18), rng.random() < 0.6) for _ in range(rng.randint(1, 4))]
    sheets = [
        (rng.randint(14, 26), rng.randint(14, 26), rng.choice([2, 3, 5]), rng.choice([1, 4]), rng.choice([0, 0, 1]))
        for _ in range(rng.randint(1, 2))
    ]
    return items, sheets, rng.choice([0, 1, 2])


def cheapest(items, sheets, kerf):
    """Least money, then fewest sheets, over every sharing-out of the panels; None when they cannot all be cut."""

    @cache
    def cuts(part, w, h):
        if not part:
            return True
        if w <= 0 or h <= 0:
            return False
        if len(part) == 1:
            a, b, turn = items[part[0]]
            return (a <= w and b <= h) or (turn and b <= w and a <= h)
        for mask in range(1, 2 ** len(part) - 1):
            one = tuple(i for k, i in enumerate(part) if mask >> k & 1)
            two = tuple(i for i in part if i not in one)
            if any(cuts(one, x, h) and cuts(two, w - x - kerf, h) for x in range(1, w - kerf)):
                return True
            if any(cuts(one, w, y) and cuts(two, w, h - y - kerf) for y in range(1, h - kerf)):
                return True
        return False

    best = None

    def share(left, counts, money, number):
        nonlocal best
        if best is not None and (money, number) >= best:
            return
        if not left:
            best = (money, number)
            return
        for s, (w, h, price, _, trim) in enumerate(sheets):
            if not counts[s]:
                continue
            fewer = tuple(n - (k == s) for k, n in enumerate(counts))
            for mask in range(2 ** (len(left) - 1)):
                part = (left[0], *(i for k, i in enumerate(left[1:]) if mask >> k & 1))
                if cuts(part, w - 2 * trim, h - 2 * trim):
                    share(tuple(i for i in left if i not in part), fewer, money + price, number + 1)

    share(tuple(range(len(items))), tuple(n for *_, n, _ in sheets), 0, 0)
    return best


@pytest.mark.parametrize("block", range(4))
def test_tiny_sheet_jobs_agree_with_exhaustive_search(block):
    told = 0
    for seed in range(block * 40, block * 40 + 40):
        items, sheets, kerf = tiny(seed)
        job = SheetJob(
            panels=tuple(
                Panel(name=f"p{k}", width_nm=w * MM, length_nm=h * MM, count=1, turn=turn)
                for k, (w, h, turn) in enumerate(items)
            ),
            sheets=tuple(
                SheetStock(
                    name=f"s{k}", width_nm=w * MM, length_nm=h * MM, price_cents=price, count=count, trim_nm=trim * MM
                )
                for k, (w, h, price, count, trim) in enumerate(sheets)
            ),
            kerf_nm=kerf * MM,
        )
        plan, want = plan_sheets(job), cheapest(items, sheets, kerf)
        if want is None:
            assert not isinstance(plan, SheetPlan), seed
            assert plan.proven, seed
            continue
        assert isinstance(plan, SheetPlan), (seed, want)
        assert not sheet_checker.faults(job, plan), seed
        assert (plan.money_cents, len(plan.sheets)) == want, seed
        assert plan.proven, seed
        told += 1
    assert told >= 15
