"""Laws of mixing: ends, monotony, halves make a whole, inversion, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.colour.coats import coat_of_hex
from bossage.colour.difference import delta_e
from bossage.colour.kubelka_munk import absorption_ratio, mixed_ratio, reflectance
from bossage.colour.mixing import (
    Fit,
    TestCard,
    best_card_fraction,
    fraction_at_lightness,
    mix_lab,
    paint_from_colours,
)
from bossage.colour.spaces import hex_to_lab, srgb_to_lab
from bossage.colour.spectrum import lab_to_spectrum, spectrum_to_lab
from bossage.errors import BossageError

BASE = hex_to_lab("#F2EFE6")
colours = st.tuples(*3 * [st.floats(0.08, 0.75)]).map(lambda v: srgb_to_lab(np.array(v)))


def blue_card(fraction: float = 0.1) -> TestCard:
    return TestCard(fraction=fraction, lab=(58.0, -8.0, -30.0))


def test_spectra_give_their_colour_back_over_the_whole_cube():
    steps = np.linspace(0, 1, 9)
    cube = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(-1, 3)
    # Neither black nor white: no surface has either.
    labs = srgb_to_lab(0.03 + 0.94 * cube)
    assert delta_e(spectrum_to_lab(lab_to_spectrum(labs)), labs).max() < 1e-6


def test_white_and_black_have_no_spectrum():
    for lab in ((100.0, 0.0, 0.0), (0.0, 0.0, 0.0)):
        with pytest.raises(BossageError, match="No paint surface"):
            lab_to_spectrum(lab)


def test_large_absorption_keeps_its_digits():
    assert reflectance(1e9) == pytest.approx(1 / 2e9, rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(colours, st.floats(0.001, 0.9))
def test_ends_are_base_and_tinter_and_lightness_falls_between(tinter, fraction):
    paint = paint_from_colours("tinter", BASE, tinter)
    assert delta_e(mix_lab(paint, 0.0), BASE) < 1e-6
    if tinter[0] > 25:  # darker ones come near the surface's own reflection and are held there
        assert delta_e(mix_lab(paint, 1.0), tinter) < 0.5
    L = mix_lab(paint, np.linspace(0, 1, 60))[:, 0]
    assert (np.diff(L) <= 1e-9).all() or L.min() < tinter[0] - 1e-6 or tinter[0] > BASE[0]
    there = fraction_at_lightness(paint, float(mix_lab(paint, fraction)[0]))
    assert mix_lab(paint, there)[0] == pytest.approx(mix_lab(paint, fraction)[0], abs=1e-6)


@given(st.floats(0.01, 0.99), st.floats(0, 1), st.floats(0.1, 5), st.floats(0.05, 0.95))
def test_two_halves_of_one_tinter_are_the_whole(c, split, s, R):
    Q_w, Q_t = float(absorption_ratio(0.9)), float(absorption_ratio(R))
    whole = mixed_ratio([1 - c, c], [[1], [s]], [[Q_w], [Q_t]])
    parts = mixed_ratio([1 - c, c * split, c * (1 - split)], [[1], [s], [s]], [[Q_w], [Q_t], [Q_t]])
    assert parts == pytest.approx(whole, rel=1e-12)


@given(st.floats(0, 1), st.floats(0, 1))
def test_absorption_is_linear_in_the_amount_when_scattering_agrees(a, b):
    Q = np.array([[0.01], [3.0]])
    found = [float(mixed_ratio([1 - c, c], np.ones((2, 1)), Q)[0]) for c in (a, b, (a + b) / 2)]
    assert found[2] == pytest.approx((found[0] + found[1]) / 2, abs=1e-12)


def test_mixing_a_paint_with_itself_changes_nothing():
    paint = paint_from_colours("itself", BASE, BASE)
    assert delta_e(mix_lab(paint, [0.1, 0.5, 0.9]), BASE).max() < 1e-9


def test_a_card_is_met_and_the_gain_is_told():
    paint = paint_from_colours("blue", BASE, hex_to_lab("#1F2F5C"), [blue_card()])
    assert paint.fit is Fit.SMOOTH
    assert paint.card_miss_de[0] < 0.5
    assert paint.card_miss_before_de[0] > 5 * paint.card_miss_de[0]
    assert paint.assumptions == ()


def test_a_card_no_paint_could_give_is_reported():
    paint = paint_from_colours("odd", BASE, hex_to_lab("#1F2F5C"), [TestCard(fraction=0.1, lab=(60.0, 45.0, 60.0))])
    assert any("test card of odd" in text for text in paint.assumptions)


def test_two_cards_of_one_true_paint_predict_the_mixes_between():
    true = paint_from_colours("true", BASE, hex_to_lab("#5A2A4A"), [TestCard(fraction=0.08, lab=(66.0, 22.0, -10.0))])
    cards = [TestCard(fraction=c, lab=tuple(mix_lab(true, c))) for c in (0.02, 0.2)]
    found = paint_from_colours("found", true.base_lab, mix_lab(true, 1.0), cards)
    c = np.array([0.01, 0.05, 0.1, 0.4, 0.8])
    assert delta_e(mix_lab(found, c), mix_lab(true, c)).max() < 1.5


def test_strength_fit_finds_a_known_strength():
    plain = paint_from_colours("plain", BASE, hex_to_lab("#4A6B4E"))
    # A tinter of strength s at fraction c looks as one of strength 1 at c s / (1 - c + c s).
    s, c = 4.0, 0.05
    card = TestCard(fraction=c, lab=tuple(mix_lab(plain, c * s / (1 - c + c * s))))
    found = paint_from_colours("strong", BASE, hex_to_lab("#4A6B4E"), [card], fit=Fit.STRENGTH)
    assert found.S_tinter / plain.S_tinter == pytest.approx(s, rel=1e-6)


def test_out_of_reach_names_the_range():
    paint = paint_from_colours("fern", coat_of_hex("#F2EFE6").lab, coat_of_hex("#4A6B4E").lab)
    with pytest.raises(BossageError, match=r"fern cannot reach L\* 30: its mixes run from 4\d\.\d to 94\.5"):
        fraction_at_lightness(paint, 30)
    assert fraction_at_lightness(paint, float(mix_lab(paint, 0.0)[0])) == 0


def test_cards_must_be_mixes_and_fits_need_cards():
    with pytest.raises(BossageError, match="between 0 and 1"):
        paint_from_colours("x", BASE, hex_to_lab("#4A6B4E"), [blue_card(1.0)])
    with pytest.raises(BossageError, match="Paint one card"):
        paint_from_colours("x", BASE, hex_to_lab("#4A6B4E"), fit=Fit.STRENGTH)


def test_best_card_lies_half_way_in_lightness():
    paint = paint_from_colours("fern", BASE, hex_to_lab("#4A6B4E"))
    L = float(mix_lab(paint, best_card_fraction(paint))[0])
    assert pytest.approx((BASE[0] + hex_to_lab("#4A6B4E")[0]) / 2, abs=0.1) == L
