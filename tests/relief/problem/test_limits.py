"""The thresholds between engines: on either side of each, the row that the table says; and each row by itself."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.relief.graphs import balanced, hall, school, terrace

from bossage.relief.draw.grid_classes import draw_by_classes
from bossage.relief.draw.on_graph import draw_on_graph
from bossage.relief.problem import limits
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_bits, suits_classes, suits_cp_sat
from bossage.relief.problem.records import Effort, HeightProblem, Solved, plain_grid
from bossage.relief.solve import solve_heights


def grid(rows: int, columns: int, levels: int, **more: object) -> HeightProblem:
    return plain_grid(rows, columns, balanced(rows * columns, levels), **more)


def graph(rows: int, columns: int, levels: int, **more: object) -> Graph:
    return Graph(problem=grid(rows, columns, levels, **more))


def test_bits_begin_at_their_blocks_rows_and_levels():
    rows, blocks, levels = limits.BITS_ROWS_FROM, limits.BITS_FROM, limits.BITS_LEVELS_FROM
    columns = -(-blocks // rows)
    assert suits_bits(graph(rows, columns, levels))
    assert not suits_bits(graph(rows, (blocks - 1) // rows, levels))
    assert not suits_bits(graph(rows - 1, 2 * columns, levels))
    assert not suits_bits(graph(rows, columns, levels - 1))
    assert not suits_bits(graph(rows, columns, limits.BITS_LEVELS_UP_TO + 1))


def test_classes_are_for_large_grids_whose_levels_fit_into_one_number():
    side = limits.CLASSES_FROM // 10
    assert suits_classes(graph(10, side, 7))
    assert not suits_classes(graph(9, side, 7))
    assert suits_classes(graph(10, side, limits.CLASSES_LEVELS_UP_TO))
    assert not suits_classes(graph(10, side, limits.CLASSES_LEVELS_UP_TO + 1))
    assert not suits_classes(Graph(problem=replace(grid(10, side, 7), grid=None)))


def test_cp_sat_ends_at_its_blocks():
    assert suits_cp_sat(graph(50, limits.CP_SAT_UP_TO // 50, 7))
    assert not suits_cp_sat(graph(51, limits.CP_SAT_UP_TO // 50, 7))


@pytest.mark.parametrize(
    ("problem", "engine"),
    [
        (grid(6, 6, 7, diagonal=True), "tabu"),
        (grid(6, 6, 4, diagonal=True), "stripes"),
        (grid(50, 50, 7), "bits"),
        (grid(50, 50, 7, diagonal=True), "classes"),
        (replace(grid(12, 12, 6), grid=None), "tabu"),
        # more levels than fit into one number, and not for the bits: the corners must differ
        (grid(10, 100, limits.CLASSES_LEVELS_UP_TO + 1, diagonal=True), "tabu"),
    ],
)
def test_a_field_says_which_engine_drew_it(problem, engine):
    answer = solve_heights(problem)
    assert isinstance(answer, Solved)
    assert answer.report.engine == engine


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**32 - 1), st.integers(4, 12), st.integers(4, 12), st.integers(5, 9), st.booleans())
def test_classes_draw_small_grids_too(seed, rows, columns, levels, diagonal):
    problem = Graph(problem=grid(rows, columns, levels, diagonal=diagonal))
    solved = draw_by_classes(problem, np.random.default_rng(seed), Effort())
    assert solved is None or is_field(problem, solved.levels)


@settings(max_examples=25, deadline=None)
@given(st.sampled_from([hall, school, terrace]), st.integers(0, 99))
def test_tabu_search_draws_mosaics_and_rings(scenario, seed):
    problem = Graph(problem=scenario(seed))
    solved = draw_on_graph(problem, np.random.default_rng(seed), Effort())
    assert solved is None or is_field(problem, solved.levels)
