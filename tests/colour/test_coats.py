"""Hex colours as dry coats: what a coat can have is left alone, another is moved to the edge and no further."""

from __future__ import annotations

import numpy as np
import pytest
from tests.published.reading import read_published

from bossage.colour.coats import COAT_LEAST, COAT_MOST, coat_of_hex, coat_of_lab
from bossage.colour.difference import delta_e
from bossage.colour.given import given_lab
from bossage.colour.kubelka_munk import K1
from bossage.colour.mixing import fraction_at_lightness, paint_from_colours
from bossage.colour.spaces import hex_to_lab, lab_to_hex, lab_to_xyz, xyz_to_lab
from bossage.colour.spectrum import coat_spectrum, spectrum_to_lab

WITHOUT_GLOSS = 0.03  # a reading darker than this anywhere left the surface's reflection out


def measured_films() -> np.ndarray:
    """Reflectance of every measured film with its gloss, on the wavelengths of our weights."""
    rows = [row for row in read_published("real_tint_mixture_spectra.csv") if row["measurement"].startswith("film")]
    nm = np.arange(400, 701, 10)
    films = np.array([[float(row[f"R{w}"]) for w in nm] for row in rows])
    films = films[films.min(axis=1) > WITHOUT_GLOSS]
    return np.array([np.interp(np.arange(380, 731, 10), nm, film) for film in films])


def test_measured_films_lie_between_the_two_bounds():
    films = measured_films()
    assert len(films) >= 70
    assert films.min() >= COAT_LEAST
    assert films.max() <= COAT_MOST


def test_colours_of_dry_coats_come_back_as_themselves():
    films, rng = measured_films(), np.random.default_rng(11)
    found = 0
    while found < 2000:
        # Two films side by side in any proportion look like a coat between them.
        one, other = films[rng.integers(len(films), size=2)]
        share = rng.uniform()
        lab = spectrum_to_lab(share * one + (1 - share) * other)
        text = lab_to_hex(lab)
        if delta_e(hex_to_lab(text), lab) > 1:
            continue  # outside what a screen shows, so nobody gives it as a hex colour
        found += 1
        assert delta_e(coat_of_hex(text).lab, hex_to_lab(text)) < 0.05
        assert coat_of_hex(text).moved_de < 0.05


@pytest.mark.parametrize(
    "text", ["#000000", "#FFFFFF", "#0000FF", "#FF0000", "#FFFF00", "#1F2F5C", "#3B2433", "#101010"]
)
def test_what_no_coat_can_have_stops_at_the_edge(text):
    coat = coat_of_hex(text)
    start = hex_to_lab(text)
    assert coat.moved_de == pytest.approx(float(delta_e(coat.lab, start)))
    assert coat.moved_de > 0.3
    within = coat_spectrum(np.array(coat.lab), COAT_LEAST, COAT_MOST)
    assert within is not None
    assert within.min() >= COAT_LEAST
    assert within.max() <= COAT_MOST
    # Nobody could have moved it less on the same way: a step back no coat has.
    back = lab_to_xyz(start) + 0.98 * (lab_to_xyz(coat.lab) - lab_to_xyz(start))
    assert coat_spectrum(xyz_to_lab(back), COAT_LEAST, COAT_MOST) is None


def test_a_measured_hex_goes_in_as_it_is():
    assert given_lab("#3B2433", measured=True) == pytest.approx(tuple(hex_to_lab("#3B2433")))
    assert given_lab((12.0, 3.0, -4.0)) == (12.0, 3.0, -4.0)


def test_screen_black_asks_for_about_as_much_as_a_black_paint():
    base = given_lab("#F2EFE6")
    share = {
        text: fraction_at_lightness(paint_from_colours("black", base, given_lab(text)), 60.0)
        for text in ("#000000", "#3A3A3A")
    }
    # A coat of L* 21 against one of L* 24; without an edge to stop at, forty times apart.
    assert 0.25 < share["#000000"] / share["#3A3A3A"] < 1


def test_a_reading_without_gloss_keeps_its_own_surface():
    R, k1 = coat_of_lab(np.array([8.0, 1.0, -2.0]))
    assert k1 < K1
    assert R.min() > k1
    R, k1 = coat_of_lab(np.array([24.5, 4.1, 0.5]))
    assert k1 == K1
