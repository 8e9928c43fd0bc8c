"""Clear finishes on bare wood: they darken alone, end grain more than sides, and cards settle how much more."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bossage.colour.difference import delta_e
from bossage.colour.mixing import TestCard
from bossage.colour.stains import (
    MOST_COATS,
    Stain,
    stain_from_colours,
    stain_mix,
    stained_lab,
    strengths_at_lightness,
)
from bossage.errors import BossageError

OAK = (69.0, 6.0, 21.0)
PEAT = (36.0, 14.0, 20.0)
STAIN = stain_from_colours("peat", OAK, PEAT)


def test_no_finish_is_the_wood_and_one_coat_on_a_side_is_its_colour():
    assert delta_e(stained_lab(STAIN, 0.0), OAK) < 1e-6
    assert delta_e(stained_lab(STAIN, 1.0, end_grain=False), PEAT) < 1e-6
    assert STAIN.miss_de < 1e-6


def test_it_only_darkens_and_end_grain_more_than_sides():
    s = np.linspace(0.01, MOST_COATS, 60)
    faces, sides = stained_lab(STAIN, s)[:, 0], stained_lab(STAIN, s, end_grain=False)[:, 0]
    assert (np.diff(faces) < 0).all()
    assert (faces < sides).all()
    # end grain is a side under so many times as much
    assert stained_lab(STAIN, 0.4) == pytest.approx(stained_lab(STAIN, 0.4 * STAIN.end_grain, end_grain=False))


@given(st.floats(0.02, 3.9))
def test_a_strength_is_found_again_from_its_lightness(strength):
    L = float(stained_lab(STAIN, strength)[0])
    assert float(strengths_at_lightness(STAIN, [L])[0]) == pytest.approx(strength, rel=0.01)


def test_what_would_lighten_the_wood_is_refused_or_said():
    with pytest.raises(BossageError, match=r"L\* 75 .* never lightens"):
        strengths_at_lightness(STAIN, [75.0])
    pale = stain_from_colours("lime wash", OAK, (84.0, 1.0, 8.0))
    assert pale.miss_de > 4
    assert any("have to lighten it" in note for note in pale.assumptions)


def test_cards_on_end_grain_settle_its_factor():
    true = stain_from_colours("peat", OAK, PEAT, end_grain=2.3)
    cards = [TestCard(fraction=f, lab=tuple(map(float, stained_lab(true, f)))) for f in (0.25, 1.0)]
    found = stain_from_colours("peat", OAK, PEAT, cards)
    assert found.end_grain == pytest.approx(2.3, rel=0.02)
    assert max(found.card_miss_de) < 0.3
    assert not any("No test card" in note for note in found.assumptions)


@given(st.floats(0.06, 4.0))
def test_a_mix_is_the_fewest_coats_and_within_a_twentieth(strength):
    mix = stain_mix(strength, dilutes=True)
    assert mix.strength == pytest.approx(strength, rel=0.06 if strength > 0.08 else 0.3)
    assert mix.coats == max(1, int(np.ceil(strength - 0.02)))
    whole = stain_mix(strength, dilutes=False)
    assert whole.strength == max(1, round(strength))


def test_what_a_coat_adds_by_the_plain_formula():
    """By the plain formula: what a coat adds is the absorption ratio of the coated wood less that of the bare one."""
    from bossage.colour.kubelka_munk import absorption_ratio, internal
    from bossage.colour.spectrum import lab_to_spectrum

    wood, coat = (absorption_ratio(internal(lab_to_spectrum(np.array(lab)))) for lab in (OAK, PEAT))
    stain: Stain = STAIN
    assert stain.Q_wood == pytest.approx(wood, rel=1e-9)
    assert stain.Q_coat == pytest.approx(coat - wood, rel=1e-9)
