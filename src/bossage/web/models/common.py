"""What every model of the API stands on, and what a refusal says."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Verdict = Literal["fine", "caution", "stop"]
Kind = Literal["harm", "spoil", "taste"]
Advice = Literal["none", "remedy", "question"]
Words = Annotated[str, StringConstraints(max_length=200)]
Name = Annotated[str, StringConstraints(min_length=1, max_length=120)]
RevisionN = Annotated[int, Field(ge=1, le=10**9)]
PieceId = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{12}$")]


class Out(BaseModel):
    """An answer."""

    model_config = ConfigDict(extra="forbid")


class In(BaseModel):
    """A request."""

    model_config = ConfigDict(extra="forbid")


class Error(Out):
    """What was found, what is allowed, what to do."""

    title: str
    found: str
    allowed: str
    remedy: str


class FaultOut(Out):
    """One thing that is wrong with a brief; `field` counts from 1, as a maker does: `footprint[2].width`."""

    field: str
    found: str
    allowed: str
    remedy: str


class Conflict(Out):
    """Two changes of one revision: the one that stands, and the refused one, kept."""

    theirs_revision_n: int
    mine_revision_n: int | None


class Refused(Out):
    """Every answer that is not what was asked for."""

    error: Error
    faults: list[FaultOut]
    conflict: Conflict | None
