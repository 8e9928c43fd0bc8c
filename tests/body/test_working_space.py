"""What is left of the working space with the leaf open: by another library, on each side, settled and healed."""

from __future__ import annotations

import math
from typing import Any

import pytest
import tomlkit
from shapely import Polygon, affinity, box

from bossage.brief import read_brief
from bossage.checks import Check, Verdict
from bossage.examples import example_text
from bossage.plan import Plan, make_plan

MM = 1_000_000
FRONT, DEEP = 22, 914  # of the board, and as deep as the table asks for
COUNTER, CABINET = 700, 1480  # what stands beside it


def planned(**access: object) -> Plan:
    brief: Any = tomlkit.parse(example_text("s7-hollin-yard"))
    brief["access"].update(access)
    plan = make_plan(read_brief(tomlkit.dumps(brief)))
    assert isinstance(plan, Plan)
    return plan


def open_space(plan: Plan) -> Check:
    (check,) = (check for check in plan.checks if check.name == "open_space")
    return check


def open_leaf(plan: Plan, angle: float) -> tuple[float, float]:
    """How far along the wall the open leaf reaches within the depth of the space, mm: turned by shapely."""
    hinges = plan.hang.leaves[0].hinges
    left = plan.brief.access.hinge.value == "left"
    axis = hinges.axis_nm / MM, hinges.axis_z_nm / MM
    leaf = plan.layout.leaves[0]
    back = plan.layout.stand_off.stand_off_nm + plan.brief.backer.thickness_nm
    boxes = [(p.box.x0, p.box.z0, p.box.x1, p.box.z1) for p in plan.body.parts if p.moves and p.role != "hinge"]
    boxes.append((leaf.x_nm, back, leaf.x_nm + leaf.width_nm, back + max(plan.brief.blocks.levels_nm)))
    reach = []
    for shape in (Polygon(box(*(v / MM for v in b)).exterior) for b in boxes):
        there = affinity.rotate(shape, angle if left else -angle, origin=axis) & box(-9e4, FRONT, 9e4, FRONT + DEEP)
        if not there.is_empty:
            reach.append((there.bounds[0], there.bounds[2]))
    return min(low for low, _ in reach), max(high for _, high in reach)


@pytest.mark.parametrize("angle", [90, 95, 120])
def test_a_leaf_that_stands_open_takes_from_the_width(angle: int) -> None:
    plan = planned(angle=angle)
    _, right = open_leaf(plan, angle)
    wide = math.floor(CABINET - right)
    assert 600 < wide < 762
    check = open_space(plan)
    assert check.verdict is Verdict.STOP
    assert check.found.startswith(f"with the leaf standing open at {angle}°: {wide} mm wide")
    assert check.figure is not None
    assert check.figure.value == 762 - wide


def test_shut_or_taken_off_the_space_is_what_stands_round_it() -> None:
    (check,) = (check for check in planned().checks if check.name == "space")
    assert check.verdict is Verdict.FINE
    assert check.found.startswith(f"{CABINET - COUNTER} mm wide")


def test_hung_on_the_other_side_it_stands_out_of_the_way() -> None:
    plan = planned(hinge="right")
    left, _ = open_leaf(plan, 95)
    assert left > CABINET
    check = open_space(plan)
    assert check.verdict is Verdict.FINE
    assert f"{CABINET - COUNTER} mm wide" in check.found


@pytest.mark.parametrize("hinge", ["top", "bottom"])
def test_a_flap_that_stands_out_takes_from_the_height(hinge: str) -> None:
    plan = planned(hinge=hinge, angle=90)
    check = open_space(plan)
    assert check.verdict is Verdict.STOP
    leaf = plan.layout.leaves[0]
    edge = (leaf.y_nm + (leaf.height_nm if hinge == "top" else 0)) / MM
    high = float(check.found.split(" mm high")[0].split()[-1])
    assert edge - 100 < high < edge + 100


def test_a_piece_that_lifts_off_leaves_nothing_standing() -> None:
    assert not [check for check in planned(opens="lift-off").checks if check.name == "open_space"]


def test_the_authority_alone_can_settle_it() -> None:
    assert "a yes from local authority lifts this stop" in open_space(planned()).care
