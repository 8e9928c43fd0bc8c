"""A panel between two studs over a sofa that stays: every stop is one that somebody can be asked about."""

from __future__ import annotations

import pytest
from shapely import Point, box

from bossage.asking import to_settle
from bossage.brief import read_brief
from bossage.checks import Verdict
from bossage.plan import Plan, make_plan
from tests.test_settled import settled

IN = 25_400_000
STUDS = (16, 32, 48, 64, 80, 96, 112)  # centre lines; the panel hangs between those at 48 and 64
BRIEF = f"""
[piece]
name = "Over the sofa"
unit = "in"
weighed = "28 lb"
[wall]
width = 126
height = 96
build = "timber studs"
covering = "1/2 in"
studs = {list(STUDS)}
[[fixture]]
name = "panel"
kind = "electrical enclosure"
x = "48 3/4"
y = 52
width = "14 1/2"
height = 20
proud = "1/2"
recess = 3.5
fed_from = ["top", "bottom"]
opened_per_year = 4
volts = 120
facing = "nothing"
handle = 68
[[furniture]]
name = "sofa bed"
kind = "sofa"
x = 24
width = 84
top = 32
far = 38
[blocks]
columns = 22
rows = 9
levels = [0.75, 1, 1.25]
species = "western_redcedar"
[[leaf]]
name = "whole"
x = 26
y = 50
[[footprint]]
width = 2.75
height = 2.75
[backer]
thickness = 0.5
[cleat]
kind = "metal"
thickness = 0.25
length = 56
allowable = "60 lb"
[access]
opens = "lift-off"
lock = true
marked = true
[lift]
people = 2
[[family]]
name = "moss"
colour = "#5E7150"
lightness = [60, 70, 80]
"""


def planned(text: str) -> Plan:
    plan = make_plan(read_brief(text))
    assert isinstance(plan, Plan), plan
    return plan


@pytest.fixture(scope="module")
def plan() -> Plan:
    return planned(BRIEF)


def stops(plan: Plan) -> list[str]:
    return [check.name for check in plan.checks if check.verdict is Verdict.STOP]


def test_the_fixings_stay_clear_of_the_panel_and_of_both_its_studs(plan: Plan) -> None:
    (hung,) = plan.hang.leaves
    assert hung.cleat is not None
    assert hung.cleat.fixings
    taken = box(48 - 0.75, 40, 64 + 0.75, 84)  # the bay and both studs, a foot past the panel either way
    for fixing in hung.cleat.fixings:
        assert not taken.contains(Point(fixing.x_nm / IN, fixing.y_nm / IN))
        assert min(abs(fixing.x_nm / IN - stud) for stud in STUDS) < 0.75


def test_every_stop_is_somebodys_to_answer_and_with_their_answers_nothing_stops(plan: Plan) -> None:
    assert set(stops(plan)) == {"ready_access", "space", "lift"}
    text = BRIEF
    for check in plan.checks:
        if check.verdict is Verdict.STOP:
            assert to_settle(check), (check.name, check.found)
            text = settled(text, plan, check)
    assert stops(planned(text)) == []


def test_the_places_to_stand_are_told_with_the_sofa_in_place_and_moved(plan: Plan) -> None:
    assert {one.case for one in plan.handling.standing} == {"in place", "moved out of the way"}
    used = next(one for one in plan.handling.standing if one.governs)
    assert not used.holds
    assert used.people == 2


def test_a_heavier_leaf_is_nobodys_to_agree_to() -> None:
    heavy = planned(BRIEF.replace('weighed = "28 lb"', 'weighed = "30 lb"'))
    # hands over 1.40 m: twice 5 kg for one, two thirds of the sum for two: 13.3 kg, 29.4 lb
    (lift,) = (check for check in heavy.checks if check.name == "lift")
    assert lift.verdict is Verdict.STOP
    assert not to_settle(lift)
