"""Forces against sums done by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from bossage.hang.statics import carried_shares, hinge_pull_n, pull_n, wedge_n, weight_n

places = st.lists(st.integers(0, 40).map(lambda n: n * 50.0), min_size=1, max_size=7)


def test_weight_of_a_kilogram():
    assert weight_n(1000) == pytest.approx(9.80665, rel=1e-12)


def test_pull_by_moments_about_the_foot():
    # 200 N, 60 mm out, 600 mm between cleat line and spacer: 200 · 60 / 600
    assert pull_n(200, 60, 600) == pytest.approx(20)


def test_load_on_each_of_two_cleats_is_the_lever_rule():
    # Two short cleats, middles at 300 and 1100; the leaf weighs 240 N and balances at 500.
    # Moments about the left one: right · 800 = 240 · 200, so right 60 N and left 180 N.
    left, right = carried_shares([300, 1100], 500)
    assert (240 * left, 240 * right) == pytest.approx((180, 60))


def test_a_load_right_over_one_of_two_cleats_is_all_its_own():
    assert carried_shares([0, 800], 800) == pytest.approx((0, 1))


def test_a_load_outside_the_supports_is_carried_by_none():
    assert carried_shares([100, 500], 99) is None
    assert carried_shares([], 0) is None


def test_three_supports_share_alike_only_under_their_middle():
    assert carried_shares([0, 1, 2], 1) == pytest.approx((1 / 3,) * 3)


def test_hinge_by_moments_about_the_lower_one():
    # 101.5 N at 420 mm from the axis, hinges 340 mm apart: 101.5 · 420 / 340
    assert hinge_pull_n(101.5, 420, 340) == pytest.approx(125.38, abs=0.01)


def test_wedge_without_friction_is_the_tangent_of_the_slope():
    assert wedge_n(100, 45, 0) == pytest.approx(100)
    assert wedge_n(100, 30, 0) == pytest.approx(57.735, abs=1e-3)
    # friction 0.2 is an angle of 11.31°: tan(33.69°) is 2/3
    assert wedge_n(100, 45, 0.2) == pytest.approx(200 / 3)


def test_friction_holds_a_flat_slope_by_itself():
    assert wedge_n(100, 10, 0.2) == 0


@given(places, st.floats(0, 2000))
def test_shares_are_in_balance_and_the_worst_is_the_least_possible(x, at):
    shares = carried_shares(x, at)
    if shares is None:
        assert not min(x) <= at <= max(x)
        return
    assert math.fsum(shares) == pytest.approx(1)
    assert math.fsum(s * p for s, p in zip(shares, x, strict=True)) == pytest.approx(at, abs=1e-6)
    assert min(shares) >= 0  # not by a hair: a pull below nothing is refused further on
    n = len(x)
    best = linprog(
        [0] * n + [1],
        A_ub=[[float(i == j) for j in range(n)] + [-1] for i in range(n)],
        b_ub=[0] * n,
        A_eq=[[1] * n + [0], [*x, 0]],
        b_eq=[1, at],
    )
    assert max(shares) == pytest.approx(best.fun, abs=1e-6)


@given(places, st.floats(0, 2000), st.floats(0, 2000))
def test_one_support_more_never_makes_the_worst_worse(x, more, at):
    before = carried_shares(x, at)
    if before is not None:
        assert max(carried_shares([*x, more], at)) <= max(before) + 1e-9
