"""The stile of the hinges laps as far as its glue asks for; without room, or on too thin a backer, the plan stops."""

from __future__ import annotations

import pytest

from bossage.body import Part, Role
from bossage.brief import read_brief
from bossage.checks import Verdict
from bossage.examples import example_text
from bossage.hang import Link
from bossage.plan import Plan, make_plan
from bossage.remedies.hanging import hung_elsewhere

GLUE, BACKER = "hinge stile's glue", "backer beside the hinge stile"
PULL = 0.103 * 0.9 * 0.5  # 15 psi, for good, half for creep


def hollin(*changes: tuple[str, str]) -> Plan:
    text = example_text("s7-hollin-yard")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return make_plan(read_brief(text))


def weighs(kg: float) -> tuple[str, str]:
    return "[piece]\n", f'[piece]\nweighed = "{kg:g} kg"\n'


def link(plan: Plan, name: str) -> Link:
    return next(one for one in plan.hang.links if one.name == name)


def only(plan: Plan, role: Role) -> Part:
    (found,) = (part for part in plan.body.parts if part.role is role)
    return found


def lap_mm(plan: Plan) -> float:
    return (only(plan, Role.HINGE_STILE).box.x1 - plan.layout.leaves[0].backer_x_nm) / 1e6


def couple_nmm(plan: Plan) -> float:
    (mass,), leaf = plan.hang.leaf_masses, plan.layout.leaves[0]
    arm = leaf.x_nm / 1e6 + mass.from_left_mm - plan.hang.leaves[0].hinges.axis_nm / 1e6
    return mass.total_g / 1000 * 9.80665 * arm


def test_the_example_holds_by_an_engineers_sums():
    plan = hollin()
    turning, lap, long = couple_nmm(plan), lap_mm(plan), 404
    # 2.4 Nm at each hinge, 17.5 behind the glue, as a straight line over 404; shear 6 M / (b H²)
    peel = 6 * (6 * turning * 17.5 / long**2) / lap**2
    shear = 6 * turning / (lap * long**2)
    assert link(plan, GLUE).margin == pytest.approx(1 / ((peel / PULL) ** 2 + (shear / 0.1665) ** 2) ** 0.5, rel=0.06)
    bent = 6 * turning * (17.5 + 5.5) / long**2 / (11**2 / 6)
    assert link(plan, BACKER).margin == pytest.approx(1.80 / bent, rel=0.01)
    assert min(link(plan, GLUE).margin, link(plan, BACKER).margin) >= 1
    assert next(c for c in plan.hang.checks if c.name == "load_path").verdict is Verdict.FINE
    # a stile as narrow as the strip that it stands for would not hold, and a mark less than the search found might
    assert 6 * (6 * turning * 17.5 / long**2) / 35**2 > 2 * PULL
    assert lap == int(lap) > 35


LEVELS = "levels = [13, 18, 24, 29, 35, 40]"


def test_a_heavier_leaf_gets_a_wider_stile_and_bends_its_backer_too_far():
    heavy = hollin((LEVELS, "levels = [43, 48, 54, 59, 65, 70]"))
    assert lap_mm(hollin()) < lap_mm(heavy)
    assert link(heavy, GLUE).margin >= 1
    assert link(heavy, BACKER).margin < 1
    thicker = hollin((LEVELS, "levels = [43, 48, 54, 59, 65, 70]"), ("thickness = 11\n", "thickness = 18\n"))
    assert link(thicker, BACKER).margin >= 1


def test_what_the_scales_say_leaves_the_stile_as_it_was_made_and_stops_the_plan():
    light, heavy = hollin(weighs(6)), hollin(weighs(14))
    assert lap_mm(light) == lap_mm(heavy) == lap_mm(hollin())
    assert link(heavy, GLUE).margin == pytest.approx(6 / 14 * link(light, GLUE).margin)
    found = next(c for c in heavy.hang.checks if c.name == "load_path")
    assert (found.verdict, BACKER in found.found) == (Verdict.STOP, True)
    assert next(c for c in light.hang.checks if c.name == "load_path").verdict is Verdict.FINE


def test_a_stile_without_room_to_lap_stops_the_plan():
    # the board so near to the hinges that its air and a chain leave no more than today's lap
    near = hollin(("x = 1090\n", "x = 960\n"), ("width = 360\nheight = 440", "width = 490\nheight = 440"))
    assert lap_mm(near) <= 35
    assert link(near, GLUE).margin < 1
    found = next(c for c in near.hang.checks if c.name == "load_path")
    assert found.verdict is Verdict.STOP


def test_a_wider_stile_keeps_off_openings_and_parts_that_the_brief_places():
    free = hollin()
    opened = hollin(
        ("y = 1151\n", "y = 1151\nopen = [[5, 3], [6, 3]]\n"),
        ("quotas = [16, 16, 16, 16, 16, 16]", "quotas = [16, 16, 16, 16, 15, 15]"),
    )
    edge = min(x0 for x0, _, _, _ in only(opened, Role.BACKER).openings_nm)
    assert edge < only(free, Role.HINGE_STILE).box.x1
    assert only(opened, Role.HINGE_STILE).box.x1 <= edge
    # a stile that the brief sets down 110 mm from the leaf's left edge
    placed = hollin(("upright = true\n", 'upright = true\nat = [["110 mm", "100 mm"]]\n'))
    assert only(placed, Role.HINGE_STILE).box.x1 <= only(placed, Role.STILE).box.x0
    assert link(placed, GLUE).margin < link(free, GLUE).margin


def test_other_sides_and_a_lighter_leaf_are_offered_where_the_stile_does_not_hold():
    low = hollin(('hinge = "left"\nangle', 'hinge = "bottom"\nangle'))
    assert low.hang.weakest.name == GLUE
    words = [way.words for way in hung_elsewhere(low)]
    assert [f"Hinge it at the {side}" in words for side in ("left", "right", "top", "bottom")] == [True] * 3 + [False]
    assert len(words) > 3
    assert make_plan(read_brief(example_text("s7-hollin-yard"))).hang.weakest.reserve >= 1
