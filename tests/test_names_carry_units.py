"""Names carry units: in plan.json and in the records of a plan `_n` is a force in newtons, and a count has no unit."""

from __future__ import annotations

import dataclasses
import json
import types
import typing

import pytest

from bossage.plan import Plan
from bossage.serial import plan_json
from tests.scenarios.cases import plan_of

SCENARIOS = ("S1", "S2", "S3", "S4")


def numbers(value, path=""):
    """Every number of plan.json with the name that it goes by."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield from numbers(item, key if not isinstance(item, dict | list) else f"{path}.{key}")
            if isinstance(item, list):
                yield from ((key, entry) for entry in item if isinstance(entry, int | float))
    elif isinstance(value, list):
        for item in value:
            if isinstance(item, dict | list):
                yield from numbers(item, path)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path, value


def records(kind, seen):
    """Every record that a plan holds, however deep."""
    for part in typing.get_args(kind):
        records(part, seen)
    if isinstance(kind, types.UnionType) or not dataclasses.is_dataclass(kind) or kind in seen:
        return seen
    seen.add(kind)
    for hint in typing.get_type_hints(kind).values():
        records(hint, seen)
    return seen


RECORDS = sorted(records(Plan, set()), key=lambda kind: (kind.__module__, kind.__name__))


def test_the_walk_meets_the_records_of_every_stage():
    stages = {kind.__module__.split(".")[1] for kind in RECORDS}
    assert {"brief", "layout", "relief", "fade", "saw", "paint", "press", "hang", "costing", "checks"} <= stages


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_no_count_of_plan_json_ends_like_a_force(scenario):
    plan = json.loads(plan_json(plan_of(scenario)))
    counts = {name for name, value in numbers(plan) if name.endswith("_n") and isinstance(value, int)}
    assert counts == set()


@pytest.mark.parametrize("kind", RECORDS, ids=lambda kind: f"{kind.__module__}.{kind.__name__}")
def test_no_count_of_a_record_ends_like_a_force(kind):
    hints = typing.get_type_hints(kind)
    counts = [name for name, hint in hints.items() if name.endswith("_n") and int in (hint, *typing.get_args(hint))]
    assert counts == []
