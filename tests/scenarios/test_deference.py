"""What touches electricity, gas, fire, structure or lifting defers to local rules or licensed people, wherever said."""

from __future__ import annotations

import re

import pytest

from bossage.checks import Verdict
from tests.scenarios.cases import BRIEFS, Toml, plan_of, varied

DANGER = re.compile(
    r"electric|live part|cable|overcurrent|gas\b|flue|fire\b|escape route|carbon monoxide|structur|one fixing|plug|"
    r"stud\b|studs\b|lift|fall\b|hurt|over a (bed|seat)|hinge",
    re.IGNORECASE,
)
DEFERS = re.compile(r"licensed|local (code|law|authority|fire|rules)|authority|govern|instructions", re.IGNORECASE)
# `place` says where the piece would suit better, not what holds it
STEPS = {"drill", "lift", "hang", "open", "electricity", "fire"}


def bed_and_gas(brief: Toml) -> None:
    brief["wall"]["below"] = "bed"
    brief["fixture"][0]["kind"] = "fuel-burning appliance"


def alone_on_studs(brief: Toml) -> None:
    brief["wall"]["escape_route"] = True
    brief["wall"]["studs"] = [56]
    brief["fixings"] = {"kind": "wood screw"}


def tool_and_lift(brief: Toml) -> None:
    brief["access"].update(opens="lift-off", tool=True, fixed_to_fixture=True)


CASES = [(scenario, "as it stands", None) for scenario in BRIEFS] + [
    ("S2", "over a bed, gas", bed_and_gas),
    ("S1", "one stud, escape route", alone_on_studs),
    ("S7", "lifted, with a tool, fixed to the board", tool_and_lift),
]


@pytest.mark.parametrize(("scenario", "what", "change"), CASES, ids=[f"{s}-{what}" for s, what, _ in CASES])
def test_what_can_hurt_defers(scenario, what, change):
    plan = plan_of(scenario) if change is None else varied(scenario, what, change)
    for check in plan.checks:
        said = " ".join((check.title, check.found, check.allowed, check.why, check.remedy, check.source))
        if check.verdict is not Verdict.FINE and DANGER.search(said) and check.name != "place":
            assert DEFERS.search(said), f"{check.name} does not defer: {said}"
    for stage in (plan.hang, plan.press, plan.saw, plan.paint):
        for caution in stage.cautions:
            if caution.step in STEPS:
                assert DEFERS.search(f"{caution.text} {caution.source}"), caution.text


@pytest.mark.parametrize("scenario", BRIEFS)
def test_no_text_of_a_plan_says_safe(scenario):
    plan = plan_of(scenario)
    texts = [text for c in plan.checks for text in (c.title, c.found, c.allowed, c.why, c.remedy)]
    texts += [c.text for stage in (plan.hang, plan.press, plan.saw, plan.paint) for c in stage.cautions]
    texts += [link.basis for link in plan.hang.links] + [method.why for method in plan.press.methods]
    for text in texts:
        # the safety data sheet has its name from the law
        assert not re.search(r"\b(un)?safe(ly)?\b|\bsafety\b(?! data sheet)", text, re.IGNORECASE), text
