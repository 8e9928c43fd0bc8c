"""A relief from the trays against exhaustive search; re-plans up to 20 x 14 against a plain model."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from ortools.sat.python import cp_model
from tests.relief.exhaustive import every_field
from tests.relief.graphs import patchwork, piece

from bossage.relief.change.replan import Replanned, replan
from bossage.relief.change.tray_flow import NEW, Trays
from bossage.relief.change.tray_search import _left_open
from bossage.relief.change.trays import Laid, lay_from_trays
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import Effort, HeightProblem, NoField, Solved, plain_grid, quotas_from_weights
from bossage.relief.solve import solve_heights


def mishap(seed: int) -> tuple[HeightProblem, np.ndarray, Trays] | None:
    """A small mixed piece, part glued, its trays robbed of some blocks and given others."""
    rng = np.random.default_rng(seed)
    rects, group = patchwork(rng, cols=int(rng.integers(3, 5)), rows=2)
    n, levels = len(rects), int(rng.integers(3, 5))
    sizes = np.bincount(group, minlength=2)
    start = piece(rects, group, [quotas_from_weights(int(k), [1] * levels) for k in sizes], seed=seed)
    answer = solve_heights(start)
    if not isinstance(answer, Solved):
        return None
    glued = rng.random(n) < 0.3
    shade = rng.integers(2, size=n)
    have = np.zeros((2, levels, 3), dtype=np.int64)
    for v in np.flatnonzero(~glued):
        have[group[v], answer.levels[v], shade[v]] += 1
    for _ in range(int(rng.integers(1, 4))):
        at = np.argwhere(have > 0)
        if len(at):
            have[tuple(at[rng.integers(len(at))])] -= 1
    for _ in range(int(rng.integers(0, 4))):
        have[rng.integers(2), rng.integers(levels), rng.integers(3)] += 1
    pins = np.where(glued, answer.levels, -1)
    problem = piece(rects, group, start.quotas, pins=pins, seed=seed)
    trays = Trays(
        kind=np.array(group),
        shade=shade,
        length=np.tile(np.arange(levels), (n, 1)),
        have=have,
        saw=bool(rng.integers(2)),
    )
    return problem, answer.levels, trays


def new_blocks(problem: HeightProblem, trays: Trays, field: np.ndarray) -> int:
    """How many places of this field no block in the trays can serve: each takes the shortest that is long enough."""
    lacking = 0
    for kind in (0, 1):
        lengths = sorted(k for k, n in enumerate(trays.have[kind].sum(axis=1)) for _ in range(n))
        wants = sorted(
            int(field[v]) for v in range(problem.block_count) if problem.pins[v] < 0 and trays.kind[v] == kind
        )
        for want in reversed(wants):
            fits = [k for k in lengths if k == want or (trays.saw and k > want)]
            if fits:
                lengths.remove(max(fits) if trays.saw else want)
            else:
                lacking += 1
    return lacking


def test_small_mishaps_agree_with_exhaustive_search():
    healed = changed = sawn = 0
    for seed in range(90):
        made = mishap(seed)
        if made is None:
            continue
        problem, before, trays = made
        best = min(
            (new_blocks(problem, trays, np.array(field)), int((np.array(field) != before).sum()))
            for field in every_field(problem, quotas=False)
        )
        answer = lay_from_trays(problem, before, trays)
        assert isinstance(answer, Laid)
        assert (int(answer.new.sum()), answer.changes) == best
        assert answer.proven
        assert (answer.levels[problem.pins >= 0] == before[problem.pins >= 0]).all()
        check_taken(problem, trays, answer)
        healed += 1
        changed += best[1] > 0
        sawn += best[0] > 0
    assert healed > 40
    assert changed > 10
    assert sawn > 10


def check_taken(problem: HeightProblem, trays: Trays, answer: Laid) -> None:
    """Every block is taken once, from its tray, and is long enough."""
    used = np.zeros_like(trays.have)
    for v in np.flatnonzero(problem.pins < 0):
        source, shade = answer.took[v]
        if source == NEW:
            continue
        used[trays.kind[v], source, shade] += 1
        need = trays.length[v, answer.levels[v]]
        assert source == need or (trays.saw and source > need)
    assert (used + answer.left == trays.have).all()
    assert int((answer.took[problem.pins < 0, 0] == NEW).sum()) == int(answer.new.sum())
    assert (answer.took[problem.pins >= 0] == -1).all()


def test_among_equally_many_changes_the_least_seen_are_made():
    checked = 0
    for seed in range(60):
        made = mishap(seed)
        if made is None:
            continue
        problem, before, trays = made
        weight = np.random.default_rng(seed).integers(1, 50, size=problem.block_count)
        answer = lay_from_trays(problem, before, trays, weights=weight)
        assert isinstance(answer, Laid)
        seen = min(
            int(weight[np.array(field) != before].sum())
            for field in every_field(problem, quotas=False)
            if (new_blocks(problem, trays, np.array(field)), int((np.array(field) != before).sum()))
            == (int(answer.new.sum()), answer.changes)
        )
        assert answer.least_seen
        assert answer.visible == seen
        checked += answer.changes > 0
    assert checked > 4


def test_a_large_piece_is_mended_near_its_bound():
    n = 60 * 60
    problem = plain_grid(60, 60, quotas_from_weights(n, [1] * 6), seed=3)
    before = solve_heights(problem)
    assert isinstance(before, Solved)
    have = np.zeros((1, 6, 2), dtype=np.int64)
    have[0, :, 0] = np.bincount(before.levels, minlength=6)
    have[0, 5, 0] -= 40
    have[0, 1, 1] += 45
    zero = np.zeros(n, dtype=np.int64)
    trays = Trays(kind=zero, shade=zero, length=np.tile(np.arange(6), (n, 1)), have=have)
    answer = lay_from_trays(problem, before.levels, trays)
    assert isinstance(answer, Laid)
    assert answer.changes == answer.bound == 40
    check_taken(
        plain_grid(60, 60, quotas_from_weights(n, [1] * 6), pins=np.full((60, 60), -1)),
        trays,
        answer,
    )


def test_glued_blocks_that_leave_no_level_are_named():
    pins = np.full((3, 3), -1)
    pins[0, 1], pins[1, 0], pins[1, 2] = 0, 1, 2
    problem = plain_grid(3, 3, [3, 3, 3], pins=pins)
    current = np.array([1, 0, 1, 1, 0, 2, 0, 1, 0])
    zero = np.zeros(9, dtype=np.int64)
    have = np.full((1, 3, 2), 9)
    trays = Trays(kind=zero, shade=zero, length=np.tile(np.arange(3), (9, 1)), have=have)
    answer = lay_from_trays(problem, current, trays)
    assert isinstance(answer, NoField)
    assert answer.proven
    assert set(answer.blocks) == {4, 1, 3, 5}


def plainly(problem: HeightProblem, before: np.ndarray) -> int | None:
    """The fewest changes by the plainest model there is, or None where there is no relief."""
    model = cp_model.CpModel()
    x = [[model.new_bool_var("") for _ in range(problem.level_count)] for _ in range(problem.block_count)]
    for v, own in enumerate(x):
        model.add_exactly_one(own)
        if problem.pins is not None and problem.pins[v] >= 0:
            model.add(own[int(problem.pins[v])] == 1)
    for a, b in Graph(problem=problem).edges.tolist():
        for one in range(problem.level_count):
            for other in range(problem.level_count):
                if abs(one - other) < problem.min_step:
                    model.add_bool_or([x[a][one].negated(), x[b][other].negated()])
    for level in range(problem.level_count):
        model.add(sum(own[level] for own in x) == int(problem.quotas[0, level]))
    model.minimize(sum(1 - x[v][int(before[v])] for v in range(problem.block_count)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 40.0
    status = solver.solve(model)
    if status == cp_model.OPTIMAL:
        return round(solver.objective_value)
    assert status == cp_model.INFEASIBLE
    return None


SHAPES = [
    (6, 5, 4, False, 1), (8, 6, 5, False, 1), (10, 8, 5, False, 1), (9, 7, 5, True, 1), (12, 9, 6, True, 1),
    (10, 10, 7, False, 2), (14, 10, 6, False, 1), (20, 14, 7, False, 1), (20, 14, 6, False, 1), (20, 14, 7, True, 1),
]  # fmt: skip


@pytest.mark.parametrize(("shape", "seed"), [(shape, seed) for seed in range(2) for shape in SHAPES])
def test_generated_mishaps_up_to_20_by_14_come_out_at_their_proven_minimum(shape, seed):
    rows, cols, levels, corners, step = shape
    rng = np.random.default_rng(1000 * seed + rows)
    n = rows * cols
    quotas = quotas_from_weights(n, [1] * levels)
    whole = solve_heights(plain_grid(rows, cols, quotas, diagonal=corners, min_step=step, seed=seed))
    assert isinstance(whole, Solved)
    glued = rng.random((rows, cols)) < (0.3 if seed else 0.0)
    field = whole.levels.reshape(rows, cols)
    pins = np.where(glued, field, -1)
    now = quotas.copy()
    for one, other in pairwise(rng.permutation(levels)[:3].tolist()):
        lost = min(int(rng.integers(1, 1 + max(1, n // 40))), int(now[one] - (glued & (field == one)).sum()))
        now[one] -= lost
        now[other] += lost
    problem = plain_grid(rows, cols, now, diagonal=corners, min_step=step, pins=pins, seed=seed)
    answer = replan(problem, whole.levels)
    least = plainly(problem, whole.levels)
    if least is None:
        assert isinstance(answer, NoField)
        assert answer.proven
        return
    assert isinstance(answer, Replanned)
    assert is_field(Graph(problem=problem), answer.levels)
    assert answer.changes == answer.bound == least
    assert answer.proven
    assert (answer.levels.reshape(rows, cols)[glued] == field[glued]).all()


def short_of_many(seed: int) -> tuple[HeightProblem, np.ndarray, Trays]:
    """A piece of 12 x 10 whose corners count, half of it glued, six blocks lost and three others found."""
    rng, n, levels = np.random.default_rng(seed), 120, 5
    quotas = quotas_from_weights(n, [1] * levels)
    whole = solve_heights(plain_grid(12, 10, quotas, diagonal=True, seed=seed))
    assert isinstance(whole, Solved)
    glued, shade = rng.random(n) < 0.5, rng.integers(2, size=n)
    have = np.zeros((1, levels, 3), dtype=np.int64)  # the last shade is bare
    np.add.at(have, (0, whole.levels[~glued], shade[~glued]), 1)
    for _ in range(6):
        at = np.argwhere(have > 0)
        have[tuple(at[rng.integers(len(at))])] -= 1
    np.add.at(have, (0, rng.integers(levels, size=3), rng.integers(3, size=3)), 1)
    pins = np.where(glued, whole.levels, -1).reshape(12, 10)
    zero = np.zeros(n, dtype=np.int64)
    trays = Trays(kind=zero, shade=shade, length=np.tile(np.arange(levels), (n, 1)), have=have)
    return plain_grid(12, 10, quotas, pins=pins, diagonal=True, seed=seed), whole.levels, trays


def test_a_search_that_is_cut_short_claims_no_more_than_is_so():
    few_changes = few_new = 0
    for seed in (0, 2, 4, 10, 11, 15):
        problem, before, trays = short_of_many(seed)
        whole = lay_from_trays(problem, before, trays)
        assert isinstance(whole, Laid)
        assert whole.proven
        for units in (0.0003, 0.0006, 0.001):
            cut = lay_from_trays(problem, before, trays, effort=Effort(exact_units=units))
            if not isinstance(cut, Laid):
                assert not cut.proven
                continue
            check_taken(problem, trays, cut)
            assert (cut.spare, cut.changes) >= (whole.spare, whole.changes)
            assert cut.bound <= cut.changes
            if cut.spare == whole.spare:
                assert cut.bound <= whole.changes
            assert not cut.proven or (cut.spare, cut.changes) == (whole.spare, whole.changes)
            few_changes += cut.changes > whole.changes
            few_new += cut.spare > whole.spare
    assert few_changes
    assert few_new


@given(st.sets(st.tuples(st.integers(0, 4), st.integers(0, 9)), min_size=1), st.floats(0, 60), st.integers(0, 4))
def test_what_a_bound_of_new_blocks_and_changes_proves_is_so(
    ways: set[tuple[int, int]], bound: float, extra: int
) -> None:
    # nine places, so that a block beyond those missing counts ten
    at_most = min(10 * beyond + changes for beyond, changes in ways)
    fewest, proven = _left_open(min(bound, at_most), extra, 9)
    assert all(changes >= fewest for beyond, changes in ways if beyond <= extra)
    assert not proven or all(beyond >= extra for beyond, _ in ways)
    # a bound that is exact proves all that there is
    best = min(ways)
    assert _left_open(at_most, best[0], 9) == (best[1], True)
