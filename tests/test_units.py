from __future__ import annotations

from contextlib import suppress
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bossage import units
from bossage.units import NM_PER_IN, NM_PER_MM, UnreadableQuantity, parse_length_nm

LENGTHS = st.integers(min_value=0, max_value=20_000 * NM_PER_MM)


@pytest.mark.parametrize(
    ("text", "expected_in"),
    [
        ("3 1/2 in", "7/2"),
        ('3-1/2"', "7/2"),
        ("3-1/2 in", "7/2"),
        ("3 – 1/2 inches", "7/2"),
        ('1/2"', "1/2"),
        ("½ in", "1/2"),
        ("3½″", "7/2"),
        ("3 ½”", "7/2"),
        ("2⅜ in", "19/8"),
        ("0.098 in", "49/500"),
        (".5 in", "1/2"),
        ("0,125 in", "1/8"),
        ("1/3 in.", "1/3"),
        ("4 ft 2 in", "50"),
        ("4' 2-1/2\"", "101/2"),
        ("4'-2\"", "50"),
        ("4′ 2½″", "101/2"),
        ("5 ft", "60"),
    ],
)
def test_inches_as_makers_type_them(text: str, expected_in: str) -> None:
    assert parse_length_nm(text, "mm") == round(Fraction(expected_in) * NM_PER_IN)


@pytest.mark.parametrize(
    ("text", "expected_mm"),
    [
        ("89 mm", "89"),
        ("8.9 cm", "89"),
        ("8,9 cm", "89"),
        ("1.2 m", "1200"),
        ("1 m 20 cm", "1200"),
        ("1200 millimetres", "1200"),
        ("2,25 mm", "2.25"),
        ("12,3456 mm", "12.3456"),
        ("+7 mm", "7"),
    ],
)
def test_metric_as_makers_type_it(text: str, expected_mm: str) -> None:
    assert parse_length_nm(text, "in") == Fraction(expected_mm) * NM_PER_MM


def test_a_bare_number_is_in_the_default_unit_and_exact_as_written() -> None:
    assert parse_length_nm(3, "in") == 76_200_000
    assert parse_length_nm("3", "in") == 76_200_000
    assert parse_length_nm(0.1, "mm") == 100_000
    assert parse_length_nm(0.098, "in") == 2_489_200
    assert parse_length_nm(Decimal("0.109375"), "in") == 2_778_125
    assert parse_length_nm("3 1/2", "in") == 88_900_000


def test_a_minus_sign_is_read_only_where_it_may_stand() -> None:
    assert parse_length_nm("-3-1/2 in", allow_negative=True) == -88_900_000
    assert parse_length_nm("−2 mm", allow_negative=True) == -2_000_000
    with pytest.raises(UnreadableQuantity, match="minus sign"):
        parse_length_nm("-3 mm")
    with pytest.raises(UnreadableQuantity, match="minus sign"):
        parse_length_nm(-3)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("1,200 mm", "Write 1200 or 1.2, whichever is meant"),
        ("1,234,567 mm", "Write digits with a point"),
        ("3 ft 4 cm", "larger unit first"),
        ("2 in 3 ft", "larger unit first"),
        ("4 ft 2", "unit behind each number"),
        ("1/2/3 in", "unit behind each number"),
        ("3 1/0 in", "cannot have 0 below the line"),
        ("3 furlong", "'furlong' is not a unit of length here"),
        ("", "Write a number and its unit"),
        ("mm", "'mm' was not expected there"),
        ("-", "Write a number and its unit"),
        ("nan", "was not expected there"),
        ("9" * 61, "Write one length"),
        (float("nan"), "finite"),
        (float("inf"), "finite"),
        (Decimal("1e900000"), "size that a shop can use"),
        (Decimal("1e-900000"), "size that a shop can use"),
        pytest.param(10**5000, "size that a shop can use", id="huge"),
        (True, "Write a number"),
    ],
)
def test_what_is_no_length_is_said_in_words(value: object, said: str) -> None:
    with pytest.raises(UnreadableQuantity) as caught:
        parse_length_nm(value)  # type: ignore[arg-type]
    assert said in str(caught.value)
    assert caught.value.found
    assert "3 1/2 in" in caught.value.allowed
    assert len(str(caught.value)) < 300


