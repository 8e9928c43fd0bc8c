"""Laws of movement with moisture; printed values are in tests/published."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.timber import movement_from_shrinkage_mm, movement_mm, shrinkage_pct, species

SIZE = st.floats(1, 1000)
COEFFICIENT = st.floats(0.0005, 0.005)
MOISTURE = st.floats(0, 30)


@given(SIZE, COEFFICIENT, MOISTURE, MOISTURE, MOISTURE)
@settings(max_examples=200)
def test_a_drier_room_never_means_less_shrinkage(size, coefficient, start, one, other):
    drier, damper = sorted((one, other))
    assert movement_mm(size, coefficient, start, drier) <= movement_mm(size, coefficient, start, damper) + 1e-9


@given(SIZE, COEFFICIENT, MOISTURE, MOISTURE)
@settings(max_examples=200)
def test_going_in_parts_stays_within_a_fiftieth_of_equation_13_3(size, coefficient, start, end):
    whole = movement_from_shrinkage_mm(size, shrinkage_pct(coefficient), start, end)
    assert movement_mm(size, coefficient, start, end) == pytest.approx(whole, rel=0.0201, abs=1e-9)


@given(SIZE, COEFFICIENT, MOISTURE)
@settings(max_examples=50)
def test_no_change_of_moisture_no_movement(size, coefficient, moisture):
    assert movement_mm(size, coefficient, moisture, moisture) == 0


@given(SIZE, COEFFICIENT, MOISTURE, MOISTURE)
@settings(max_examples=100)
def test_equation_13_3_there_and_back_is_nothing(size, coefficient, start, end):
    S = shrinkage_pct(coefficient)
    there = movement_from_shrinkage_mm(size, S, start, end)
    back = movement_from_shrinkage_mm(size + there, S, end, start)
    assert there + back == pytest.approx(0, abs=1e-9)


def test_outside_the_linear_range_hand_worked():
    # 100 mm, C 0.0025 (S = 7.5/1.05 = 7.142857 %) from 18 to 8 %.
    # 18 to 14 by Eq. 13-3: 100 × -4/(420 - 30 + 18) = -0.980392
    # 14 to 8 by Eq. 13-2: 99.019608 × 0.0025 × -6 = -1.485294
    assert movement_mm(100, 0.0025, 18, 8) == pytest.approx(-0.980392 - 1.485294, abs=1e-6)


@pytest.mark.parametrize(
    ("key", "size", "to_pct", "moved"),
    [
        ("douglas_fir_coast", 3, 7, -0.04005),
        ("norway_spruce", 95, 7, -1.3015),
        ("radiata_pine", 90, 8, -0.8424),
        ("spf", 3.5, 7, -0.04795),
        ("yellow_poplar", 58, 8, -0.67048),
        ("eastern_white_pine", 2.5, 7, -0.0265),
    ],
)
def test_movement_of_the_woods_that_the_scenarios_use(key, size, to_pct, moved):
    coefficient = species(key).movement.tangential_per_pct
    assert movement_mm(size, coefficient, 12, to_pct) == pytest.approx(moved, abs=1e-9)


@pytest.mark.parametrize("moisture", [-1, 31, float("nan")])
def test_moistures_that_wood_cannot_swell_to_are_refused(moisture):
    with pytest.raises(OutOfRange, match="swells no further"):
        movement_mm(100, 0.0025, 12, moisture)


def test_cedar_stops_swelling_at_its_own_fibre_saturation():
    cedar = species("western_redcedar").movement
    assert cedar.fsp_pct == 22
    with pytest.raises(OutOfRange, match="enter 22"):
        movement_mm(100, cedar.tangential_per_pct, 12, 25, cedar.fsp_pct)
