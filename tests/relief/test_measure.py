from __future__ import annotations

import numpy as np
import pytest
from tests.relief.exhaustive import every_field
from tests.relief.graphs import balanced, terrace

from bossage.relief.likeness import compare_with_fair
from bossage.relief.measure import measure_randomness
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.pair_law import pair_law
from bossage.relief.problem.records import Solved, plain_grid
from bossage.relief.solve import solve_heights
from bossage.relief.warnings import warn_before

ROWS, COLS = 16, 18


def judged(cells: np.ndarray, levels: int):
    problem = plain_grid(*cells.shape, np.bincount(cells.reshape(-1), minlength=levels))
    return compare_with_fair(problem, cells.reshape(-1))


def test_a_solved_field_passes_for_a_fair_draw():
    for seed in range(4):
        problem = plain_grid(ROWS, COLS, balanced(ROWS * COLS, 6), seed=seed)
        answer = solve_heights(problem)
        assert isinstance(answer, Solved)
        assert compare_with_fair(problem, answer.levels).caught == ()


def test_a_striped_field_is_caught():
    rows, cols = np.indices((ROWS, COLS))
    assert "stripes" in judged((cols % 2) + 2 * (rows % 3), 6).caught


def test_a_checkered_field_is_caught():
    rows, cols = np.indices((ROWS, COLS))
    cells = (rows + cols) % 2 + 2 * ((rows // 6 + cols // 6) % 3)
    assert "checkers" in judged(cells, 6).caught


def test_a_clumped_field_is_caught():
    # A fair field whose blocks were then swapped so that high ones gather on one side, the rule kept throughout.
    problem = plain_grid(ROWS, COLS, balanced(ROWS * COLS, 6), seed=3)
    answer = solve_heights(problem)
    assert isinstance(answer, Solved)
    near = Graph(problem=problem).neighbours
    level, rng = answer.levels.tolist(), np.random.default_rng(0)
    for a, b in rng.integers(0, ROWS * COLS, size=(60_000, 2)).tolist():
        left, right = (a, b) if a % COLS < b % COLS else (b, a)
        x, y = level[left], level[right]
        if y < x and all(level[u] != y for u in near[left]) and all(level[u] != x for u in near[right]):
            level[left], level[right] = y, x
    assert "clumps" in compare_with_fair(problem, np.array(level)).caught


@pytest.mark.parametrize(
    ("levels", "alternation", "moran"), [(5, 0.077, -0.250), (7, 0.032, -0.166), (9, 0.018, -0.125)]
)
def test_the_uniform_ensemble_s_figures_at_300_by_300(levels, alternation, moran):
    # Reference values: shared/reference/solvers.md, section 1; within 10 % of the table and the targets below it.
    problem = plain_grid(300, 300, balanced(90_000, levels), seed=1)
    answer = solve_heights(problem)
    assert isinstance(answer, Solved)
    m = measure_randomness(problem, answer.levels)
    assert m.moran_fair == pytest.approx(-1 / (levels - 1), abs=1e-5)  # 90,000 blocks do not share out evenly by 7
    assert m.moran == pytest.approx(moran, abs=0.006)
    assert m.moran == pytest.approx(m.moran_fair, abs=0.005)
    assert m.alternation == pytest.approx(alternation, rel=0.10)
    assert m.pair_distance <= 0.01
    assert abs(m.diagonal - m.antidiagonal) <= 0.01


def sights(fields: np.ndarray, shape: tuple[int, int] = (3, 4)) -> np.ndarray:
    """What an eye might see in small fields: one row a field, by columns."""
    cells = fields.reshape(-1, *shape)
    steps = np.abs(cells[:, :, 1:] - cells[:, :, :-1]).sum(axis=(1, 2))
    falls = np.abs(cells[:, 1:] - cells[:, :-1]).sum(axis=(1, 2))
    down = (cells[:, 1:, 1:] == cells[:, :-1, :-1]).sum(axis=(1, 2))
    up = (cells[:, 1:, :-1] == cells[:, :-1, 1:]).sum(axis=(1, 2))
    along = (cells[:, :, 2:] == cells[:, :, :-2]).sum(axis=(1, 2))
    low = (cells[:, :, :2] == 0).sum(axis=(1, 2))
    return np.stack([steps, falls, down, up, along, low], axis=1).astype(float)


def test_draws_are_those_of_all_fields_of_a_small_board():
    problem = plain_grid(3, 4, [4, 3, 3, 2])
    every = sights(np.array(list(every_field(problem))))
    answers = [solve_heights(plain_grid(3, 4, [4, 3, 3, 2], seed=seed)) for seed in range(300)]
    drawn = sights(np.array([a.levels for a in answers if isinstance(a, Solved)]))
    assert len(drawn) == len(answers)
    z = (drawn.mean(axis=0) - every.mean(axis=0)) / (every.std(axis=0) / np.sqrt(len(drawn)))
    assert np.abs(z).max() <= 2, z.round(2).tolist()


@pytest.mark.parametrize(
    ("shape", "quotas", "more"),
    [
        ((4, 4), [5, 6, 5], {}),
        ((3, 4), [5, 4, 3], {}),
        ((3, 4), [3, 3, 2, 2, 2], {"diagonal": True}),
        ((3, 4), [3, 2, 2, 2, 3], {"min_step": 2}),
        ((3, 4), [3, 2, 2, 2, 3], {"min_step": 2, "pins": np.where(np.arange(12).reshape(3, 4) == 5, 0, -1)}),
    ],
)
def test_draws_are_fair_where_few_levels_leave_little_room(shape, quotas, more):
    # Swaps of two blocks alone do not lead from every field to every other here; without clusters z goes up to 12.
    every = sights(np.array(list(every_field(plain_grid(*shape, quotas, **more)))), shape)
    answers = [solve_heights(plain_grid(*shape, quotas, seed=seed, **more)) for seed in range(150)]
    drawn = sights(np.array([a.levels for a in answers if isinstance(a, Solved)]), shape)
    assert len(drawn) == len(answers)
    spread = every.std(axis=0)
    z = (drawn.mean(axis=0) - every.mean(axis=0))[spread > 0] / (spread[spread > 0] / np.sqrt(len(drawn)))
    assert np.sqrt((z**2).mean()) < 1.5, z.round(2).tolist()
    assert np.abs(z).max() < 3, z.round(2).tolist()


def test_the_pair_law_has_the_quotas_as_its_margins():
    problem = plain_grid(10, 10, [30, 25, 20, 15, 10], min_step=1)
    law = pair_law(Graph(problem=problem), problem.edges)
    assert law.sum(axis=0) == pytest.approx([0.30, 0.25, 0.20, 0.15, 0.10], abs=1e-9)
    assert np.diag(law) == pytest.approx(0)


def test_a_graph_without_a_grid_has_its_own_figures():
    problem = terrace(1)
    answer = solve_heights(problem)
    assert isinstance(answer, Solved)
    assert set(measure_randomness(problem, answer.levels).figures()) == {
        "moran",
        "moran_fair",
        "pair_distance",
        "two_apart",
    }


def figures_of(cells: list[list[int]]) -> dict[str, float]:
    field = np.array(cells)
    problem = plain_grid(*field.shape, np.bincount(field.reshape(-1), minlength=2))
    return measure_randomness(problem, field.reshape(-1)).figures()


def test_a_grid_of_fewer_than_four_columns_is_measured_by_hand():
    # a chessboard of 2 × 3: every pair of neighbours unlike, every second pair alike, both squares of four a b / b a
    found = figures_of([[0, 1, 0], [1, 0, 1]])
    assert {found[name] for name in ("moran", "moran_rows", "moran_cols")} == {-1.0}
    assert {found[name] for name in ("two_apart", "lag2_rows", "diagonal", "antidiagonal", "alternation")} == {1.0}
    # no run of four, and no cell two rows further down
    assert {found[name] for name in ("abab_rows", "abab_cols", "lag2_cols")} == {0.0}
    z = np.array([[-0.5, 0.5, -0.5], [0.5, -0.5, 0.5]])
    power = np.abs(np.fft.fft2(z)) ** 2
    assert found["peak"] == pytest.approx(power.max() / ((z * z).sum() * np.log(6)), rel=1e-8)
    assert found["drift"] == 0  # all cells lie in the 3 × 3 or outside the board, but for the two ends of a row


@pytest.mark.parametrize("cells", [[[0, 1, 0]], [[0], [1], [0]]])
def test_a_single_row_or_column_of_three_has_no_figures_across(cells):
    found = figures_of(cells)
    along, across = ("rows", "cols") if len(cells) == 1 else ("cols", "rows")
    # z is -1/3, 2/3, -1/3, its variance 2/9: neighbours -2/9 over 2/9, two apart 1/9 over 2/9
    assert (found[f"moran_{along}"], found[f"lag2_{along}"]) == (-1.0, 0.5)
    assert {found[f"moran_{across}"], found[f"lag2_{across}"], found["alternation"], found["abab_rows"]} == {0.0}


def test_runs_of_four_and_squares_of_four_are_counted():
    found = figures_of([[0, 1, 0, 1], [1, 0, 1, 2]])
    assert (found["abab_rows"], found["abab_cols"]) == (0.5, 0.0)
    assert found["alternation"] == pytest.approx(2 / 3)


def test_dull_cases_are_named_before_solving():
    assert "rigid stripes" in warn_before(plain_grid(8, 8, [16] * 4, diagonal=True))[0]
    assert "chessboard" in warn_before(plain_grid(10, 10, balanced(100, 3)))[0]
    assert "45 %" in warn_before(plain_grid(10, 10, [45, 20, 20, 15]))[0]
    assert warn_before(plain_grid(10, 10, balanced(100, 6))) == ()
    assert warn_before(terrace(0)) == ()
