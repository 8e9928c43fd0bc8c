"""The fewest settings by halves of the sticks, beside every way to fill each stick in turn."""

from __future__ import annotations

import random
from itertools import product

import pytest

from bossage.saw import Piece, SawJob, StickStock
from bossage.saw.job.numbers import build_core
from bossage.saw.settings.halves import Halves
from bossage.saw.settings.peeling import Work


def fewest(widths: tuple[int, ...], demand: tuple[int, ...], caps: list[int]) -> int | None:
    """Fewest lengths beyond the first of each stick, by trying every filling of every stick."""
    if not caps:
        return None if any(demand) else 0
    best = None
    for held in product(*(range(n + 1) for n in demand)):
        if sum(n * w for n, w in zip(held, widths, strict=True)) > caps[0]:
            continue
        rest = fewest(widths, tuple(n - h for n, h in zip(demand, held, strict=True)), caps[1:])
        if rest is not None:
            mine = rest + max(0, sum(h > 0 for h in held) - 1)
            best = mine if best is None else min(best, mine)
    return best


@pytest.mark.parametrize("block", range(4))
def test_halves_find_the_fewest_settings_and_none_below(block: int) -> None:
    for seed in range(block * 15, block * 15 + 15):
        rng = random.Random(seed)
        lengths = rng.sample(range(7, 30), rng.randint(2, 4))
        caps, pieces = [], []
        for _ in range(rng.randint(2, 4)):
            held = rng.choices(lengths, k=rng.randint(1, 3))
            pieces += held
            caps.append(sum(held) + rng.choice([0, 0, 1, 4]))
        job = SawJob(
            pieces=tuple(Piece(length_nm=w, count=pieces.count(w)) for w in lengths if w in pieces),
            sticks=tuple(StickStock(name=f"{k}", length_nm=cap, price_cents=1, count=1) for k, cap in enumerate(caps)),
            kerf_nm=0,
        )
        core = build_core(job)
        scale = [b.caps for b in core.bins for _ in range(b.count)]
        truth = fewest(core.widths, core.demand, [sum(c) for c in scale])
        halves = Halves(core, scale, Work(1_000_000))
        for settings in range(truth + 1):
            found = halves.with_settings(settings)
            if settings < truth:
                assert found is None, seed
                assert not halves.unsure, seed
        assert found is not None, seed
        assert [sum(row[i] for _, row in found) for i in range(len(core.demand))] == list(core.demand), seed
        assert sum(max(0, sum(n > 0 for n in row) - 1) for _, row in found) == truth, seed
        assert all(sum(n * w for n, w in zip(row, core.widths, strict=True)) <= sum(c) for c, row in found), seed
