"""Forces and deflections against references of their own: anastruct (2D frames), trimesh (bodies), scipy (energy).

anastruct solves stiffness matrices of Euler-Bernoulli members; it shares no formula with the package. Shear is not in
it, so where the package counts shear, that part is taken off by hand.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import trimesh
from anastruct import SystemElements
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize, root_scalar

from bossage.fasteners import combined_use
from bossage.fasteners.hinged import flap_forces_n
from bossage.hang.statics import carried_shares, hinge_pull_n, pull_n
from bossage.press.beam import end_sag_mm
from bossage.press.caul import CAUL_MPA, CLAMP_N
from bossage.timber import Layer, layered_bow, species
from tests.press.cases import made, pressed
from tests.scenarios.cases import plan_of


def frame(points, *, stiff=1e13):
    """Members from point to point, all but rigid."""
    ss = SystemElements(EA=stiff, EI=stiff)
    for one, two in pairwise(points):
        ss.add_element([one, two])
    return ss


@given(load=st.floats(50, 5000), span=st.floats(100, 2000), breadth=st.floats(18, 145), depth=st.floats(18, 145))
@settings(max_examples=12, deadline=None)
def test_bending_of_a_caul_is_that_of_a_frame_program(load, span, breadth, depth):
    EI, parts = CAUL_MPA * breadth * depth**3 / 12, 8
    ss = SystemElements(EI=EI, EA=1e13)
    for k in range(parts):
        ss.add_element([[span * k / parts, 0], [span * (k + 1) / parts, 0]])
    ss.add_support_hinged(1)
    ss.add_support_roll(parts + 1)
    ss.q_load(q=-load / span, element_id=list(range(1, parts + 1)))
    ss.solve()
    bending = -ss.get_node_displacements(parts // 2 + 1)["uy"]
    # even load on a span held at its ends: the shear deflection is W L / (8 G A'), G = E / 16, A' = 5/6 A
    shear = load * span / 8 / (CAUL_MPA / 16 * 5 / 6 * breadth * depth)
    assert end_sag_mm(load, span, CAUL_MPA, breadth, depth) == pytest.approx(bending + shear, rel=1e-5)


@pytest.mark.parametrize("scenario", ["S1", "S2"])
def test_a_caul_planed_to_its_camber_is_straight_when_its_ends_are_clamped(scenario):
    # the camber is what two clamps at the ends bend out of it: a frame program bends it back to nothing but shear
    caul = pressed(scenario).caul
    length, breadth, depth = (nm / 1e6 for nm in (caul.length_nm, caul.breadth_nm, caul.end_depth_nm))
    ss = SystemElements(EI=CAUL_MPA * breadth * depth**3 / 12, EA=1e13)
    parts = 10
    for k in range(parts):
        ss.add_element([[length * k / parts, 0], [length * (k + 1) / parts, 0]])
    ss.add_support_hinged(1)
    ss.add_support_roll(parts + 1)
    ss.q_load(q=-2 * CLAMP_N / length, element_id=list(range(1, parts + 1)))
    ss.solve()
    shear = 2 * CLAMP_N * length / 8 / (CAUL_MPA / 16 * 5 / 6 * breadth * depth)
    bent = -ss.get_node_displacements(parts // 2 + 1)["uy"] + shear
    assert caul.camber_nm / 1e6 == pytest.approx(bent, abs=0.001)


@given(apart=st.floats(200, 1500), share=st.floats(0.05, 0.95), weight=st.floats(20, 600))
@settings(max_examples=15, deadline=None)
def test_load_on_each_of_two_cleats_is_that_of_a_frame_program(apart, share, weight):
    at = share * apart
    ss = frame([[0, 0], [at, 0], [apart, 0]], stiff=1e10)
    ss.add_support_hinged(1)
    ss.add_support_roll(3)
    ss.point_load(2, Fy=-weight)
    ss.solve()
    left, right = (weight * one for one in carried_shares([0, apart], at))
    assert left == pytest.approx(abs(ss.get_node_results_system(1)["Fy"]), rel=1e-5, abs=1e-6)
    assert right == pytest.approx(abs(ss.get_node_results_system(3)["Fy"]), rel=1e-5, abs=1e-6)


@given(weight=st.floats(20, 600), depth=st.floats(20, 150), arm=st.floats(200, 1200))
@settings(max_examples=15, deadline=None)
def test_pull_at_the_cleat_is_that_of_a_frame_program(weight, depth, arm):
    # seen from the side: held at the cleat (at the wall), resting level against the spacer; weight out in the room
    ss = frame([[0, 0], [0, arm / 2], [0, arm]], stiff=1e10)
    ss.add_element([[0, arm / 2], [depth, arm / 2]], EA=1e10, EI=1e10)
    ss.add_support_hinged(3)
    ss.add_support_roll(1, direction="y")  # held level, free up and down
    ss.point_load(4, Fy=-weight)
    ss.solve()
    cleat = ss.get_node_results_system(3)
    assert pull_n(weight, depth, arm) == pytest.approx(abs(cleat["Fx"]), rel=1e-5)
    assert abs(cleat["Fy"]) == pytest.approx(weight, rel=1e-5)


@given(weight=st.floats(20, 300), lever=st.floats(100, 900), spacing=st.floats(100, 900))
@settings(max_examples=15, deadline=None)
def test_hinge_load_is_that_of_a_frame_program(weight, lever, spacing):
    # seen from the front: a stile with two hinges, the upper of which carries the weight
    ss = frame([[0, 0], [0, spacing / 2], [0, spacing]], stiff=1e10)
    ss.add_element([[0, spacing / 2], [lever, spacing / 2]], EA=1e10, EI=1e10)
    ss.add_support_hinged(3)
    ss.add_support_roll(1, direction="y")
    ss.point_load(4, Fy=-weight)
    ss.solve()
    upper, lower = ss.get_node_results_system(3), ss.get_node_results_system(1)
    assert hinge_pull_n(weight, lever, spacing) == pytest.approx(abs(upper["Fx"]), rel=1e-5)
    assert hinge_pull_n(weight, lever, spacing) == pytest.approx(abs(lower["Fx"]), rel=1e-5)


@given(along=st.floats(100, 500), angle=st.floats(40, 110), on_leaf=st.floats(150, 500), on_wall=st.floats(150, 500))
@settings(max_examples=15, deadline=None)
def test_a_flap_on_stays_is_that_of_a_frame_program(along, angle, on_leaf, on_wall):
    # the leaf turns about a hinge at the origin, a bar with free ends holds it to the wall below (props) or above
    a = math.radians(angle)
    out, down = math.sin(a), -math.cos(a)
    first, last = sorted([on_leaf, along])
    if last - first < 5:
        last = first + 5
        along, on_leaf = (last, first) if along >= on_leaf else (first, last)
    points = [[0, 0], [first * out, first * down], [last * out, last * down]]
    ss = frame(points, stiff=1e10)
    ss.add_truss_element([[on_leaf * out, on_leaf * down], [0, -on_wall]], EA=1e10)
    ss.add_support_hinged(1)
    ss.add_support_hinged(4)
    ss.point_load(3 if along == last else 2, Fy=-100)
    ss.solve()
    wall, hinge = ss.get_node_results_system(4), ss.get_node_results_system(1)
    force, level, upright = flap_forces_n(
        100, along_mm=along, depth_mm=0, angle_deg=angle, on_leaf_mm=on_leaf, on_wall_mm=on_wall
    )
    assert force == pytest.approx(math.hypot(wall["Fx"], wall["Fy"]), rel=1e-3)
    assert level == pytest.approx(abs(hinge["Fx"]), rel=1e-3, abs=0.05)
    assert abs(upright) == pytest.approx(abs(hinge["Fy"]), rel=1e-3, abs=0.05)


@given(
    sizes=st.lists(
        st.tuples(st.floats(2, 30), st.floats(10, 300), st.floats(1000, 14000), st.floats(-0.004, 0.004)),
        min_size=2,
        max_size=4,
    ),
    gradient=st.floats(-0.002, 0.002),
)
@settings(max_examples=15, deadline=None)
def test_bow_is_where_the_strain_energy_is_least(sizes, gradient):
    # scipy finds the axial strain and curvature of least energy over thin slices; no axis, no moment, no formula
    layers = [
        Layer(thickness_mm=t, width_mm=w, modulus_mpa=e, lower_strain=s, upper_strain=s + gradient)
        for t, w, e, s in sizes
    ]
    y, free, weight, base = [], [], [], 0.0
    for one in layers:
        middles = (np.arange(400) + 0.5) / 400
        y.append(base + one.thickness_mm * middles)
        free.append(one.lower_strain + (one.upper_strain - one.lower_strain) * middles)
        weight.append(np.full(400, one.modulus_mpa * one.width_mm * one.thickness_mm / 400))
        base += one.thickness_mm
    y, free, weight = (np.concatenate(part) for part in (y, free, weight))
    scale = float(weight.sum())

    def energy(v):
        return float((weight * (v[0] + v[1] * y / base - free) ** 2).sum()) / scale * 1e6

    found = minimize(energy, [0.0, 0.0], method="BFGS", options={"gtol": 1e-10})
    assert layered_bow(layers, 100).curvature_per_mm == pytest.approx(found.x[1] / base, rel=2e-3, abs=2e-7)


@given(withdrawal=st.floats(50, 1500), lateral=st.floats(50, 1500), angle=st.floats(1, 89), share=st.floats(0.1, 3))
@settings(max_examples=40, deadline=None)
def test_combined_use_is_one_where_the_curve_of_the_nds_is_met(withdrawal, lateral, angle, share):
    # Eq. 12.4-1 solved for the load along the angle by scipy: R cos²/Z + R sin²/W = 1, without writing R out
    a = math.radians(angle)
    met = root_scalar(
        lambda r: r * math.cos(a) ** 2 / lateral + r * math.sin(a) ** 2 / withdrawal - 1, bracket=(0, 1e5)
    ).root
    load = share * met
    pull, shear = load * math.sin(a), load * math.cos(a)
    # the curve bulges past the withdrawal where the lateral value is the larger; there the single share counts
    wanted = max(share, pull / withdrawal, shear / lateral)
    assert combined_use(pull, shear, withdrawal, lateral) == pytest.approx(wanted, rel=1e-6)


@pytest.mark.parametrize("scenario", ["S2", "S7"])
def test_centre_of_gravity_of_all_blocks_is_that_of_their_bodies(scenario):
    # trimesh: every block as a body at its place; volumes and centres by its own integrals over faces
    brief, layout, relief = made(scenario)
    leaf, blocks = layout.leaves[0], layout.blocks
    back = layout.stand_off.stand_off_nm + layout.backer_nm
    centres, masses = [], []
    density = species(brief.blocks.species).density_12pct_kg_m3 * 1e-6
    for b in np.flatnonzero(blocks.leaf == 0):
        size = np.array([blocks.width_nm[b], blocks.height_nm[b], relief.length_nm[b]], dtype=float) / 1e6
        front = (back + relief.levels_nm[int(relief.level[b])]) / 1e6
        low = np.array([(blocks.x_nm[b] - leaf.x_nm) / 1e6, (blocks.y_nm[b] - leaf.y_nm) / 1e6, front - size[2]])
        body = trimesh.creation.box(bounds=np.array([low, low + size]))
        centres.append(body.center_mass)
        masses.append(body.volume * density)
    x, y, z = np.average(centres, axis=0, weights=masses)
    part = next(p for p in plan_of(scenario).hang.leaf_masses[0].parts if p.name == "blocks")
    assert part.mass_g == pytest.approx(sum(masses), rel=1e-9)
    assert (part.from_left_mm, part.from_foot_mm, part.from_wall_mm) == pytest.approx((x, y, z), abs=1e-6)
