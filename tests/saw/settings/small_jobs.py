"""Small jobs that just fit their sticks, and the fewest settings that each needs, by trying everything."""

from __future__ import annotations

import random
from itertools import product

from bossage.saw import Piece, SawJob, StickStock
from bossage.saw.job.numbers import Core, build_core


def small_core(seed: int) -> Core:
    """Two to four sticks at a price of 1 each, two to four lengths that fill them all but for a little."""
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
    return build_core(job)


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
