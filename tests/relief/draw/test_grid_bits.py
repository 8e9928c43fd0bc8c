"""Bit-parallel swaps: every rule kept, and the law of its fields that of all fields there are."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import chisquare
from tests.relief.exhaustive import every_field
from tests.relief.graphs import balanced

from bossage.relief.draw.first_field import first_field, repair
from bossage.relief.draw.grid_bits import PlaneField, dealt, draw_by_bits, frame_of
from bossage.relief.draw.shuffle import shuffle
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_bits
from bossage.relief.problem.records import Effort, HeightProblem, IntArray, plain_grid, quotas_from_weights


def fields_of(problem: HeightProblem, count: int, effort: Effort) -> list[IntArray]:
    graph = Graph(problem=problem)
    drawn = (draw_by_bits(graph, np.random.Generator(np.random.PCG64(seed)), effort) for seed in range(count))
    return [solved.levels for solved in drawn if solved]


@st.composite
def grids(draw: st.DrawFn) -> HeightProblem:
    """Grids with open cells and uneven shares."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    rows, cols, levels = draw(st.integers(6, 20)), draw(st.integers(1, 20)), draw(st.integers(5, 17))
    present = rng.random((rows, cols)) >= draw(st.sampled_from([0.0, 0.05, 0.3]))
    present[0, 0] = True
    quotas = quotas_from_weights(int(present.sum()), rng.random(levels) + draw(st.sampled_from([0.2, 1.0])))
    return plain_grid(rows, cols, quotas, present=present)


@settings(max_examples=150, deadline=None)
@given(grids(), st.integers(0, 99))
def test_a_field_keeps_every_rule_and_count(problem, seed):
    solved = draw_by_bits(Graph(problem=problem), np.random.Generator(np.random.PCG64(seed)), Effort())
    if solved is None:  # it may give up, and then the others try; but not on what it is meant for
        assert not suits_bits(Graph(problem=problem))
        return
    levels = solved.levels
    assert np.bincount(levels, minlength=problem.level_count).tolist() == problem.quotas[0].tolist()
    assert all(levels[a] != levels[b] for a, b in problem.edges.tolist())


@pytest.mark.parametrize("unlike", ["corners", "steps", "pins", "choices", "groups", "few levels", "crowded", "small"])
def test_a_piece_that_does_not_suit_is_left_to_others(unlike):
    plain = plain_grid(10, 10, balanced(100, 6))
    assert suits_bits(Graph(problem=plain))
    other = {
        "corners": plain_grid(10, 10, balanced(100, 6), diagonal=True),
        "steps": replace(plain, min_step=2),
        "pins": replace(plain, pins=np.full(100, -1)),
        "choices": replace(plain, allowed=np.ones((100, 6), dtype=np.bool_)),
        "groups": replace(plain, group=np.arange(100) % 2, quotas=np.stack([balanced(50, 6)] * 2)),
        "few levels": plain_grid(10, 10, balanced(100, 4)),
        "crowded": plain_grid(10, 10, [40, 15, 15, 15, 15]),
        "small": plain_grid(8, 8, balanced(64, 6)),
    }[unlike]
    assert not suits_bits(Graph(problem=other))


@given(st.integers(6, 16), st.integers(1, 14), st.integers(0, 2**32 - 1))
def test_the_same_swaps_the_other_way_round_take_a_field_back(rows, cols, seed):
    # So a field is left for another as often as the other way round, and the law that swaps tend to is uniform.
    graph = Graph(problem=plain_grid(rows, cols, balanced(rows * cols, 7)))
    frame = frame_of(graph)
    one = PlaneField(frame, dealt(graph, frame, np.random.default_rng(seed)), np.random.default_rng(seed))
    one.swap(40)
    if one.in_conflict():
        return
    before = list(one.planes)
    for planes in (before, None):
        again = PlaneField(frame, list(planes or one.planes), np.random.default_rng(seed))
        again.swap(1)
        one = again
    assert one.planes == before


def test_every_field_of_a_small_grid_comes_as_often():
    # 12 cells, so that all its fields can be counted; they fall into kinds by which pairs of levels touch how often.
    problem = plain_grid(6, 2, [3, 3, 2, 2, 2])

    def kind(levels) -> int:
        return sum({levels[a], levels[b]} == {0, 1} for a, b in problem.edges.tolist())

    there = Counter(kind(field) for field in every_field(problem))
    drawn = fields_of(problem, 500, Effort(sweeps=20))
    came = Counter(kind(levels.tolist()) for levels in drawn)
    assert set(came) <= set(there)
    common = [k for k, n in there.items() if n * len(drawn) >= 5 * there.total()]
    expected = np.array([there[k] for k in common], dtype=float)
    got = np.array([came[k] for k in common], dtype=float)
    assert chisquare(got, expected * got.sum() / expected.sum()).pvalue > 0.001


def test_its_fields_look_like_those_of_one_swap_after_another():
    problem = plain_grid(12, 10, balanced(120, 6))
    graph = Graph(problem=problem)

    def one_by_one(seed: int) -> IntArray:
        rng = np.random.Generator(np.random.PCG64(seed))
        draft = repair(graph, first_field(graph, rng), rng, rounds=2000)
        return shuffle(graph, draft.levels, rng, sweeps=60).levels

    def looks(levels: IntArray) -> list[float]:
        f = levels.reshape(12, 10)
        z = f - f.mean()
        squares = (f[:-1, :-1] == f[1:, 1:]) & (f[:-1, 1:] == f[1:, :-1])
        pairs = [(z[1:], z[:-1]), (z[:, 1:], z[:, :-1]), (z[2:], z[:-2]), (z[:, 2:], z[:, :-2])]
        pairs += [(z[1:, 1:], z[:-1, :-1]), (z[1:, :-1], z[:-1, 1:])]
        edges = [z[0].mean(), z[-1].mean(), z[:, 0].mean(), z[:, -1].mean(), z[0, 0]]
        return [float(squares.mean()), *(float((a * b).mean()) for a, b in pairs), *map(float, edges)]

    ours = np.array([looks(levels) for levels in fields_of(problem, 400, Effort())])
    theirs = np.array([looks(one_by_one(seed)) for seed in range(150)])
    error = np.hypot(ours.std(axis=0) / np.sqrt(len(ours)), theirs.std(axis=0) / np.sqrt(len(theirs)))
    assert (np.abs(ours.mean(axis=0) - theirs.mean(axis=0)) < 4 * error).all()


def test_the_seed_alone_decides_and_fields_differ():
    problem = plain_grid(20, 14, balanced(280, 7))
    one, again = (fields_of(problem, 2, Effort()) for _ in range(2))
    assert (one[0] == again[0]).all()
    assert (one[1] == again[1]).all()
    assert (one[0] != one[1]).mean() > 0.5
    assert is_field(Graph(problem=problem), one[0])
