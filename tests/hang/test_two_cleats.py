"""Two cleats on one leaf: the load on each from statics, worked by hand, and what follows from it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.hang.making import PLUGS, hang, hung, laid, verdict
from tests.layout.factory import change, mm, plain

# The plain leaf runs from 1150 to 1650; its backer from 1160 to 1640. Two cleats of 120, 300 apart, set 40 to the right
# of its middle: 1230 to 1350 and 1530 to 1650, their middles at 1290 and 1590.
TWO = {"cleat__pieces": 2, "cleat__length_nm": mm(120), "cleat__apart_nm": mm(300), "cleat__offset_nm": mm(40)}


def link(planned, name):
    return next(one for one in planned.links if one.name == name)


def test_load_on_each_of_two_cleats_by_hand():
    leaf = hung(**PLUGS, **TWO, piece__weighed_g=10_000.0).leaves[0]
    left, right = leaf.cleat.pieces
    assert [(p.from_nm, p.to_nm) for p in (left, right)] == [(mm(1230), mm(1350)), (mm(1530), mm(1650))]
    x = leaf.x_nm / 1e6  # moments about the right cleat: left × 300 = weight × (1590 - x)
    weight = 10 * 9.80665
    assert left.weight_n == pytest.approx(weight * (1590 - x) / 300, rel=1e-8)
    assert right.weight_n == pytest.approx(weight * (x - 1290) / 300, rel=1e-8)
    assert left.weight_n + right.weight_n == pytest.approx(weight)
    assert left.pull_n + right.pull_n == pytest.approx(leaf.pull_n)
    assert left.pull_n / right.pull_n == pytest.approx(left.weight_n / right.weight_n)


def test_plugs_share_the_part_of_their_own_cleat():
    planned = hung(**PLUGS, **TWO, fixings__count=5, piece__weighed_g=10_000.0)
    cleat = planned.leaves[0].cleat
    left, right = cleat.pieces
    shares = [point.load_share for point in cleat.fixings]
    # five over two cleats go as two and three
    assert shares == pytest.approx([left.load_share / 2] * 2 + [right.load_share / 3] * 3)
    # the hardest-worked plug: its share of the weight along the wall, and of what the wall half pries out
    out = planned.leaves[0].wedge_n * (75 - 9) + 10 * 9.80665 * 9
    whole = max(shares) * math.hypot(10 * 9.80665, out / 29)
    assert link(planned, "fixings in the wall").margin == pytest.approx(6 * 9.80665 / whole)


def test_the_harder_worked_cleat_rules_grip_and_glue():
    one, two = hung(**PLUGS, cleat__length_nm=mm(240)), hung(**PLUGS, **TWO)
    most = max(piece.load_share for piece in two.leaves[0].cleat.pieces)
    assert 0.5 < most < 1
    grip, whole = link(two, "cleat's grip"), link(one, "cleat's grip")
    # half the length each; the harder-worked carries `most` of the leaf, whose foot pads may be of another length
    lighter = one.leaf_masses[0].total_g / two.leaf_masses[0].total_g
    assert grip.margin == pytest.approx(whole.margin / 2 / most * lighter)


def test_screws_in_studs_hold_their_own_cleat():
    studs = {"wall__studs_nm": (mm(1260), mm(1320), mm(1600)), "fixings__per_stud": 2}
    cleat = hung(**TWO, **studs).leaves[0].cleat
    left, right = cleat.pieces
    by_x = {x: [p.load_share for p in cleat.fixings if p.line_nm == mm(x)] for x in (1260, 1320, 1600)}
    # the studs of the left cleat lie evenly about its middle; the right one hangs by its only stud, not by its middle
    leaf = hung(**TWO, **studs).leaves[0]
    on_right = (leaf.x_nm / 1e6 - 1290) / (1600 - 1290)
    assert by_x[1600] == pytest.approx([on_right / 2] * 2)
    assert by_x[1260] == by_x[1320] == pytest.approx([(1 - on_right) / 4] * 2)
    assert sum(p.load_share for p in cleat.fixings) == pytest.approx(1)
    assert left.load_share > right.load_share


def test_a_cleat_without_a_stud_holds_nothing():
    planned = hung(**TWO, wall__studs_nm=(mm(1260), mm(1320)))
    assert link(planned, "screws in the studs").allowable_n == 0
    assert verdict(planned, "load_path") == "stop"
    missed = planned.leaves[0].cleat.missed
    assert missed is None


def test_a_leaf_that_hangs_beside_both_its_cleats_tips():
    beside = {"cleat__pieces": 2, "cleat__length_nm": mm(60), "cleat__apart_nm": mm(80), "cleat__offset_nm": mm(150)}
    planned = hung(**beside, wall__studs_nm=(mm(1510), mm(1590)), cleat__end_distance_nm=mm(5))
    assert link(planned, "screws in the studs").allowable_n == 0


@settings(max_examples=30, deadline=None)
@given(offset=st.integers(-80, 80), apart=st.integers(160, 340), mass_g=st.floats(1000, 60_000))
def test_heavier_never_needs_fewer_and_parts_make_the_whole(offset, apart, mass_g):
    brief = plain(
        **PLUGS,
        cleat__pieces=2,
        cleat__length_nm=mm(100),
        cleat__apart_nm=mm(apart),
        cleat__offset_nm=mm(offset),
        piece__weighed_g=mass_g,
    )
    light, heavy = hang(brief), hang(change(brief, piece__weighed_g=mass_g * 1.3))
    assert sum(p.load_share for p in light.leaves[0].cleat.pieces) in (pytest.approx(1), pytest.approx(2))
    assert heavy.figures["fixings_needed"] >= light.figures["fixings_needed"]
    light, heavy = (hang(change(b, fixings__count=6)) for b in (brief, change(brief, piece__weighed_g=mass_g * 1.3)))
    assert heavy.weakest.margin <= light.weakest.margin * (1 + 1e-9)


def test_mass_counts_both_cleats():
    leaf = hung(**PLUGS, **TWO).leaf_masses[0]
    single = hung(**PLUGS, cleat__length_nm=mm(240), cleat__offset_nm=mm(40)).leaf_masses[0]
    two, one = (next(p for p in m.parts if p.name == "cleat") for m in (leaf, single))
    assert two.mass_g == pytest.approx(one.mass_g)
    assert two.from_left_mm == pytest.approx(one.from_left_mm)
    assert len(laid(plain(**TWO)).leaves) == 1
