"""Yield modes: limits, the gap, and penetration; printed values are in tests/published."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.fasteners import (
    Reduction,
    dowel_bearing_mpa,
    penetration_factor,
    wood_screw,
    wood_screw_lateral,
    yield_modes,
)
from bossage.fasteners.units import PSI_MPA

ONE = Reduction(one=1, two=1, three=1)
BEARING = st.floats(5, 80)
LENGTH = st.floats(5, 120)


def joint(gap, **changed):
    given_values = {
        "diameter_mm": 4.0,
        "main_mm": 40.0,
        "side_mm": 19.0,
        "main_bearing_mpa": 23.0,
        "side_bearing_mpa": 23.0,
        "bending_yield_mpa": 600.0,
        "reduction": ONE,
    }
    return yield_modes(**(given_values | changed), gap_mm=gap)


@given(st.floats(2, 12), LENGTH, LENGTH, BEARING, BEARING, st.floats(200, 800))
@settings(max_examples=200)
def test_general_dowel_equations_without_a_gap_equal_the_nds(diameter, main, side, main_fe, side_fe, fyb):
    # A gap of a billionth of a millimetre goes through the other set of equations.
    sizes = {
        "diameter_mm": diameter,
        "main_mm": main,
        "side_mm": side,
        "main_bearing_mpa": main_fe,
        "side_bearing_mpa": side_fe,
        "bending_yield_mpa": fyb,
    }
    closed, open_ = joint(0, **sizes), joint(1e-9, **sizes)
    for mode, value in closed.by_name.items():
        assert open_.by_name[mode] == pytest.approx(value, rel=1e-6), mode


def test_mode_iv_with_a_gap_by_hand():
    # q = 23 × 4 = 92 N/mm, M = 600 × 64/6 = 6400 N·mm; P²/92 + 12.7 P - 12800 = 0
    # P = 46 (-12.7 + sqrt(161.29 + 4 × 12800/92)) = 46 × (-12.7 + 26.79201) = 648.232 N
    assert joint(12.7).IV_n == pytest.approx(648.232, abs=0.002)


def test_a_wide_gap_leaves_only_the_bending_of_the_screw():
    # Two plastic hinges at the faces: P = 2 M / g, from below because the wood gives a little.
    assert joint(500).IV_n == pytest.approx(2 * 6400 / 500, rel=0.01)
    assert joint(500).IV_n < 2 * 6400 / 500


def test_mode_i_is_bearing_alone_by_hand():
    modes = joint(0)
    assert modes.Im_n == pytest.approx(4 * 40 * 23)
    assert modes.Is_n == pytest.approx(4 * 19 * 23)
    assert joint(15).Is_n == modes.Is_n


@given(st.floats(0, 60), st.floats(0, 60), LENGTH, LENGTH, BEARING, BEARING)
@settings(max_examples=150)
def test_a_wider_gap_never_carries_more(one, other, main, side, main_fe, side_fe):
    narrow, wide = sorted((one, other))
    sizes = {"main_mm": main, "side_mm": side, "main_bearing_mpa": main_fe, "side_bearing_mpa": side_fe}
    assert joint(wide, **sizes).z_n <= joint(narrow, **sizes).z_n * (1 + 1e-9)


@given(st.floats(0, 30), st.floats(25, 80), st.floats(25, 80))
@settings(max_examples=100)
def test_deeper_never_carries_less(gap, one, other):
    shallow, deep = sorted((one, other))
    screw = wood_screw(8)
    assume(shallow >= 6 * screw.shank_mm)

    def z_n(penetration):
        return wood_screw_lateral(
            screw, side_mm=18, penetration_mm=penetration, main_gravity=0.42, side_gravity=0.42, gap_mm=gap
        ).z_n

    assert z_n(shallow) <= z_n(deep) * (1 + 1e-9)


def test_penetration_rules_by_hand():
    # number 8: D 4.1656 mm; 6 D is 24.99 mm, 10 D 41.66 mm
    assert penetration_factor(41.7, 4.1656) == 1
    assert penetration_factor(33.3248, 4.1656) == pytest.approx(0.8)
    with pytest.raises(OutOfRange, match=r"5\.0 mm longer"):
        penetration_factor(20, 4.1656)
    found = wood_screw_lateral(wood_screw(8), side_mm=18, penetration_mm=33.3248, main_gravity=0.42, side_gravity=0.42)
    assert found.penetration_factor == pytest.approx(0.8)
    assert found.z_n <= 0.8 * found.modes.z_n * (1 + 1e-12)
    assert any("0.80" in line for line in found.basis)


def test_plasterboard_costs_a_number_8_screw_more_than_a_third():
    def z_n(gap):
        return wood_screw_lateral(
            wood_screw(8), side_mm=19.05, penetration_mm=42, main_gravity=0.42, side_gravity=0.42, gap_mm=gap
        )

    assert z_n(12.7).z_n < 0.65 * z_n(0).z_n
    assert "bears nothing" in z_n(12.7).basis[-1]
    assert len(z_n(0).basis) == 1


def test_a_steel_side_member_bears_by_its_own_strength():
    # NDS Table 12M basis: 14 ga steel of 61850 psi; the row of the published table for number 8 in G 0.42
    steel = wood_screw_lateral(
        wood_screw(8),
        side_mm=0.075 * 25.4,
        penetration_mm=42,
        main_gravity=0.42,
        side_gravity=0.42,
        side_bearing_mpa=61850 * PSI_MPA,
    )
    wood = wood_screw_lateral(
        wood_screw(8), side_mm=0.075 * 25.4, penetration_mm=42, main_gravity=0.42, side_gravity=0.42
    )
    assert steel.z_n > 2 * wood.z_n


def test_thick_fasteners_bear_by_direction_after_hankinson():
    along, across = dowel_bearing_mpa(0.42, 12.7, 0), dowel_bearing_mpa(0.42, 12.7, 90)
    assert along / PSI_MPA == pytest.approx(4700)  # 11200 × 0.42 = 4704, to 50
    assert across / PSI_MPA == pytest.approx(2450)  # 6100 × 0.42^1.45 / sqrt(0.5) = 2452, to 50
    half = dowel_bearing_mpa(0.42, 12.7, 45)
    assert half == pytest.approx(2 * along * across / (along + across))


@pytest.mark.parametrize("wrong", [{"gap": -1}, {"gap": math.nan}, {"gap": 0, "side_mm": 0}])
def test_impossible_joints_are_refused(wrong):
    with pytest.raises(OutOfRange):
        joint(**wrong)
