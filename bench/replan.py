"""Re-plans of reliefs: changes, bound and time, beside a plain CP-SAT model of the same question in the same run.

python bench/replan.py [FILE] [--plain]

FILE holds a list of cases as JSON: `name`, `rows`, `cols`, `levels`, `neighbours` (4, or 8 with corners), `min_step`,
`field` and `pinned` (by row), `new_quota`, and, where known, `status` and `minimum_changes`. Without it the cases that
lie beside the project are taken. `--plain` runs the plain model as well: 2 workers, 60 s at most a case.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from time import perf_counter
from typing import Any

import numpy as np

from bossage.relief.change.replan import Replanned, replan
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import HeightProblem, IntArray, NoField, plain_grid

CASES = Path(__file__).parents[2] / "shared" / "reference" / "replan_cases.json"


def problem_of(case: dict[str, Any]) -> tuple[HeightProblem, IntArray]:
    field, pinned = np.array(case["field"], dtype=np.int64), np.array(case["pinned"], dtype=np.bool_)
    problem = plain_grid(
        case["rows"],
        case["cols"],
        case["new_quota"],
        diagonal=case["neighbours"] == 8,
        min_step=case["min_step"],
        pins=np.where(pinned, field, -1),
    )
    return problem, field.reshape(-1)


def plain_model(problem: HeightProblem, before: IntArray) -> tuple[float, int | None, bool]:
    """Seconds, fewest changes found and whether proven, by the plain model: one variable a block and level."""
    from ortools.sat.python import cp_model

    start = perf_counter()
    graph = Graph(problem=problem)
    model = cp_model.CpModel()
    x = [[model.new_bool_var("") for _ in range(graph.L)] for _ in range(graph.n)]
    for v, own in enumerate(x):
        model.add_exactly_one(own)
        if problem.pins is not None and problem.pins[v] >= 0:
            model.add(own[int(problem.pins[v])] == 1)
    for a, b in graph.edges.tolist():
        for window in graph.windows:
            model.add_at_most_one([x[v][level] for v in (a, b) for level in window])
    for level in range(graph.L):
        model.add(sum(own[level] for own in x) == int(problem.quotas[0, level]))
    model.maximize(sum(own[int(level)] for own, level in zip(x, before, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = 60.0
    status = solver.solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    changes = graph.n - round(solver.objective_value) if found else None
    return perf_counter() - start, changes, status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)


def verdict_of(case: dict[str, Any], problem: HeightProblem, before: IntArray, answer: Replanned | NoField) -> str:
    """The answer in a few words, held against the rules and against what is known of the case."""
    known = case.get("minimum_changes")
    if isinstance(answer, NoField):
        proven = "proven impossible" if answer.proven else "nothing found"
        return proven if known is None else f"{proven}, but {known} CHANGES DO"
    held = problem.pins is not None and bool(np.any((problem.pins >= 0) & (answer.levels != before)))
    if held or not is_field(Graph(problem=problem), answer.levels):
        return "BREAKS THE RULES"
    text = f"{answer.changes} changes, {'proven least' if answer.proven else f'at least {answer.bound}'}"
    if known is None:
        return text
    return f"{text}, as known" if answer.changes == known else f"{text}, KNOWN {known}"


def main(argv: list[str]) -> None:
    files = [Path(arg) for arg in argv if not arg.startswith("--")] or [CASES]
    for file in files:
        if not file.exists():
            print(f"{file.name} is not there; name a file of cases")
            continue
        for case in json.loads(file.read_text(encoding="utf-8")):
            problem, before = problem_of(case)
            start = perf_counter()
            answer = replan(problem, before)
            seconds = perf_counter() - start
            line = f"{case['name']:34} {verdict_of(case, problem, before, answer):44} {seconds * 1e3:9.1f} ms"
            if "--plain" in argv:
                other, changes, proven = plain_model(problem, before)
                said = "none" if changes is None else str(changes)
                line += f"   plain model {said}{'' if proven else ' (not proven)'} in {other / seconds:,.1f} x the time"
            print(line, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
