"""The papers of a metal cleat: nothing of it is ripped, bevelled, sawn or drilled, and it is bought as it is sold."""

from __future__ import annotations

from functools import cache

from tests.scenarios.test_panel_over_a_sofa import BRIEF as SOFA

from bossage.body import How, MadeAt, Role
from bossage.brief import read_brief
from bossage.examples import example_text
from bossage.pack.catalogue import pack_sheets
from bossage.plan import Plan, make_plan

METAL = """[cleat]
kind = "metal"
thickness = 7
strip = 40
hook = 14
lengths = [300, 610, 760]
hole_pitch = 76
packer = 18
allowable = "45 kg"

"""


@cache
def planned() -> Plan:
    text = example_text("s2-brenlow-terrace")
    before, _, rest = text.partition("[cleat]")
    plan = make_plan(read_brief(before + METAL + "[fixings]" + rest.partition("[fixings]")[2]))
    assert isinstance(plan, Plan)
    return plan


def said(*names: str) -> str:
    return repr(pack_sheets(planned(), names))


def test_nothing_of_it_is_on_the_list_of_what_is_sawn() -> None:
    halves = [part for part in planned().body.parts if part.role in (Role.PANEL_HALF, Role.WALL_HALF)]
    assert {part.made_at for part in halves} == {MadeAt.BOUGHT}
    assert planned().saw.bevels == ()
    assert "bevel" not in said("saw", "boards", "back", "hang")


def test_it_is_screwed_through_its_own_holes_and_lifted_by_its_hook() -> None:
    hang = said("hang")
    assert "The screws go through these holes of the wall half" in hang
    assert "On the bench drill" not in hang
    assert "through the wall half," not in hang  # no bit for it
    assert "widen the" not in hang
    assert "let it down into the hook" in hang
    assert planned().hang.leaves[0].room.bevel_rise_nm == 14_000_000


def test_it_is_bought_in_a_length_that_is_sold() -> None:
    (line,) = (thing for thing in planned().hang.to_buy if thing.what.startswith("metal cleat"))
    assert "760 mm" in line.note
    assert "holes every 76 mm" in line.note
    assert "not sawn" not in line.note


def test_no_wood_glue_is_counted_on_metal() -> None:
    (panel,) = (part for part in planned().body.parts if part.role is Role.PANEL_HALF)
    held = {joint.how for joint in planned().body.joints if panel.name in (joint.a, joint.b)}
    assert How.GLUE_AND_SCREWS not in held
    assert How.SCREWS in held


def test_before_studs_the_sheet_gives_the_studs_and_says_that_no_screw_follows() -> None:
    # studs of 1-1/2 in: a hole 10 mm inside both sides of one lies at most 9.05 mm beside its middle
    plan = make_plan(read_brief(SOFA.replace("length = 56\n", "hook = 0.5\nhole_pitch = 2\nlengths = [12, 48, 56]\n")))
    assert isinstance(plan, Plan)
    (cleat,) = (leaf.cleat for leaf in plan.hang.leaves)
    assert cleat is not None
    assert cleat.studs
    met = {stud.x_nm for stud in cleat.studs}
    assert all(min(abs(one.x_nm - x) for x in met) <= 9_050_000 for one in cleat.fixings)
    hang = repr(pack_sheets(plan, ("hang",)))
    assert "cannot follow its stud" in hang
