"""Pieces that are kept, in lists and whole."""

from __future__ import annotations

from typing import Literal

from bossage.web.models.common import Out


class Session(Out):
    """What this server is and where a visit begins."""

    version: str
    unit_default: Literal["mm", "in"]
    example_open: str | None
    examples: list[ExampleOut]
    sheets: list[str]
    forms: list[str]


class KeptOut(Out):
    """Where pieces are kept, and the copies of that file, newest first. `fault`: why today's could not be kept."""

    store: str
    folder: str
    copies: list[str]
    fault: str


class ExampleOut(Out):
    """An example that comes with bossage."""

    name: str
    about: str


class PieceLine(Out):
    """A piece in the list."""

    piece_id: str
    name: str
    revision_n: int
    changed_at: str
    discarded: bool
    verdict: Literal["fine", "caution", "stop", "no plan"]
    stamp: str


class VersionOut(Out):
    """A revision that the maker named."""

    name: str
    revision_n: int
    made_at: str


class PieceShort(Out):
    """A piece at one of its revisions. `revision_n` is the one asked for, `head_n` the one that stands."""

    piece_id: str
    name: str
    unit: Literal["mm", "in"]
    revision_n: int
    head_n: int
    words: str
    can_undo: bool
    can_redo: bool
    undo_words: str | None
    redo_words: str | None
    discarded: bool
    versions: list[VersionOut]


class PieceOut(PieceShort):
    """The same with its brief: as text, and as plain values (lengths as the maker wrote them)."""

    toml: str
    brief: dict[str, object]


class RevisionLine(Out):
    """One line of a piece's history. `aside`: refused because a newer one stood, and kept."""

    revision_n: int
    parent_n: int | None
    saved_at: str
    words: str
    name: str
    seed: int
    stamp: str
    verdict: Literal["fine", "caution", "stop", "no plan"]
    aside: bool
