"""Factors, placing, combined loading, and fixings that carry somebody else's number."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.fasteners import (
    LoadDuration,
    combined_allowable_n,
    combined_use,
    glue_line_shear,
    least_placing,
    load_duration_factor,
    packet_rating,
)

LOAD = st.floats(0, 5000)
ALLOWABLE = st.floats(1, 5000)


def test_a_piece_that_hangs_for_years_is_a_permanent_load():
    assert load_duration_factor(LoadDuration.PERMANENT) == 0.9
    factors = [load_duration_factor(duration) for duration in LoadDuration]
    assert factors == sorted(factors)
    assert factors[-1] == 1.6  # no impact factor: a connection may not use it


def test_placing_by_hand():
    placing = least_placing(4.0, prebored=False)
    assert (placing.edge_mm, placing.end_mm, placing.along_grain_mm, placing.across_grain_mm) == (10, 60, 60, 20)
    assert least_placing(4.0, prebored=True).end_mm == 40
    with pytest.raises(OutOfRange):
        least_placing(8.0, prebored=True)


@given(ALLOWABLE, ALLOWABLE)
@settings(max_examples=60)
def test_combined_loading_meets_its_two_ends(withdrawal, lateral):
    assert combined_allowable_n(withdrawal, lateral, 0) == pytest.approx(lateral)
    assert combined_allowable_n(withdrawal, lateral, 90) == pytest.approx(withdrawal)


@given(LOAD, LOAD, ALLOWABLE, ALLOWABLE)
@settings(max_examples=150)
def test_use_is_the_resultant_over_its_allowable_and_never_below_either_alone(pull, shear, withdrawal, lateral):
    use = combined_use(pull, shear, withdrawal, lateral)
    # Hand form: use = (T sin/W + V cos/Z) with the angle of the resultant
    resultant = (pull**2 + shear**2) ** 0.5
    if resultant > 1e-6:
        expected = (pull**2 / withdrawal + shear**2 / lateral) / resultant
        # the curve bulges past the withdrawal itself where the lateral value is the larger: neither share is exceeded
        expected = max(expected, pull / withdrawal, shear / lateral)
        assert use == pytest.approx(expected, rel=1e-6, abs=1e-9)
    assert combined_use(pull, 0, withdrawal, lateral) == pytest.approx(pull / withdrawal)
    assert combined_use(0, shear, withdrawal, lateral) == pytest.approx(shear / lateral)


def test_what_a_packet_says_counts_for_a_quarter():
    fixing = packet_rating(400)
    assert (fixing.allowable_n, fixing.factor) == (100, 4)
    assert "no source" in fixing.basis
    assert packet_rating(400, divisor=5).allowable_n == 80
    with pytest.raises(OutOfRange, match="larger"):
        packet_rating(400, divisor=0.5)


def test_glue_line_by_hand():
    # 50 × 50 mm of side grain at 0.93 MPa: 2325 N; times 0.9 for permanent 2092.5; half for creep, a quarter end grain
    side = glue_line_shear(2500, 0.93, end_grain=False, permanent=False, duration_factor=0.9)
    assert side.allowable_n == pytest.approx(2092.5)
    worst = glue_line_shear(2500, 0.93, end_grain=True, permanent=True, duration_factor=0.9)
    assert worst.allowable_n == pytest.approx(2092.5 / 8)
    assert worst.factor == pytest.approx(1 / (0.9 * 0.25 * 0.5))
    assert "end grain" in worst.basis
