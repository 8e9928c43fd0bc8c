"""The sizes to choose from, as a table on a terminal or as JSON, with the smallest changes that heal."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bossage.brief import read_brief
from bossage.brief.records import Brief
from bossage.files import read_text
from bossage.layout import (
    Candidate,
    Change,
    NoHeal,
    Split,
    candidate_sizes,
    own_size,
    smallest_split,
    suggest_changes,
    tilings_in_words,
)
from bossage.serial import Json, to_json
from bossage.units import format_length, format_mass, format_money, format_size


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What a maker may choose: sizes that no other beats, what would mend the brief's own, sections that tile."""

    brief: Brief
    own: Candidate
    candidates: tuple[Candidate, ...]
    changes: tuple[Change, ...]
    split: Split | NoHeal | None
    tilings: tuple[str, ...]


def read_sizes(path: Path) -> Sizes:
    """Everything to choose from for a brief.

    Raises:
        CannotRead: The file is not there or cannot be read.
        BriefFaults: The brief is faulty.
    """
    brief = read_brief(read_text(path))
    return Sizes(
        brief=brief,
        own=own_size(brief),
        candidates=candidate_sizes(brief),
        changes=suggest_changes(brief),
        split=smallest_split(brief),
        tilings=tilings_in_words(brief),
    )


def sizes_json(sizes: Sizes) -> Json:
    """Everything, for programs; `edits` are the way there as changes of the brief."""
    return {
        "outcome": "sizes" if sizes.candidates else "no size fits",
        "own": to_json(sizes.own),
        "sizes": to_json(sizes.candidates),
        "changes": to_json(sizes.changes),
        "split": to_json(sizes.split) if isinstance(sizes.split, Split) else None,
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
    mends = [change.text for change in sizes.changes] + _split_words(sizes.split)
    if mends:
        lines += ["", "What would mend the size in the brief:", *(f"  {mend}" for mend in mends)]
    if sizes.tilings:
        lines += ["", "What the measured sections fill evenly:", *(f"  {line}" for line in sizes.tilings)]
    return "\n".join(lines)


def _split_words(split: Split | NoHeal | None) -> list[str]:
    if isinstance(split, Split):
        against = f" (against it: {'; '.join(split.gives_up)})" if split.gives_up else ""
        return [f"{split.text}, as it is {' and '.join(split.reasons)}{against}"]
    return [f"{split.reason}; {split.remedy}"] if split is not None else []


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
