"""Laws and limits of the lifting equation; worked examples are in tests/published."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.handling import LEAVES_OUT, Coupling, frequency_multiplier, lift_metric, lift_us, lifting_index
from bossage.units import G_PER_LB


def metric(H=40.0, V=75.0, D=60.0, A=0.0, FM=1.0, coupling=Coupling.GOOD, as_printed=False):
    return lift_metric(H_cm=H, V_cm=V, D_cm=D, A_deg=A, FM=FM, coupling=coupling, as_printed=as_printed)


def over_the_bed(H):
    return lift_us(H_in=H, V_in=62, D_in=30, A_deg=0, FM=1, coupling=Coupling.POOR)


def test_lifted_over_a_mattress_to_a_hook():
    # 51 × 10/24 × (1 - 0.0075 × 32) × (0.82 + 1.8/30) × 0.90 = 12.7908 lb
    assert over_the_bed(24).recommended_lb == pytest.approx(12.7908, abs=1e-4)
    # one inch past the limit of the reach nothing may be lifted at all
    assert over_the_bed(26).recommended_g == 0
    assert lifting_index(1000, over_the_bed(26)) == math.inf


def test_index_is_load_over_limit():
    lift = metric(H=25, D=25)
    assert lift.recommended_g == 23_000
    assert lifting_index(11_500, lift) == 0.5
    assert lifting_index(0, over_the_bed(26)) == math.inf
    assert lift.leaves_out == LEAVES_OUT


def test_near_and_small_values_count_as_the_least():
    assert metric(H=10, D=5) == metric(H=25, D=25)
    assert lift_us(H_in=4, V_in=30, D_in=0, A_deg=0, FM=1, coupling=Coupling.GOOD).recommended_lb == pytest.approx(51)


@pytest.mark.parametrize("beyond", [{"H": 63.1}, {"V": 175.1}, {"D": 175.1}, {"A": 135.1}])
def test_beyond_each_limit_nothing_may_be_lifted(beyond):
    assert metric(**beyond).recommended_g == 0
    assert metric(**beyond, as_printed=True).recommended_g == 0


@pytest.mark.parametrize("at", [{"H": 63}, {"V": 175}, {"D": 175}, {"A": 135}])
def test_at_each_limit_something_still_may(at):
    assert metric(**at).recommended_g > 0


def test_fair_coupling_counts_only_low_down():
    assert metric(V=74, coupling=Coupling.FAIR).CM == 0.95
    assert metric(V=75, coupling=Coupling.FAIR).CM == 1.0
    assert metric(V=20, coupling=Coupling.POOR).CM == metric(V=90, coupling=Coupling.POOR).CM == 0.9


def test_metric_and_us_forms_are_no_exact_conversions():
    us = lift_us(H_in=10, V_in=30, D_in=10, A_deg=0, FM=1, coupling=Coupling.GOOD)
    assert us.recommended_g == pytest.approx(51 * G_PER_LB)
    assert us.recommended_kg == pytest.approx(23.133, abs=0.001)


@given(st.floats(25, 63), st.floats(0, 37), st.floats(25, 175), st.floats(0, 135), st.sampled_from(list(Coupling)))
@settings(max_examples=100)
def test_farther_and_more_twisted_is_never_lighter_work(reach, more, travel, twist, coupling):
    near = metric(H=reach, D=travel, A=twist, coupling=coupling)
    far = metric(H=min(reach + more, 200), D=travel, A=twist, coupling=coupling)
    straight = metric(H=reach, D=travel, A=0, coupling=coupling)
    assert far.recommended_g <= near.recommended_g <= straight.recommended_g


@given(st.floats(0, 60), st.floats(0, 60), st.floats(0.1, 8), st.booleans())
@settings(max_examples=100)
def test_more_often_never_raises_the_multiplier(one, other, hours, high):
    slow, fast = sorted((one, other))
    assert frequency_multiplier(fast, hours, high) <= frequency_multiplier(slow, hours, high)
    assert frequency_multiplier(slow, 8, high) <= frequency_multiplier(slow, hours, high)


def test_between_two_printed_rates_the_faster_counts():
    assert frequency_multiplier(1.2, 1, hands_high=False) == frequency_multiplier(2, 1, hands_high=False) == 0.91


@pytest.mark.parametrize("hours", [0, 8.5, math.nan])
def test_longer_than_a_working_day_is_refused(hours):
    with pytest.raises(OutOfRange, match="eight hours"):
        frequency_multiplier(1, hours, hands_high=True)


@pytest.mark.parametrize("wrong", [{"H": -1}, {"V": math.nan}, {"A": 181}, {"FM": 1.1}])
def test_values_that_no_lift_has_are_refused(wrong):
    with pytest.raises(OutOfRange):
        metric(**wrong)
