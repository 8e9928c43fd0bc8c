from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest
from tests.beside import REFERENCE, beside
from tests.relief.exhaustive import every_field
from tests.relief.graphs import balanced, patchwork, piece, terrace

from bossage.relief.change.replan import Replanned, replan
from bossage.relief.exact.cp_sat import fewest_changed
from bossage.relief.exact.linear import Program
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import HeightProblem, NoField, Solved, plain_grid
from bossage.relief.solve import solve_heights


@beside("replan_cases.json")
def test_the_reference_cases_come_out_at_their_proven_minimum():
    cases = json.loads((REFERENCE / "replan_cases.json").read_text(encoding="utf-8"))
    assert len(cases) == 12
    for case in cases:
        field, pinned = np.array(case["field"]), np.array(case["pinned"], dtype=bool)
        problem = plain_grid(
            case["rows"],
            case["cols"],
            case["new_quota"],
            diagonal=case["neighbours"] == 8,
            min_step=case["min_step"],
            pins=np.where(pinned, field, -1),
        )
        answer = replan(problem, field.reshape(-1))
        assert isinstance(answer, Replanned)
        assert is_field(Graph(problem=problem), answer.levels)
        assert answer.changes == answer.bound == case["minimum_changes"]
        assert answer.proven
        assert (answer.levels[pinned.reshape(-1)] == field[pinned]).all()


def mishap(seed: int) -> tuple[HeightProblem, np.ndarray] | None:
    """A small piece, part glued, one level short by one or two and another long by as many."""
    rng = np.random.default_rng(seed)
    rects, group = patchwork(rng, cols=4, rows=2)
    levels = int(rng.integers(3, 5))
    sizes = np.bincount(group, minlength=2)
    problem = piece(rects, group, [balanced(int(n), levels) for n in sizes], seed=seed)
    answer = solve_heights(problem)
    if not isinstance(answer, Solved):
        return None
    quotas = problem.quotas.copy()
    g = int(rng.integers(2))
    short, long = rng.permutation(levels)[:2]
    lost = min(int(rng.integers(1, 3)), int(quotas[g, short]))
    quotas[g, short] -= lost
    quotas[g, long] += lost
    pins = np.where(rng.random(len(rects)) < 0.25, answer.levels, -1)
    return piece(rects, group, quotas, pins=pins, seed=seed), answer.levels


def test_small_mishaps_agree_with_exhaustive_search():
    healed = impossible = 0
    for seed in range(70):
        made = mishap(seed)
        if made is None:
            continue
        problem, before = made
        least = min((int((np.array(f) != before).sum()) for f in every_field(problem)), default=None)
        answer = replan(problem, before)
        if least is None:
            assert isinstance(answer, NoField)
            assert answer.proven
            impossible += 1
        else:
            assert isinstance(answer, Replanned)
            assert answer.changes == least
            assert answer.proven
            healed += 1
    assert healed > 20
    assert impossible > 5


