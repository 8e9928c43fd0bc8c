"""The glue of a hinge stile against springs and finite differences that know nothing of its formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bossage.fasteners.hinged import (
    HingeForce,
    corner_shear_mpa,
    level_forces,
    line_twist_nmm_per_mm,
    stile_peel_mpa,
    upright_forces,
)


def on_springs(
    forces: tuple[HingeForce, ...], lap: float, long: float, behind: float, aside: float, across: int = 80
) -> float:
    """Largest pull, MPa: a stile that may move, tilt both ways and twist evenly, on a bed of springs, by least work."""
    x, v = np.meshgrid(
        (np.arange(across) + 0.5) / across * lap - lap / 2, (np.arange(across) + 0.5) / across * long - long / 2
    )
    shapes = np.stack([np.ones_like(x), x, v, x * v])
    area = lap * long / across**2
    stiff = np.einsum("aij,bij->ab", shapes, shapes) * area
    pushed = np.zeros(4)
    for one in forces:
        # off the wall at the pins; along the leaf behind the glue, where a tilt moves the pins the other way
        pushed += one.off_n * np.array([1, -aside, one.at_mm, -aside * one.at_mm])
        pushed += one.along_n * behind * np.array([0, 1, 0, one.at_mm])
    moved = np.linalg.solve(stiff, pushed)
    corners = [(a * lap / 2, b * long / 2) for a in (-1, 1) for b in (-1, 1)]
    return max(-float(moved @ [1, a, b, a * b]) for a, b in corners)


FORCE = st.floats(-200, 200)


@given(along=FORCE, off=FORCE, other_along=FORCE, other_off=FORCE, lap=st.floats(10, 120), aside=st.floats(10, 120))
def test_a_stile_is_peeled_no_harder_than_reckoned(along, off, other_along, other_off, lap, aside):
    forces = (
        HingeForce(at_mm=150, along_n=along, off_n=off),
        HingeForce(at_mm=-150, along_n=other_along, off_n=other_off),
    )
    found = stile_peel_mpa(forces, lap_mm=lap, long_mm=404, behind_mm=17.5, aside_mm=aside)
    assert found >= on_springs(forces, lap, 404, 17.5, aside) * 0.999 - 1e-9


def test_hinges_over_one_another_peel_as_hard_as_springs_say():
    forces = upright_forces(104, arm_mm=400, before_mm=0, places_mm=[152, -152])
    found = stile_peel_mpa(forces, lap_mm=35, long_mm=404, behind_mm=17.5, aside_mm=74)
    assert found == pytest.approx(on_springs(forces, 35, 404, 17.5, 74), rel=1e-3)
    # an engineer's sum: 2.4 Nm at each hinge, 0.13 MPa at the ends
    assert found == pytest.approx(0.13, abs=0.005)


@pytest.mark.parametrize("top", [True, False])
@pytest.mark.parametrize("angle", [0.0, 40.0, 95.0])
def test_forces_side_by_side_keep_their_size_as_the_leaf_turns(top, angle):
    pair = level_forces(30, -80, angle_deg=angle, top=top, shares=(0.25, 0.75), places_mm=(-100, 100))
    whole = complex(sum(one.along_n for one in pair), sum(one.off_n for one in pair))
    assert abs(whole) == pytest.approx(math.hypot(30, 80))
    assert pair[1].off_n == pytest.approx(3 * pair[0].off_n)
    # the leaf's own axes, along it and out of its face, as complex numbers over (off the wall, up), turned by the angle
    along, out = (complex(0, -1), complex(1, 0)) if top else (complex(0, 1), complex(1, 0))
    turn = complex(math.cos(math.radians(angle)), (1 if top else -1) * math.sin(math.radians(angle)))
    force = complex(-30, -80)
    for axis, found in ((along, whole.real), (out, whole.imag)):
        assert found == pytest.approx((force * (axis * turn).conjugate()).real)


def twisted(torque: float, long: float, at: float, bar_nmm2: float, spring: float) -> float:
    """Largest torque by length that a bar, twisted one way and the other at two places, gives to what holds it."""
    n = 2001
    step = long / (n - 1)
    y = np.linspace(-long / 2, long / 2, n)
    matrix = np.zeros((n, n))
    for i in range(n):
        for j in (i - 1, i + 1):
            if 0 <= j < n:
                matrix[i, i] += bar_nmm2 / step
                matrix[i, j] -= bar_nmm2 / step
        matrix[i, i] += spring * step
    load = np.zeros(n)
    load[np.argmin(abs(y - at))], load[np.argmin(abs(y + at))] = torque, -torque
    return float(np.abs(np.linalg.solve(matrix, load)).max() * spring)


def test_a_bare_board_is_bent_less_than_reckoned_by_a_stile_that_takes_its_share():
    # Hollin Yard: 17 × 118 of tulipwood (G = E/16), OSB of 11 along its stiffer way, its edge held straight by the
    # stile: a half plate gives 2 D × pi / length for a wave as long as two stiles
    bar = 10900 / 16 * 118 * 17**3 * (1 / 3 - 0.21 * 17 / 118)
    spring = 2 * 4930 * 11**3 / 12 * math.pi / 404
    push, behind = 104.6 * 398.8 / 304, 23.0
    forces = upright_forces(104.6, arm_mm=398.8, before_mm=0, places_mm=[152, -152])
    bound = line_twist_nmm_per_mm(forces, long_mm=404, behind_mm=behind, aside_mm=0)
    assert twisted(push * behind, 404, 152, bar, spring) < bound
    # without stiffness against twist the bar of the model gives more at its hinges: the bound rests on the bar
    assert twisted(push * behind, 404, 152, bar / 1000, spring) > bound


def test_the_corner_of_the_glue_by_hand():
    # 100 N and 40 Nm on 40 × 400: 4e4/(40·400·(40²+400²)/12) = 1.856e-4 per mm, times 200 level and 20 down
    per = 4e4 / (40 * 400 * (40**2 + 400**2) / 12)
    found = corner_shear_mpa(100, 4e4, lap_mm=40, long_mm=400, along_axis=True)
    assert found == pytest.approx(math.hypot(per * 200, per * 20 + 100 / 16000))
    assert corner_shear_mpa(100, 0, lap_mm=40, long_mm=400, along_axis=False) == pytest.approx(100 / 16000)
