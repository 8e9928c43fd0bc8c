"""Screws stand in the joints that they go through, each once, within the parts that they hold."""

from __future__ import annotations

import pytest

from bossage.body import WALL, How, Role
from bossage.units import format_mass
from tests.scenarios.cases import plan_of


@pytest.mark.parametrize("scenario", ["S1", "S2", "S3", "S4", "S8"])
def test_every_screw_of_both_halves_is_in_one_joint_and_inside_its_parts(scenario: str) -> None:
    plan = plan_of(scenario)
    for hung in plan.hang.leaves:
        parts = {p.name: p for p in plan.body.of(hung.leaf, hung.copy)}
        joints = [j for j in plan.body.joints if (j.leaf, j.copy) == (hung.leaf, hung.copy)]
        on_wall = [f for j in joints if j.b == WALL and j.how is How.SCREWS for f in j.fixings]
        assert sorted((f.x_nm, f.y_nm) for f in on_wall) == sorted((f.x_nm, f.y_nm) for f in hung.cleat.fixings)
        panel = [f for j in joints if parts[j.a].role is Role.PANEL_HALF and j.how is not How.BEVEL for f in j.fixings]
        assert len(panel) == len(hung.cleat.panel.screws)
        for joint in joints:
            for name in (joint.a, joint.b):
                if name in parts:
                    box = parts[name].box
                    assert all(box.x0 < f.x_nm < box.x1 and box.y0 < f.y_nm < box.y1 for f in joint.fixings)


def test_glue_is_bought_for_the_joints_behind_as_well() -> None:
    plan = plan_of("S2")
    glued_m2 = sum(j.area_mm2 for j in plan.body.joints if j.how in (How.GLUE, How.GLUE_AND_SCREWS)) / 1e6
    # by hand: packer and panel half both 900 × 56, two ribs 600 × 40, two pads of two layers 100 × 40, a ledge 40 × 20
    assert glued_m2 == pytest.approx((2 * 900 * 56 + 2 * 600 * 40 + 4 * 100 * 40 + 40 * 20) / 1e6)
    wanted = plan.press.glue_wet_g + glued_m2 * plan.brief.glue.spread_g_per_m2
    line = next(line for line in plan.cost.shopping if line.what == "glue" and not line.cents)
    assert line.amount == format_mass(wanted, plan.brief.piece.unit)
