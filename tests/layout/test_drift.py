"""Drift of rows: hand arithmetic, and a search of every interval."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from bossage.brief import records as r
from bossage.layout import Layout, plan_layout
from bossage.layout.drift import drift_of
from tests.layout.factory import footprint, mm, plain


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


@given(st.integers(2, 60), st.integers(0, 4000), st.integers(0, 200))
def test_the_gap_is_the_smallest_tenth_that_keeps_the_outline_true(rows: int, spread: int, allowed: int) -> None:
    spread, allowed = spread * 1000, allowed * 10_000
    gap = drift_of(rows, spread, 0, allowed).gap_true_nm
    assert gap % 100_000 == 0
    assert drift_of(rows, spread, gap, allowed).redatum_rows == 0
    if gap:
        assert drift_of(rows, spread, gap - 100_000, allowed).redatum_rows > 0


def test_both_ways_are_told_with_the_footprint_that_wanders_most() -> None:
    brief = plain(
        blocks__columns=6,
        blocks__rows=4,
        blocks__footprints=(footprint("fifty", mm(50), mm(50), mm(0.5)), footprint("half", mm(25), mm(25), mm(0.3))),
        blocks__fills=(
            r.Fill(rows=(("fifty",),), count=None),
            r.Fill(rows=(("half", "half"), ("half", "half")), count=3),
        ),
    )
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    across, up = layout.drifts
    # Twelve halves of 0.3 are 3.6 mm, six fifties of 0.5 only 3.
    assert (across.way, across.footprint, across.rows, across.worst_nm) == ("across", "half", 12, mm(3.6))
    assert (up.way, up.rows, up.worst_nm) == ("up", 8, mm(2.4))
    (check,) = [c for c in layout.checks if c.name == "drift"]
    assert "3.6 mm" in check.found
    assert "every 6 blocks" in check.remedy
