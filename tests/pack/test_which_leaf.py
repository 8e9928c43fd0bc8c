"""Six leaves and three things behind: every card finds the right leaf, and draws and describes that leaf alone."""

from __future__ import annotations

import pytest

from bossage.brief import read_brief
from bossage.pack.drawings.behind import hiding, leaves_to_open
from bossage.pack.drawings.front import front_drawing
from bossage.pack.sheet import Drawn, Para, Part, Steps, Table
from bossage.pack.sheets.cards import access_sheet, household_sheet
from bossage.plan import Plan, make_plan

NAMES = ("A", "B", "C", "D", "E", "F")
WIDE, APART, LEFT, FOOT = 400, 410, 300, 1000  # each leaf of 8 columns, and from one to the next, mm
BEHIND = {"fuse box": ("C",), "stop cock": ("E",), "bell": ("A", "B")}
"""Worked out by hand: C reaches from 1120 to 1520, E from 1940 to 2340, A ends at 700 and B begins at 710."""

BRIEF = f"""
[piece]
name = "six leaves"
[wall]
width = 3000
height = 2500
build = "masonry"
[[fixture]]
name = "fuse box"
kind = "electrical enclosure"
x = 1200
y = 1080
width = 200
height = 200
proud = 10
facing = "nothing"
[[fixture]]
name = "stop cock"
kind = "valve box"
medium = "water"
x = 2060
y = 1080
width = 150
height = 150
proud = 10
[[fixture]]
name = "bell"
kind = "chime"
x = 650
y = 1100
width = 110
height = 100
proud = 10
[blocks]
columns = 8
rows = 8
levels = [20, 25, 30]
leaf_gap = {APART - WIDE}
{
    "".join(
        f'''
[[leaf]]
name = "{name}"
x = {LEFT + APART * n}
y = {FOOT}
'''
        for n, name in enumerate(NAMES)
    )
}
[[footprint]]
name = "50"
width = 50
height = 50
quotas = [22, 21, 21]
[cleat]
kind = "wood"
thickness = 18
[fixings]
allowable = "40 kg"
pull_allowable = "40 kg"
[[stick]]
name = "50"
width = 50
height = 50
length = 2400
[[family]]
name = "moss"
colour = "#5E7150"
lightness = [60, 70, 80]
home = "left"
"""


@pytest.fixture(scope="module")
def plan() -> Plan:
    made = make_plan(read_brief(BRIEF))
    assert isinstance(made, Plan), made
    return made


def paragraphs(parts: tuple[Part, ...]) -> str:
    return " ".join(f"{part.lead} {part.text}" for part in parts if isinstance(part, Para))


def test_each_thing_names_the_leaf_before_it(plan: Plan) -> None:
    assert {fixture.name: leaves_to_open(plan, fixture) for fixture in plan.brief.fixtures} == BEHIND
    assert [one.leaf.name for one in hiding(plan)] == ["A", "B", "C", "E"]


def test_the_access_card_says_which_leaf_for_each_thing_and_draws_no_other(plan: Plan) -> None:
    sheet = access_sheet(plan)
    first = next(part for part in sheet.parts if isinstance(part, Table))
    named = {row[0].split(":")[0]: row[0] for row in first.rows}
    assert named["fuse box"].endswith("open leaf C")
    assert named["stop cock"].endswith("open leaf E")
    assert named["bell"].endswith("open leaves A and B")
    titles = [part.drawing.title for part in sheet.parts if isinstance(part, Drawn)]
    assert titles[0] == "Which leaf to open"  # from the front first
    assert titles[1:] == [f"The back of leaf {name}" for name in ("A", "B", "C", "E")]


@pytest.mark.parametrize("make", [access_sheet, household_sheet])
def test_every_step_is_of_a_leaf_that_hides_something(plan: Plan, make) -> None:
    parts = make(plan).parts
    said = paragraphs(parts)
    assert "Leaf C, for the fuse box" in said
    assert "Leaf E, for the stop cock" in said
    assert "Leaf A, for the bell" in said
    assert "Leaf B, for the bell" in said
    assert "Leaf D" not in said
    assert "Leaf F" not in said
    assert any(isinstance(part, Steps) for part in parts)


def test_somebody_alone_is_told_the_leaf_and_where_else_that_thing_is_shut_off(plan: Plan) -> None:
    said = paragraphs(household_sheet(plan).parts)
    assert "the fuse box behind leaf C and the stop cock behind leaf E: free after" in said
    assert "The bell behind leaf A" in said


def test_the_front_draws_all_leaves_and_the_things_behind(plan: Plan) -> None:
    shapes = front_drawing(plan)(10.0).shapes
    assert sum(getattr(shape, "layer", "") == "leaf" and hasattr(shape, "width_mm") for shape in shapes) == len(NAMES)
    assert {shape.name for shape in shapes if getattr(shape, "layer", "") == "fixtures"} == set(BEHIND)
