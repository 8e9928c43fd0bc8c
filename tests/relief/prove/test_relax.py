from __future__ import annotations

import numpy as np
import pytest
from tests.relief.exhaustive import every_field, least_moved
from tests.relief.graphs import patchwork, piece

from bossage.relief.problem.records import HeightProblem, NoField, Proof, Solved, plain_grid
from bossage.relief.solve import solve_heights


def crowded(seed: int) -> HeightProblem:
    """A small mixed piece whose quotas lean so much to some levels that about half cannot be met."""
    rng = np.random.default_rng(seed)
    rects, group = patchwork(rng, cols=int(rng.integers(2, 5)), rows=int(rng.integers(2, 4)))
    levels = int(rng.integers(2, 5))
    sizes = np.bincount(group, minlength=2)
    quotas = [np.bincount(rng.choice(levels, n, p=rng.dirichlet(np.ones(levels))), minlength=levels) for n in sizes]
    allowed = rng.random((len(rects), levels)) > (0.25 if seed % 3 == 0 else 0.0)
    return piece(rects, group, quotas, allowed=allowed, min_step=1 + (seed % 5 == 0), seed=seed)


def check_against_search(seed: int) -> bool:
    """Verdict and least relaxation against exhaustive search; returns whether there is a field."""
    problem = crowded(seed)
    answer = solve_heights(problem)
    exists = next(every_field(problem), None) is not None
    assert isinstance(answer, Solved) == exists, seed
    if isinstance(answer, NoField):
        assert answer.proven, seed
        least = least_moved(problem)
        if least is None:
            assert answer.relaxation is None or answer.relaxation.moved == 0 or answer.relaxation.widened, seed
        else:
            assert answer.relaxation is not None, seed
            assert answer.relaxation.smallest, seed
            assert answer.relaxation.moved == least, (seed, answer, least)
            eased = problem.quotas.copy()
            for change in answer.relaxation.quotas:
                eased[change.group, change.level] += change.change
            again = HeightProblem(
                block_count=problem.block_count,
                edges=problem.edges,
                quotas=eased,
                group=problem.group,
                allowed=problem.allowed,
                min_step=problem.min_step,
            )
            assert isinstance(solve_heights(again), Solved), seed
    return exists


@pytest.mark.parametrize("start", range(0, 120, 30))
def test_the_smallest_relaxation_is_that_of_exhaustive_search(start):
    # bench/relief.py runs 600 of these.
    verdicts = [check_against_search(seed) for seed in range(start, start + 30)]
    assert 0 < sum(verdicts) < 30  # both verdicts come up, so neither way is untested


def no_field(problem: HeightProblem) -> NoField:
    answer = solve_heights(problem)
    assert isinstance(answer, NoField)
    assert answer.proven
    return answer


def test_quotas_that_do_not_add_up():
    no = no_field(plain_grid(2, 3, [3, 3, 1]))
    assert no.proof is Proof.COUNTS
    assert no.reasons[0] == "The quotas add up to 7, but there are 6 blocks; take 1 away."


def test_pins_above_their_quota():
    no = no_field(plain_grid(3, 3, [2, 4, 3], pins=np.array([[0, -1, 0], [-1, 0, -1], [-1, -1, -1]])))
    assert no.proof is Proof.PINS
    assert "3 blocks are pinned to level number 1, but only 2 are asked for" in no.reasons[0]
    assert no.relaxation is not None
    assert no.relaxation.moved == 1


def test_pins_that_touch_are_named_and_one_has_to_go():
    no = no_field(plain_grid(2, 3, [2, 2, 2], min_step=1, pins=np.array([[0, 0, -1], [-1, -1, -1]])))
    assert no.proof is Proof.PINS
    assert no.blocks == (0, 1)
    assert no.relaxation is not None
    assert len(no.relaxation.released) == 1


def test_a_block_that_its_neighbours_empty_is_the_one_named():
    pins = np.full((3, 5), -1)
    pins[0, 2], pins[1, 1], pins[1, 3] = 0, 1, 2
    no = no_field(plain_grid(3, 5, [5, 5, 5], pins=pins))
    assert no.proof is Proof.EMPTIED
    assert no.blocks[0] == 7
    assert set(no.blocks[1:]) == {2, 6, 8}


def test_blocks_of_few_levels_against_their_quota():
    allowed = np.ones((4, 4, 3), dtype=bool)
    allowed[1:3, :, 2] = False
    no = no_field(plain_grid(4, 4, [4, 2, 10], allowed=allowed))
    assert no.proof is Proof.CHOICES
    assert "asked for 10 blocks, but only 8 can have it" in no.reasons[0]


@pytest.mark.parametrize(("levels", "step", "diagonal"), [(2, 2, False), (3, 1, True), (6, 2, True)])
def test_too_few_levels_for_blocks_that_all_touch(levels, step, diagonal):
    quotas = np.bincount(np.arange(16) % levels, minlength=levels)
    no = no_field(plain_grid(4, 4, quotas, diagonal=diagonal, min_step=step))
    assert no.proof is Proof.FEW_LEVELS
    assert f"at least {(3 if diagonal else 1) * step + 1} levels" in no.reasons[0]


def test_more_than_can_stand_apart_in_a_masked_field_with_corners():
    no = no_field(plain_grid(5, 5, [10, 4, 4, 4, 3], diagonal=True))
    assert no.proof is Proof.APART
    assert "at most 9 can stand apart; 1 fewer" in no.reasons[0]


def test_levels_that_lack_company():
    no = no_field(plain_grid(4, 4, [1, 4, 6, 4, 1], min_step=2))
    assert no.proof in (Proof.APART, Proof.COMPANY)
    lonely = no_field(plain_grid(4, 4, [2, 2, 5, 3, 4, 0, 0], min_step=3))
    assert lonely.proven


def test_what_only_a_search_can_prove_is_proven_by_it():
    no = no_field(plain_grid(5, 5, [4, 4, 9, 4, 4], min_step=2))
    assert no.proof is Proof.SEARCH
    assert no.relaxation is not None
    assert no.relaxation.moved == 2
    assert no.relaxation.smallest
