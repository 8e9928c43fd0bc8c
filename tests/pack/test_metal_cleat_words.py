"""The papers of a metal cleat: nothing of it is ripped, bevelled, sawn or drilled, and it is bought as it is sold."""

from __future__ import annotations

from functools import cache

from bossage.body import MadeAt, Role
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
    assert "widen the" not in hang
    assert "let it down into the hook" in hang
    assert planned().hang.leaves[0].room.bevel_rise_nm == 14_000_000


def test_it_is_bought_in_a_length_that_is_sold() -> None:
    (line,) = (thing for thing in planned().hang.to_buy if thing.what.startswith("metal cleat"))
    assert "760 mm" in line.note
    assert "holes every 76 mm" in line.note
    assert "not sawn" not in line.note
