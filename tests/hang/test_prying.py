"""What the wall half pulls at its fixings with, by a frame program, and what that says of leaves that seemed to hold.

anastruct solves stiffness matrices; it shares no formula with the package.
"""

from __future__ import annotations

import math
from itertools import pairwise
from types import SimpleNamespace

import pytest
from anastruct import SystemElements

from bossage.brief.records import FixingKind, WallBuild
from bossage.hang.prying import turning_nmm
from tests.hang.making import PLUGS, hung, verdict
from tests.layout.factory import mm, plain

STIFF = 1e10


def link(planned, name):
    return next(one for one in planned.links if one.name == name)


def pulls_by_frame(*, thrust, weight, lever, before, heights):
    """Pull of each row of fixings, highest first: an all but rigid strip, on a knife edge and on springs.

    The strip stands upright at x = 0 from its lower edge up to the middle of the bevel; an arm carries the weight
    before it. Every fixing is a spring straight out of the wall, all alike.
    """
    ss = SystemElements(EA=STIFF, EI=STIFF * 1e3)
    ups = [0.0, *sorted(heights), lever]
    for low, high in pairwise(ups):
        ss.add_element([[0, low], [0, high]])
    top = len(ups)
    ss.add_element([[0, lever], [before, lever]])
    ss.add_support_hinged(1)
    for node in range(2, top):
        ss.add_support_spring(node, translation=1, k=1.0)
    ss.point_load(top, Fx=thrust)
    ss.point_load(top + 1, Fy=-weight)
    ss.solve()
    return sorted((abs(ss.get_node_results_system(node)["Fx"]) for node in range(2, top)), reverse=True)


@pytest.mark.parametrize("rows", [1, 2, 3])
def test_pull_on_each_row_is_that_of_a_frame_program(rows):
    planned = hung(wall__studs_nm=(mm(1260), mm(1540)), fixings__per_stud=rows, piece__weighed_g=12_000.0)
    leaf = planned.leaves[0]
    foot = leaf.cleat.wall_half_bottom_nm
    one_stud = [point for point in leaf.cleat.fixings if point.line_nm == mm(1260)]
    share = sum(point.load_share for point in one_stud)
    weight = 12 * 9.80665
    wanted = pulls_by_frame(
        thrust=share * weight,  # the wedge of 45°, no friction counted on
        weight=share * weight,
        lever=(leaf.cleat.line_nm - foot) / 1e6,
        before=9,
        heights=[(point.y_nm - foot) / 1e6 for point in one_stud],
    )
    assert [point.pull_n for point in one_stud] == pytest.approx(wanted, rel=1e-3)


DEEP = {
    "blocks__levels_nm": (mm(150), mm(270)),
    "wall__build": WallBuild.METAL_STUDS,
    "wall__studs_nm": (),
    "fixings__kind": FixingKind.HOLLOW,
    "fixings__rating_g": 60_000.0,
    "fixings__count": 3,
    "cleat__arm_nm": mm(200),
    "piece__weighed_g": 37_000.0,
}


def test_deep_blocks_on_three_hollow_fixings_are_no_longer_fine():
    planned = hung(**DEEP)
    # by weight alone: 3 × 60 kg ÷ 4 over 37 kg, which used to be all that was asked
    by_weight = 3 * 60 / 4 / 37
    assert by_weight == pytest.approx(1.21, abs=0.01)
    assert verdict(planned, "load_path") == verdict(planned, "fixing_rating") == "stop"
    held = link(planned, "fixings in the wall")
    leaf = planned.leaves[0]
    assert held.shear_n == pytest.approx(121, abs=0.5)
    # our calculation: moments about the lower edge of the wall half
    thrust = max(leaf.pull_n, leaf.wedge_n)
    assert held.pull_n == pytest.approx((thrust * 66 + leaf.weight_n * 9) / 29 / 3)
    # its pull rated like its shear: the resultant alone is beyond a quarter of 60 kg, the sum of both further
    rated = link(hung(**DEEP, fixings__pull_rating_g=60_000.0), "fixings in the wall")
    allowed = 15 * 9.80665
    assert math.hypot(held.pull_n, held.shear_n) / allowed > 1.7
    assert rated.margin == pytest.approx(allowed / (held.pull_n + held.shear_n))
    assert rated.margin < 0.56


def test_as_many_are_found_as_make_every_link_hold():
    # of 60 kg straight out none is enough: nearer than 100 mm they share the board
    strong = {"fixings__pull_rating_g": 300_000.0}
    found = hung(**DEEP | strong | {"fixings__count": None})
    cleat, held = found.leaves[0].cleat, link(found, "fixings in the wall")
    assert held.margin >= held.least
    one_fewer = hung(**DEEP | strong | {"fixings__count": len(cleat.fixings) - 1})
    assert link(one_fewer, "fixings in the wall").margin < held.least


def test_fixings_are_added_until_the_wall_half_does_not_bend_too_far():
    # strong plugs, of which two would do, on a thin wide half
    strong = {**PLUGS, "fixings__allowable_g": 500_000.0, "fixings__pull_allowable_g": 500_000.0}
    thin = {"cleat__thickness_nm": mm(9), "cleat__strip_nm": mm(40), "piece__weighed_g": 30_000.0}
    planned = hung(**strong, **thin)
    cleat = planned.leaves[0].cleat
    assert link(planned, "wall half").margin >= 1
    assert len(cleat.fixings) > 2
    assert "bend" in cleat.count_reason
    two = hung(**strong, **thin, fixings__count=len(cleat.fixings) - 1)
    assert link(two, "wall half").margin < 1
    assert verdict(two, "load_path") == "stop"


def test_a_packer_under_the_wall_half_hangs_the_weight_further_out():
    # by hand: 60 N out at 66 over the lower edge; 90 N down at half of 18, and 20 of packer further out
    def case(back_nm):
        return SimpleNamespace(brief=plain(), choice=SimpleNamespace(back_nm=back_nm))

    assert turning_nmm(case(0), 90.0, 60.0) == pytest.approx(60 * 66 + 90 * 9)
    assert turning_nmm(case(mm(20)), 90.0, 60.0) == pytest.approx(60 * 66 + 90 * 29)


def test_a_thicker_wall_half_pulls_harder_for_each_newton():
    usual, thick = hung(**PLUGS, fixings__count=4), hung(**PLUGS, fixings__count=4, cleat__thickness_nm=mm(27))
    one, other = (link(each, "fixings in the wall").pull_n / each.leaves[0].weight_n for each in (usual, thick))
    assert other > one
