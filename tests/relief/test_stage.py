from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bossage.brief import read_brief
from bossage.brief.records import Brief
from bossage.checks import Verdict
from bossage.layout import Layout, plan_layout
from bossage.relief import NoRelief, Relief, height_problem, plan_relief
from bossage.relief.graph import Board
from bossage.relief.problem import shares_round_pins
from bossage.relief.solve import solve_heights

ROOT = Path(__file__).parents[2]
FIRST = (ROOT / "examples" / "first.toml").read_text()


def laid(text: str) -> tuple[Brief, Layout]:
    brief = read_brief(text)
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    return brief, layout


def relief(text: str) -> Relief:
    planned = plan_relief(*laid(text))
    assert isinstance(planned, Relief), planned
    return planned


@pytest.mark.parametrize("name", sorted(path.name for path in (ROOT / "examples").glob("*.toml")))
def test_a_plain_piece_is_known_as_a_grid_with_the_same_neighbours(name):
    brief, layout = laid((ROOT / "examples" / name).read_text())
    problem = height_problem(brief, layout)
    plain = not layout.blocks.letter.any()
    assert (problem.grid is not None) == plain
    if problem.grid is not None:
        on_grid = Board(problem=problem)
        any_graph = Board(problem=replace(problem, grid=None))
        assert on_grid.neighbours == any_graph.neighbours


def test_a_large_plain_piece_goes_to_the_quick_engine_and_is_measured_in_rows_and_columns():
    text = FIRST.replace("[blocks]", "[blocks]\ncolumns = 60\nrows = 40")
    brief, layout = laid(text)
    problem = height_problem(brief, layout)
    assert problem.blocks_n == 2400
    assert solve_heights(problem).report.engine == "lattice"
    figures = relief(text).figures
    assert {"moran_rows", "moran_cols", "alternation", "abab_rows"} <= set(figures)


def test_how_random_it_looks_is_said_in_words():
    planned = relief(FIRST)
    (check,) = [check for check in planned.checks if check.name == "looks_random"]
    assert check.verdict is Verdict.FINE
    assert "No stripes, no chessboard, no clumps" in check.found
    assert max(abs(z) for z in planned.from_fair.values()) < 5


def test_quotas_by_weight_give_way_to_pins():
    assert shares_round_pins(10, [1, 1], np.array([8, 0])).tolist() == [8, 2]
    assert shares_round_pins(10, [1, 1, 0], np.array([0, 0, 3])).tolist() == [4, 3, 3]
    assert shares_round_pins(3, [1, 0], np.array([0, 3])).tolist() == [0, 3]
    with pytest.raises(ValueError, match="More blocks are held"):
        shares_round_pins(3, [1, 1], np.array([2, 2]))


def test_no_relief_says_what_would_do():
    brief, layout = laid(FIRST.replace("levels = ", "corners_count = true\nlevels = [20, 30, 40] # "))
    planned = plan_relief(brief, layout)
    assert isinstance(planned, NoRelief)
    assert planned.proven
    assert "4 levels" in planned.reason
