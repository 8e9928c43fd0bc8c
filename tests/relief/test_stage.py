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
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import shares_round_pins
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
    one_cell_each = all(footprint.cells in (None, (1, 1)) for footprint in brief.blocks.footprints)
    plain = one_cell_each and not layout.blocks.letter.any()
    assert (problem.grid is not None) == plain
    if problem.grid is not None:
        on_grid = Graph(problem=problem)
        any_graph = Graph(problem=replace(problem, grid=None))
        assert on_grid.neighbours == any_graph.neighbours


def test_a_large_plain_piece_goes_to_the_quick_engine_and_is_measured_in_rows_and_columns():
    text = FIRST.replace("[blocks]", "[blocks]\ncolumns = 60\nrows = 40")
    brief, layout = laid(text)
    problem = height_problem(brief, layout)
    assert problem.block_count == 2400
    assert solve_heights(problem).report.engine == "bits"
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


GRID = FIRST.replace("[blocks]", "[blocks]\ncolumns = 12\nrows = 10")


def field(text: str) -> tuple[Brief, Layout, Relief]:
    brief, layout = laid(text)
    planned = plan_relief(brief, layout)
    assert isinstance(planned, Relief), planned
    return brief, layout, planned


def test_corners_and_a_least_step_are_kept_when_the_brief_asks():
    text = FIRST.replace("[blocks]", "[blocks]\ncolumns = 8\nrows = 6")
    text = text.replace("{ from = 18, to = 42, step = 6 }", "{ from = 18, to = 66, step = 6 }")
    _, layout, planned = field(text.replace("[blocks]", "[blocks]\ncorners_count = true\nmin_step = 2"))
    for a, b in (*layout.blocks.edges.tolist(), *layout.blocks.corner_edges.tolist()):
        assert abs(int(planned.level[a]) - int(planned.level[b])) >= 2


def test_no_tall_blocks_on_the_edge():
    _, layout, planned = field(GRID.replace("[blocks]", "[blocks]\nedge_levels = [18, 24, 30]"))
    rim = (layout.blocks.row == 1) | (layout.blocks.row == 10)
    rim |= (layout.blocks.column == 1) | (layout.blocks.column == 12)
    assert int(rim.sum()) == 40
    assert planned.level[rim].max() == 2
    assert planned.level[~rim].max() == 4


def test_an_edge_of_too_few_levels_is_told_which_one_more_would_do():
    text = FIRST.replace("[blocks]", "[blocks]\ncolumns = 5\nrows = 5\nedge_levels = [18]")
    planned = plan_relief(*laid(text))
    assert isinstance(planned, NoRelief)
    assert planned.proven
    assert "pin" not in planned.reason
    assert "take 24 mm too" in planned.remedy
    assert isinstance(plan_relief(*laid(text.replace("[18]", "[18, 24]"))), Relief)


def test_a_tall_level_that_the_edge_leaves_too_few_places_for_is_named_with_the_least_that_does():
    quotas = "quotas = { 18 = 12, 24 = 12, 30 = 12, 36 = 42, 42 = 42 }"
    text = GRID.replace("[blocks]", "[blocks]\nedge_levels = [18, 24, 30]").replace(
        "height = 70", f"height = 70\n{quotas}"
    )
    planned = plan_relief(*laid(text))
    assert isinstance(planned, NoRelief)
    assert planned.reason == (
        "Levels 36 mm and 42 mm: asked for 84 blocks, but only 80 can have them; 4 fewer will do."
    )
    assert planned.remedy.endswith("Nothing less will do.")


def test_edge_levels_reach_the_re_plan_too():
    from bossage.plan import Plan, make_plan
    from bossage.replan import standing_of

    plan = make_plan(read_brief(GRID.replace("[blocks]", "[blocks]\nedge_levels = [18, 24, 30]")))
    assert isinstance(plan, Plan)
    standing = standing_of(plan)
    corner = next(v for v, place in enumerate(standing.places) if place.address == "1·1")
    inner = next(v for v, place in enumerate(standing.places) if place.address == "5·5")
    assert standing.allowed[corner].tolist() == [True, True, True, False, False]
    assert standing.allowed[inner].all()


def blocks_g(brief: Brief, layout: Layout, planned: Relief) -> float:
    from bossage.timber import species_or_board

    density = species_or_board(brief.blocks.species).density_12pct_kg_m3
    volume = layout.blocks.width_nm * 1e-9 * (layout.blocks.height_nm * 1e-9) * (planned.length_nm * 1e-9)
    return float(volume.sum() * density * 1000)


def test_weights_lean_towards_the_mass_that_is_asked_for():
    even = blocks_g(*field(GRID))
    for share in (0.86, 1.0, 1.12):
        text = GRID.replace("[blocks]", f'[blocks]\nmass = "{even * share:.0f} g"')
        brief, layout, planned = field(text)
        (check,) = [check for check in planned.checks if check.name == "mass_target"]
        assert check.verdict is Verdict.FINE
        assert blocks_g(brief, layout, planned) == pytest.approx(even * share, rel=0.01)


def test_a_mass_out_of_reach_is_said_and_comes_as_near_as_can_be():
    even = blocks_g(*field(GRID))
    brief, layout, planned = field(GRID.replace("[blocks]", f'[blocks]\nmass = "{even / 3:.0f} g"'))
    (check,) = [check for check in planned.checks if check.name == "mass_target"]
    assert check.verdict is Verdict.CAUTION
    assert blocks_g(brief, layout, planned) < 0.85 * even


def test_quotas_weights_and_pins_of_the_brief_are_kept():
    quotas = "quotas = { 18 = 30, 24 = 20, 30 = 20, 36 = 20, 42 = 30 }"
    pin = '\n[[pin]]\nblock = "3·4"\nlevel = 42\n'
    _, layout, planned = field(GRID.replace("height = 70", f"height = 70\n{quotas}") + pin)
    assert np.bincount(planned.level).tolist() == [30, 20, 20, 20, 30]
    (at,) = [v for v in range(layout.blocks.count) if layout.blocks.address(v) == "3·4"]
    assert planned.level[at] == 4
    _, _, weighed = field(GRID.replace("height = 70", "height = 70\nweights = [2, 1, 1, 1, 1]"))
    assert np.bincount(weighed.level).tolist() == [40, 20, 20, 20, 20]
    _, _, barred = field(GRID.replace("height = 70", "height = 70\nlevels = [18, 24, 30]"))
    assert set(barred.level.tolist()) == {0, 1, 2}


def test_order_that_few_levels_force_is_said_before_solving():
    _, _, planned = field(GRID.replace("{ from = 18, to = 42, step = 6 }", "[18, 30, 42]"))
    (check,) = [check for check in planned.checks if check.name == "forced_order"]
    assert check.verdict is Verdict.CAUTION
    assert "3 levels" in check.found


def test_shares_stay_below_what_there_is():
    assert shares_round_pins(10, [1, 1, 1], np.zeros(3, int), np.array([1, 10, 10])).tolist() == [1, 5, 4]
    assert shares_round_pins(9, [1, 1, 0], np.array([0, 0, 3]), np.array([2, 9, 9])).tolist() == [2, 4, 3]
    assert shares_round_pins(9, [1, 1], np.zeros(2, int), np.array([2, 2])).sum() == 9
