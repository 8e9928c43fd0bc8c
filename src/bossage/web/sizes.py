"""The sizes to choose from, each as changes of the brief."""

from __future__ import annotations

from typing import Any

from bossage.body import own_size_tried, sizes_to_choose
from bossage.brief.records import Brief
from bossage.checks import Edit
from bossage.layout import Candidate
from bossage.layout.sizes_rules import RULES
from bossage.pack.words import Words

NM = 1e6
Json = dict[str, Any]


def sizes_of(brief: Brief, *, as_planned: Brief) -> Json:
    """Sizes that no other beats, best first, and the one that is planned (`SizesOut`).

    Args:
        brief: As the maker says it; sizes are changes of its text.
        as_planned: With the size that the plan has found where the maker left it open.
    """
    return {
        "own": _size(brief, own_size_tried(as_planned)),
        "sizes": [_size(brief, candidate) for candidate in sizes_to_choose(brief)],
    }


def edits_json(edits: tuple[Edit, ...]) -> list[Json]:
    """Edits as the API takes them."""
    return [{"op": edit.op, "path": list(edit.path), "value": edit.value} for edit in edits]


def _size(brief: Brief, c: Candidate) -> Json:
    words = Words(unit=brief.piece.unit.value, currency=brief.piece.currency)
    cost = "no price" if c.cost_cents is None else words.money(c.cost_cents)
    return {
        "x_mm": c.x_nm / NM,
        "y_mm": c.y_nm / NM,
        "width_mm": c.width_nm / NM,
        "height_mm": c.height_nm / NM,
        "columns": c.columns,
        "rows": c.rows,
        "leaves": c.leaves,
        "studs": c.studs,
        "own": c.own,
        "size": {"value": c.width_nm / NM, "text": words.size(c.width_nm, c.height_nm)},
        "place": f"{words.length(c.x_nm)} from the left, {words.length(c.y_nm)} above the floor",
        "covers_by": {"value": c.margin_nm / NM, "text": words.length(c.margin_nm)},
        "mass": {"value": c.mass_g, "text": words.mass(c.mass_g)},
        "cost": {"value": c.cost_cents, "text": cost},
        "breaks": [RULES[rule] for rule in c.broken],
        "gives_up": list(c.gives_up),
        "edits": edits_json(c.edits),
    }
