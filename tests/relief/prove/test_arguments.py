"""Each argument against exhaustive search: what it forbids does not exist, and its points add up."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from tests.relief.exhaustive import every_field
from tests.relief.graphs import patchwork, piece

from bossage.relief.exact.cp_sat import fewest_moved
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import (
    GridShape,
    HeightProblem,
    NoField,
    Proof,
    Solved,
    grid_pairs,
    plain_grid,
    quotas_from_weights,
)
from bossage.relief.prove.arguments import first_proofs, later_proofs
from bossage.relief.prove.stripes import stripes
from bossage.relief.prove.tiles import tiles
from bossage.relief.solve import solve_heights


def counts_that_exist(problem: HeightProblem) -> set[tuple[int, ...]]:
    """The counts by group and level of every field that keeps the rule, whatever the quotas."""
    group = np.zeros(problem.block_count, dtype=np.int64) if problem.group is None else problem.group
    size = problem.quotas.size
    return {
        tuple(np.bincount(group * problem.level_count + np.array(field), minlength=size).tolist())
        for field in every_field(problem, quotas=False)
    }


def parts_of(n: int, parts: int) -> list[tuple[int, ...]]:
    return [p for p in product(range(n + 1), repeat=parts) if sum(p) == n]


@pytest.mark.parametrize(("rows", "cols"), [(2, 2), (2, 3), (3, 3), (3, 4), (2, 5), (3, 5)])
def test_stripes_forbid_all_that_does_not_exist_and_nothing_else(rows, cols):
    there = counts_that_exist(plain_grid(rows, cols, [0, 0, 0, 0], diagonal=True))
    for quotas in parts_of(rows * cols, 4):
        problem = plain_grid(rows, cols, quotas, diagonal=True)
        assert (stripes(Graph(problem=problem)) is None) == (quotas in there), quotas
        if quotas in there:
            answer = solve_heights(problem)
            assert isinstance(answer, Solved)
            assert is_field(Graph(problem=problem), answer.levels)


def test_stripes_of_an_odd_board_name_the_nearest_counts_which_hold():
    no = solve_heights(plain_grid(9, 9, quotas_from_weights(81, [1] * 4), diagonal=True))
    assert isinstance(no, NoField)
    assert no.proof is Proof.STRIPES
    assert "every row or every column alternates" in no.reasons[0]
    assert no.relaxation is not None
    assert no.relaxation.smallest
    quotas = quotas_from_weights(81, [1] * 4)
    for change in no.relaxation.quotas:
        quotas[change.level] += change.change
    assert isinstance(solve_heights(plain_grid(9, 9, quotas, diagonal=True)), Solved)


def test_stripes_are_drawn_evenly():
    problem = plain_grid(3, 3, [3, 3, 2, 1], diagonal=True)
    every = set(every_field(problem))
    seen: dict[tuple[int, ...], int] = {}
    for seed in range(60 * len(every)):
        answer = solve_heights(plain_grid(3, 3, [3, 3, 2, 1], diagonal=True, seed=seed))
        assert isinstance(answer, Solved)
        field = tuple(answer.levels.tolist())
        seen[field] = seen.get(field, 0) + 1
    assert set(seen) == every
    expected = 60
    chi2 = sum((n - expected) ** 2 / expected for n in seen.values())
    freedom = len(every) - 1
    assert chi2 < freedom + 5 * np.sqrt(2 * freedom)


def tight(seed: int) -> HeightProblem:
    """A small graph, grid or mixed, with quotas near what its rule allows."""
    rng = np.random.default_rng(seed)
    levels = int(rng.integers(3, 6))
    step = int(rng.integers(1, 3))
    if seed % 3:
        rows, cols = int(rng.integers(2, 4)), int(rng.integers(2, 5))
        quotas = np.bincount(rng.choice(levels, rows * cols, p=rng.dirichlet(np.ones(levels))), minlength=levels)
        return plain_grid(rows, cols, quotas, diagonal=bool(seed % 2), min_step=step, seed=seed)
    rects, group = patchwork(rng, cols=4, rows=2)
    sizes = np.bincount(group, minlength=2)
    quotas = [np.bincount(rng.choice(levels, n, p=rng.dirichlet(np.ones(levels))), minlength=levels) for n in sizes]
    return piece(rects, group, quotas, min_step=step, seed=seed)


def test_the_points_of_tiles_hold_for_every_field_there_is():
    caught = only_tiles = 0
    for seed in range(70):
        problem = tight(seed)
        graph = Graph(problem=problem)
        if first_proofs(graph):
            continue
        found = tiles(graph)
        if not found:
            continue
        caught += 1
        only_tiles += later_proofs(graph, with_solver=False) is None
        assert found.cut is not None
        coef = found.cut.coef.reshape(-1)
        assert int((coef * problem.quotas.reshape(-1)).sum()) > found.cut.most
        for counts in counts_that_exist(problem):
            assert int((coef * np.array(counts)).sum()) <= found.cut.most
        assert "points" in found.no.reasons[0]
    assert caught >= 10
    assert only_tiles >= 2


def two_rows(n: int) -> HeightProblem:
    """Two rows of blocks, each with quotas of its own; the middle level of the upper needs 10 or 50 below it."""
    group = np.repeat([0, 1], n)
    block = np.arange(2 * n).reshape(2, n)
    quotas = [[n // 4, 0, n // 2, 0, n // 4], [n // 8, 3 * n // 8, 0, 3 * n // 8, n // 8]]
    return HeightProblem(
        block_count=2 * n,
        edges=grid_pairs(block)[0],
        quotas=np.array(quotas),
        group=group,
        min_step=2,
        grid=GridShape(block=block),
        level_names=("10", "20", "30", "40", "50"),
        group_names=("upper blocks", "lower blocks"),
    )


@pytest.mark.parametrize("n", [8, 80, 80_000])
def test_tiles_prove_at_any_size_what_no_simpler_argument_sees(n):
    problem = two_rows(n)
    graph = Graph(problem=problem)
    assert first_proofs(graph) is None
    assert later_proofs(graph, with_solver=False) is None
    found = tiles(graph)
    assert found is not None
    assert found.no.proof is Proof.TILES
    assert f"The field falls into {n:,} pairs, in each of which all blocks touch" in found.no.reasons[0]
    assert "30 among upper blocks" in found.no.reasons[0]
    if n == 8:
        assert next(every_field(problem), None) is None


def test_a_proof_by_tiles_comes_with_the_smallest_relaxation():
    problem = two_rows(8)
    answer = solve_heights(problem)
    assert isinstance(answer, NoField)
    assert answer.proof is Proof.TILES
    assert answer.relaxation is not None
    assert answer.relaxation.smallest
    searched = fewest_moved(Graph(problem=problem), units=20.0)
    assert searched.best
    assert answer.relaxation.moved == searched.value


@pytest.mark.parametrize("seed", range(12))
def test_the_levels_that_are_wanted_are_the_fewest(seed):
    rng = np.random.default_rng(seed)
    rects, _ = patchwork(rng, cols=4, rows=2)
    step = 1 + seed % 2
    few = 2 if step == 1 else 3
    problem = piece(rects, [0] * len(rects), [quotas_from_weights(len(rects), [1] * few)], min_step=step)
    answer = solve_heights(problem)

    def exists(levels: int) -> bool:
        trial = piece(rects, [0] * len(rects), [[0] * levels], min_step=step)
        return next(every_field(trial, quotas=False), None) is not None

    if exists(few):
        return
    assert isinstance(answer, NoField)
    assert answer.proven
    assert answer.relaxation is not None
    assert answer.relaxation.smallest
    assert exists(answer.relaxation.level_count)
    assert not exists(answer.relaxation.level_count - 1)
