"""Faults planted in the body of a piece: each is named, and its remedy, applied, heals it and breaks nothing."""

from __future__ import annotations

from typing import Any

import pytest
from tests.remedies.judge import assert_heals, assert_nothing_worse, assert_priced
from tests.remedies.test_advise import planned, put, spoken

from bossage.brief.amend import amend_text
from bossage.checks import Advice, Edit, Verdict
from bossage.examples import example_text
from bossage.plan import Memory
from bossage.remedies import advised


def more(*path: str | int, value: Any) -> Edit:
    return Edit(op="append", path=path, value=value)


def out(*path: str | int) -> Edit:
    return Edit(op="remove", path=path)


SHELF = {"name": "shelf", "kind": "shelf", "centre": 37, "width": 50, "bottom": 72.25, "top": 73, "far": 8}

#: A frame closed all round a small cover that needs air; its rails are too short for slots enough.
CLOSED: list[Edit] = [
    put("fixture", 0, "width", to=4),
    put("fixture", 0, "height", to=4),
    put("fixture", 0, "needs", to=["air"]),
    out("cleat", "arm"),
    more(
        "behind",
        value={
            "name": "rail", "role": "frame", "count": 2, "length": 10, "width": 0.75, "depth": 1.25, "upright": False,
            "at": [[15, 13], [15, 2.5]],
        },
    ),
    more(
        "behind",
        value={
            "name": "stile", "role": "frame", "count": 2, "length": 9.75, "width": 0.75, "depth": 1.25, "upright": True,
            "at": [[15, 3.25], [24.25, 3.25]],
        },
    ),
]  # fmt: skip

#: What was planted, example, how, the check that must name it.
FAULTS: list[tuple[str, str, list[Edit], str]] = [
    ("a cover prouder than the packer makes up for", "s8", [put("fixture", 0, "proud", to=1)], "bare_cleat"),
    ("a cover prouder than the stand-off", "s8", [put("fixture", 0, "proud", to=1.375)], "body_clash"),
    ("a packer too thin", "s2", [put("cleat", "packer", to=2)], "bare_cleat"),
    ("the cleat across the door", "s2", [put("cleat", "line_below_top", to=300)], "body_place"),
    ("the cleat off its backer", "s2", [put("cleat", "offset", to=200)], "body_wish"),
    ("a cleat longer than its backer", "s2", [put("cleat", "length", to=1200)], "body_part"),
    ("a foot under the backer", "s2", [put("cleat", "arm", to=700)], "body_place"),
    ("a rib before the door", "s2", [put("behind", 0, "at", to=[[400, 60]])], "body_clash"),
    (
        "a wall screw deeper into its stud than a bored cable lies",
        "s1",
        [put("fixings", "length", to=4)],
        "screw_depth",
    ),
    ("a rib through the wall half", "s2", [put("behind", 0, "at", to=[[200, 90]])], "body_clash"),
    ("a rib through the panel half", "s2", [put("behind", 0, "at", to=[[200, 105]])], "body_clash"),
    ("ribs longer than the backer", "s2", [put("behind", 0, "length", to=740)], "body_part"),
    ("a cleat that leaves ribs no place", "s2", [put("cleat", "length", to=1060)], "body_part"),
    ("a shelf over the piece", "s1", [more("furniture", value=SHELF)], "lift_room"),
    ("a chime prouder than the frame", "s1", [put("fixture", 1, "proud", to=2.25)], "bare_cleat"),
    ("frame stiles too long", "s1", [put("behind", 1, "length", to=23.5)], "body_part"),
    ("frame rails wider than the backer", "s1", [put("behind", 0, "length", to=42)], "body_part"),
    ("a cleat from end to end of the backer", "s1", [put("cleat", "length", to=40.75)], "body_wish"),
    ("a foot rail under the backer", "s1", [put("cleat", "arm", to=22.5)], "body_wish"),
    ("stiles longer than between the strips", "s7", [put("behind", 0, "length", to=440)], "body_part"),
    ("stiles in the air of the board", "s7", [put("behind", 0, "at", to=[[200, 100], [700, 100]])], "body_clash"),
    (
        "a side wall where the leaf swings",
        "s7",
        [put("wall", "width", to=1730), put("access", "hinge", to="right"), out("furniture", 1)],
        "body_path",
    ),
    (
        "a tall counter where the leaf swings",
        "s7",
        [put("backer", "thickness", to=12), put("furniture", 0, "width", to=845), put("furniture", 0, "top", to=1400)],
        "body_path",
    ),
    (
        "more of an angle than the wall gives",
        "s7",
        [put("access", "angle", to=120), put("furniture", 0, "width", to=700), put("furniture", 0, "top", to=1500)],
        "body_path",
    ),
    ("a frame that shuts off what needs air", "s8", CLOSED, "body_air"),
    ("the cleat across the cover", "s8", [put("cleat", "line_below_top", to=12)], "body_place"),
    ("a cleat longer than a banded backer", "s8", [put("cleat", "length", to=42)], "body_wish"),
    ("a foot below the headboard's gap", "s8", [put("cleat", "arm", to=24)], "body_place"),
    ("ribs that meet the foot", "s3", [put("behind", 0, "length", to=900)], "body_part"),
    ("a school's foot under its backer", "s3", [put("cleat", "arm", to=900)], "body_place"),
    (
        "a size without room for the cleat",
        "first",
        [put("blocks", "rows", to=9), put("blocks", "columns", to=8)],
        "body_place",
    ),
    (
        "stiles longer than the leaf",
        "s4",
        [put("behind", 1, "length", to=36), put("cleat", "strip", to=4)],
        "body_part",
    ),
    ("an arm longer than the leaf", "s4", [put("cleat", "arm", to=35)], "body_wish"),
]


@pytest.mark.parametrize(("planted", "example", "edits", "name"), FAULTS, ids=[fault[0] for fault in FAULTS])
def test_a_planted_fault_is_named_and_heals(planted: str, example: str, edits: list[Edit], name: str) -> None:
    text = amend_text(example_text(example), edits)
    memory = Memory()
    plan = planned(text, memory)
    assert spoken(plan, name).verdict is not Verdict.FINE
    check = spoken(advised(text, plan, memory=memory, names=(name,)), name)
    assert check.advice is Advice.REMEDY, (planted, check.found, check.remedy)
    after = planned(amend_text(text, check.edits))
    assert_heals(plan, after, check)
    assert_nothing_worse(plan, after)
    assert_priced(plan, after, check)


def test_at_least_thirty_faults_are_planted() -> None:
    assert len(FAULTS) >= 30
    assert len({name for *_, name in FAULTS}) >= 6
