"""Time and cost of the fade: 10^5 blocks, and a plain assignment on sizes where that finishes.

Run: `python bench/fade.py`. The bar: 10^5 blocks in under a second, along a path, in free families and in bands. Beside
the clock stands the processor's own time (on a busy machine the clock tells of the others), and a plain random draw of
the same counts, which no way of strewing shades can beat.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from scipy.optimize import linear_sum_assignment

from bossage.colour.field import FadeShape, FamilyPlace, spread_shades
from bossage.colour.homes import Home, HomeKind
from bossage.colour.measures import measure_fade
from bossage.colour.quotas import assign_by_counts, even_counts

SECONDS_MOST = 1.0
FAMILIES = [
    FamilyPlace(shades_n=4, home=Home(kind=HomeKind.CORNER, x=0, y=0)),
    FamilyPlace(shades_n=4, home=Home(kind=HomeKind.POINT, x=0.8, y=0.2)),
    FamilyPlace(shades_n=4, home=Home(kind=HomeKind.CORNER, x=1, y=1)),
]


def main() -> int:
    """Print both tables."""
    print(
        f"{'blocks':>8} {'shape':8}{'s':>8}{'processor s':>13}{'random draw s':>15}"
        f"{'banding':>9}{'figure':>8}{'usual':>7}"
    )
    slowest = 0.0
    for columns, rows in ((14, 10), (36, 24), (64, 64), (400, 250)):
        x, y = np.meshgrid(np.arange(columns), np.arange(rows))
        centres = np.stack([x.ravel(), y.ravel()], axis=1).astype(np.float64) * 60
        i = np.arange(columns * rows).reshape(rows, columns)
        edges = np.concatenate(
            [np.stack([i[:, 1:].ravel(), i[:, :-1].ravel()], 1), np.stack([i[1:].ravel(), i[:-1].ravel()], 1)]
        )
        for shape in (FadeShape.PATH, FadeShape.FREE, FadeShape.BANDS):
            seconds = own = plain = float("inf")
            for _ in range(3):  # the best of three: what else runs on the machine is not the fade's
                start, busy = time.perf_counter(), time.process_time()
                fade = spread_shades(centres, FAMILIES, seed=1, shape=shape)
                seconds, own = min(seconds, time.perf_counter() - start), min(own, time.process_time() - busy)
                start = time.perf_counter()
                np.random.default_rng(1).permutation(np.repeat(np.arange(12), even_counts(len(centres), 12)))
                plain = min(plain, time.perf_counter() - start)
            slowest = max(slowest, seconds)
            m = measure_fade(fade.shade, fade.off, edges)
            print(
                f"{len(centres):8} {shape:8}{seconds:8.3f}{own:13.3f}{plain:15.4f}"
                f"{m.banding:9.2f}{m.stray_patch:8}{m.stray_patch_usual:7}"
            )
    print(f"\n{'blocks':>8}{'ours s':>9}{'plain s':>9}{'cost ours':>11}{'cost plain':>11}")
    for n in (200, 500, 1000, 2000):
        rng = np.random.default_rng(n)
        cost = (rng.random(n)[:, None] * 11 - np.arange(12)) ** 2 + rng.random((n, 12))
        counts = even_counts(n, 12)
        start = time.perf_counter()
        ours = float(cost[np.arange(n), assign_by_counts(cost, counts)].sum())
        middle = time.perf_counter()
        slots = cost[:, np.repeat(np.arange(12), counts)]
        row, column = linear_sum_assignment(slots)
        end = time.perf_counter()
        plain = float(slots[row, column].sum())
        print(f"{n:8}{middle - start:9.4f}{end - middle:9.3f}{ours:11.4f}{plain:11.4f}")
    return int(slowest > SECONDS_MOST)


if __name__ == "__main__":
    sys.exit(main())
