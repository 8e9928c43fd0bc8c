"""The verdict record that every stage returns."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal


class Verdict(StrEnum):
    """How a check came out; the order is the order of weight."""

    FINE = "fine"
    CAUTION = "caution"
    STOP = "stop"


EditValue = str | int | float | bool | list["EditValue"] | dict[str, "EditValue"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One change of a brief's text.

    `path` are keys and, in lists, places counted from 0: `("leaf", 0, "x")`. `op` is `set` (the value of a key, which
    need not be there yet), `remove`, `append` (to a list, which need not be there yet) or `insert` (into a list, before
    the place that ends the path). `value` is what TOML holds: a length as a number in the brief's unit or as text.
    """

    op: Literal["set", "remove", "append", "insert"]
    path: tuple[str | int, ...]
    value: EditValue | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One thing that was looked at, in a maker's words.

    `name` is stable and machine-readable (`bench_gap`); `subject` says which of several it is about (a fixture,
    a leaf, a stick), or is empty. Texts carry lengths in the piece's own unit. `edits` is the remedy as changes of the
    brief, where the stage knows one; whether it heals is for `plan` to find out.
    """

    stage: str
    name: str
    title: str
    verdict: Verdict
    found: str
    allowed: str
    why: str
    remedy: str
    source: str
    subject: str = ""
    edits: tuple[Edit, ...] = ()


def worst(checks: tuple[Check, ...]) -> Verdict:
    """The heaviest verdict of all; `fine` when there is none."""
    order = list(Verdict)
    return max((check.verdict for check in checks), key=order.index, default=Verdict.FINE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A usual caution, said at the step where the work can hurt somebody.

    `step` is a word of the work: saw, sand, paint, glue, press, drill, lift, hang, open, electricity, fire.
    """

    step: str
    text: str
    source: str


class CheckWriter:
    """Writes the checks of one stage; `stage` is set by each stage's own kind."""

    stage = ""

    def check(
        self,
        name: str,
        title: str,
        verdict: Verdict,
        *,
        found: str,
        allowed: str,
        why: str,
        remedy: str,
        source: str,
        subject: str = "",
        edits: tuple[Edit, ...] = (),
    ) -> Check:
        """A check of this stage; a fine one needs no remedy, so none is printed."""
        return Check(
            stage=self.stage,
            name=name,
            title=title,
            verdict=verdict,
            found=found,
            allowed=allowed,
            why=why,
            remedy="" if verdict is Verdict.FINE else remedy,
            source=source,
            subject=subject,
            edits=() if verdict is Verdict.FINE else edits,
        )
