"""Ways that change who lifts, and what is moved first."""

from __future__ import annotations

from bossage.checks import Check, Edit
from bossage.hang import Standing
from bossage.layout.edits import toml_length
from bossage.plan import Plan
from bossage.remedies.places import lighter
from bossage.remedies.way import Way, Ways
from bossage.units import format_length


def easier_lift(plan: Plan, check: Check) -> Ways:
    """A second person, furniture moved out, or both, where the index comes down to 1; else a lighter leaf."""
    mine = [one for one in plan.handling.standing if check.subject in ("", one.leaf) and "hanging" in one.acts]
    used = next((one for one in mine if one.governs), None)
    if used is not None:
        for one in sorted(mine, key=lambda one: (len(one.moved), one.people)):
            if one.index <= 1 and one.people >= used.people and not one.governs:
                yield _way(plan, one)
    yield from lighter(plan, check)


def _way(plan: Plan, one: Standing) -> Way:
    unit = plan.brief.piece.unit
    edits, words = [], []
    if one.people > plan.brief.lift.people:
        edits.append(Edit(op="set", path=("lift", "people"), value=one.people))
        words.append(f"lift it with {one.people} people")
    out = {item.name: item.out_nm for item in one.moved}
    for number, item in enumerate(plan.brief.furniture):
        if out.get(item.name, 0) > (item.moved_nm or 0):
            edits.append(Edit(op="set", path=("furniture", number, "moved"), value=toml_length(out[item.name], unit)))
            words.append(f"move the {item.name} out by {format_length(out[item.name], unit.value)} first")
    told = " and ".join(words)
    return Way(words=f"{told[:1].upper()}{told[1:]}", edits=tuple(edits))
