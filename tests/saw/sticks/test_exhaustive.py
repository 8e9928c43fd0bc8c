"""Tiny jobs against exhaustive search that shares no code: money, then settings, then sticks, then the longest rest."""

from __future__ import annotations

import random
from itertools import product

import pytest

from bossage.saw import Piece, SawJob, SawPlan, StickStock, plan_sticks
from bossage.saw.job.contents import rank
from bossage.saw.job.numbers import build_core
from bossage.saw.settings.fewest import fewest_settings
from tests.saw.sticks import checker as stick_checker

MM = 1_000_000


def tiny(seed):
    rng = random.Random(seed)
    kerf = rng.choice([0, 2, 3])
    types = rng.sample(range(12, 60), rng.randint(1, 3))
    pieces = [(l_mm, rng.randint(1, 3 if len(types) > 2 else 4)) for l_mm in types]
    sticks = []
    for k in range(rng.randint(1, 2)):
        length = rng.randint(65, 190)
        knot = rng.random() < 0.25
        a = rng.randint(20, length - 30)
        sticks.append((f"s{k}", length, rng.choice([0, 3, 5, 5, 7]) if k else rng.randint(3, 9), knot and (a, a + 8)))
    return kerf, pieces, sticks


def exhaustive(kerf, pieces, sticks, trim, stub):
    """Best (money, Σ(k−1) over sticks of k lengths, sticks, −rest) by trying every filling of every stick in turn."""
    demand = tuple(n for _, n in pieces)
    patterns = []
    for name, length, price, zone in sticks:
        if zone:
            a, b = zone
            spans = [(trim, min(a + kerf, b, length - stub) - trim), (b, length - stub - b)]
            spans = [(at, cap) for at, cap in spans if cap > 0]
        else:
            spans = [(trim, length - stub - trim)]
        seen = {}
        per_span = []
        for _, cap in spans:
            per_span.append(
                [
                    c
                    for c in product(*(range(n + 1) for n in demand))
                    if sum(k * (l_mm + kerf) for k, (l_mm, _) in zip(c, pieces, strict=True)) <= cap
                ]
            )
        for parts in product(*per_span):
            total = tuple(map(sum, zip(*parts, strict=True)))
            if not any(total) or any(t > n for t, n in zip(total, demand, strict=True)):
                continue
            last = max(s for s, c in enumerate(parts) if any(c))
            used = sum(k * (l_mm + kerf) for k, (l_mm, _) in zip(parts[last], pieces, strict=True))
            rest = length - spans[last][0] - used
            seen[total] = max(seen.get(total, -1), rest)
        patterns += [(price, name, total, rest) for total, rest in seen.items()]
    memo = {}

    def best(left):
        if not any(left):
            return {(0, 0, 0): 0}
        if left in memo:
            return memo[left]
        out = {}
        first = next(i for i, n in enumerate(left) if n)
        for price, _, total, rest in patterns:
            if not total[first] or any(t > n for t, n in zip(total, left, strict=True)):
                continue
            for (money, extra, count), longest in best(tuple(n - t for n, t in zip(left, total, strict=True))).items():
                key = (money + price, extra + sum(t > 0 for t in total) - 1, count + 1)
                out[key] = max(out.get(key, -1), rest, longest)
        if out:
            low = min(money for money, _, _ in out)
            out = {k: v for k, v in out.items() if k[0] == low}
        memo[left] = out
        return out

    found = best(demand)
    if not found:
        return None
    key = min(found)
    return (*key, -found[key])


@pytest.mark.parametrize("block", range(16))
def test_tiny_jobs_agree_with_exhaustive_search(block):
    for seed in range(block * 20, block * 20 + 20):
        kerf, pieces, sticks = tiny(seed)
        trim, stub = seed % 5, (seed * 7) % 20
        job = SawJob(
            pieces=tuple(Piece(length_nm=l_mm * MM, count=n) for l_mm, n in pieces),
            sticks=tuple(
                StickStock(
                    name=name,
                    length_nm=length * MM,
                    price_cents=price,
                    trim_nm=trim * MM,
                    stub_nm=stub * MM,
                    no_go=((zone[0] * MM, zone[1] * MM),) if zone else (),
                )
                for name, length, price, zone in sticks
            ),
            kerf_nm=kerf * MM,
        )
        plan = plan_sticks(job, advise=False)
        want = exhaustive(kerf, pieces, sticks, trim, stub)
        if want is None:
            assert not isinstance(plan, SawPlan), seed
            continue
        assert isinstance(plan, SawPlan), (seed, want)
        assert not stick_checker.faults(job, plan), seed
        extra = sum(len({s.length_nm for s in cut.slices}) - 1 for cut in plan.sticks)
        rest = max(cut.offcut_nm for cut in plan.sticks) // MM
        assert (plan.money_cents, extra, len(plan.sticks), -rest) == want, seed
        assert plan.proven, seed


def tight(seed):
    """Sticks that the slices fill to the last millimetre or nearly: the fewest settings are hard to come by."""
    rng = random.Random(seed)
    lengths = rng.sample(range(11, 40), rng.randint(3, 4))
    demand = dict.fromkeys(lengths, 0)
    sticks = []
    for k in range(rng.randint(2, 3)):
        held = rng.choices(lengths, k=rng.randint(2, 4))
        for l_mm in held:
            demand[l_mm] += 1
        sticks.append((f"s{k}", sum(held) + rng.choice([0, 0, 1]), sum(held), False))
    return [(l_mm, n) for l_mm, n in demand.items() if n], sticks


@pytest.mark.parametrize("block", range(4))
def test_the_fewest_settings_of_tight_jobs_are_bounded_and_found(block):
    proven = 0
    for seed in range(block * 20, block * 20 + 20):
        pieces, sticks = tight(seed)
        job = SawJob(
            pieces=tuple(Piece(length_nm=l_mm * MM, count=n) for l_mm, n in pieces),
            sticks=tuple(
                StickStock(name=n, length_nm=length * MM, price_cents=price) for n, length, price, _ in sticks
            ),
            kerf_nm=0,
        )
        money, extra, _, _ = exhaustive(0, pieces, sticks, 0, 0)
        core = build_core(job)
        found = fewest_settings(core, money, extra + 2, 1_000_000)
        assert found.least <= extra, seed
        if found.filled is not None:
            assert rank(core, found.filled)[0] >= extra, seed
            proven += rank(core, found.filled)[0] == found.least == extra
    assert proven >= 15