@given(st.text(max_size=80))
def test_no_text_ends_in_anything_but_a_length_or_a_sentence(text: str) -> None:
    for read in (parse_length_nm, units.parse_mass_g, units.parse_volume_ml, units.parse_money_cents):
        with suppress(UnreadableQuantity):
            assert read(text) >= 0 or read is units.parse_money_cents


@given(st.text(alphabet="0123456789 ./,-'\"½inftcm", max_size=14))
def test_nor_does_text_that_looks_like_a_length(text: str) -> None:
    with suppress(UnreadableQuantity):
        assert parse_length_nm(text) >= 0


@given(st.integers(min_value=0, max_value=20_000 * 64))
def test_each_64th_of_an_inch_reads_back_as_printed(sixty_fourths: int) -> None:
    nm = sixty_fourths * 396_875
    assert parse_length_nm(units.format_length(nm, "in"), "mm") == nm


@given(st.integers(min_value=-200_000, max_value=200_000))
def test_each_tenth_of_a_millimetre_reads_back_as_printed(tenths: int) -> None:
    nm = tenths * 100_000
    assert parse_length_nm(units.format_length(nm, "mm"), "in", allow_negative=True) == nm


@given(LENGTHS, st.sampled_from([16, 32, 64]))
def test_a_printed_inch_length_is_off_by_half_a_mark_at_most(nm: int, denominator: int) -> None:
    printed = parse_length_nm(units.format_length(nm, "in", denominator=denominator), "mm")
    assert abs(printed - nm) * 2 <= NM_PER_IN // denominator


@given(LENGTHS)
def test_inch_and_millimetre_forms_of_one_length_are_one(nm: int) -> None:
    as_in = Fraction(nm, NM_PER_IN)
    assert parse_length_nm(as_in, "in") == nm
    assert parse_length_nm(Fraction(nm, NM_PER_MM), "mm") == nm


def test_lengths_as_a_shop_reads_them() -> None:
    assert units.format_length(88_900_000, "in") == "3-1/2 in"
    assert units.format_length(88_900_000, "mm") == "88.9 mm"
    assert units.format_length(12_700_000, "in") == "1/2 in"
    assert units.format_length(0, "in") == "0 in"
    assert units.format_length(-88_900_000, "in") == "-3-1/2 in"
    assert units.format_length(3 * 396_875, "in") == "3/64 in"
    assert units.format_length(3 * 396_875, "in", exact_to=16) == "1/16 in"
    assert units.format_length(19 * NM_PER_MM, "in", denominator=32) == "3/4 in"
    assert units.format_length(600 * NM_PER_MM, "mm", bare=True) == "600"
    assert units.format_size(600 * NM_PER_MM, 480 * NM_PER_MM, "mm") == "600 × 480 mm"
    assert units.format_length(NM_PER_IN, "in", show_error=True) == "1 in"
    assert units.format_length(19 * NM_PER_MM, "in", show_error=True) == "3/4 in (0.002 in over)"
    assert units.format_length(40_010_000, "mm", show_error=True) == "40 mm (0.01 mm under)"


def test_kerfs_and_movement_keep_their_small_digits() -> None:
    assert units.format_thin(2_200_000, "mm") == "2.2 mm"
    assert units.format_thin(670_500, "mm") == "0.67 mm"
    assert units.format_thin(2_489_200, "in") == "0.098 in"
    assert units.format_thin(3_175_000, "in") == "1/8 in"
    assert units.format_thin(2_778_125, "in") == "7/64 in"
    assert units.format_thin(-1_016_000, "in") == "-0.04 in"


