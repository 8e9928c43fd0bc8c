"""The sizes to choose from, as a table on a terminal or as JSON, with what would mend the brief's own."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bossage.body import own_size_tried, sizes_to_choose
from bossage.brief import read_brief
from bossage.brief.records import Brief
from bossage.checks import Advice, Check, Verdict
from bossage.files import read_text
from bossage.layout import Candidate, tilings_in_words
from bossage.plan import Memory, NoPlan, Plan, make_plan
from bossage.remedies import advised
from bossage.serial import Json, to_json
from bossage.units import format_length, format_mass, format_money, format_size

OF_THE_SIZE = ("place", "lighter", "leaf_split")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What a maker may choose: sizes that no other beats, what is amiss with the brief's own, sections that tile."""

    brief: Brief
    own: Candidate
    candidates: tuple[Candidate, ...]
    amiss: tuple[Check, ...]
    tilings: tuple[str, ...]


def read_sizes(path: Path) -> Sizes:
    """Everything to choose from for a brief.

    Raises:
        CannotRead: The file is not there or cannot be read.
        BriefFaults: The brief is faulty.
    """
    text = read_text(path)
    brief, memory = read_brief(text), Memory()
    plan = make_plan(brief, memory=memory)
    return Sizes(
        brief=brief,
        # with the size that the plan has found, where the maker left it open
        own=own_size_tried(brief if isinstance(plan, NoPlan) else plan.brief),
        candidates=sizes_to_choose(brief),
        amiss=() if isinstance(plan, NoPlan) else _amiss(text, plan, memory),
        tilings=tilings_in_words(brief),
    )


def sizes_json(sizes: Sizes) -> Json:
    """Everything, for programs; `edits` are the way there as changes of the brief, `amiss` are checks of the plan."""
    return {
        "outcome": "sizes" if sizes.candidates else "no size fits",
        "own": to_json(sizes.own),
        "sizes": to_json(sizes.candidates),
        "amiss": to_json(sizes.amiss),
        "tilings": to_json(sizes.tilings),
    }


def sizes_text(sizes: Sizes) -> str:
    """A table of the candidates, best first, the brief's own above, and what would heal it below."""
    brief, every = sizes.brief, (sizes.own, *sizes.candidates)
    rows = [_row(brief, str(n) if n else "yours", c) for n, c in enumerate(every)]
    head = ("", "size", "leaves", "cells", "from left, floor", "covers by", "mass", "materials", "studs")
    widths = [max(len(row[k]) for row in (head, *rows)) for k in range(len(head))]
    lines = ["  ".join(f"{word:<{width}}" for word, width in zip(head, widths, strict=True)).rstrip()]
    for row, candidate in zip(rows, every, strict=True):
        lines.append("  ".join(f"{word:<{width}}" for word, width in zip(row, widths, strict=True)).rstrip())
        if candidate.gives_up:
            lines.append(f"{'':{widths[0]}}  against it: {'; '.join(candidate.gives_up)}")
    if not sizes.candidates:
        lines += ["", "No size fits all that is to be hidden within what must stay clear."]
    lines += ["", "Mass and materials are estimates; a plan works them out."]
    for check in sizes.amiss:
        what = "What would mend it" if check.advice is Advice.REMEDY else "To think about"
        lines += ["", f"{check.title}: {check.found}.", f"  {what}: {check.remedy}"]
    if sizes.tilings:
        lines += ["", "What the measured sections fill evenly:", *(f"  {line}" for line in sizes.tilings)]
    return "\n".join(lines)


def _amiss(text: str, plan: Plan, memory: Memory) -> tuple[Check, ...]:
    """What is amiss with the brief's own size and place; remedies are planned again first."""
    checks = advised(text, plan, memory=memory, names=OF_THE_SIZE).checks
    return tuple(check for check in checks if check.name in OF_THE_SIZE and check.verdict is not Verdict.FINE)


def _row(brief: Brief, name: str, c: Candidate) -> tuple[str, ...]:
    unit = brief.piece.unit
    return (
        name,
        format_size(c.width_nm, c.height_nm, unit),
        str(c.leaves),
        f"{c.columns} × {c.rows}",
        f"{format_length(c.x_nm, unit)}, {format_length(c.y_nm, unit)}",
        format_length(c.margin_nm, unit),
        format_mass(c.mass_g, unit),
        "no price" if c.cost_cents is None else format_money(c.cost_cents, brief.piece.currency),
        str(c.studs),
    )
