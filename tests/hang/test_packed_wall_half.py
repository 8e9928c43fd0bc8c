"""A wall half on packers: every fixing passes them, so that a screw of the usual length hardly reaches the stud."""

from __future__ import annotations

import pytest

from bossage.brief import read_brief
from bossage.brief.records import LengthUnit
from bossage.checks import Verdict
from bossage.fasteners.wall_lengths import Passed, hollow_screw, plug_screw, stud_screw
from bossage.plan import NoPlan, make_plan
from bossage.units import NM_PER_MM

#: Two runs of trunking that are never opened stand where the cleat has to go, so that its wall half bridges them.
BRIDGED = """
[piece]
name = "Box and trunking"
unit = "mm"
[wall]
width = "3.2 m"
height = "2.5 m"
build = "timber studs"
covering = 12.5
studs = [400, 800, 1200, 1600, 2000, 2400, 2800]
[[fixture]]
name = "flat trunking"
kind = "other"
x = 1380
y = 1050
width = 40
height = 900
proud = 8
opened_per_year = 0
[[fixture]]
name = "box"
kind = "other"
x = 1250
y = 1300
width = 300
height = 300
proud = 40
[blocks]
levels = { from = 18, to = 42, step = 6 }
columns = 10
rows = 14
[[footprint]]
width = 70
height = 70
[[leaf]]
name = "whole"
x = 1050
y = 1000
[cleat]
length = 620
[[family]]
name = "moss"
colour = "#5F7A55"
lightness = [46, 54, 62, 70]
home = "left"
"""


def planned(more=""):
    plan = make_plan(read_brief(BRIDGED + more))
    assert not isinstance(plan, NoPlan)
    return plan


def path(plan):
    return next(check for check in plan.hang.checks if check.name == "load_path")


def test_a_stouter_screw_and_a_higher_strip_carry_it():
    stout = BRIDGED.replace("[cleat]", "[cleat]\nstrip = 110").replace(
        "covering = 12.5", "covering = 12.5\nstuds_seen = true"
    )
    plan = make_plan(read_brief(stout + '[fixings]\ngauge = "6 mm"\nlength = 100\n'))
    assert not isinstance(plan, NoPlan)
    assert path(plan).verdict is Verdict.FINE


def test_the_screw_grows_by_its_packers():
    plan = planned()
    packers, cleat = plan.body.choices[0].back_nm / NM_PER_MM, plan.hang.leaves[0].cleat
    assert packers == 20
    # by hand: 80 less 20 of packers, 18 of cleat and 12.5 of board
    assert cleat.screw.length_nm == 80 * NM_PER_MM
    assert {fixing.depth_in_stud_mm for fixing in cleat.fixings} == {29.5}
    held = next(link for link in plan.hang.links if link.name == "screws in the studs")
    # they hold, over 12.5 mm of board and 20 mm of packers that bear nothing, but less than is asked for
    assert 0.5 < held.margin < held.least
    assert path(plan).verdict is Verdict.STOP
    joint = next(joint for joint in plan.body.joints if joint.fixings and "wall" in joint.a)
    assert joint.fixings[0].length_nm == cleat.screw.length_nm


def test_a_screw_without_its_packers_holds_nothing():
    plan = planned("[fixings]\ngauge = '5 mm'\nlength = 60\n")
    # 60 - 20 - 18 - 12.5 = 9.5 mm, not the 29.5 mm that it would be without packers; 6 d are asked for
    assert {fixing.depth_in_stud_mm for fixing in plan.hang.leaves[0].cleat.fixings} == {9.5}
    assert path(plan).verdict is Verdict.STOP
    assert "Penetration" in path(plan).found or "thread" in path(plan).found


@pytest.mark.parametrize("unit", list(LengthUnit))
def test_what_is_passed_comes_on_top_for_every_kind(unit):
    bare, packed = (Passed(cleat_nm=18_000_000, packers_nm=nm, covering_nm=15_000_000) for nm in (0, 20_000_000))
    gauge = {"mm": "5 mm", "in": "#10"}[unit]
    for kind in (plug_screw, hollow_screw):
        assert kind(packed, unit, gauge).length_nm >= kind(bare, unit, gauge).length_nm + 15_000_000
    for seen in (True, False):
        one, other = (stud_screw(p, unit, seen=seen, gauge=gauge) for p in (bare, packed))
        assert other.length_nm > one.length_nm
