"""Studs of steel, leaves between studs, damp rooms: each with the brief that used to seem sound."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from bossage.brief import read_brief
from bossage.brief.records import FixingKind, Ratings, WallBuild
from tests.hang.making import hung, verdict
from tests.layout.factory import leaf, mm

ROOT = Path(__file__).parents[2]
STUDS = (mm(1260), mm(1540))
STEEL = {
    "wall__build": WallBuild.METAL_STUDS,
    "wall__studs_nm": STUDS,
    "wall__stud_steel": "25 ga",
    "fixings__kind": FixingKind.STEEL,
}
BOARD = Ratings(allowable_g=20_000.0, pull_allowable_g=20_000.0)


def link(planned, name):
    return next(one for one in planned.links if one.name == name)


def test_a_screw_in_thin_steel_by_hand():
    held = link(hung(**STEEL, piece__weighed_g=6_000.0), "screws in the studs")
    # AISI S100 Eq. E4.4.1-1, #10 in 25 gauge: 0.85 × 0.478 × 4.826 × 310 / 3 = 203 N. Heads hold more.
    assert held.pull_allowable_n == pytest.approx(0.85 * 0.478 * 4.826 * 310 / 3, rel=2e-3)
    # Over 12.5 mm of board mode II rules: the wood bears all along its 18 mm, one way near the stud and the other way
    # near the head, the steel at its one place. Our calculation: bisect the length a that bears near the head until
    # forces and moments about the steel balance; R_d = 2.2
    q = 23.1 * 3.86
    low, high = 0.0, 9.0
    for _ in range(60):
        a = (low + high) / 2
        # the part near the stud is pushed one way over (18 - a), the part near the head the other way over a
        force = q * (18 - 2 * a)
        turn = force * (12.5 + 0.239) - q * (a * (18 - a / 2) - (18 - a) ** 2 / 2)
        low, high = (a, high) if turn > 0 else (low, a)
    assert held.shear_allowable_n == pytest.approx(0.9 * force / 2.2, rel=0.03)
    assert held.margin == pytest.approx(
        1 / (held.pull_n / held.pull_allowable_n + held.shear_n / held.shear_allowable_n)
    )


def test_thicker_steel_holds_more():
    margins = [
        link(hung(**STEEL | {"wall__stud_steel": name}), "screws in the studs").margin
        for name in ("25 ga", "20 ga structural", "18 ga")
    ]
    assert margins == sorted(margins)
    assert margins[0] < margins[-1]


def test_the_makers_figures_take_the_place_of_the_published_ones():
    made = hung(**STEEL, fixings__allowable_g=40_000.0, fixings__pull_allowable_g=30_000.0)
    held = link(made, "screws in the studs")
    assert held.shear_allowable_n == pytest.approx(40 * 9.80665)
    assert held.pull_allowable_n == pytest.approx(30 * 9.80665)
    # a figure on the packet lowers and never raises
    packet = link(hung(**STEEL, fixings__rating_g=900_000.0), "screws in the studs")
    assert packet.shear_allowable_n == link(hung(**STEEL), "screws in the studs").shear_allowable_n


def test_a_wood_screw_in_a_metal_stud_counts_by_its_makers_figures_alone():
    wood = {**STEEL, "fixings__kind": FixingKind.WOOD_SCREW}
    bare = hung(**wood)
    assert link(bare, "screws in the studs").allowable_n == 0
    assert FixingKind.STEEL.value in link(bare, "screws in the studs").basis
    made = link(hung(**wood, fixings__allowable_g=30_000.0, fixings__pull_allowable_g=30_000.0), "screws in the studs")
    assert made.margin > 1
    one_way = link(hung(**wood, fixings__allowable_g=30_000.0), "screws in the studs")
    assert (one_way.allowable_n, one_way.pull_allowable_n) == (0, None)


def test_a_short_screw_does_not_reach_past_the_steel():
    assert link(hung(**STEEL, fixings__length_nm=mm(35)), "screws in the studs").allowable_n == 0


def test_by_default_screws_go_into_metal_studs_that_are_listed():
    text = (ROOT / "examples" / "first.toml").read_text()
    metal = 'build = "metal studs"\nstuds = [1000, 1400, 1800]'
    brief = read_brief(text.replace('build = "masonry"', metal))
    assert brief.fixings.kind is FixingKind.STEEL
    assert brief.into_studs
    assert "25 ga" in {used.value for used in brief.defaults if used.field == "wall.stud_steel"}


ALONE = {"wall__build": WallBuild.METAL_STUDS, "fixings__kind": FixingKind.HOLLOW}
ALONE |= {"fixings__allowable_g": 20_000.0, "fixings__pull_allowable_g": 20_000.0}


def test_fixings_between_two_listed_studs_are_a_caution_with_the_smallest_move():
    # studs at both ends of the cleat, 10 mm short of its end distance
    near = hung(**ALONE, wall__studs_nm=(mm(1300), mm(1560)), cleat__length_nm=mm(300))
    check = next(c for c in near.checks if c.name == "studs")
    assert check.verdict == "caution"
    assert "wallboard" in check.found
    assert "move the cleat" in check.remedy
    # two are met: screws for metal studs into them
    both = hung(**ALONE, wall__studs_nm=STUDS)
    check = next(c for c in both.checks if c.name == "studs")
    assert check.verdict == "caution"
    assert FixingKind.STEEL.value in check.remedy
    assert verdict(hung(**STEEL), "studs") == "fine"


def test_a_leaf_between_studs_takes_hollow_fixings_and_a_screw_in_the_one_stud():
    one = {**STEEL, "wall__studs_nm": (mm(1400),), "fixings__board": BOARD}
    planned = hung(**one, piece__weighed_g=6_000.0)
    fixings = planned.leaves[0].cleat.fixings
    in_stud = [point for point in fixings if point.into == "metal stud"]
    assert [point.x_nm for point in in_stud] == [mm(1400)]
    others = [point for point in fixings if point.into == "wallboard"]
    assert len(others) >= 2
    assert all(abs(point.x_nm - mm(1400)) >= mm(22.5 + 25) for point in others)
    # the board's fixings hold the leaf as if the screw held nothing
    held, whole = link(planned, "fixings in the wall"), planned.leaves[0]
    assert held.shear_n == pytest.approx(whole.weight_n * max(point.load_share for point in others))
    assert verdict(planned, "studs") == "caution"
    assert {thing.what for thing in planned.to_buy} >= {"hollow-wall fixings"}
    # the screw draws twice an even share to itself
    assert link(planned, "screws in the studs").shear_n == pytest.approx(whole.weight_n * 2 / (len(others) + 1))
    # without figures for the board one stud is a stop, as it was
    assert verdict(hung(**{**STEEL, "wall__studs_nm": (mm(1400),)}), "studs") == "stop"


def test_more_fixings_in_the_board_until_the_screw_beside_them_holds():
    one = {**STEEL, "wall__studs_nm": (mm(1400),), "fixings__board": Ratings(allowable_g=90e3, pull_allowable_g=90e3)}
    planned = hung(**one, piece__weighed_g=14_000.0)
    assert link(planned, "screws in the studs").reserve >= 1
    count = sum(point.into == "wallboard" for point in planned.leaves[0].cleat.fixings)
    assert count > 2
    assert "beside" in planned.leaves[0].cleat.count_reason
    fewer = hung(**one, piece__weighed_g=14_000.0, fixings__count=count - 1)
    assert link(fewer, "screws in the studs").reserve < 1


def test_fixings_differ_by_leaf():
    # two leaves side by side; studs stand behind the left one alone
    two = {"blocks__leaves": (leaf("left"), leaf("right")), "fixings__board": BOARD, "piece__weighed_g": 5_000.0}
    where = hung(**STEEL, **two).leaves
    left = next(one for one in where if one.leaf == "left").cleat
    studs = (left.from_nm + mm(60), left.to_nm - mm(60))
    planned = hung(**{**STEEL, "wall__studs_nm": studs}, **two)
    into = {one.leaf: {point.into for point in one.cleat.fixings} for one in planned.leaves}
    assert into == {"left": {"metal stud"}, "right": {"wallboard"}}
    said = {check.subject: check.verdict for check in planned.checks if check.name == "studs"}
    assert said == {"left": "fine", "right": "caution"}


def test_a_board_fixing_without_a_pull_figure_is_a_stop():
    along = {**STEEL, "wall__studs_nm": (), "fixings__board": Ratings(allowable_g=20_000.0)}
    assert verdict(hung(**along), "fixing_rating") == verdict(hung(**along), "load_path") == "stop"


def test_damp_wood_holds_seven_tenths():
    """NDS 2018 Table 11.3.3: 0.7 for screws in wood that is wet in service, along the wall and straight out."""
    dry, damp = (
        link(hung(wall__studs_nm=STUDS, blocks__moisture_use_high_pct=pct), "screws in the studs")
        for pct in (18.9, 19.0)
    )
    assert damp.shear_allowable_n == pytest.approx(0.7 * dry.shear_allowable_n)
    assert damp.pull_allowable_n == pytest.approx(0.7 * dry.pull_allowable_n)
    assert [round(factor.value, 2) for factor in damp.factors] == [0.9, 0.7]
    # a leaf that just holds when dry
    mass = (
        4000.0
        * link(hung(wall__studs_nm=STUDS, piece__weighed_g=4000.0, fixings__count=2), "screws in the studs").margin
    )
    just = {"wall__studs_nm": STUDS, "piece__weighed_g": 0.9 * mass, "fixings__count": 2}
    assert link(hung(**just), "screws in the studs").margin > 1
    assert link(hung(**just, blocks__moisture_use_high_pct=20.0), "screws in the studs").margin < 1
    assert math.isfinite(mass)
