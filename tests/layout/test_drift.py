"""Drift of rows: hand arithmetic, and a search of every interval."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from bossage.layout.drift import drift_of
from tests.layout.factory import mm


def test_half_a_millimetre_over_sixteen_rows_is_eight() -> None:
    drift = drift_of(16, mm(0.5), 0, mm(2))
    assert drift.worst_nm == mm(8)
    # 3 × √16 × 0.5 ÷ √3 = 3.464 mm.
    assert drift.likely_nm == 3_464_102
    assert drift.redatum_rows == 4


def test_a_gap_takes_drift_up() -> None:
    assert drift_of(16, mm(0.5), mm(1), mm(2)).redatum_rows == 0
    assert drift_of(16, mm(0.5), mm(0.5), mm(2)).redatum_rows == 7
    assert drift_of(16, mm(0.5), mm(1), mm(2)).gap_takes_nm == mm(7.5)
    assert drift_of(16, 0, 0, 0).redatum_rows == 0


@given(st.integers(1, 60), st.integers(0, 40), st.integers(0, 40), st.integers(0, 200))
def test_the_interval_is_the_longest_that_stays_true(rows: int, spread: int, gap: int, allowed: int) -> None:
    good = [k for k in range(1, rows + 1) if k * spread - (k - 1) * (gap // 2) <= allowed]
    drift = drift_of(rows, spread, gap, allowed)
    if rows in good:
        assert drift.redatum_rows == 0
    else:
        assert drift.redatum_rows == max(good, default=1)


def test_the_likely_drift_is_hardly_ever_exceeded() -> None:
    rows, spread = 16, 1000
    sums = np.abs(np.random.default_rng(5).uniform(-spread, spread, (20_000, rows)).sum(axis=1))
    likely = drift_of(rows, spread, 0, 0).likely_nm
    assert (sums > likely).mean() < 0.005
    assert (sums > likely / 3).mean() > 0.25  # and it is no more than three deviations
