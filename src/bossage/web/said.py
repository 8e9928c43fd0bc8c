"""A revision as the page is told of it, in values that JSON has a form for: TOML has dates, and numbers without end."""

from __future__ import annotations

import json
import tomllib
from datetime import date, time
from functools import lru_cache
from math import isfinite
from typing import Any

from bossage.store import Revision

Json = dict[str, Any]


def whole(revision: Revision) -> Json:
    """A revision with its brief, as text and as plain values (`PieceOut`)."""
    return {**short(revision), "toml": revision.toml, "brief": plain_brief(revision.toml)}


def short(revision: Revision) -> Json:
    """A revision without its brief (`PieceShort`)."""
    row = revision.row
    brief = plain_brief(revision.toml).get("piece", {})
    unit = brief.get("unit", "mm") if isinstance(brief, dict) else "mm"
    return {
        "piece_id": revision.piece_id,
        "name": row.name,
        "unit": "in" if unit == "in" else "mm",
        "revision_n": row.revision_n,
        "head_n": revision.head_n,
        "words": row.words,
        "can_undo": revision.undo_words is not None,
        "can_redo": revision.redo_words is not None,
        "undo_words": revision.undo_words,
        "redo_words": revision.redo_words,
        "discarded": revision.discarded,
        "versions": [{"name": v.name, "revision_n": v.revision_n, "made_at": v.made_at} for v in revision.versions],
    }


@lru_cache(maxsize=8)
def plain_brief(toml: str) -> Json:
    """The brief as plain values, not to be changed; empty where the text is no TOML, which the page shows then."""
    try:
        plain: Json = _for_page(tomllib.loads(toml.removeprefix("\ufeff")))
        return plain
    except (ValueError, RecursionError):
        return {}


def _for_page(value: Any) -> Any:
    """What JSON has no form for, as TOML writes it."""
    if isinstance(value, dict):
        return {key: _for_page(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_for_page(inner) for inner in value]
    if isinstance(value, date | time):
        return value.isoformat()
    return str(value) if isinstance(value, float) and not isfinite(value) else value


def sayable(answer: Json) -> Json:
    """The answer, if it can be sent; a revision of which nothing can be said is not kept."""
    json.dumps(answer, allow_nan=False).encode("utf-8")
    return answer
