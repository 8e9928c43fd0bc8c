"""A hinge stile against a linear program and closed forms that know nothing of its formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from bossage.fasteners.hinged import (
    corner_shear_mpa,
    elastic_twist_nmm_per_mm,
    level_forces,
    row_pull_n,
    upright_forces,
)
from bossage.ranges import OutOfRange


def least_pull(along: float, off: float, lap: float, row: float, behind: float, beside: float) -> float:
    """Least pull of a row of screws that keeps a rigid stile still: the backer may press anywhere under its lap.

    A linear program over the presses, which know nothing of edges; turning is reckoned about the pin.
    """
    places = np.linspace(0, lap, 101)
    # off the wall: the pin's force, the presses of the backer (towards the wall), the screws (off the wall)
    forces = np.concatenate([[1.0], -np.ones(places.size)])
    # about the pin: the screws and the presses by their distance along the leaf; the leaf's answer to the push lies in
    # the plane of the lap, so far before the pin
    levers = np.concatenate([[row + beside], -(places + beside)])
    found = linprog(
        np.concatenate([[1.0], np.zeros(places.size)]),
        A_eq=np.vstack([forces, levers]),
        b_eq=[-off, -along * behind],
        bounds=[(0, None)] * (places.size + 1),
    )
    assert found.status == 0
    return float(found.fun)


FORCE = st.floats(-200, 200)


@given(along=FORCE, off=FORCE, lap=st.floats(20, 120), at=st.floats(0.1, 0.9), beside=st.floats(0, 80))
def test_a_row_of_screws_is_drawn_as_a_linear_program_says(along, off, lap, at, beside):
    found = row_pull_n(along_n=along, off_n=off, lap_mm=lap, row_mm=at * lap, behind_mm=17.5, beside_mm=beside)
    assert found == pytest.approx(least_pull(along, off, lap, at * lap, 17.5, beside), rel=1e-6, abs=1e-6)


def test_hinges_over_one_another_draw_at_the_screws_by_hand():
    upper, lower = upright_forces(104, arm_mm=400, before_mm=0, places_mm=[152, -152])
    # 2.4 Nm at each hinge, 17.5 behind the lap; the screws stand 17.5 from either edge of it: 137 N
    for one in (upper, lower):
        found = row_pull_n(along_n=one.along_n, off_n=one.off_n, lap_mm=35, row_mm=17.5, behind_mm=17.5, beside_mm=56)
        assert found == pytest.approx(104 * 400 / 304, rel=1e-9)


def test_a_row_outside_the_lap_is_refused():
    with pytest.raises(OutOfRange):
        row_pull_n(along_n=1, off_n=0, lap_mm=35, row_mm=36, behind_mm=17.5, beside_mm=56)


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


def held_bar(torque: float, long: float, at: float, bar: float, spring: float) -> float:
    """Largest torque by length of a bar on springs that is twisted one way and the other at two points: closed form."""
    rate = math.sqrt(spring / bar)
    beyond = long / 2 - at
    return torque * rate * math.sinh(rate * at) * math.cosh(rate * beyond) / math.cosh(rate * long / 2)


@given(
    long=st.floats(200, 1200), share=st.floats(0.5, 0.95), torque=st.floats(1, 5000),
    bar=st.floats(2e7, 5e8), spring=st.floats(2e3, 5e4),
)  # fmt: skip
def test_a_bar_on_springs_gives_what_its_equation_says(long, share, torque, bar, spring):
    at = share * long / 2
    found = elastic_twist_nmm_per_mm(
        [(at, torque), (-at, -torque)], long_mm=long, over_mm=0, bar_nmm2=bar, spring_n=spring
    )
    # three nodes under a hinge, and a place that falls between nodes
    assert found == pytest.approx(held_bar(torque, long, at, bar, spring), rel=0.08)


def test_a_hinge_as_high_as_it_is_twists_less_hard_than_a_point():
    given_to = {"long_mm": 404, "bar_nmm2": 8.6e7, "spring_n": 42500}
    point, high = (elastic_twist_nmm_per_mm([(152, 2400), (-152, -2400)], over_mm=over, **given_to) for over in (0, 50))
    assert 0.6 * point < high < 0.9 * point


def test_the_corner_of_the_glue_by_hand():
    # 100 N and 40 Nm on 40 × 400: 4e4/(40·400·(40²+400²)/12) = 1.856e-4 per mm, times 200 level and 20 down
    per = 4e4 / (40 * 400 * (40**2 + 400**2) / 12)
    found = corner_shear_mpa(100, 4e4, lap_mm=40, long_mm=400, along_axis=True)
    assert found == pytest.approx(math.hypot(per * 200, per * 20 + 100 / 16000))
    assert corner_shear_mpa(100, 0, lap_mm=40, long_mm=400, along_axis=False) == pytest.approx(100 / 16000)
