"""Judges a remedy from two plans alone, with nothing of the code that found it."""

from __future__ import annotations

import re
from collections import defaultdict
from typing import Any

from bossage.checks import Check
from bossage.plan import Plan

WEIGHT = {"fine": 0, "caution": 1, "stop": 2}


def verdicts(plan: Plan) -> dict[tuple[str, str], dict[str, list[int]]]:
    """By stage and name: the weights of each subject, the heaviest first."""
    found: dict[tuple[str, str], dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    for check in plan.checks:
        found[check.stage, check.name][check.subject].append(WEIGHT[check.verdict.value])
    for subjects in found.values():
        for weights in subjects.values():
            weights.sort(reverse=True)
    return found


def assert_heals(before: Plan, after: Plan, check: Check) -> None:
    """The check is fine or gone; a stop may have become a caution where the remedy says that one stays."""
    old, new = verdicts(before)[check.stage, check.name], verdicts(after)[check.stage, check.name]
    left = new.get(check.subject)
    if left is None:
        left = [weight for subject, weights in new.items() if subject not in old for weight in weights]
    allowed = 1 if check.remedy.endswith("A caution stays.") else 0
    assert max(left, default=0) <= allowed < WEIGHT[check.verdict.value], (check.name, check.remedy)


def assert_nothing_worse(before: Plan, after: Plan) -> None:
    """No check says more than it said; a new subject no more than the worst of its name that is gone."""
    old = verdicts(before)
    for key, subjects in verdicts(after).items():
        gone = [max(weights) for subject, weights in old[key].items() if subject not in subjects]
        for subject, weights in subjects.items():
            was = old[key].get(subject)
            for place, weight in enumerate(weights):
                most = max(gone, default=0) if was is None else was[place] if place < len(was) else 0
                assert weight <= most, (*key, subject)


def assert_priced(before: Plan, after: Plan, check: Check) -> None:
    """The price is the difference of the plans, and the words say it."""
    price = check.price
    assert price is not None
    one, other = figures(before), figures(after)
    assert {name: round(other[name] - one[name], 6) for name in one} == {
        name: round(getattr(price, name), 6) for name in one
    }
    said = check.remedy.partition(". ")[2]
    if all(abs(value) < 1e-9 for value in (other[name] - one[name] for name in one)):
        assert said.startswith("It costs nothing."), check.remedy
    for name, word in (("blocks", "blocks?"), ("rows", "rows?"), ("columns", "columns?")):
        more = int(other[name] - one[name])
        found = re.search(rf"(a|[\d,]+) {word}\b", said)
        assert (found is not None) == (more != 0), check.remedy
        if found is not None:
            assert (1 if found[1] == "a" else int(found[1].replace(",", ""))) == abs(more), check.remedy
            verb = said[: found.start()].rfind("costs"), said[: found.start()].rfind("saves")
            assert (verb[0] > verb[1]) == (more > 0), check.remedy


def figures(plan: Plan) -> dict[str, Any]:
    """What a price counts, from the plan's own records."""
    return {
        "blocks": len(plan.layout.blocks.leaf),
        "leaves": sum(leaf.copy == 1 for leaf in plan.layout.leaves),
        "columns": plan.layout.leaves[0].columns,
        "rows": plan.layout.leaves[0].rows,
        "mass_g": sum(part.total_g for part in plan.hang.leaf_masses),
        "materials_cents": plan.cost.materials_cents + plan.cost.shims_cents,
        "unpriced": plan.cost.unpriced,
        "hours": plan.cost.hours,
    }
