"""What all tables of a brief share: pydantic models whose fields carry kind, meaning, default and its reason."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field
from pydantic.fields import FieldInfo

from bossage.brief.kinds import Kind
from bossage.timber import board_keys, species_keys

_REQUIRED: Any = ...


class Table(BaseModel):
    """One table of the TOML file. Unknown keys are faults."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def said(meaning: str, default: Any = _REQUIRED, because: str = "") -> Any:
    """A field: what it means; the value, as the records hold it, that stands in for it; and why that one.

    A default without a reason is 'nothing' (no pins, no client) or is worked out from other fields later.
    """
    return Field(default, description=meaning, json_schema_extra={"because": because})


def reason_of(info: FieldInfo) -> str:
    """Why the default of a field was chosen; empty where there is nothing to say."""
    extra = info.json_schema_extra
    return str(extra.get("because", "")) if isinstance(extra, dict) else ""


def kind_of(info: FieldInfo) -> Kind | None:
    """The kind of a field; None for a nested table."""
    return next((mark for mark in info.metadata if isinstance(mark, Kind)), None)


def woods() -> tuple[str, ...]:
    """Keys of solid woods, with their plain names' spaces as underscores."""
    return species_keys()


def woods_and_boards() -> tuple[str, ...]:
    """Keys of solid woods and of boards."""
    return (*board_keys(), *species_keys())
