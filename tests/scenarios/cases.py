"""The six worked scenarios as plans, and what happens to a plan when one input of its brief is changed."""

from __future__ import annotations

import copy
import json
import tomllib
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import tomlkit

from bossage.brief import read_brief
from bossage.brief.records import LengthUnit
from bossage.checks import Check
from bossage.plan import NoPlan, Plan, make_plan

ROOT = Path(__file__).parents[2]
BRIEFS = {
    "S1": "s1-fernhollow-hall",
    "S2": "s2-brenlow-terrace",
    "S3": "s3-tarnwick-school",
    "S4": "s4-cinder-row",
    "S7": "s7-hollin-yard",
    "S8": "s8-gannet-row",
}
OTHERS = {"first": "first"}
NM = {LengthUnit.MM: 10**6, LengthUnit.IN: 25_400_000}
Toml = dict[str, Any]
Change = Callable[[Toml], object]


def expected() -> dict[str, dict[str, dict[str, Any]]]:
    """Scenario -> row -> value, unit, tolerance."""
    return json.loads((Path(__file__).parent / "scenarios.json").read_text())


@cache
def source(scenario: str) -> str:
    return (ROOT / "examples" / f"{(BRIEFS | OTHERS)[scenario]}.toml").read_text()


@cache
def plan_of(scenario: str) -> Plan:
    return _planned(source(scenario))


_varied: dict[tuple[str, str], Plan] = {}


def varied(scenario: str, what: str, change: Change) -> Plan:
    """The plan after one change; `what` names the change and keeps it from being planned twice."""
    if (scenario, what) not in _varied:
        brief = copy.deepcopy(tomllib.loads(source(scenario)))
        change(brief)
        _varied[scenario, what] = _planned(tomlkit.dumps(brief))
    return _varied[scenario, what]


def length(plan: Plan, nm: int) -> Fraction:
    """A length in the unit of the scenario, exact."""
    assert isinstance(nm, int), type(nm)
    return Fraction(nm, NM[plan.brief.piece.unit])


def area(plan: Plan, nm2: int) -> Fraction:
    return Fraction(nm2, NM[plan.brief.piece.unit] ** 2)


def found(plan: Plan, name: str, subject: str | None = None) -> list[Check]:
    return [c for c in plan.checks if c.name == name and (subject is None or subject in c.subject)]


def verdict(plan: Plan, name: str, subject: str | None = None) -> str:
    """The heaviest verdict under a name; `none` when the check does not appear."""
    order = ["fine", "caution", "stop"]
    verdicts = [str(check.verdict) for check in found(plan, name, subject)]
    return max(verdicts, key=order.index, default="none")


def _planned(text: str) -> Plan:
    made = make_plan(read_brief(text))
    assert not isinstance(made, NoPlan), made
    return made
