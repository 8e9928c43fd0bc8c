"""Chessboards of low and high: regions against all subsets, verdicts and least relaxations against all fields."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.relief.exhaustive import every_field, least_moved

from bossage.relief.order.chess import chess_ways, draw_chess
from bossage.relief.order.regions import NEVER, Region, least_touched, least_touched_whole
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import HeightProblem, NoField, Proof, Solved, plain_grid, quotas_from_weights
from bossage.relief.solve import solve_heights


def chequered(rows: int, cols: int, colour: int) -> np.ndarray:
    return np.indices((rows, cols)).sum(axis=0) % 2 == colour


def by_all_subsets(region: Region) -> list[int]:
    rows, cols = region.there.shape
    seeds = np.argwhere(region.there & region.seeds).tolist()
    others = region.there & ~region.seeds
    least = [NEVER] * (len(seeds) + 1)
    for mask in range(1 << len(seeds)):
        chosen = [(r, c) for i, (r, c) in enumerate(seeds) if mask >> i & 1]
        inside = others & region.must
        for r, c in chosen:
            for y, x in ((r - 1, c), (r + 1, c), (r, c - 1), (r, c + 1)):
                if 0 <= y < rows and 0 <= x < cols and others[y, x]:
                    inside[y, x] = True
        picked = np.zeros_like(inside)
        for r, c in chosen:
            picked[r, c] = True
        barred = (picked | inside) & ~region.may
        if barred.any() or (region.there & region.seeds & region.must & ~picked).any():
            continue
        least[len(chosen)] = min(least[len(chosen)], int(inside.sum()))
    return least


@pytest.mark.parametrize("seed", range(24))
def test_the_fewest_that_a_region_touches_are_those_of_all_subsets(seed):
    rng = np.random.default_rng(seed)
    rows, cols = int(rng.integers(1, 6)), int(rng.integers(1, 5))
    there = rng.random((rows, cols)) < (1.0 if seed % 3 else 0.85)
    may = rng.random((rows, cols)) < (1.0 if seed % 4 else 0.8)
    must = may & (rng.random((rows, cols)) < (0.0 if seed % 5 else 0.2))
    region = Region(there=there, seeds=chequered(rows, cols, seed % 2), may=may, must=must)
    assert least_touched(region).tolist() == by_all_subsets(region)


def test_the_fewest_on_whole_grids_are_those_of_a_sweep():
    for rows in range(1, 12):
        for cols in range(1, rows + 1):
            if rows * cols % 2:
                continue
            everywhere = np.ones((rows, cols), dtype=np.bool_)
            for colour in (0, 1):
                seeds = chequered(rows, cols, colour)
                region = Region(there=everywhere, seeds=seeds, may=everywhere, must=~everywhere)
                assert (least_touched(region) == least_touched_whole(rows, cols)).all(), (rows, cols)


def graphs(seed: int) -> HeightProblem:
    """A small grid under a rule that leaves a chessboard of low and high; quotas near a balanced share."""
    rng = np.random.default_rng(seed)
    rows, cols = ((3, 3), (2, 4), (2, 5))[int(rng.integers(3))]
    step = int(rng.integers(2, 4))
    levels = int(rng.integers(step + 1, 2 * step + 1))
    there = rng.random((rows, cols)) < (1.0 if seed % 4 else 0.9)
    quotas = quotas_from_weights(int(there.sum()), rng.random(levels) + 0.3)
    if seed % 2:  # nearer to what a chessboard holds
        quotas = np.bincount(rng.choice(levels, int(there.sum()), p=rng.dirichlet(np.ones(levels))), minlength=levels)
    problem = plain_grid(rows, cols, quotas, min_step=step, present=there, seed=seed)
    if seed % 3 == 0:
        problem = replace(problem, allowed=rng.random((problem.block_count, levels)) < 0.85)
    if seed % 5 == 0:
        free = np.full(problem.block_count, -1)
        free[int(rng.integers(problem.block_count))] = int(rng.choice([0, levels - 1]))
        problem = replace(problem, pins=free)
    return problem


@pytest.mark.parametrize("start", range(0, 120, 40))
def test_verdict_and_least_relaxation_are_those_of_exhaustive_search(start):
    found = named = 0
    for seed in range(start, start + 40):
        problem = graphs(seed)
        answer = solve_heights(problem)
        exists = next(every_field(problem), None) is not None
        assert isinstance(answer, Solved) == exists, seed
        if isinstance(answer, Solved):
            assert is_field(Graph(problem=problem), answer.levels)
            found += 1
            continue
        assert answer.proven, seed
        named += answer.proof is Proof.CHESS
        least = least_moved(problem)
        if least is not None:
            assert answer.relaxation is not None, seed
            assert answer.relaxation.smallest, seed
            assert answer.relaxation.moved == least, (seed, answer)
            quotas = problem.quotas.copy()
            for change in answer.relaxation.quotas:
                quotas[change.group, change.level] += change.change
            assert isinstance(solve_heights(replace(problem, quotas=quotas)), Solved), seed
    assert named


@pytest.mark.parametrize(("rows", "cols", "levels", "step"), [(10, 10, 4, 2), (40, 31, 4, 2), (12, 9, 6, 3)])
def test_a_region_that_touches_more_than_are_asked_for_is_named_at_any_size(rows, cols, levels, step):
    problem = plain_grid(rows, cols, quotas_from_weights(rows * cols, [1] * levels), min_step=step)
    no = solve_heights(problem)
    assert isinstance(no, NoField)
    assert no.proof is Proof.CHESS
    assert "Wherever" in no.reasons[0]
    assert no.relaxation is not None
    assert no.relaxation.smallest
    quotas = problem.quotas.copy()
    for change in no.relaxation.quotas:
        quotas[0, change.level] += change.change
    eased = solve_heights(replace(problem, quotas=quotas))
    assert isinstance(eased, Solved)
    assert eased.report.engine == "chess"


def test_regions_are_drawn_from_any_side():
    problem = plain_grid(8, 8, [18, 14, 11, 21], min_step=2)
    graph = Graph(problem=problem)
    ways = chess_ways(graph)
    drawn = [draw_chess(graph, ways, np.random.default_rng(seed)) for seed in range(12)]
    assert all(levels is not None and is_field(graph, levels) for levels in drawn)
    assert len({tuple(levels.tolist()) for levels in drawn if levels is not None}) > 8