def test_among_equally_many_changes_the_least_visible_are_made():
    problem = plain_grid(10, 10, balanced(100, 6), seed=4)
    before = solve_heights(problem)
    assert isinstance(before, Solved)
    quotas = problem.quotas.copy()
    quotas[0, 0] -= 3
    quotas[0, 5] += 3
    weights = np.where(np.arange(100) // 10 < 5, 1, 50)
    answer = replan(problem, before.levels, quotas=quotas, weights=weights)
    assert isinstance(answer, Replanned)
    assert answer.changes == answer.visible == 3
    assert (np.flatnonzero(answer.levels != answer.before) < 50).all()


def test_a_new_pin_counts_as_a_change_that_has_to_be_made():
    problem = terrace(2)
    before = solve_heights(problem)
    assert isinstance(before, Solved)
    pins = np.full(problem.block_count, -1)
    pins[0] = (before.levels[0] + 1) % 6
    answer = replan(
        HeightProblem(
            block_count=problem.block_count, edges=problem.edges, quotas=problem.quotas, group=problem.group, pins=pins
        ),
        before.levels,
    )
    assert isinstance(answer, Replanned)
    assert answer.levels[0] == pins[0]
    assert answer.proven
    assert 2 <= answer.changes <= 3


def test_nothing_to_change_changes_nothing():
    problem = terrace(5)
    before = solve_heights(problem)
    assert isinstance(before, Solved)
    answer = replan(problem, before.levels)
    assert isinstance(answer, Replanned)
    assert answer.changes == 0
    assert answer.proven


def test_the_linear_program_never_claims_more_than_there_is():
    # Its bound and its no are added up anew in whole numbers, so they have to hold whatever prices it comes to.
    none = 0
    for seed in range(120):
        found = mishap(seed)
        if found is None:
            continue
        problem, before = found
        every = [np.array(field) for field in every_field(problem)]
        shares = Program(Graph(problem=problem), before, np.ones(len(before), dtype=np.int64)).shares()
        if every:
            assert not shares.none, seed
            assert shares.bound <= min(int((field != before).sum()) for field in every), seed
        none += shares.none
    assert none >= 5


@pytest.mark.parametrize("seed", range(12))
def test_mishaps_up_to_20_by_14_are_mended_with_the_fewest_changes_proven(seed):
    rng = np.random.default_rng(seed)
    rows, cols = int(rng.integers(8, 21)), int(rng.integers(8, 15))
    levels, corners, step = [(7, False, 1), (5, False, 1), (7, False, 2), (7, True, 1), (5, True, 1), (5, False, 2)][
        seed % 6
    ]
    quotas = balanced(rows * cols, levels)
    first = solve_heights(plain_grid(rows, cols, quotas, diagonal=corners, min_step=step, seed=seed))
    assert isinstance(first, Solved)
    glued = rng.random(rows * cols) < rng.choice([0.2, 0.5, 0.8])
    lost = rng.permutation(np.flatnonzero(~glued))[: int(rng.integers(3, 13))]
    asked = quotas.copy()
    np.subtract.at(asked, first.levels[lost], 1)
    np.add.at(asked, rng.integers(levels, size=len(lost)), 1)
    pins = np.where(glued, first.levels, -1).reshape(rows, cols)
    problem = plain_grid(rows, cols, asked, diagonal=corners, min_step=step, pins=pins, seed=seed)
    answer = replan(problem, first.levels)
    if isinstance(answer, NoField):
        assert answer.proven
        return
    assert answer.proven
    assert answer.changes == answer.bound
    assert is_field(Graph(problem=problem), answer.levels)
    assert (answer.levels[glued] == first.levels[glued]).all()


@pytest.mark.parametrize("hinted", [False, True])
def test_the_constraint_program_finds_the_changes_that_cost_least(hinted):
    checked = lost = 0
    for seed in range(80):
        made = mishap(seed)
        if made is None:
            continue
        problem, before = made
        rng = np.random.default_rng(seed)
        price = rng.integers(1, 9, size=problem.block_count)
        # a block that may no longer stand as it did is changed whatever is done, and costs its price
        allowed = np.ones((problem.block_count, problem.level_count), dtype=bool)
        if (free := np.flatnonzero(problem.pins < 0)).size:
            allowed[rng.choice(free), int(rng.integers(problem.level_count))] = False
        graph = Graph(problem=replace(problem, allowed=allowed))
        costs = [(int(price[np.array(f) != before].sum()), f) for f in every_field(graph.problem)]
        hint = np.array(costs[-1][1]) if costs and hinted else None
        found = fewest_changed(graph, before, price, units=20.0, least=0, hint=hint)
        assert found.best
        if not costs:
            assert found.levels is None
            continue
        least = min(cost for cost, _ in costs)
        assert found.levels is not None
        assert is_field(graph, found.levels)
        assert found.value == found.bound == least == int(price[found.levels != before].sum())
        checked += 1
        lost += not bool(graph.choice[np.arange(graph.n), before].all())
    assert checked > 10
    assert lost
