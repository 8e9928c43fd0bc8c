"""The sizes to choose from, as a table on a terminal or as JSON, with the smallest change that heals."""

from __future__ import annotations

from pathlib import Path

from bossage.brief import read_brief
from bossage.brief.records import Brief
from bossage.files import read_text
from bossage.layout import Candidate, Change, candidate_sizes, own_size, suggest_changes
from bossage.serial import Json, to_json
from bossage.units import format_length, format_mass, format_money, format_size


def read_sizes(path: Path) -> tuple[Brief, tuple[Candidate, ...], Candidate, tuple[Change, ...]]:
    """The brief, the sizes that no other beats, the brief's own, and what would heal it.

    Raises:
        CannotRead: The file is not there or cannot be read.
        BriefFaults: The brief is faulty.
    """
    brief = read_brief(read_text(path))
    return brief, candidate_sizes(brief), own_size(brief), suggest_changes(brief)


def sizes_json(candidates: tuple[Candidate, ...], own: Candidate, changes: tuple[Change, ...]) -> Json:
    """Everything, for programs."""
    return {
        "outcome": "sizes" if candidates else "no size fits",
        "own": to_json(own),
        "sizes": to_json(candidates),
        "changes": to_json(changes),
    }


def sizes_text(brief: Brief, candidates: tuple[Candidate, ...], own: Candidate, changes: tuple[Change, ...]) -> str:
    """A table of the candidates, best first, the brief's own above, and what would heal it below."""
    rows = [_row(brief, "yours", own), *(_row(brief, str(n), c) for n, c in enumerate(candidates, start=1))]
    head = ("", "size", "leaves", "cells", "from left, floor", "covers by", "mass", "materials", "studs")
    widths = [max(len(row[k]) for row in (head, *rows)) for k in range(len(head))]
    lines = ["  ".join(f"{word:<{width}}" for word, width in zip(head, widths, strict=True)).rstrip()]
    for row, candidate in zip(rows, (own, *candidates), strict=True):
        lines.append("  ".join(f"{word:<{width}}" for word, width in zip(row, widths, strict=True)).rstrip())
        if candidate.gives_up:
            lines.append(f"{'':{widths[0]}}  against it: {'; '.join(candidate.gives_up)}")
    if not candidates:
        lines += ["", "No size fits all that is to be hidden within what must stay clear."]
    lines += ["", "Mass and materials are estimates; a plan works them out."]
    if changes:
        lines += ["", "What would mend the size in the brief:", *(f"  {change.text}" for change in changes)]
    return "\n".join(lines)


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
