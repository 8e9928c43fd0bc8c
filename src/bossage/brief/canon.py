"""One form for one brief: what a version stamp is taken from."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from enum import Enum
from typing import Any

from bossage.brief.records import Brief


def brief_to_dict(brief: Brief) -> dict[str, Any]:
    """The whole brief as plain values that JSON can hold: field names as in the records, tuples as lists."""
    plain: dict[str, Any] = _plain(brief)
    return plain


def digest(brief: Brief) -> str:
    """SHA-256 of the brief in hex digits: equal for equal records on any machine, however the TOML was written."""
    text = json.dumps(brief_to_dict(brief), sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256(text.encode()).hexdigest()


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, tuple):
        return [_plain(entry) for entry in value]
    return value
