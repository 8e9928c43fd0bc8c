"""Laws and refusals of the moisture equation; printed values are in tests/published."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.timber import emc_pct

AIR = st.floats(-1, 60)
HUMIDITY = st.floats(5, 95)


def test_hand_worked_at_21_degc_and_one_half():
    # 21 °C, 50 %: W 382.0435, K 0.819252, K1 5.939397, K2 2.635487, Kh 0.409626
    # 1800/382.0435 = 4.711505; first term 0.409626/0.590374 = 0.693842
    # K1 Kh 2.432932, K1 K2 Kh² 2.626506: (2.432932 + 5.253011)/6.059437 = 1.268425; sum 1.962267
    assert float(emc_pct(21, 50)) == pytest.approx(4.711505 * 1.962267, abs=1e-5)


def test_arrays_broadcast():
    grid = emc_pct(np.array([[10.0], [20.0]]), np.array([30.0, 50.0, 70.0]))
    assert grid.shape == (2, 3)
    assert grid[1, 2] == emc_pct(20, 70)


@given(AIR, HUMIDITY, HUMIDITY)
@settings(max_examples=60)
def test_damper_air_never_makes_drier_wood(air, one, other):
    low, high = sorted((one, other))
    assert emc_pct(air, low) <= emc_pct(air, high)


@pytest.mark.parametrize(("air", "humidity"), [(21, 0.5), (21, 99), (200, 50), (math.nan, 50), (21, math.nan)])
def test_values_outside_the_table_are_refused(air, humidity):
    with pytest.raises(OutOfRange):
        emc_pct(air, humidity)


def test_one_half_is_taken_for_a_share_and_explained():
    with pytest.raises(OutOfRange, match="enter 50"):
        emc_pct([21, 21], [50, 0.5])
