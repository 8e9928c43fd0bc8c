"""Screws over one another, and a plug's screw that bends over plaster: by hand."""

from __future__ import annotations

import math

import pytest

from bossage.errors import OutOfRange
from bossage.fasteners.group import group_pull_share, row_shear_share
from bossage.fasteners.lever import screw_over_gap_n


@pytest.mark.parametrize(
    ("apart_d", "k_ef"), [(4, 0.5), (7, 0.7), (10, 0.85), (14, 1.0), (20, 1.0), (5.5, 0.6), (12, 0.925)]
)
def test_a_row_holds_by_the_printed_exponents(apart_d, k_ef):
    """EN 1995-1-1 Table 8.1 (from memory); between its rows straight lines."""
    assert 2 * row_shear_share(2, apart_d * 5.0, 5.0) == pytest.approx(2**k_ef)
    assert row_shear_share(1, 0.0, 5.0) == 1


def test_four_screws_14_mm_apart_do_not_count():
    with pytest.raises(OutOfRange, match="fewer screws"):
        row_shear_share(4, 57 / 4, 5.0)
    # four drawn out at once count as 4^0.9 = 3.48
    assert 4 * group_pull_share(4) == pytest.approx(3.482, abs=1e-3)


def test_a_screw_over_15_mm_of_plaster_by_hand():
    # 5 mm with a core of 3.1: W = 2.925 mm³, M = 1.2 × 2.925 × 400 = 1404 N mm; lever 15 + 9 + 2.5 = 26.5 mm, held
    # straight at both ends: 2 × 1404 / 26.5 = 106 N; over 1.5 × 1.4
    assert screw_over_gap_n(3.1, 5, 15, 18) == pytest.approx(2 * 1404 / 26.5 / 2.1, rel=1e-3)
    # the stress under it is that of a beam: half the moment at either end, 0.57 of 400 MPa before the plastic 1.2
    stress = screw_over_gap_n(3.1, 5, 15, 18) * 26.5 / 2 / (math.pi * 3.1**3 / 32)
    assert stress == pytest.approx(1.2 * 400 / 2.1)