def test_halves_are_rounded_away_from_zero() -> None:
    assert units.round_to_step(5, 10) == 10
    assert units.round_to_step(-5, 10) == -10
    assert units.round_to_step(4, 10) == 0


def test_areas_masses_and_volumes() -> None:
    assert units.format_area(1089 * 10**12, "mm") == "1089 mm²"
    assert units.format_area(200 * 100 * 10**12, "mm") == "200 cm²"
    assert units.format_area(1_457_420 * 10**12, "mm") == "1.457 m²"
    assert units.format_area(27 * NM_PER_IN**2, "in") == "27 in²"
    assert units.format_area(1_457_400 * 10**12, "in") == "15.69 ft²"
    assert units.format_mass(18_643.5, "mm") == "18.6 kg"
    assert units.format_mass(275.4, "mm") == "275 g"
    assert units.format_mass(1_088.6, "mm") == "1.09 kg"
    assert units.format_mass(19_291.9, "in") == "42.5 lb"
    assert units.format_mass(200.0, "in") == "7.1 oz"
    assert units.format_volume(81.1, "mm") == "81 mL"
    assert units.format_volume(1_520.0, "mm") == "1.52 L"
    assert units.format_volume(0.66, "mm") == "0.7 mL"
    assert units.format_volume(75.9, "in") == "2.6 fl oz"
    assert units.format_volume(1_000.0, "in") == "1.06 qt"
    assert units.format_volume(4_000.0, "in") == "1.06 gal"
    assert units.parse_mass_g("6 kg") == 6000
    assert units.parse_mass_g("1 lb 4 oz") == pytest.approx(566.9904625)
    assert units.parse_mass_g(25, "lb") == pytest.approx(11_339.80925)
    assert units.parse_volume_ml("2,5 L") == 2500
    assert units.parse_volume_ml("8 fl oz") == pytest.approx(236.5882365)
    assert units.parse_volume_ml("1 gal") == pytest.approx(231 * 25.4**3 / 1000)
    for read, text in (
        (units.parse_mass_g, "6 stone"),
        (units.parse_volume_ml, "2 cups"),
        (units.parse_mass_g, ""),
    ):
        with pytest.raises(UnreadableQuantity):
            read(text)


def test_money_is_whole_cents_rounded_half_up_once() -> None:
    assert units.parse_money_cents("$15") == 1500
    assert units.parse_money_cents("€8.40") == 840
    assert units.parse_money_cents("8,40 €") == 840
    assert units.parse_money_cents(Decimal("16.80")) == 1680
    assert units.parse_money_cents("CHF 12") == 1200
    assert units.round_cents(Fraction(1, 2)) == 1
    assert units.round_cents(Decimal("444905.5")) == 444_906
    assert units.format_money(444_906, "$") == "$4,449.06"
    assert units.format_money(5, "€") == "€0.05"
    assert units.format_money(-150, "£") == "-£1.50"
    assert units.format_money(150, "CHF") == "CHF 1.50"
    for text in ("1,200", "free", ""):
        with pytest.raises(UnreadableQuantity):
            units.parse_money_cents(text)


def test_warmth_and_percent() -> None:
    assert units.parse_temperature_degc("70 °F") == pytest.approx(21.1111, abs=1e-4)
    assert units.parse_temperature_degc("-5 °C") == -5
    assert units.parse_temperature_degc(50, "F") == 10
    assert units.format_temperature(21.1111, "in") == "70 °F"
    assert units.format_temperature(21.1111, "mm") == "21 °C"
    assert units.parse_percent("8 %") == 8
    assert units.parse_percent("7,5%") == 7.5
    assert units.parse_percent(12) == 12
    assert units.format_percent(12.5) == "12.5 %"
    assert units.format_percent(8.0) == "8 %"
    with pytest.raises(UnreadableQuantity):
        units.parse_percent("a few")
