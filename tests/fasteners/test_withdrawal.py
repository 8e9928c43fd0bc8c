"""Withdrawal, head pull-through and lead holes, worked by hand; printed values are in tests/published."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.fasteners import (
    head_pull_through_n,
    lag_screw_withdrawal_n_per_mm,
    lead_hole_lateral_mm,
    lead_hole_withdrawal_mm,
    nail_withdrawal_n_per_mm,
    wood_screw_ultimate_n,
    wood_screw_withdrawal_n_per_mm,
)
from bossage.fasteners.units import LBF_N

GRAVITY = st.floats(0.31, 0.73)


def test_allowable_is_a_fifth_and_a_half_of_ultimate():
    per_mm = wood_screw_withdrawal_n_per_mm(0.42, 4.17)
    assert wood_screw_ultimate_n(0.42, 4.17, 1) / per_mm == pytest.approx(15700 / 2850)


def test_head_drawn_through_plywood_by_hand():
    # number 8 head 0.312 in on 0.5 in of G 0.42: 690 × 3.14159 × 0.312 × 0.1764 × 0.5 = 59.65 lb
    assert head_pull_through_n(0.42, 0.312 * 25.4, 12.7) / LBF_N == pytest.approx(59.65, abs=0.01)


def test_above_two_and_a_half_heads_thickness_helps_no_more():
    at = head_pull_through_n(0.42, 8, 20)
    assert head_pull_through_n(0.42, 8, 40) == at
    # Eq. 12.2-6b: 1725 pi D_H² G²
    assert at / LBF_N == pytest.approx(1725 * math.pi * (8 / 25.4) ** 2 * 0.42**2)
    assert head_pull_through_n(0.42, 8, 10) == pytest.approx(at / 2)


@pytest.mark.parametrize("equation", [wood_screw_withdrawal_n_per_mm, nail_withdrawal_n_per_mm])
@given(one=GRAVITY, other=GRAVITY)
@settings(max_examples=40)
def test_denser_wood_never_holds_less(equation, one, other):
    light, dense = sorted((one, other))
    assert equation(light, 4) <= equation(dense, 4)
    assert lag_screw_withdrawal_n_per_mm(light, 8) <= lag_screw_withdrawal_n_per_mm(dense, 8)


def test_lead_holes():
    assert lead_hole_withdrawal_mm(0.67, 3.0) == pytest.approx(2.7)
    assert lead_hole_withdrawal_mm(0.55, 3.0) == pytest.approx(2.1)
    assert lead_hole_withdrawal_mm(0.50, 3.0) == 0
    assert lead_hole_lateral_mm(0.67, 4.0, 3.0) == (4.0, 3.0)
    assert lead_hole_lateral_mm(0.42, 4.0, 3.2) == pytest.approx((3.5, 2.8))


@pytest.mark.parametrize("gravity", [0.30, 0.8, 450, math.nan])
def test_gravity_outside_the_tables_is_refused(gravity):
    with pytest.raises(OutOfRange, match="oven-dry"):
        wood_screw_withdrawal_n_per_mm(gravity, 4)
