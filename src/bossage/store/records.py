"""What the store gives back."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """A revision that the maker gave a name to."""

    name: str
    revision_n: int
    made_at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionRow:
    """One line of a piece's history. `aside`: refused because a newer one stood, and kept; never undone to.

    Times are UTC by ISO 8601. `seed`, `stamp` and `verdict` are what a plan of it said on the day.
    """

    revision_n: int
    parent_n: int | None
    saved_at: str
    words: str
    name: str
    seed: int
    stamp: str
    verdict: str  # "fine", "caution", "stop", "no plan"
    aside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """A revision of a piece with its brief, and where undo and redo would lead from the head."""

    piece_id: str
    row: RevisionRow
    toml: str
    head_n: int
    undo_words: str | None
    redo_words: str | None
    discarded: bool
    versions: tuple[Version, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRow:
    """A piece in the list of all."""

    piece_id: str
    name: str
    revision_n: int
    changed_at: str
    discarded: bool
    verdict: str
    stamp: str
