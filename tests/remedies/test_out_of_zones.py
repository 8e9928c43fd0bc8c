"""What is advised where zones take the studs behind a cleat."""

from __future__ import annotations

from tests.hang.test_zones_planted import planted

from bossage.brief import read_brief
from bossage.checks import Advice
from bossage.plan import Plan, make_plan
from bossage.remedies import advised


def test_a_socket_over_a_stud_is_got_out_of_by_a_small_move() -> None:
    wall = planted(4)
    plan = make_plan(read_brief(wall.text))
    assert isinstance(plan, Plan)
    told = next(c for c in advised(wall.text, plan, names={"drill_zones"}).checks if c.name == "drill_zones")
    assert told.verdict == "stop"
    assert told.advice is Advice.REMEDY
    assert told.remedy.startswith("Move it 220 mm left.")
    after = make_plan(read_brief(wall.text, told.edits))
    assert isinstance(after, Plan)
    assert next(c.verdict for c in after.checks if c.name == "drill_zones") == "fine"
    assert len(after.hang.leaves[0].cleat.studs) >= 2
