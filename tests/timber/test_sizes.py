"""Nominal sizes as makers type them."""

from __future__ import annotations

import pytest

from bossage.timber import UnknownSize, dressed_size, size_around


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


@pytest.mark.parametrize(
    ("side_in", "other_in", "nominal"),
    [(2.25, 1.75, "4x4"), (0.75, 2.5, "1x3"), (1.5, 3.4, "2x4"), (0.5, 5.25, "1x6"), (3.6, 2.0, "4x6"), (4, 4, None)],
)
def test_the_next_stick_that_a_section_can_be_ripped_from(side_in: float, other_in: float, nominal: str | None) -> None:
    """By hand from PS 20-20, Table 3, dry."""
    found = size_around(side_in * 25.4, other_in * 25.4)
    assert (None if found is None else found.nominal) == nominal
