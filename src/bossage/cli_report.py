"""What the command line prints: for a maker in words, for a program as JSON."""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from textwrap import wrap

from bossage.brief import BriefFaults, brief_schema
from bossage.checks import Advice, Check, Verdict, worst
from bossage.costing import materials_words
from bossage.examples import example_names, example_text
from bossage.plan import NoPlan, Plan
from bossage.run import Outcome
from bossage.serial import Json, dumps, to_json
from bossage.stakes import AT_STAKE, TASTE_ALONE, Kind
from bossage.units import format_length, format_mass, format_money, format_size

PLANNED, SAYS_STOP, FAULTY, NO_PLAN = range(4)
CARE, NAMED = "Mind", {Advice.REMEDY: "Remedy", Advice.QUESTION: "Question"}
MARK = {Verdict.FINE: "○", Verdict.CAUTION: "△", Verdict.STOP: "■"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """How to print: as JSON, or in words, or (quiet) only what is wrong."""

    as_json: bool
    quiet: bool

    def planned(self, outcome: Outcome) -> int:
        """After `plan`: what was found, and where the papers lie."""
        if outcome.plan is None:
            return self._not_planned(outcome)
        plan = outcome.plan
        if self.as_json:
            written: dict[str, Json] = {
                "files": list(outcome.files),
                "kept": dict(outcome.written.kept),
                "taken_away": list(outcome.written.taken_away),
            }
            self._write_json({**_summary(plan), "out": str(outcome.out), **written})
        elif not self.quiet:
            print("\n".join([*headline(plan), "", *_checks(plan.checks, fine=False), ""]))
            papers = [name for name in outcome.files if name.endswith((".pdf", ".txt"))]
            begin = f"; begin with {papers[0]}" if papers else ""
            print(f"{len(outcome.files)} papers and files lie in {outcome.out}{begin}:")
            print("\n".join(f"  {line}" for line in _listed(outcome.files)))
            for name, kept in outcome.written.kept.items():
                print(f"{name} was not made by bossage, or was changed since; what was there is now {kept}.")
            if outcome.written.taken_away:
                print("Taken away, as papers of an earlier plan: " + ", ".join(outcome.written.taken_away) + ".")
        return _code(plan)

    def checked(self, outcome: Outcome) -> int:
        """After `check`: every check, fine ones too."""
        if outcome.plan is None:
            return self._not_planned(outcome)
        plan = outcome.plan
        if self.as_json:
            self._write_json(_summary(plan))
        elif not self.quiet:
            print("\n".join([*headline(plan), "", *_checks(plan.checks, fine=True), "", *_defaults(plan)]))
        elif _code(plan) == SAYS_STOP:
            print("\n".join(_checks(tuple(c for c in plan.checks if c.verdict is Verdict.STOP), fine=False)))
        return _code(plan)

    def example(self, name: str) -> int:
        """An example brief, or the list of them."""
        if name:
            text = example_text(name)
            self._write_json({"name": name, "brief": text}) if self.as_json else print(text, end="")
            return PLANNED
        names = example_names()
        if self.as_json:
            self._write_json({"examples": [{"name": n, "about": about} for n, about in names.items()]})
        elif not self.quiet:
            width = max(map(len, names))
            print("\n".join(f"{n:<{width}}  {about}" for n, about in names.items()))
        return PLANNED

    def schema(self) -> int:
        """The JSON Schema of a brief."""
        text = json.dumps(brief_schema(), ensure_ascii=False, indent=None if self.as_json else 1)
        if not self.quiet:
            print(text)
        return PLANNED

    def _not_planned(self, outcome: Outcome) -> int:
        if outcome.faults is not None:
            return self._faulty(outcome.faults)
        assert outcome.no_plan is not None
        return self._cannot(outcome.no_plan)

    def _faulty(self, faults: BriefFaults) -> int:
        if self.as_json:
            self._write_json({"outcome": "faulty", "faults": to_json(faults.faults)})
        else:
            print(faults, file=sys.stderr)
        return FAULTY

    def _cannot(self, no_plan: NoPlan) -> int:
        if self.as_json:
            body = to_json(no_plan)
            assert isinstance(body, dict)
            self._write_json({"outcome": "no plan", **body})
        else:
            print(f"This cannot be planned ({no_plan.stage}).\n{no_plan.reason}\n{no_plan.remedy}", file=sys.stderr)
        return NO_PLAN

    def _write_json(self, value: Json) -> None:
        sys.stdout.buffer.write(dumps(value))


def _listed(files: tuple[str, ...], width: int = 100) -> list[str]:
    """Every file by its name: papers first, then those of each folder, as many to a line as go."""
    folders: dict[str, list[str]] = {}
    for name in files:
        folder, _, own = name.rpartition("/")
        folders.setdefault(folder, []).append(own)
    lines = []
    for folder, names in folders.items():
        ordered = sorted(names, key=lambda name: not name.endswith((".pdf", ".txt")))
        lead = f"{folder}/: " if folder else ""
        lines += wrap(lead + ", ".join(ordered), width, subsequent_indent=" " * len(lead), break_on_hyphens=False)
    return lines


def headline(plan: Plan) -> list[str]:
    """The key numbers in three lines."""
    brief, layout = plan.brief, plan.layout
    unit = brief.piece.unit
    leaves = "" if len(layout.leaves) == 1 else f" on {len(layout.leaves)} leaves"
    heaviest = max(plan.hang.leaf_masses, key=lambda leaf: leaf.total_g)
    sticks = sum(len(cut.bought.sticks) for cut in plan.saw.sections if cut.bought is not None)
    money = materials_words(plan.cost, brief.piece.currency)
    unpriced = f" and {plan.cost.unpriced} lines without a price" if plan.cost.unpriced else ""
    shims = f", shims {format_money(plan.cost.shims_cents, brief.piece.currency)}" if plan.cost.shims_cents else ""
    return [
        f"{brief.piece.name}, plan {plan.stamp}",
        f"  {layout.blocks.count} blocks{leaves}, {format_size(layout.width_nm, layout.height_nm, unit)}, "
        f"{format_length(layout.depth_nm, unit)} off the wall, {format_mass(heaviest.total_g, unit)}"
        + (" the heaviest leaf" if leaves else ""),
        f"  {sticks} sticks to saw, {plan.cost.hours:.1f} hours, materials {money}{unpriced}{shims}",
    ]


def _checks(checks: tuple[Check, ...], *, fine: bool) -> list[str]:
    lines: list[str] = []
    last = ""
    for check in checks:
        if check.verdict is Verdict.FINE and not fine and check.settled is None:
            continue
        head = _head(check)
        lines += [head] if head != last else []
        last = head
        about = f" ({check.subject})" if check.subject else ""
        lines.append(f"{MARK[check.verdict]} {_word(check):<7} {check.title}{about}: {check.found}")
        if check.verdict is not Verdict.FINE:
            lines.append(f"{'':10}Allowed: {check.allowed}")
            lines += [f"{'':10}{line}" for line in advice_lines(check)]
    fines = sum(check.verdict is Verdict.FINE and check.settled is None for check in checks)
    if not fine and fines:
        lines.append(f"{MARK[Verdict.FINE]} fine    {fines} other checks")
    return lines


def _word(check: Check) -> str:
    return "settled" if check.settled is not None else check.verdict.value


def _head(check: Check) -> str:
    """What stands over a group of checks."""
    if check.kind is Kind.TASTE:
        return f"{TASTE_ALONE}:"
    if check.settled is not None:
        return "Settled:"
    return "In order:" if check.verdict is Verdict.FINE else f"At stake, {AT_STAKE[check.kind]}:"


def advice_lines(check: Check) -> list[str]:
    """What to mind, and the remedy or the question, each under its name."""
    named = ((CARE, check.care), (NAMED.get(check.advice, ""), check.remedy))
    return [f"{name}: {words[:1].upper()}{words[1:]}" for name, words in named if words]


def _defaults(plan: Plan) -> list[str]:
    if not plan.brief.defaults:
        return []
    return ["Taken where the brief says nothing:"] + [
        f"  {default.field} = {default.value}: {default.reason}" for default in plan.brief.defaults
    ]


def _summary(plan: Plan) -> dict[str, Json]:
    return {
        "outcome": "planned",
        "verdict": str(worst(plan.checks)),
        "piece": plan.brief.piece.name,
        "stamp": plan.stamp,
        "version": plan.version,
        "blocks": plan.layout.blocks.count,
        "width_mm": plan.layout.width_nm / 1e6,
        "height_mm": plan.layout.height_nm / 1e6,
        "depth_mm": plan.layout.depth_nm / 1e6,
        "heaviest_leaf_g": max(leaf.total_g for leaf in plan.hang.leaf_masses),
        "hours": plan.cost.hours,
        "materials_cents": plan.cost.materials_cents,
        "shims_cents": plan.cost.shims_cents,
        "checks": to_json(plan.checks),
        "settled": to_json(plan.settled),
        "defaults": to_json(plan.brief.defaults),
    }


def _code(plan: Plan) -> int:
    return SAYS_STOP if worst(plan.checks) is Verdict.STOP else PLANNED
