from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.relief.exhaustive import every_field
from tests.relief.graphs import balanced, board_room, hall, patchwork, piece, school, terrace

from bossage.relief.problem.field import conflicts, counts_of, is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import (
    Effort,
    HeightProblem,
    NoField,
    Proof,
    Solved,
    plain_grid,
    quotas_from_weights,
)
from bossage.relief.solve import solve_heights


def solved(problem: HeightProblem) -> Solved:
    answer = solve_heights(problem)
    assert isinstance(answer, Solved), answer
    graph = Graph(problem=problem)
    assert conflicts(graph, answer.levels) == 0
    assert (counts_of(graph, answer.levels) == problem.quotas).all()
    assert is_field(graph, answer.levels)
    return answer


@pytest.mark.parametrize("draw_of", [hall, terrace, school, board_room])
@pytest.mark.parametrize("seed", range(24))
def test_every_draw_of_the_scenarios_is_filled_by_tabu_search(draw_of, seed):
    assert solved(draw_of(seed)).report.engine == "tabu"


def test_a_small_piece_is_solved_without_loading_a_solver():
    code = (
        "import sys; from tests.relief.graphs import terrace; from bossage.relief.solve import solve_heights;"
        "solve_heights(terrace(1)); print([m for m in ('ortools', 'scipy', 'numba') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_seed_alone_decides_the_field():
    one, again, other = (solve_heights(terrace(s)) for s in (3, 3, 4))
    assert isinstance(one, Solved)
    assert isinstance(again, Solved)
    assert isinstance(other, Solved)
    assert (one.levels == again.levels).all()
    assert (one.levels != other.levels).mean() > 0.5
    with pytest.raises(ValueError, match="read-only"):
        one.levels[0] = 1


@pytest.mark.parametrize(
    ("rows", "cols", "levels", "diagonal", "step"),
    [
        (10, 10, 3, False, 1),
        (20, 14, 3, False, 1),
        (20, 14, 7, False, 2),
        (20, 14, 5, False, 2),
        (20, 14, 5, True, 1),
        (20, 14, 4, True, 1),
        (9, 9, 9, True, 2),
        (50, 50, 7, False, 1),
    ],
)
def test_plain_grids_down_to_the_tight_cases(rows, cols, levels, diagonal, step):
    problem = plain_grid(rows, cols, balanced(rows * cols, levels), diagonal=diagonal, min_step=step, seed=2)
    solved(problem)


@st.composite
def pieces(draw: st.DrawFn) -> HeightProblem:
    """Small mixed pieces whose quotas come from a random colouring or from weights, pins and bans strewn in."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    rects, group = patchwork(rng, cols=draw(st.integers(2, 4)), rows=draw(st.integers(2, 3)))
    levels = draw(st.integers(2, 5))
    groups = np.bincount(group, minlength=2)
    quotas = [quotas_from_weights(int(n), rng.random(levels) + 0.05) for n in groups]
    n = len(rects)
    allowed = rng.random((n, levels)) > draw(st.sampled_from([0.0, 0.1, 0.3]))
    pins = np.where(rng.random(n) < draw(st.sampled_from([0.0, 0.15])), rng.integers(levels, size=n), -1)
    return piece(
        rects,
        group,
        quotas,
        allowed=allowed,
        pins=pins,
        min_step=draw(st.sampled_from([1, 1, 2])),
        seed=int(rng.integers(1000)),
    )


@settings(max_examples=120, deadline=None)
@given(pieces())
def test_the_verdict_is_that_of_exhaustive_search(problem):
    answer = solve_heights(problem)
    exists = next(every_field(problem), None) is not None
    assert isinstance(answer, Solved) == exists
    if isinstance(answer, Solved):
        assert is_field(Graph(problem=problem), answer.levels)
        if problem.pins is not None:
            held = problem.pins >= 0
            assert (answer.levels[held] == problem.pins[held]).all()
    else:
        assert answer.proven
        assert answer.proof is not Proof.NONE
        assert answer.reasons[0].endswith(".")


def test_nothing_to_fill_is_a_field():
    empty = HeightProblem(
        block_count=0, edges=np.zeros((0, 2), dtype=np.int64), quotas=np.zeros((1, 3), dtype=np.int64)
    )
    assert isinstance(solve_heights(empty), Solved)


def test_a_blocked_level_is_named_with_what_will_do():
    names = ("18 mm", "22 mm", "25 mm", "30 mm", "35 mm", "40 mm")
    answer = solve_heights(plain_grid(16, 8, [12, 12, 70, 12, 11, 11], level_names=names))
    assert isinstance(answer, NoField)
    assert answer.reasons[0] == (
        "Level 25 mm is asked for 70 of 128 blocks, but at most 64 can stand apart; 6 fewer will do."
    )
    assert answer.proven
    assert answer.proof is Proof.APART


@given(st.integers(0, 5000), st.lists(st.integers(0, 50), min_size=1, max_size=9).filter(any))
def test_quotas_from_weights_add_up_and_stay_within_one(count, weights):
    quotas = quotas_from_weights(count, weights)
    assert quotas.sum() == count
    share = count * np.array(weights) / sum(weights)
    assert (np.abs(quotas - share) < 1).all()
    assert (quotas[np.array(weights) == 0] == 0).all()


def test_weights_that_say_nothing_are_refused():
    for bad in ([0, 0], [-1, 2], [float("nan"), 1]):
        with pytest.raises(ValueError, match="Weights"):
            quotas_from_weights(10, bad)


def test_what_is_neither_found_nor_proven_is_told_as_open():
    opened = found = proven = 0
    for seed in (10, 11, 12, 21):
        rng = np.random.default_rng(seed)
        quotas = rng.integers(5, 25, size=6)
        quotas = quotas * 81 // quotas.sum()
        quotas[0] += 81 - quotas.sum()
        problem = plain_grid(9, 9, quotas, diagonal=True, allowed=rng.random((9, 9, 6)) < 0.6, seed=seed)
        answer = solve_heights(problem, effort=Effort(draws=1, exact_units=1e-5))
        found += isinstance(answer, Solved)
        if isinstance(answer, NoField):
            assert answer.proven == (answer.proof is not Proof.NONE)
            if not answer.proven:
                assert "No field was found for these 81 blocks, and none is proven impossible" in answer.reasons[0]
            opened, proven = opened + (not answer.proven), proven + answer.proven
    assert min(opened, found, proven) > 0
