"""Block and board as one: against finite elements that share no code, against Timoshenko, and by laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.timber.plane_fe import curvature_per_mm

from bossage.errors import OutOfRange
from bossage.timber import (
    Layer,
    Plane,
    RibLayer,
    block_plane,
    board_plane,
    glued_cell,
    layered_bow,
    sagitta_mm,
    strip_moduli_mpa,
    strip_rise_mm,
    two_layer_curvature_per_mm,
)

SPRUCE = Plane(along_mpa=450, through_mpa=10_000, shear_mpa=650)
BIRCH = Plane(along_mpa=8_250, through_mpa=500, shear_mpa=190)
SHEATHING = Plane(along_mpa=5_750, through_mpa=500, shear_mpa=60)
OAK = Plane(along_mpa=900, through_mpa=12_000, shear_mpa=950)


def cell(size, height, board_mm, block, board, **more):
    return glued_cell(block_mm=size, height_mm=height, covers=1.0, block=block, board_mm=board_mm, board=board, **more)


def moduli(plane):
    return plane.along_mpa, plane.through_mpa, plane.shear_mpa


# our calculation; method: finite elements, nine-node rectangles (tests/timber/plane_fe.py)
@pytest.mark.parametrize(
    ("size", "height", "board_mm", "block", "board"),
    [
        (70, 18, 12, SPRUCE, BIRCH),
        (70, 42, 12, SPRUCE, BIRCH),
        (45, 20, 12, SPRUCE, BIRCH),
        (45, 90, 12, SPRUCE, BIRCH),
        (95, 45, 12.7, SPRUCE, SHEATHING),
        (38, 25, 12.7, OAK, SHEATHING),
        (140, 30, 18, OAK, BIRCH),
    ],
)
def test_curvature_is_that_of_finite_elements(size, height, board_mm, block, board):
    reference = curvature_per_mm(size, size, height, board_mm, moduli(block), moduli(board), block_strain=1.0)
    found = cell(size, height, board_mm, block, board).per_block
    # a series is stiffer than the truth, so the block pulls a little more: on the safe side
    assert found == pytest.approx(reference, rel=0.05)
    assert found > 0.98 * reference


def test_the_reference_does_not_change_with_a_finer_mesh():
    of = [
        curvature_per_mm(70, 70, 42, 12, moduli(SPRUCE), moduli(BIRCH), block_strain=1.0, fine=fine) for fine in (2, 3)
    ]
    assert of[0] == pytest.approx(of[1], rel=0.01)


def test_the_bare_board_in_a_gap_takes_no_part():
    # our calculation, finite elements with 2 mm of bare board beside the block: the turn under the block is the same
    with_gap = curvature_per_mm(70, 72, 30, 12, moduli(SPRUCE), moduli(BIRCH), block_strain=1.0) * 72 / 70
    assert cell(70, 30, 12, SPRUCE, BIRCH).per_block == pytest.approx(with_gap, rel=0.04)


def test_a_gradient_in_the_board_is_that_of_finite_elements():
    reference = curvature_per_mm(70, 70, 30, 12, moduli(SPRUCE), moduli(BIRCH), block_strain=0.0, back=0.2, front=1.0)
    found = cell(70, 30, 12, SPRUCE, BIRCH)
    assert found.per_board * 0.2 + found.per_faces * 0.8 == pytest.approx(reference, rel=0.03)


@pytest.mark.parametrize(("lower", "upper"), [(12, 10), (12, 30), (18, 20)])
def test_a_block_without_end_is_timoshenkos_strip(lower, upper):
    size = 47 * (lower + upper)
    stiff = Plane(along_mpa=9_500, through_mpa=9_500, shear_mpa=3_650)
    soft = Plane(along_mpa=450, through_mpa=450, shear_mpa=173)
    found = glued_cell(block_mm=size, height_mm=upper, covers=1, block=soft, board_mm=lower, board=stiff).per_block
    assert found == pytest.approx(two_layer_curvature_per_mm(1e-3, lower, upper, 9_500, 450) / 1e-3, rel=0.03)


def test_glued_ribs_are_layers_of_the_strip():
    # without end, ribs and all: the balance of three layers (Timoshenko's way)
    ribs = RibLayer(depth_mm=40, along_mpa=9_000, share=0.1)
    stiff = Plane(along_mpa=9_500, through_mpa=9_500, shear_mpa=3_650)
    soft = Plane(along_mpa=450, through_mpa=450, shear_mpa=173)
    found = glued_cell(block_mm=2_000, height_mm=10, covers=1, block=soft, board_mm=12, board=stiff, ribs=(ribs,))

    def layers(rib, board, block):
        thick = ((40, 0.1, 9_000, rib), (12, 1, 9_500, board), (10, 1, 450, block))
        strip = [
            Layer(thickness_mm=t, width_mm=w, modulus_mpa=E, lower_strain=e, upper_strain=e) for t, w, E, e in thick
        ]
        return layered_bow(strip, 1.0)

    assert found.per_block == pytest.approx(layers(0, 0, 1e-3).curvature_per_mm / 1e-3, rel=0.04)
    assert found.per_ribs[0] == pytest.approx(layers(1e-3, 0, 0).curvature_per_mm / 1e-3, rel=0.04)
    assert found.stiffness_n_mm == pytest.approx(layers(0, 0, 0).stiffness_n_mm2, rel=0.04)


def test_a_rib_sawn_in_two_along_its_depth_is_the_same_rib():
    whole = RibLayer(depth_mm=40, along_mpa=9_000, share=0.1)
    near, far = (
        RibLayer(depth_mm=15, along_mpa=9_000, share=0.1),
        RibLayer(depth_mm=25, along_mpa=9_000, share=0.1, off_mm=15),
    )
    one, two = (cell(70, 30, 12, SPRUCE, BIRCH, ribs=ribs) for ribs in ((whole,), (near, far)))
    assert two.per_block == pytest.approx(one.per_block)
    assert sum(two.per_ribs) == pytest.approx(one.per_ribs[0])
    # the same for layers side by side, each by where its lower face is
    side_by_side = [
        Layer(thickness_mm=t, width_mm=w, modulus_mpa=9_000, lower_strain=e, upper_strain=e, base_mm=base)
        for t, w, e, base in ((12, 1.0, 0.0, 0.0), (40, 0.05, 1e-3, -40.0), (40, 0.05, 1e-3, -40.0))
    ]
    stacked = [
        Layer(thickness_mm=t, width_mm=w, modulus_mpa=9_000, lower_strain=e, upper_strain=e)
        for t, w, e in ((40, 0.1, 1e-3), (12, 1.0, 0.0))
    ]
    curved = [layered_bow(layers, 1.0).curvature_per_mm for layers in (side_by_side, stacked)]
    assert curved[0] == pytest.approx(curved[1])


PLANE = st.builds(
    Plane, along_mpa=st.floats(100, 2_000), through_mpa=st.floats(4_000, 16_000), shear_mpa=st.floats(200, 1_500)
)


@given(st.floats(20, 150), st.floats(8, 150), st.floats(6, 25), PLANE, st.floats(0.2, 1))
@settings(max_examples=40, deadline=None)
def test_laws_of_a_cell(size, height, board_mm, block, covers):
    found = glued_cell(block_mm=size, height_mm=height, covers=covers, block=block, board_mm=board_mm, board=BIRCH)
    # all of it swelling alike bends nothing
    assert found.per_block + found.per_board == pytest.approx(0, abs=1e-6 * found.per_block)
    assert found.per_block > 0
    # a block can only stiffen its board (a board that gives in shear is a little softer than E I)
    bare = 8_250 * board_mm**3 / 12
    assert found.stiffness_n_mm > bare * 0.98
    assert found.per_faces > 0


def test_relaxed_blocks_and_narrow_ones_pull_less():
    of = [cell(70, 20, 12, block_plane("norway_spruce", kept), BIRCH).per_block for kept in (0.3, 0.6, 1.0)]
    assert of == sorted(of)
    by_size = [cell(size, 20, 12, SPRUCE, BIRCH).per_block for size in (20, 45, 95, 200)]
    assert by_size == sorted(by_size)


def test_a_strip_of_even_bend_is_an_arc_and_a_strip_of_two_bends_an_s():
    even = strip_rise_mm(np.full(10, 100.0), np.full(10, 1e-4))
    assert even == pytest.approx(sagitta_mm(1e-4, 1000), rel=0.001)
    assert strip_rise_mm(np.array([500.0]), np.array([-1e-4])) == pytest.approx(-1e-4 * 500**2 / 8)
    # half bends one way and half the other: each half is an arc over its own chord
    s_shape = strip_rise_mm(np.array([500.0, 500.0]), np.array([1e-4, -1e-4]))
    assert abs(s_shape) == pytest.approx(1e-4 * 500**2 / 8, rel=1e-9)
    # bent in its middle third alone, by 0.03 rad: by hand 300 × 0.03 / 2 + 1e-4 × 300² / 8
    third = strip_rise_mm(np.array([300.0, 300.0, 300.0]), np.array([0.0, 1e-4, 0.0]))
    assert third == pytest.approx(300 * 0.03 / 2 + 1e-4 * 300**2 / 8, rel=1e-9)


def test_strips_side_by_side_rise_as_each_by_itself():
    lengths = np.array([[300.0, 200.0, 100.0], [250.0, 350.0, 0.0]])  # the second is filled up with nothing
    bends = np.array([[[1e-4, -2e-4, 3e-4], [2e-4, 1e-4, 9e-4]], [[-1e-4, 0.0, 1e-4], [0.0, -1e-4, 0.0]]])
    found = strip_rise_mm(lengths, bends)
    assert found.shape == (2, 2)
    for case in range(2):
        assert found[case, 0] == strip_rise_mm(lengths[0], bends[case, 0])
        assert found[case, 1] == strip_rise_mm(lengths[1, :2], bends[case, 1, :2])


def test_woods_and_boards_have_a_stiffness_across_and_in_shear():
    spruce = block_plane("norway_spruce")
    assert spruce.along_mpa < spruce.shear_mpa < spruce.through_mpa
    assert block_plane("norway_spruce", 0.5).along_mpa == pytest.approx(spruce.along_mpa / 2)
    assert board_plane("osb", 3_000).shear_mpa == 50
    assert strip_moduli_mpa("plywood_birch") == (7_000, 8_250, 9_500)
    with pytest.raises(OutOfRange):
        Plane(along_mpa=0, through_mpa=1, shear_mpa=1)
    with pytest.raises(OutOfRange):
        cell(0.5, 20, 12, SPRUCE, BIRCH)
