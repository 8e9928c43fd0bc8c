"""Screws by number and by metric size."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.fasteners import UnknownScrew, gauge_for_metric, screw_gauges, thread_length_mm, wood_screw


@pytest.mark.parametrize(
    ("metric", "gauge"), [(3.5, 6), (4.0, 7), (4.2, 8), (4.5, 9), (5.0, 10), (5.5, 12), (6.0, 12), (8.0, 18), (12, 24)]
)
def test_a_metric_screw_stands_for_the_nearest_gauge_that_is_not_thicker(metric, gauge):
    assert gauge_for_metric(metric).gauge == gauge


@given(st.floats(3.5, 12))
@settings(max_examples=60)
def test_no_metric_screw_is_credited_with_more_steel_than_it_has(metric):
    assert gauge_for_metric(metric).shank_mm <= metric + 0.01


@pytest.mark.parametrize("gauge", screw_gauges())
def test_root_is_thinner_than_shank_and_head_is_wider(gauge):
    screw = wood_screw(gauge)
    assert screw.root_mm < screw.shank_mm < screw.head_mm
    assert 300 < screw.bending_yield_mpa < 700


def test_thin_screws_and_unknown_numbers_are_refused():
    with pytest.raises(OutOfRange, match="thicker screw"):
        gauge_for_metric(3.0)
    with pytest.raises(UnknownScrew, match="Listed are 6, 7, 8"):
        wood_screw(11)


def test_thread_of_a_standard_screw():
    assert thread_length_mm(60, 5) == 40  # two thirds
    assert thread_length_mm(25, 5) == 20  # four diameters
    assert thread_length_mm(15, 5) == 15  # never more than there is
