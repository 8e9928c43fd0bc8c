"""Bow of an unbalanced board: worked by hand, by Timoshenko's formula, and by its laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.timber import Layer, board, board_on_ribs, layered_bow, sagitta_mm, two_layer_curvature_per_mm


def layer(thickness, modulus, strain, width=1.0):
    return Layer(thickness_mm=thickness, width_mm=width, modulus_mpa=modulus, lower_strain=strain, upper_strain=strain)


def test_two_equal_strips_by_hand():
    # m = n = 1: 24 e / (h (12 + 2·2)) = 1.5 e/h; e = 0.001, h = 12 mm: 0.000125 per mm, radius 8 m
    assert two_layer_curvature_per_mm(0.001, 6, 6, 9000, 9000) == pytest.approx(0.000125, rel=1e-12)


def test_two_unequal_strips_by_hand():
    # lower 10 mm of 2000 MPa, upper 5 mm of 8000 MPa, e = 0.001: m = 2, n = 0.25, h = 15
    # 6 × 0.001 × 9 / (15 × (27 + 1.5 × (4 + 2))) = 0.054 / 540 = 0.0001
    assert two_layer_curvature_per_mm(0.001, 10, 5, 2000, 8000) == pytest.approx(0.0001, rel=1e-12)


def test_a_straight_gradient_bends_a_single_board_without_stress():
    # The strain difference of the faces over the thickness: 0.0015 / 12 = 0.000125 per mm.
    sheet = Layer(thickness_mm=12, width_mm=300, modulus_mpa=3000, lower_strain=0, upper_strain=0.0015)
    assert layered_bow([sheet], 1000).curvature_per_mm == pytest.approx(0.000125, rel=1e-12)


def test_rise_over_a_span_by_hand():
    # R = 8000, L = 2000: 8000 (1 - cos 0.125) = 62.4186; the parabola's L²/8R = 62.5 is close
    assert sagitta_mm(1 / 8000, 2000) == pytest.approx(8000 * (1 - math.cos(0.125)), rel=1e-12)
    assert sagitta_mm(1 / 8000, 2000) == pytest.approx(62.5, rel=0.002)
    assert sagitta_mm(0, 2000) == 0


THICK = st.floats(0.5, 40)
STIFF = st.floats(500, 15000)
STRAIN = st.floats(-0.005, 0.005)


@given(THICK, THICK, STIFF, STIFF, STRAIN, STRAIN)
@settings(max_examples=150)
def test_the_balance_of_layers_equals_timoshenko_for_two(t1, t2, e1, e2, s1, s2):
    found = layered_bow([layer(t1, e1, s1), layer(t2, e2, s2)], 10).curvature_per_mm
    assert found == pytest.approx(two_layer_curvature_per_mm(s2 - s1, t1, t2, e1, e2), rel=1e-9, abs=1e-15)


@given(THICK, STIFF, STRAIN, THICK, STIFF, STRAIN)
@settings(max_examples=60)
def test_a_balanced_sandwich_stays_flat(skin, skin_e, skin_strain, core, core_e, core_strain):
    found = layered_bow(
        [layer(skin, skin_e, skin_strain), layer(core, core_e, core_strain), layer(skin, skin_e, skin_strain)], 100
    )
    assert found.curvature_per_mm == pytest.approx(0, abs=1e-12)


@given(THICK, STIFF, STRAIN, st.integers(2, 6))
@settings(max_examples=40)
def test_slicing_a_layer_changes_nothing(thickness, modulus, strain, slices):
    base = layer(10, 8000, 0)
    whole = layered_bow([base, layer(thickness, modulus, strain)], 10)
    parts = layered_bow([base] + [layer(thickness / slices, modulus, strain)] * slices, 10)
    assert parts.curvature_per_mm == pytest.approx(whole.curvature_per_mm, rel=1e-9, abs=1e-15)
    assert parts.stiffness_n_mm2 == pytest.approx(whole.stiffness_n_mm2, rel=1e-9)


def mdf(sealed_share, rib_depth_mm):
    sheet = board("mdf")
    return layered_bow(
        board_on_ribs(
            board_mm=12.7,
            board_mpa=sheet.modulus_along_mpa,
            open_face_strain=3 * sheet.expansion_per_pct,
            sealed_share=sealed_share,
            strip_width_mm=300,
            rib_depth_mm=rib_depth_mm,
            rib_width_mm=38,
            rib_mpa=9650,
        ),
        78 * 25.4,
    )


def test_a_long_bare_mdf_with_one_face_sealed_bows_visibly_and_ribs_or_sealing_cure_it():
    # Common practice, no source: 78 in of bare 1/2 in MDF with one face sealed warps badly.
    # By hand: 3 % × 0.0005 = 0.0015 over 12.7 mm is 1/8467 mm; 1981.2²/(8 × 8467) = 57.9 mm.
    bare = mdf(1.0, 0.0)
    assert bare.sagitta_mm == pytest.approx(57.9, rel=0.005)
    assert mdf(0.5, 0.0).sagitta_mm == pytest.approx(bare.sagitta_mm / 2, rel=0.01)
    assert mdf(0.0, 0.0).sagitta_mm == 0
    # A rib that is bonded over its length: by the same balance, it takes most of the bow out.
    assert 0 < mdf(1.0, 64).sagitta_mm < 0.25 * bare.sagitta_mm
    assert bare.leaves_out


def test_composite_stiffness_by_hand():
    # Two equal strips 10 × 100 of 9000 MPa: one of 20 × 100, EI = 9000 × 100 × 20³/12 = 6e8
    assert layered_bow([layer(10, 9000, 0, 100)] * 2, 10).stiffness_n_mm2 == pytest.approx(6e8, rel=1e-12)


def test_impossible_strips_are_refused():
    with pytest.raises(OutOfRange):
        layer(0, 9000, 0)
    with pytest.raises(OutOfRange):
        layer(10, 9000, math.nan)
    with pytest.raises(OutOfRange, match="Half angle"):
        sagitta_mm(0.01, 1000)
