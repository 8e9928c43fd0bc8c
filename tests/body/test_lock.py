"""The anti-lift lock and the keeper: parts with a place, outside every zone, or a word where there is none."""

from __future__ import annotations

import pytest

from bossage.body import How, Role
from bossage.body.lock import turn_button
from bossage.brief import read_brief
from bossage.examples import example_text
from bossage.pack.catalogue import pack_sheets
from bossage.plan import make_plan
from bossage.zones import LEAST_CLEAR_NM

S2, S7 = example_text("s2-brenlow-terrace"), example_text("s7-hollin-yard")


def with_run(text: str, x_mm: int) -> str:
    return f'{text}\n[[run]]\nkind = "cable"\nfound = "detector"\nfrom = [{x_mm}, 0]\nto = [{x_mm}, 2300]\n'


def clear_of(part, x_mm: int) -> int:
    return max(part.from_x_nm - x_mm * 1_000_000, x_mm * 1_000_000 - part.to_x_nm)


def test_button_and_ledge_are_parts_with_a_joint_each():
    plan = make_plan(read_brief(S2))
    lock = turn_button(plan.body.parts)
    assert lock is not None
    held = {(joint.a, joint.b, joint.how.value) for joint in plan.body.joints if joint.a.startswith("lock")}
    assert held == {
        ("lock button", "wall", "screws"),
        ("lock button", "lock ledge", "hook"),
        ("lock ledge", "backer", "glue and screws"),
    }
    assert (lock.button.moves, lock.ledge.moves) == (False, True)
    assert lock.ledge.mass_g == pytest.approx(21 * 20 * 40 * 710e-6)  # EN 350: European beech 710 kg/m³ at 12 %
    bill = {part.name: part.mass_g for part in plan.hang.leaf_masses[0].parts}
    assert bill["lock ledge"] == pytest.approx(lock.ledge.mass_g)


def test_a_lock_gives_way_to_a_cable_at_the_corner_where_it_would_stand():
    free = turn_button(make_plan(read_brief(S2)).body.parts)
    assert free is not None
    x_mm = round(free.x_nm / 1e6)
    moved = turn_button(make_plan(read_brief(with_run(S2, x_mm))).body.parts)
    assert moved is not None
    assert clear_of(moved.button, x_mm) >= LEAST_CLEAR_NM > clear_of(free.button, x_mm)


def test_a_keeper_is_glued_where_a_cable_runs_along_the_stile_that_it_stands_beside():
    (free,) = (part for part in make_plan(read_brief(S7)).body.parts if part.role is Role.KEEPER)
    x_mm = round((free.from_x_nm + free.to_x_nm) / 2e6)
    plan = make_plan(read_brief(with_run(S7, x_mm)))
    (keeper,) = (part for part in plan.body.parts if part.role is Role.KEEPER)
    (on,) = (joint.how for joint in plan.body.joints if joint.a == keeper.name and joint.b == "wall")
    assert (free.name, keeper.name, on) == ("keeper", "glued keeper", How.GLUE)
    said = repr(pack_sheets(plan, ("hang",)))
    assert "Nothing is drilled here" in said
    assert "glue it on" in said
    bought = [one.what for one in plan.hang.to_buy if one.note.startswith("keeper of the catch to the wall")]
    assert bought == ["construction adhesive that holds steel on a wall, a small tube"]


def test_the_ledge_has_two_screws_from_the_face_and_room_in_the_last_row_of_the_press():
    plan = make_plan(read_brief(S2))
    lock = turn_button(plan.body.parts)
    assert lock is not None
    (screws,) = (one for one in plan.hang.leaves[0].glue_screws if one.part == "lock ledge")
    box = lock.ledge.box
    assert len(screws.spots) == 2
    for spot in screws.spots:
        assert box.x0 + 10_000_000 <= spot.x_nm <= box.x1 - 10_000_000
        assert abs(spot.y_nm - (box.y0 + box.y1) // 2) <= 1_000_000
    assert screws.length_nm <= 12_000_000 + (box.z1 - box.z0) - 3_000_000  # 3 mm of wood before the tip


def test_a_lock_without_a_place_stops_the_plan_and_its_remedy_heals():
    runs = "".join(f'\n[[run]]\nkind = "cable"\nfrom = [0, {y}]\nto = [3000, {y}]\n' for y in range(450, 1060, 40))
    plan = make_plan(read_brief(S2 + runs))
    (told,) = (check for check in plan.checks if check.name == "body_part")
    assert (told.verdict, told.edits[0].path, told.edits[0].value) == ("stop", ("access", "lock"), False)
    without = (S2 + runs).replace("lock = true", "lock = false")
    assert without != S2 + runs
    assert not any(check.name == "body_part" for check in make_plan(read_brief(without)).checks)
