"""Heights: time, quality and proofs beside a plain CP-SAT model in the same run.

python bench/relief.py            the standard table, about two minutes
python bench/relief.py --plain    also the plain CP-SAT model (2 workers, 60 s at most a case)
python bench/relief.py --small   600 small graphs against exhaustive search, verdict and least relaxation
"""

from __future__ import annotations

import sys
from pathlib import Path
from time import perf_counter

import numpy as np

from bossage.relief.change.replan import Replanned, replan
from bossage.relief.measure import measure_randomness
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import HeightProblem, IntArray, NoField, Solved, plain_grid, quotas_from_weights
from bossage.relief.solve import solve_heights

Case = tuple[int, int, int, bool, int, float]  # rows, columns, levels, corners too, least step, share pinned
SIZES: list[Case] = [(r, c, 7, False, 1, 0.0) for r, c in ((10, 10), (20, 14), (50, 50), (100, 100), (300, 300))]
LARGE: list[Case] = [(1000, 1000, 7, False, 1, 0.0), (1000, 1000, 7, False, 1, 0.3), (1000, 1000, 7, False, 2, 0.3)]
HARD: list[Case] = [
    (50, 50, 3, False, 1, 0.0),
    (50, 50, 5, False, 2, 0.0),
    (50, 50, 4, True, 1, 0.0),
    (50, 50, 9, True, 2, 0.0),
    (300, 300, 7, False, 2, 0.3),
    (300, 300, 5, True, 1, 0.0),
]
PLAIN: list[Case] = [(10, 10, 7, False, 1, 0.0), (20, 14, 7, False, 1, 0.0), (50, 50, 7, False, 1, 0.0)]
PLAIN += [(100, 100, 7, False, 1, 0.0), *HARD[:2]]


def problem_of(case: Case, seed: int = 1) -> HeightProblem | None:
    rows, cols, levels, corners, step, share = case
    quotas = quotas_from_weights(rows * cols, [1] * levels)
    problem = plain_grid(rows, cols, quotas, diagonal=corners, min_step=step, seed=seed)
    if not share:
        return problem
    whole = solve_heights(problem)
    if isinstance(whole, NoField):
        return None
    held = np.random.default_rng(5).random((rows, cols)) < share
    pins = np.where(held, whole.levels.reshape(rows, cols), -1)
    return plain_grid(rows, cols, quotas, diagonal=corners, min_step=step, pins=pins, seed=seed + 9)


def timed(problem: HeightProblem, runs: int) -> tuple[float, Solved | NoField]:
    best, answer = np.inf, solve_heights(problem)
    for _ in range(runs):
        start = perf_counter()
        answer = solve_heights(problem)
        best = min(best, perf_counter() - start)
    return best, answer


def plain_model_s(problem: HeightProblem) -> float | None:
    """Seconds of the plain CP-SAT model: pairs of neighbours, quota rows, 2 workers, no hints."""
    from ortools.sat.python import cp_model

    start = perf_counter()
    graph = Graph(problem=problem)
    model = cp_model.CpModel()
    x = [[model.new_bool_var("") for _ in range(graph.L)] for _ in range(graph.n)]
    for own in x:
        model.add_exactly_one(own)
    for a, b in graph.edges.tolist():
        for window in graph.windows:
            model.add_at_most_one([x[v][level] for v in (a, b) for level in window])
    for level in range(graph.L):
        model.add(sum(own[level] for own in x) == int(problem.quotas[0, level]))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = 60.0
    status = solver.solve(model)
    return perf_counter() - start if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None


def name_of(case: Case) -> str:
    rows, cols, levels, corners, step, share = case
    more = (" corners" if corners else "") + (f" step {step}" if step > 1 else "")
    return f"{rows}x{cols} L{levels}{more}" + (f" {100 * share:.0f} % pinned" if share else "")


def table(plain: bool) -> None:
    for case in [*SIZES, *LARGE, *HARD]:
        problem = problem_of(case)
        if problem is None:
            print(f"{name_of(case):34} no field to pin")
            continue
        runs = 30 if problem.block_count <= 2_500 else 3 if problem.block_count <= 90_000 else 1
        seconds, answer = timed(problem, runs)
        good = isinstance(answer, Solved) and is_field(Graph(problem=problem), answer.levels)
        rate = seconds / problem.block_count * 1e6
        line = f"{name_of(case):34} {'valid' if good else 'NO FIELD':9} {seconds * 1e3:10.1f} ms {rate:7.2f} us a block"
        if plain and case in PLAIN:
            other = plain_model_s(problem)
            line += "   plain model: nothing in 60 s" if other is None else f"   plain model {other / seconds:,.0f} x"
        print(line, flush=True)


def quality() -> None:
    for levels in (5, 7, 9):
        problem = problem_of((300, 300, levels, False, 1, 0.0))
        assert problem is not None
        answer = solve_heights(problem)
        assert isinstance(answer, Solved)
        print(
            f"300x300 L{levels}",
            {k: round(v, 4) for k, v in measure_randomness(problem, answer.levels).figures().items()},
        )


def proofs() -> None:
    for side in ((20, 14), (1000, 1000)):
        n = side[0] * side[1]
        quotas: IntArray = quotas_from_weights(n, [1] * 7)
        quotas[1] += n // 2 + 1 - quotas[1]
        quotas[6] += n - quotas.sum()
        while quotas[6] < 0:
            at = int(np.argmax(np.where(np.arange(7) == 1, 0, quotas)))
            take = min(int(quotas[at]), -int(quotas[6]))
            quotas[at] -= take
            quotas[6] += take
        from bossage.relief.prove.arguments import first_proofs, later_proofs

        problem = plain_grid(*side, quotas)
        start = perf_counter()
        graph = Graph(problem=problem)
        found = first_proofs(graph) or later_proofs(graph, with_solver=False)
        seconds = perf_counter() - start
        assert found is not None
        print(f"proof {side[0]}x{side[1]} {seconds * 1e3:8.1f} ms  {found.no.reasons[0]}")


def replans() -> None:
    for side, lost in ((100, 300), (1000, 30_000)):
        problem = problem_of((side, side, 7, False, 1, 0.0))
        assert problem is not None
        before = solve_heights(problem)
        assert isinstance(before, Solved)
        quotas = problem.quotas.copy()
        quotas[0, 2] -= lost
        quotas[0, [0, 1, 3, 4, 5]] += lost // 5
        replan(problem, before.levels, quotas=quotas)
        start = perf_counter()
        answer = replan(problem, before.levels, quotas=quotas)
        seconds = perf_counter() - start
        assert isinstance(answer, Replanned)
        print(f"re-plan {side}x{side}: {answer.changes} changes, bound {answer.bound}, {seconds * 1e3:.1f} ms")


def small(count: int) -> None:
    sys.path.insert(0, str(Path(__file__).parents[1]))
    from tests.relief.prove.test_relax import check_against_search

    fields = sum(check_against_search(seed) for seed in range(count))
    print(f"{count} small graphs agree with exhaustive search: {fields} with a field, {count - fields} without")


if __name__ == "__main__":
    if "--small" in sys.argv:
        small(600)
    else:
        table("--plain" in sys.argv)
        quality()
        proofs()
        replans()
