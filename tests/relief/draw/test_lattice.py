"""The flat lattice beside the rules as a graph has them, and whole fields by it where no other method draws."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.relief.graphs import balanced

from bossage.relief.draw.lattice import group_of, in_conflict, lattice, legal_levels, levels_of, put, surplus_of
from bossage.relief.draw.lattice_shuffle import shuffle_cells
from bossage.relief.draw.lattice_start import in_order, scatter
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import HeightProblem, Solved, plain_grid
from bossage.relief.solve import solve_heights

SIDE = 40
PINS = np.full((SIDE, SIDE), -1)
PINS[0, 0], PINS[7, 9], PINS[7, 11] = 3, 0, 8
UNLIKE: dict[str, dict[str, Any]] = {
    "plain": {},
    "corners": {"diagonal": True},
    "steps": {"min_step": 2},
    "pins": {"pins": PINS},
    "corners, steps and pins": {"diagonal": True, "min_step": 2, "pins": PINS},
    "open cells": {"present": (np.indices((SIDE, SIDE)).sum(axis=0) % 11 != 3)},
}


#: Where corners count and steps are wide, nine levels leave no room; and masks of 17 levels are wider numbers.
LEVELS = {"corners, steps and pins": 17}


def problem_of(kind: str, seed: int = 0) -> HeightProblem:
    there = UNLIKE[kind].get("present", np.ones((SIDE, SIDE)))
    return plain_grid(SIDE, SIDE, balanced(int(there.sum()), LEVELS.get(kind, 9)), seed=seed, **UNLIKE[kind])


@pytest.mark.parametrize("kind", UNLIKE)
def test_what_neighbours_bar_is_what_the_rule_bars(kind: str) -> None:
    graph = Graph(problem=problem_of(kind))
    lat = lattice(graph)
    rng = np.random.default_rng(5)
    scatter(lat, rng)
    levels = levels_of(lat)
    pinned = graph.pins >= 0
    assert (levels[pinned] == graph.pins[pinned]).all()
    legal, bad = legal_levels(lat, lat.place), in_conflict(lat, lat.place)
    for v in range(graph.n):
        barred = graph.conflict[levels[graph.neighbours[v]]].any(axis=0)
        may = graph.choice[v] & ~barred
        if not pinned[v]:
            assert [bool(legal[v] >> k & 1) for k in range(graph.L)] == may.tolist(), v
            assert bad[v] == (not may[levels[v]]), v
    assert int(legal.max()) < 1 << graph.L
    counts = np.bincount(levels, minlength=graph.L)
    assert surplus_of(lat).tolist() == [(counts - graph.problem.quotas[0]).tolist()]
    # scattering comes near the quotas, though not onto them
    assert np.abs(counts - graph.problem.quotas[0]).sum() < 0.2 * graph.n


@pytest.mark.parametrize("kind", UNLIKE)
def test_cells_of_a_class_never_touch_and_every_free_cell_is_in_one(kind: str) -> None:
    graph = Graph(problem=problem_of(kind))
    lat = lattice(graph)
    touching = np.concatenate([np.array(lat.offsets), [-lat.width - 1, -lat.width + 1, lat.width - 1, lat.width + 1]])
    for classes in lat.classes:
        cells = np.concatenate(classes)
        assert sorted(cells.tolist()) == sorted(lat.place[graph.pins < 0].tolist())
        for one in classes:
            assert not np.isin(one[:, None] + touching, one).any()
    assert sorted(map(len, lat.classes[0])) != [graph.n]


def test_blocks_of_two_quota_groups_are_in_classes_of_their_own() -> None:
    from dataclasses import replace

    plain = problem_of("plain")
    group = np.arange(SIDE * SIDE) % 3 // 2
    sizes = np.bincount(group)
    quotas = np.array([balanced(int(n), 9) for n in sizes])
    graph = Graph(problem=replace(plain, group=group, quotas=quotas))
    lat = lattice(graph)
    assert (group_of(lat)[lat.place] == graph.group).all()
    for classes in lat.classes:
        assert all(len(set(group_of(lat)[cells].tolist())) == 1 for cells in classes)
    put(lat, lat.place, np.zeros(graph.n, dtype=np.uint8))
    assert surplus_of(lat)[:, 0].tolist() == (sizes - quotas[:, 0]).tolist()


@pytest.mark.parametrize("kind", UNLIKE)
def test_a_field_of_40_by_40_keeps_every_rule_and_count_and_swaps_keep_it(kind: str) -> None:
    problem = problem_of(kind, seed=4)
    graph = Graph(problem=problem)
    answer = solve_heights(problem)
    assert isinstance(answer, Solved)
    assert is_field(graph, answer.levels)
    lat = lattice(graph)
    put(lat, lat.place, answer.levels.astype(np.uint8))
    assert not in_conflict(lat, lat.free).any()
    assert shuffle_cells(lat, np.random.default_rng(1), passes=8) > 100
    shuffled = levels_of(lat)
    assert is_field(graph, shuffled)
    assert (shuffled != answer.levels).mean() > 0.1
    assert (shuffled[graph.pins >= 0] == graph.pins[graph.pins >= 0]).all()


@pytest.mark.parametrize("kind", ["plain", "corners", "open cells"])
def test_a_start_in_order_has_every_quota_and_hardly_a_clash(kind: str) -> None:
    """Few levels: the levels, sorted, go to one colour of the chessboard after the other."""
    there = UNLIKE[kind].get("present", np.ones((SIDE, SIDE)))
    problem = plain_grid(SIDE, SIDE, balanced(int(there.sum()), 4), seed=1, **UNLIKE[kind])
    graph = Graph(problem=problem)
    for seed in range(4):
        lat, other = lattice(graph), lattice(graph)
        in_order(lat, np.random.default_rng(seed))
        scatter(other, np.random.default_rng(seed))
        levels = levels_of(lat)
        assert np.bincount(levels, minlength=4).tolist() == list(graph.problem.quotas[0])
        # each colour has levels of its own but for one that is shared, so a few along one row clash
        clashes = int(in_conflict(lat, lat.place).sum())
        assert clashes <= 2 * SIDE
