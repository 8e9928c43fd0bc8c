"""Screws that hold the back while its glue dries: none comes through, all bite, and as many are bought as are told."""

from __future__ import annotations

from collections import Counter

import pytest

from bossage.body import How, Role
from bossage.hang.glue_screws import glue_screws
from tests.scenarios.cases import plan_of

MM = 1_000_000


@pytest.mark.parametrize("scenario", ["S1", "S2", "S7"])
def test_no_screw_comes_through_and_as_many_are_bought_as_the_back_asks_for(scenario: str) -> None:
    plan = plan_of(scenario)
    leaf = plan.layout.leaves[0]
    parts = plan.body.of(leaf.name, leaf.copy)
    backer = next(part for part in parts if part.role is Role.BACKER)
    cover = 3.175 * MM if plan.brief.piece.unit == "in" else 3 * MM
    wanted: Counter[int] = Counter()
    for part in parts:
        found = glue_screws(plan.brief, part, backer)
        if found is None:
            continue
        through = backer.box.z1 - backer.box.z0
        assert found.length_nm <= through + part.box.z1 - part.box.z0 - cover
        assert found.length_nm >= through + 10 * MM
        assert found.count >= 2
        wanted[found.length_nm] += found.count
    bought = [line for line in plan.hang.to_buy if "while glue dries" in line.note]
    assert sum(line.count for line in bought) == sum(wanted.values())
    assert len(bought) == len(wanted)


def test_a_thin_strip_is_glued_alone() -> None:
    plan = plan_of("S7")
    strips = {part.name for part in plan.body.parts if part.role is Role.STRIP}
    assert strips
    assert {joint.how for joint in plan.body.joints if joint.a in strips} == {How.GLUE}
