"""The international inch and pound: US Federal Register, 1 July 1959, doc. 59-5442; conversions of dressed sizes."""

from __future__ import annotations

import pytest

from bossage.units import G_PER_LB, NM_PER_IN, NM_PER_MM, format_length, parse_length_nm, parse_mass_g


def test_the_international_inch_and_pound_are_exact() -> None:
    assert NM_PER_IN * 10 == 254 * NM_PER_MM
    assert parse_length_nm("1 in") == 25_400_000
    assert parse_length_nm("1/64 in") == 396_875
    assert parse_mass_g("1 lb") == G_PER_LB == 453.59237


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("19 mm", "3/4 in"),  # FRC-1
        ("38 mm", "1-1/2 in"),  # FRC-2, the dressed sizes of PS 20-20 in both systems
        ("89 mm", "3-1/2 in"),
    ],
)
def test_soft_conversions_of_dressed_sizes_to_a_sixteenth(typed: str, printed: str) -> None:
    assert format_length(parse_length_nm(typed), "in", denominator=16) == printed


def test_four_24_inch_pieces_do_not_come_out_of_a_96_inch_stick() -> None:
    # KRF-1: three kerfs of 1/8 in make it 3/8 in short, exactly
    left = parse_length_nm("96 in") - 4 * parse_length_nm("24 in") - 3 * parse_length_nm('1/8"')
    assert left == -parse_length_nm("3/8 in")
