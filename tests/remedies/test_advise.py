from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from tests.remedies.judge import assert_heals, assert_nothing_worse, assert_priced

import bossage
from bossage.brief import read_brief
from bossage.brief.amend import amend_text
from bossage.checks import Advice, Check, Edit, Verdict
from bossage.examples import example_text
from bossage.plan import Memory, Plan, make_plan
from bossage.remedies import advised, trying
from bossage.remedies.finders import FINDERS


def put(*path: str | int, to: Any) -> Edit:
    return Edit(op="set", path=path, value=to)


def out(*path: str | int) -> Edit:
    return Edit(op="remove", path=path)


#: Example, what is planted so that the check speaks up (nothing where it does by itself), the check.
CASES: list[tuple[str, list[Edit], str]] = [
    ("first", [put("edge", "overhang", to=40)], "outer_bond"),
    ("first", [put("tools", "clamps", to=2)], "clamps"),
    ("first", [put("fixture", 0, "opened_per_year", to=60)], "lift_off"),
    ("first", [put("glue", "open_time", to=3)], "open_time"),
    ("first", [put("blocks", "levels", to=[6, 24, 36])], "thin_slice"),
    ("s1", [], "open_time"),
    ("s2", [put("backer", "sealed_faces", to=1), out("behind")], "bow"),
    ("s2", [put("fixings", "count", to=2)], "load_path"),
    ("s2", [put("behind", 0, "length", to=1000)], "body_part"),
    ("s2", [put("furniture", 0, "top", to=340)], "bench_gap"),
    ("s2", [put("cleat", "packer", to=0)], "bare_cleat"),
    ("s2", [put("family", 1, "lightness", to=[84, 80])], "meeting"),
    ("s2", [put("fixings", "panel_length", to=60)], "panel_screw"),
    ("s2", [put("leaf", 0, "x", to=560)], "cover_margin"),
    ("s2", [put("stick", 0, "count", to=1)], "stock_missing"),
    ("s2", [put("stick", 1, "count", to=1), put("stick", 1, "length", to=2000)], "stock_missing"),
    ("s7", [], "corner_bond"),
    ("s7", [put("family", 0, "lightness", to=[52, 60, 68, 76, 84, 94])], "unmeasurable"),
    ("s7", [put("edge", "strip_width", to=40), put("edge", "strip_behind", to=24)], "ring_bond"),
    ("s7", [put("edge", "run_out", to=80)], "edge_strips"),
    ("s7", [put("tools", "clamps", to=2)], "clamps"),
    ("s7", [put("access", "angle", to=80)], "swing_angle"),
    ("s7", [put("access", "tool", to=True)], "ready_access"),
    ("s8", [put("access", "lock", to=False)], "over_bed"),
    ("s8", [put("fixings", "count", to=2)], "over_bed"),
    ("s8", [put("fixings", "count", to=2)], "load_path"),
    ("s8", [put("backer", "sealed_faces", to=1)], "bow"),
    ("s8", [put("leaf", 0, "x", to=30)], "cover_margin"),
    ("s8", [put("leaf", 0, "x", to=32), put("blocks", "species", to="western_redcedar")], "side_view"),
    ("s8", [put("tools", "clamps", to=2)], "clamps"),
]


def spoken(plan: Plan, name: str) -> Check:
    return next(check for check in plan.checks if check.name == name and check.verdict is not Verdict.FINE)


def planned(text: str, memory: Memory | None = None) -> Plan:
    plan = make_plan(read_brief(text), memory=memory)
    assert isinstance(plan, Plan)
    return plan


@pytest.mark.parametrize(("example", "edits", "name"), CASES)
def test_a_check_gets_a_remedy_that_heals(example: str, edits: list[Edit], name: str) -> None:
    text = amend_text(example_text(example), edits)
    memory = Memory()
    plan = planned(text, memory)
    spoken(plan, name)
    check = spoken(advised(text, plan, memory=memory, names=(name,)), name)
    assert check.advice is Advice.REMEDY, check.remedy
    after = planned(amend_text(text, check.edits))
    assert_heals(plan, after, check)
    assert_nothing_worse(plan, after)
    assert_priced(plan, after, check)


def test_many_kinds_of_faults_are_shown_to_heal() -> None:
    assert len(CASES) >= 30
    assert len({name for _, _, name in CASES}) >= 22


def test_advice_stays_a_question_where_no_patience_is_left() -> None:
    text = example_text("first")
    plan = planned(text)
    untried = advised(text, plan, tries=0)
    assert all(check.advice is not Advice.REMEDY for check in untried.checks)
    assert [check.remedy for check in untried.checks] == [check.remedy for check in plan.checks]


def test_work_is_counted_and_what_is_known_is_not_planned_again(monkeypatch: pytest.MonkeyPatch) -> None:
    text = example_text("s1")
    plan = planned(text)
    begun: list[tuple[Edit, ...]] = []
    read = trying.read_brief
    monkeypatch.setattr(trying, "read_brief", lambda text, edits: (begun.append(tuple(edits)), read(text, edits))[1])
    advised(text, plan, tries=1)
    few = len(begun)
    assert 0 < few <= trying.LAYOUTS_PER_PLAN
    begun.clear()
    advised(text, plan)
    assert few < len(begun)
    assert len(set(map(repr, begun))) == len(begun)


def test_the_same_brief_gets_the_same_advice() -> None:
    text = example_text("s7")
    memory = Memory()
    with_memory = advised(text, planned(text, memory), memory=memory)
    assert with_memory.checks == advised(text, planned(text)).checks


def test_finders_are_named_after_checks_that_there_are() -> None:
    source = "".join(path.read_text(encoding="utf-8") for path in Path(bossage.__file__).parent.rglob("*.py"))
    for name in FINDERS:
        assert f'"{name}"' in source.replace(f'    "{name}": ', "") or name in ("over_bed", "over_seat"), name
