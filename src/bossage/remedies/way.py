"""One way to heal a check: a change of the brief, and what a maker would call it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from bossage.checks import Check, Edit, EditValue, deed_of
from bossage.layout.edits import toml_length
from bossage.plan import Plan
from bossage.units import NM_PER_MM, format_length

MARK_IN_NM = 1_587_500  # 1/16 in


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A change that may heal; `words` say it as something to do. One that `saves` must save money to be of use."""

    words: str
    edits: tuple[Edit, ...]
    saves: bool = False


Ways = Iterator[Way]
Finder = Callable[[Plan, Check], Ways]


def deed(text: str) -> str:
    """What a stage asks about as something to do: the first clause of its question."""
    return deed_of(text).split(";", maxsplit=1)[0].split(":", maxsplit=1)[0].strip()


def put(words: str, *path: str | int, to: EditValue) -> Way:
    """A way that sets one value."""
    return Way(words=words, edits=(Edit(op="set", path=path, value=to),))


def put_length(plan: Plan, words: str, *path: str | int, nm: int) -> Way:
    """A way that sets one length, said in the piece's unit after the words."""
    unit = plan.brief.piece.unit
    return put(f"{words} {format_length(nm, unit.value)}", *path, to=toml_length(nm, unit))


def up_to_mark(plan: Plan, nm: float) -> int:
    """The next length that a tape shows: a whole millimetre, or a sixteenth of an inch."""
    mark = MARK_IN_NM if plan.brief.piece.unit.value == "in" else NM_PER_MM
    return int(-(-nm // mark) * mark)


def steps(plan: Plan, *counts: int) -> tuple[int, ...]:
    """So many small steps of a length: half millimetres, or thirty-seconds of an inch."""
    step = MARK_IN_NM // 2 if plan.brief.piece.unit.value == "in" else NM_PER_MM // 2
    return tuple(count * step for count in counts)
