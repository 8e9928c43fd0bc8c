"""Every case of a sweep of fields of heights: a valid field with exact quotas, or a proof, and what each took.

python bench/relief_sweep.py [ROWSxCOLUMNS ...]     10x10 and 20x14 unless told otherwise

Levels 3 to 9, least steps of 1 to 3, four or eight neighbours, a third of the blocks pinned or none, whole fields,
fields with open cells and fields that keep their highest levels off the outline.
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import dataclass, replace
from itertools import product
from time import perf_counter

import numpy as np

from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import (
    BoolArray,
    Effort,
    HeightProblem,
    NoField,
    Solved,
    plain_grid,
    quotas_from_weights,
    shares_round_pins,
)
from bossage.relief.solve import solve_heights

EFFORT = Effort()
WORST_N = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    name: str
    verdict: str
    seconds: float
    least: str = ""


def cases(rows: int, cols: int) -> list[tuple[str, HeightProblem]]:
    out = []
    for levels, step, corners, mask in product(
        range(3, 10), (1, 2, 3), (False, True), ("", "open cells", "low outline")
    ):
        there = np.ones((rows, cols), dtype=np.bool_)
        allowed: BoolArray | None = None
        if mask == "open cells":
            there[rows // 3 : rows // 2, cols // 3 : 2 * cols // 3] = there[0, 0] = there[-1, 2:4] = False
        quotas = quotas_from_weights(int(there.sum()), [1] * levels)
        if mask == "low outline":
            allowed = np.ones((rows, cols, levels), dtype=np.bool_)
            allowed[[0, -1], :, -1] = allowed[:, [0, -1], -1] = False
            most = np.floor(0.44 * allowed.sum(axis=(0, 1))).astype(np.int64)
            most[:-1] = rows * cols
            quotas = shares_round_pins(rows * cols, [1] * levels, np.zeros(levels, dtype=np.int64), most)
        problem = plain_grid(
            rows, cols, quotas, diagonal=corners, min_step=step, present=there, allowed=allowed, seed=3
        )
        name = f"{rows}x{cols} L{levels} step {step}{' corners' if corners else ''}{' ' if mask else ''}{mask}"
        out.append((name, problem))
    return out


def tell(name: str, problem: HeightProblem) -> tuple[Told, Solved | NoField]:
    start = perf_counter()
    answer = solve_heights(problem, effort=EFFORT)
    seconds = perf_counter() - start
    if isinstance(answer, Solved):
        good = is_field(Graph(problem=problem), answer.levels)
        told = Told(name=name, verdict=f"valid by {answer.report.engine}" if good else "NOT VALID", seconds=seconds)
    else:
        eased = answer.relaxation
        least = "no relaxation" if eased is None else "smallest" if eased.smallest else "RELAXATION NOT PROVEN"
        verdict = f"proven by {answer.proof}" if answer.proven else "OPEN"
        told = Told(name=name, verdict=verdict, seconds=seconds, least=least)
    print(f"{told.name:44} {told.verdict:24} {1e3 * told.seconds:10.1f} ms  {told.least}", flush=True)
    return told, answer


def sweep(rows: int, cols: int) -> None:
    told = []
    for name, problem in cases(rows, cols):
        one, answer = tell(name, problem)
        told.append(one)
        if isinstance(answer, Solved):
            held = np.random.default_rng(7).random(problem.block_count) < 0.3
            pinned = replace(problem, pins=np.where(held, answer.levels, -1), seed=11)
            told.append(tell(f"{name} 30 % pinned", pinned)[0])
    counts = Counter(one.verdict for one in told)
    print(f"{rows}x{cols}: " + ", ".join(f"{n} {verdict}" for verdict, n in sorted(counts.items())))
    print(f"relaxations: {dict(Counter(one.least for one in told if one.least))}")
    for one in sorted(told, key=lambda one: -one.seconds)[:WORST_N]:
        print(f"  {one.seconds:8.2f} s  {one.name}: {one.verdict} {one.least}")


if __name__ == "__main__":
    for size in sys.argv[1:] or ["10x10", "20x14"]:
        rows, cols = (int(part) for part in size.split("x"))
        sweep(rows, cols)
