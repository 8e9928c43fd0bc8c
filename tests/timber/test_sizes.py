"""Nominal sizes as makers type them."""

from __future__ import annotations

import pytest

from bossage.timber import UnknownSize, dressed_size


@pytest.mark.parametrize("typed", ["2x4", "4x2", "2 x 4", "2×4", "2X4", '2" x 4"', "2 in x 4 in", " 2 * 4 "])
def test_a_two_by_four_however_it_is_typed(typed):
    stick = dressed_size(typed)
    assert (stick.thickness_in, stick.width_in) == (1.5, 3.5)
    assert (stick.thickness_mm, stick.width_mm) == (38.1, 88.9)
    assert stick.nominal == "2x4"


def test_a_retail_post_is_dimension_lumber_and_an_eight_inch_one_a_timber():
    assert dressed_size("4x4").width_in == 3.5
    assert dressed_size("8x8").width_in == 7.25
    assert dressed_size("8x8", "green").width_in == 7.5


@pytest.mark.parametrize("typed", ["2x4x8", "two by four", "", "2x", "2x13", "7x7", "1/0x2", "-2x4"])
def test_what_the_standard_does_not_list_is_refused_with_advice(typed):
    with pytest.raises(UnknownSize, match=r"Write|measured"):
        dressed_size(typed)
