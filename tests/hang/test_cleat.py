"""Where the cleat and its fixings go, and what would meet another stud."""

from __future__ import annotations

import pytest

from bossage.brief.records import FixingKind, Side, WallBuild
from bossage.hang.holds import short_of
from tests.hang.making import PLUGS, hang, hung, laid, verdict
from tests.layout.factory import change, mm, plain

# The plain leaf covers 1200 to 1600 with 50 of margin: 500 wide, its middle at 1400; backer 480.
MIDDLE = 1400


def cleat_of(**changes):
    cleat = hung(**changes).leaves[0].cleat
    assert cleat is not None
    return cleat


def test_a_stud_counts_from_the_end_distance_on():
    # 300 long is 1250 to 1550; with 20 of end distance studs count from 1270 to 1530
    on_the_edge = cleat_of(cleat__length_nm=mm(300), wall__studs_nm=(mm(1270), mm(1530)))
    assert [s.x_nm for s in on_the_edge.studs] == [mm(1270), mm(1530)]
    assert [s.inside_nm for s in on_the_edge.studs] == [mm(20), mm(20)]
    assert cleat_of(cleat__length_nm=mm(300), wall__studs_nm=(mm(1270) - 1, mm(1530) + 1)).studs == ()


def test_miss_and_the_shortest_cleat_that_meets_one_more():
    cleat = cleat_of(cleat__length_nm=mm(300), wall__studs_nm=(mm(1400), mm(1600)))
    missed = cleat.missed
    assert missed is not None
    # from 1550 to 1600, then 20 more inside the end; both ends grow alike: 2 · (200 + 20)
    assert (missed.miss_nm, missed.short_nm, missed.shortest_nm) == (mm(50), mm(70), mm(440))
    assert missed.shortest_fits


def test_the_smallest_shift_meets_one_more_and_the_cleat_stays_on_the_backer():
    brief = plain(cleat__length_nm=mm(300), wall__studs_nm=(mm(1260), mm(1460)))
    missed = hang(brief).leaves[0].cleat.missed
    assert missed.shift_nm == -mm(10)
    moved = change(brief, cleat__offset_nm=missed.shift_nm)
    assert len(hang(moved).leaves[0].cleat.studs) == 2
    nearly = change(brief, cleat__offset_nm=missed.shift_nm + 1)
    assert len(hang(nearly).leaves[0].cleat.studs) == 1


def test_no_shift_is_offered_that_leaves_the_backer():
    cleat = cleat_of(cleat__length_nm=mm(470), wall__studs_nm=(mm(1400), mm(1700)))
    assert cleat.missed.shift_nm is None
    assert not cleat.missed.shortest_fits


def test_without_a_length_the_cleat_is_as_long_as_the_backer():
    assert cleat_of().length_nm == laid(plain()).leaves[0].backer_width_nm


@pytest.mark.parametrize("per_stud", [1, 2, 3])
def test_fixings_lie_in_the_wall_half_on_their_studs(per_stud):
    cleat = cleat_of(fixings__per_stud=per_stud, wall__studs_nm=(mm(1260), mm(1540)))
    assert len(cleat.fixings) == 2 * per_stud
    for point in cleat.fixings:
        assert point.line_nm in (mm(1260), mm(1540))
        # by hand: a screw of 5 mm stands 5 mm beside the middle where others stand over it or under it
        assert abs(point.x_nm - point.line_nm) == (mm(5) if per_stud > 1 else 0)
        assert cleat.wall_half_bottom_nm < point.y_nm < cleat.line_nm - cleat.engagement_nm // 2
        assert point.from_leaf_left_nm == point.x_nm - mm(1150)
    assert sum(point.load_share for point in cleat.fixings) == pytest.approx(1)


def test_screws_over_one_another_stand_left_and_right_by_turns_in_wood_and_on_the_line_in_steel():
    studs = {"fixings__per_stud": 3, "wall__studs_nm": (mm(1260), mm(1540))}
    points = [point for point in cleat_of(**studs).fixings if point.line_nm == mm(1260)]
    assert [point.x_nm - mm(1260) for point in points] == [-mm(5), mm(5), -mm(5)]
    assert [point.y_nm for point in points] == sorted((point.y_nm for point in points), reverse=True)
    steel = cleat_of(**studs, wall__build=WallBuild.METAL_STUDS, fixings__kind=FixingKind.STEEL)
    assert {point.x_nm for point in steel.fixings} == {mm(1260), mm(1540)}


def test_the_halves_grip_by_the_rise_of_the_bevel():
    assert cleat_of(cleat__bevel_deg=45.0).engagement_nm == mm(18)
    assert cleat_of(cleat__bevel_deg=30.0).engagement_nm == pytest.approx(mm(10.392), abs=1000)


def test_the_foot_spacer_lies_one_arm_below_the_line_as_thick_as_the_stand_off():
    leaf = hung(cleat__arm_nm=mm(250)).leaves[0]
    assert leaf.cleat.line_nm - leaf.feet[0].y_nm == mm(250)
    assert leaf.feet[0].thickness_nm == laid(plain()).stand_off.stand_off_nm


@pytest.mark.parametrize("length", range(10, 80, 3))
@pytest.mark.parametrize("backer", [6, 9, 12])
def test_no_screw_of_the_panel_half_ends_nearer_than_3_mm_to_a_face(length, backer):
    brief = plain(fixings__panel_length_nm=mm(length), backer__thickness_nm=mm(backer))
    panel = hang(brief).leaves[0].cleat.panel
    assert panel.tip_to_face_nm >= mm(3)
    assert panel.tip_to_face_nm + panel.length_nm + panel.sunk_nm == laid(brief).stand_off.stand_off_nm + mm(backer)
    assert verdict(hang(brief), "panel_screw") == ("fine" if panel.length_nm == mm(length) else "caution")


@pytest.mark.parametrize("side", list(Side))
def test_no_hinge_screw_ends_nearer_than_3_mm_to_a_face(side):
    from bossage.brief.records import Opens

    for thickness in (6, 12, 18):
        changes = {"access__opens": Opens.SWING, "access__hinge": side, "backer__thickness_nm": mm(thickness)}
        plan = hung(**PLUGS, **changes).leaves[0].hinges
        assert plan.tip_to_face_nm >= mm(3)


def test_things_to_buy_are_what_is_drawn():
    planned = hung(**PLUGS, fixings__count=5, access__lock=True)
    cleat = planned.leaves[0].cleat
    counts = {thing.what: thing.count for thing in planned.to_buy}
    assert counts["wall plugs 6 × 30 mm with screws #10 × 75 mm"] == 5 == len(cleat.fixings)
    assert counts[f"wood screws 3.5 × {cleat.panel.length_nm // mm(1)} mm"] == len(cleat.panel.screws)
    assert counts["hardwood offcut for the anti-lift lock"] == 1
    assert [bought.count for bought in planned.to_buy if "turn button of the lock to" in bought.note] == [1]


@pytest.mark.parametrize(
    ("margin", "said"), [(1.2497, "1.24"), (1.15, "1.15"), (1.248, "1.25 is asked"), (1.146, "1.15"), (1.25, "1.25,")]
)
def test_a_margin_that_falls_short_is_not_rounded_up_to_what_is_asked(margin, said):
    words = short_of(margin, 1.25)
    assert said in words
    assert ("of 1.25," in words) == (margin >= 1.25)
