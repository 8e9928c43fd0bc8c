"""Glued links: one value a bond, peel by models that share no code with ours, and paint under a bond."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.fasteners.bond import Side, bond_allowed, edge_peel_mpa, stiff_peel_mpa
from bossage.hang import plan_hang
from bossage.hang.bonds import BLOCKS_BOND
from tests.hang.making import hung
from tests.layout.factory import mm
from tests.scenarios.cases import plan_of, varied, verdict


def link(planned, name):
    return next(one for one in planned.links if one.name == name)


@pytest.mark.parametrize("scenario", ["S1", "S2", "S3", "S4", "S7", "S8"])
def test_a_bond_has_one_value_that_press_and_hang_both_tell(scenario):
    plan = plan_of(scenario)
    least = min(one.margin for one in plan.hang.links if one.name == BLOCKS_BOND)
    assert plan.press.caul.bond_margin == plan.hang.bond_margin == least
    told = next(check.found for check in plan.checks if check.name == "pressure")
    assert f"margin of {least:.0f}" in told


def test_the_hardest_worked_bond_of_s2_by_hand():
    # block 1·8b: the margin of the sum of squares, from its sizes, its length and the leaf's share of paint and glue
    plan = plan_of("S2")
    blocks, relief = plan.layout.blocks, plan.relief
    held = link(plan.hang, BLOCKS_BOND)
    b = next(k for k in range(blocks.count) if f"block {blocks.address(k)}" == held.part)
    parts = {part.name: part.mass_g for part in plan.hang.leaf_masses[0].parts}
    volume = blocks.width_nm.astype(float) * blocks.height_nm * relief.length_nm
    newton = (parts["blocks"] + parts["paint and glue"]) * volume[b] / volume.sum() * 9.80665e-3
    side = 45.0 - 10.0  # of the square of glue: a block of 45 mm that hangs 10 mm past the backer
    shear, peel = newton / side**2, 6 * newton * relief.length_nm[b] / 2e6 / side**3
    # 0.37 MPa of rolling shear and 0.103 of pull; load duration 0.9, creep 0.5, end grain a quarter in shear
    use = math.hypot(shear / (0.37 * 0.9 * 0.5 * 0.25), peel / (0.103 * 0.9 * 0.5))
    assert held.margin == pytest.approx(1 / use, rel=1e-6)


def springs(force, moment, couple, height, sides, n=60):
    """Pull at the edge of two beams that hold on one another by many springs: finite elements of our own, in numpy.

    The couple comes in as the shear does, evenly over the height.
    """
    step = height / n
    k = 2 / (sides[0].thickness_mm + sides[1].thickness_mm)
    size = 2 * (n + 1)
    whole = np.zeros((2 * size, 2 * size))
    for beam, side in enumerate(sides):
        ei, b = side.stiffness * side.thickness_mm**3 / 12, beam * size
        one = (
            ei
            / step**3
            * np.array(
                [
                    [12, 6 * step, -12, 6 * step],
                    [6 * step, 4 * step**2, -6 * step, 2 * step**2],
                    [-12, -6 * step, 12, -6 * step],
                    [6 * step, 2 * step**2, -6 * step, 4 * step**2],
                ]
            )
        )
        for e in range(n):
            at = b + 2 * e + np.arange(4)
            whole[np.ix_(at, at)] += one
    for node in range(n + 1):
        share = k * step * (0.5 if node in (0, n) else 1.0)
        i, j = 2 * node, size + 2 * node
        whole[np.ix_([i, j], [i, j])] += share * np.array([[1, -1], [-1, 1]])
    load = np.zeros(2 * size)
    load[0], load[size] = force, -force
    # a moment that opens the edge turns the near end of both beams away from one another
    load[1] -= moment
    load[size + 1] += moment
    each = couple / n
    for e in range(n):
        for node in (e, e + 1):
            load[2 * node + 1] -= each / 2
            load[size + 2 * node + 1] += each / 2
    moved = np.linalg.lstsq(whole, load, rcond=None)[0]
    return k * (moved[0] - moved[size])


@pytest.mark.parametrize("stiffness", [1.0, 10.0])
@pytest.mark.parametrize(("front", "back"), [(12.0, 24.0), (12.7, 63.5), (6.0, 18.0)])
def test_peel_of_bending_parts_is_that_of_beams_on_springs(stiffness, front, back):
    sides = (Side(thickness_mm=back, stiffness=stiffness), Side(thickness_mm=front, stiffness=stiffness))
    for case in ((0.02, 0.0, 0.0), (0.0, 1.5, 0.0), (0.0, 0.0, 2.0), (0.015, 0.1, 1.8)):
        assert edge_peel_mpa(*case, 57.0, sides) == pytest.approx(springs(*case, 57.0, sides), rel=0.02)


@given(force=st.floats(0, 0.1), moment=st.floats(0, 3), couple=st.floats(0, 3), height=st.floats(10, 120))
@settings(max_examples=40)
def test_stiff_parts_peel_as_a_straight_line_of_stress(force, moment, couple, height):
    stiff = (Side(thickness_mm=18, stiffness=1e9), Side(thickness_mm=12, stiffness=1e9))
    middle = force * height / 2 + moment + couple
    line = force / height + float(stiff_peel_mpa(middle, 1.0, np.asarray(height)))
    assert edge_peel_mpa(force, moment, couple, height, stiff) == pytest.approx(line, rel=1e-3, abs=1e-12)
    soft = (Side(thickness_mm=18, stiffness=10), Side(thickness_mm=12, stiffness=10))
    assert edge_peel_mpa(force, moment, couple, height, soft) >= line * (1 - 1e-9)


def test_shear_and_pull_meet_the_limit_on_a_circle():
    allowed = bond_allowed(0.37, end_grain=False, duration_factor=0.9)
    assert (allowed.shear_mpa, allowed.pull_mpa) == pytest.approx((0.37 * 0.45, 0.103 * 0.45))
    assert float(allowed.use(0.6 * allowed.shear_mpa, 0.8 * allowed.pull_mpa)) == pytest.approx(1)


def test_a_planted_packer_opens_the_panel_halfs_glue():
    # the same leaf of 20 kg on a cleat of 280 mm: 60 mm of packer give the weight the lever that opens the glue
    short = {"cleat__length_nm": mm(280), "piece__weighed_g": 20_000.0}
    near = link(hung(**short), "panel half's glue")
    far = link(hung(**short, cleat__packer_nm=mm(60)), "panel half's glue")
    assert near.margin > 1 > far.margin


def test_paint_under_any_bond_is_a_link_that_holds_nothing():
    plan = plan_of("S2")
    bare = [one for one in plan.hang.links if one.name == "coating"]
    assert bare == []
    for part, face, where in (
        ("block", "back", "on the backs of the blocks"),
        ("backer", "glue field", "under the blocks"),
        ("backer", "back", "under the panel half"),
        ("cleat", "glue field", "on the panel half"),
    ):
        coats = tuple(
            replace(coat, coat="paint") if (coat.part, coat.face) == (part, face) else coat
            for coat in plan.paint.face_coats
        )
        painted = SimpleNamespace(
            face_coats=coats,
            ground_way=plan.paint.ground_way,
            glue_field_mm2=plan.paint.glue_field_mm2,
            dry_paint_g_per_leaf=plan.paint.dry_paint_g_per_leaf,
        )
        planned = plan_hang(plan.brief, plan.layout, plan.body, plan.relief, painted)
        found = [one for one in planned.links if one.name == "coating"]
        assert [(one.part, one.allowable_n) for one in found] == [(where, 0.0)]
        assert planned.weakest.name == "coating"


def test_a_planted_coat_under_the_blocks_flips_the_load_path():
    painted = varied("S2", "ground all over", lambda brief: brief.setdefault("paint", {}).update(ground="all over"))
    assert verdict(plan_of("S2"), "load_path") == "fine"
    assert verdict(painted, "load_path") == "stop"
