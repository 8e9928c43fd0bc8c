from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from bossage.remedies.healing import FINDERS

from bossage.brief import BriefFaults, read_brief
from bossage.brief.amend import amend_text
from bossage.checks import Check, Edit, Verdict
from bossage.examples import example_text
from bossage.plan import Memory, NoPlan, Plan, make_plan
from bossage.remedies import healing


def put(*path: str | int, to: Any) -> Edit:
    return Edit(op="set", path=path, value=to)


#: Example, what is done to it so that the check speaks up (nothing where it does by itself), the check.
CASES: list[tuple[str, list[Edit], str]] = [
    ("first", [], "side_view"),
    ("first", [], "drift"),
    ("first", [put("edge", "overhang", to=40)], "outer_bond"),
    ("s2", [put("backer", "sealed_faces", to=1), Edit(op="remove", path=("behind",))], "bow"),
    ("s1", [put("fixture", 0, "opened_per_year", to=60)], "lift_off"),
    ("s2", [put("fixings", "count", to=2)], "load_path"),
    ("s1", [], "open_time"),
    ("s1", [], "lighter"),
    ("s1", [], "two_people"),
    ("s2", [], "short_stock"),
    ("s2", [], "leaf_split"),
    ("s2", [put("furniture", 0, "top", to=340)], "bench_gap"),
    ("s2", [put("cleat", "packer", to=0)], "bare_cleat"),
    ("s2", [put("family", 1, "lightness", to=[84, 80])], "meeting"),
    ("s2", [put("fixings", "panel_length", to=60)], "panel_screw"),
    ("s2", [put("piece", "mass_cap", to="15 kg")], "mass_cap"),
    ("s2", [put("leaf", 0, "x", to=560)], "cover_margin"),
    ("s7", [], "corner_bond"),
    ("s7", [], "unmeasurable"),
    ("s7", [put("edge", "strip_width", to=40), put("edge", "strip_behind", to=24)], "ring_bond"),
    ("s8", [], "leaf_split"),
    ("s8", [put("access", "lock", to=False)], "over_bed"),
]


def spoken(plan: Plan, name: str) -> Check:
    return next(check for check in plan.checks if check.name == name and check.verdict is not Verdict.FINE)


@pytest.mark.parametrize(("example", "edits", "name"), CASES)
def test_a_check_gets_a_remedy_that_heals(example: str, edits: list[Edit], name: str) -> None:
    text = amend_text(example_text(example), edits)
    memory = Memory()

    def planned(changes: tuple[Edit, ...]) -> Plan | NoPlan | None:
        try:
            return make_plan(read_brief(amend_text(text, changes)), memory=memory)
        except BriefFaults:
            return None

    plan = planned(())
    assert isinstance(plan, Plan)
    check = spoken(plan, name)
    # this check alone, beside those that say stop already
    stops = tuple(one for one in plan.checks if one.verdict is Verdict.STOP and one != check)
    (heals, *_) = [one for one in healing(replace(plan, checks=(check, *stops)), planned) if one.number == 0]
    assert heals.words[0].isupper()
    assert heals.words == heals.words.strip()
    after = planned(heals.edits)
    assert isinstance(after, Plan)
    still = [one for one in after.checks if (one.name, one.subject) == (check.name, check.subject)]
    worst = max((one.verdict for one in still), key=list(Verdict).index, default=Verdict.FINE)
    assert worst is Verdict.FINE or (check.verdict is Verdict.STOP and worst is Verdict.CAUTION)
    new = {(c.name, c.subject) for c in after.checks if c.verdict is Verdict.STOP}
    assert new <= {(c.name, c.subject) for c in plan.checks if c.verdict is Verdict.STOP}


def test_at_least_a_dozen_kinds_are_shown_to_heal() -> None:
    assert len({name for _, _, name in CASES}) >= 12


def test_what_does_not_heal_is_not_offered() -> None:
    plan = make_plan(read_brief(example_text("first")))
    assert isinstance(plan, Plan)
    assert healing(plan, lambda edits: plan) == []
    assert healing(plan, lambda edits: None) == []


def test_work_is_counted() -> None:
    plan = make_plan(read_brief(example_text("first")))
    assert isinstance(plan, Plan)
    tried: list[tuple[Edit, ...]] = []

    def fails(edits: tuple[Edit, ...]) -> None:
        tried.append(edits)

    healing(plan, fails, tries_each=2, tries_all=3)
    assert len(tried) == 3
    assert len(set(map(repr, tried))) == 3


def test_finders_are_named_after_checks_that_there_are() -> None:
    from pathlib import Path

    import bossage

    source = "".join(path.read_text(encoding="utf-8") for path in Path(bossage.__file__).parent.rglob("*.py"))
    for name in FINDERS:
        assert f'"{name}"' in source.replace(f'    "{name}": ', "") or name in ("over_bed", "over_seat"), name
