"""Bands of levels in stripes: what is drawn keeps every rule, and small graphs agree with exhaustive search."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice

import numpy as np
import pytest
from tests.relief.exhaustive import every_field

from bossage.relief.order import bands as order_bands
from bossage.relief.order.bands import draw_bands, four_bands
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import HeightProblem, NoField, Solved, plain_grid, quotas_from_weights
from bossage.relief.prove.bands import bands as proven_by_bands
from bossage.relief.solve import solve_heights


def with_open_cells(rows: int, cols: int, levels: int, step: int) -> HeightProblem:
    there = np.ones((rows, cols), dtype=np.bool_)
    there[rows // 3 : rows // 2, cols // 3 : 2 * cols // 3] = there[0, 0] = there[-1, 2:4] = False
    quotas = quotas_from_weights(int(there.sum()), [1] * levels)
    return plain_grid(rows, cols, quotas, diagonal=True, min_step=step, present=there, seed=3)


@pytest.mark.parametrize(
    ("levels", "step", "bands"),
    [
        (4, 1, [[0], [1], [2], [3]]),
        (7, 2, [[0], [2], [4], [6]]),
        (8, 2, [[0, 1], [2, 3], [4, 5], [6, 7]]),
        (12, 3, [[0, 1, 2], [3, 4, 5], [6, 7, 8], [9, 10, 11]]),
        (5, 1, []),  # five levels may all touch, so no four are bound to bands
        (9, 2, []),
    ],
)
def test_four_levels_that_touch_come_one_from_each_band(levels, step, bands):
    assert four_bands(Graph(problem=plain_grid(4, 4, [16] + [0] * (levels - 1), diagonal=True, min_step=step))) == bands


@pytest.mark.parametrize(("rows", "cols", "levels", "step"), [(20, 14, 8, 2), (20, 14, 4, 1), (10, 10, 4, 1)])
def test_stripes_go_round_open_cells(rows, cols, levels, step):
    problem = with_open_cells(rows, cols, levels, step)
    answer = solve_heights(problem)
    assert isinstance(answer, Solved)
    assert answer.report.engine == "bands"
    assert is_field(Graph(problem=problem), answer.levels)
    held = np.random.default_rng(7).random(problem.block_count) < 0.3
    pinned = replace(problem, pins=np.where(held, answer.levels, -1), seed=11)
    again = solve_heights(pinned)
    assert isinstance(again, Solved)
    assert is_field(Graph(problem=pinned), again.levels)


def test_bands_of_three_levels_are_drawn_one_region_within_the_next():
    problem = plain_grid(12, 12, [12] * 12, diagonal=True, min_step=3)
    graph = Graph(problem=problem)
    drawn = [draw_bands(graph, four_bands(graph), np.random.default_rng(s), patient=False) for s in range(4)]
    assert all(levels is not None and is_field(graph, levels) for levels in drawn)
    assert len({levels.tobytes() for levels in drawn if levels is not None}) == 4


@pytest.mark.parametrize("start", range(0, 40, 20))
def test_verdicts_under_bands_are_those_of_exhaustive_search(start):
    fields = 0
    for seed in range(start, start + 20):
        rng = np.random.default_rng(seed)
        rows, cols = ((3, 3), (2, 4), (2, 5))[seed % 3]
        there = rng.random((rows, cols)) < (1.0 if seed % 2 else 0.9)
        n = int(there.sum())
        bands = rng.permutation(np.arange(n) % 4)
        quotas = np.bincount(2 * bands + rng.integers(0, 2, size=n), minlength=8)
        problem = plain_grid(rows, cols, quotas, diagonal=True, min_step=2, present=there, seed=seed)
        answer = solve_heights(problem)
        exists = next(every_field(problem), None) is not None
        assert isinstance(answer, Solved) == exists, seed
        if isinstance(answer, NoField):
            assert answer.proven, seed
        fields += exists
    assert 0 < fields < 20


@pytest.mark.parametrize(("rows", "cols"), [(2, 4), (4, 2), (3, 3), (4, 4)])
def test_stripes_of_bands_forbid_only_what_does_not_exist(rows, cols):
    rng = np.random.default_rng(rows * 10 + cols)
    forbidden = told_lines = 0
    for turn in range(4):
        allowed = rng.random((rows, cols, 8)) < (0.9 if turn else 1.0)
        fields = every_field(plain_grid(rows, cols, [0] * 8, diagonal=True, min_step=2, allowed=allowed), quotas=False)
        there = {tuple(np.bincount(field, minlength=8).tolist()) for field in fields}
        n = rows * cols
        shares = [np.bincount(rng.integers(8, size=n), minlength=8) for _ in range(60)]
        shares += [np.repeat([[n // 4 - k, k]], 4, axis=0).reshape(-1) for k in range(n // 4 + 1) if n % 4 == 0]
        for quotas in shares:
            problem = plain_grid(rows, cols, quotas, diagonal=True, min_step=2, allowed=allowed)
            found = proven_by_bands(Graph(problem=problem))
            if found:
                assert tuple(quotas.tolist()) not in there
                forbidden += 1
                told_lines += "from one side on" in found.no.reasons[0]
    assert forbidden
    assert told_lines or min(rows, cols) < 4


def test_bands_alone_are_four_levels_with_the_counts_and_places_of_their_levels():
    problem = replace(with_open_cells(12, 10, 8, 2), pins=None)
    allowed = np.ones((problem.block_count, 8), dtype=np.bool_)
    allowed[0, :2], allowed[1, 2] = False, False
    graph = Graph(problem=replace(problem, allowed=allowed))
    alone = order_bands._bands_alone(graph, [[0, 1], [2, 3], [4, 5], [6, 7]], [30, 20, 25, 25])
    assert alone.quotas.tolist() == [[30, 20, 25, 25]]
    assert (alone.min_step, alone.pins) == (1, None)
    # the first block may have no level of the lowest band; the second still one of the next
    assert alone.allowed is not None
    assert alone.allowed[0].tolist() == [False, True, True, True]
    assert alone.allowed[1].tolist() == [True] * 4
    assert np.array_equal(alone.edges, problem.edges)
    shifted = Graph(problem=alone)
    assert shifted.conflict.tolist() == np.eye(4, dtype=bool).tolist()


@pytest.mark.parametrize(("rows", "cols"), [(3, 3), (3, 5), (4, 4), (5, 4)])
def test_lines_begin_only_as_their_choices_let_them(rows, cols):
    found = 0
    for seed in range(12):
        rng = np.random.default_rng(seed)
        begun = np.arange(cols) + rng.integers(2, size=(rows, 1))
        band_of = (2 * (np.arange(rows)[:, None] % 2) + begun % 2).reshape(-1)
        allowed = rng.random((rows * cols, 8)) < 0.5
        allowed[np.arange(rows * cols), 2 * band_of] = True
        quotas = np.bincount(2 * band_of, minlength=8)
        graph = Graph(
            problem=plain_grid(
                rows, cols, quotas, diagonal=True, min_step=2, allowed=allowed.reshape(rows, cols, 8), seed=seed
            )
        )
        bands = four_bands(graph)
        may = np.stack([graph.choice[:, band].any(axis=1) for band in bands], axis=1)
        for laying in order_bands.layings_of(graph, bands):
            for _ in range(4):
                band = order_bands._laid(graph, laying, rng)
                if band is not None:
                    assert may[np.arange(graph.n), band].all()
                    assert np.bincount(band, minlength=4).tolist() == np.bincount(band_of, minlength=4).tolist()
                    found += 1
    assert found > 12


def test_a_region_grows_only_over_blocks_that_may_stand_high():
    found = none = 0
    for seed in range(12):
        rng = np.random.default_rng(seed)
        allowed = np.ones((3, 4, 8), dtype=np.bool_)
        allowed[:, :, 1::2] = rng.random((3, 4, 4)) < 0.7  # not all may stand at the upper level of their band
        open_quotas = plain_grid(3, 4, [0] * 8, diagonal=True, min_step=2, allowed=allowed)
        some = list(islice(every_field(open_quotas, quotas=False), 2000))
        for number in rng.integers(len(some), size=4):
            field = np.array(some[number])
            graph = Graph(problem=replace(open_quotas, quotas=np.bincount(field, minlength=8).reshape(1, -1)))
            for order in order_bands._orders(graph):
                levels = order_bands._grown(graph, four_bands(graph), field // 2, order)
                none += levels is None
                if levels is not None:
                    assert is_field(graph, levels), (seed, levels)
                    found += 1
    assert found > 20
    assert none > 20


def test_whole_lines_that_do_not_come_out_are_forbidden():
    # 4 x 4 blocks, as many of each band at its upper level: a line holds two of each band it has, so 1 and 3 are odd
    fields = every_field(plain_grid(4, 4, [0] * 8, diagonal=True, min_step=2), quotas=False)
    there = {tuple(np.bincount(field, minlength=8).tolist()) for field in fields}
    for upper in range(5):
        quotas = np.repeat([[4 - upper, upper]], 4, axis=0).reshape(-1)
        found = proven_by_bands(Graph(problem=plain_grid(4, 4, quotas, diagonal=True, min_step=2)))
        assert (found is None) == (tuple(quotas.tolist()) in there) == (upper % 2 == 0), upper
