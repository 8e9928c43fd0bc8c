"""Screws that hold the back while its glue dries: none comes through, all bite, none meets another, all are bought."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from bossage.body import How, Role
from bossage.hang.glue_screws import glue_screws
from tests.scenarios.cases import plan_of

MM = 1_000_000


@pytest.mark.parametrize("scenario", ["S1", "S2", "S7"])
def test_no_screw_comes_through_and_as_many_are_bought_as_the_back_asks_for(scenario: str) -> None:
    plan = plan_of(scenario)
    leaf = plan.layout.leaves[0]
    parts = {part.name: part for part in plan.body.of(leaf.name, leaf.copy)}
    backer = next(part for part in parts.values() if part.role is Role.BACKER)
    cover = 3.175 * MM if plan.brief.piece.unit == "in" else 3 * MM
    wanted: Counter[int] = Counter()
    for found in plan.hang.leaves[0].glue_screws:
        part = parts[found.part]
        through = backer.box.z1 - backer.box.z0
        assert found.length_nm <= through + part.box.z1 - part.box.z0 - cover
        assert found.length_nm >= through + 10 * MM
        assert len(found.spots) >= 2
        wanted[found.length_nm] += len(found.spots)
    bought = [line for line in plan.hang.to_buy if line.note.startswith("from the backer's face, hold")]
    assert sum(line.count for line in bought) == sum(wanted.values()) > 0
    assert len(bought) == len(wanted)


def test_screws_of_a_filler_stand_between_those_of_the_panel_half() -> None:
    plan = plan_of("S1")
    leaf, hung = plan.layout.leaves[0], plan.hang.leaves[0]
    (filler,) = [one for one in hung.glue_screws if one.part == "filler"]
    panel = [leaf.x_nm + screw.from_leaf_left_nm for screw in hung.cleat.panel.screws]
    # ten shanks of a number 8 are 41.7 mm
    assert min(abs(spot.x_nm - x) for spot in filler.spots for x in panel) > 41 * MM
    assert len(filler.spots) == 6


def test_a_planted_screw_in_the_way_moves_or_drops_those_of_a_rib() -> None:
    plan = plan_of("S2")
    parts = plan.body.of("whole", 1)
    rib = next(part for part in parts if part.name == "rib 1")
    (free,) = [one for one in glue_screws(plan.brief, parts) if one.part == "rib 1"]
    there = free.spots[1]
    (moved,) = [one for one in glue_screws(plan.brief, parts, [(there.x_nm, there.y_nm)], 5.0) if one.part == "rib 1"]
    assert min(abs(spot.y_nm - there.y_nm) for spot in moved.spots) == 40 * MM  # ten shanks
    assert len(moved.spots) == len(free.spots)
    wall = [(there.x_nm, rib.box.y0 + n * 5 * MM) for n in range(121)]  # three shanks of 4 mm find no room between
    assert all(one.part != "rib 1" for one in glue_screws(plan.brief, parts, wall, 4.0))


def test_no_screw_stands_over_a_slot_of_its_rail() -> None:
    plan = plan_of("S2")
    parts = plan.body.of("whole", 1)
    rib = next(part for part in parts if part.name == "rib 1")
    box = rib.box
    lying = replace(
        rib,
        from_x_nm=box.x0,
        to_x_nm=box.x0 + 600 * MM,
        outline_nm=((box.y0, box.z0), (box.y0 + 40 * MM, box.z0), (box.y0 + 40 * MM, box.z1), (box.y0, box.z1)),
        notches_nm=((box.x0 + 30 * MM, box.x0 + 300 * MM, box.z0, box.z0 + 9 * MM),),
    )
    found = glue_screws(plan.brief, [next(p for p in parts if p.role is Role.BACKER), lying])
    assert found
    assert all(spot.x_nm >= box.x0 + 310 * MM for spot in found[0].spots)


def test_what_is_glued_alone_gets_no_screws() -> None:
    plan = plan_of("S7")
    strips = {part.name for part in plan.body.parts if part.role is Role.STRIP}
    assert strips
    # they go on last, when the field lies over the face that screws would come from
    assert {joint.how for joint in plan.body.joints if joint.a in strips} == {How.GLUE}
    packer = [joint for joint in plan_of("S2").body.joints if joint.a == "packer"]
    assert {joint.how for joint in packer} == {How.GLUE}
    assert all(one.part not in strips for one in plan.hang.leaves[0].glue_screws)
