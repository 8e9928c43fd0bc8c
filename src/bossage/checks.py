"""The verdict record that every stage returns."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from bossage.settling import SETTLEABLE, Unit
from bossage.stakes import Kind, kind_of


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


class Advice(StrEnum):
    """What the words of a check's `remedy` are worth."""

    NONE = "none"  # nothing is to be done
    REMEDY = "remedy"  # planned again: it heals the check, and nothing that was well is worse with it
    QUESTION = "question"  # a change to think about, which is promised to do nothing


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What a remedy costs: figures of the plan with it less those of the plan without; what is saved is negative."""

    blocks: int
    leaves: int  # of one copy
    columns: int  # of a leaf
    rows: int
    mass_g: float  # all leaves of all copies
    materials_cents: int  # with what is bought for shims
    unpriced: int  # lines of the shopping list without a price
    hours: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """The one figure that a check turns on, where somebody can agree to it (`settling`)."""

    value: float
    unit: Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """That somebody agreed to what a check found. `was` is what it says without that; `agreed` the figure, printed."""

    was: Verdict
    by: str
    on: str
    agreed: str
    condition: str
    words: str

    def __str__(self) -> str:
        """`settled by R. Voss on 2026-03-02, for 24 lb, with the label kept`, and what was said."""
        condition = f", with {self.condition}" if self.condition else ""
        words = f" (“{self.words}”)" if self.words else ""
        return f"settled by {self.by} on {self.on}, for {self.agreed}{condition}{words}"


QUESTION = "Would it help to "


def asked(words: str) -> str:
    """A change that nobody has tried, as a question: `move it 90 mm up` becomes `Would it help to move it 90 mm up?`.

    What follows the first sentence stays. Words that hold a question mark ask already.
    """
    words = words.strip()
    if not words or "?" in words:
        return words
    first, stop, rest = words.partition(". ")
    small = first if first[1:2].isupper() else first[:1].lower() + first[1:]
    return f"{QUESTION}{small.removesuffix('.')}?{' ' if stop else ''}{rest}"


def deed_of(question: str) -> str:
    """What such a question asks about, as something to do: `Move it 90 mm up`; other words stay as they are."""
    words = question.removeprefix(QUESTION).partition("?")[0] if question.startswith(QUESTION) else question
    return words[:1].upper() + words[1:]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One thing that was looked at, in a maker's words.

    `name` is stable and machine-readable (`bench_gap`); `subject` says which of several it is about (a fixture,
    a leaf, a stick), or is empty. Texts carry lengths in the piece's own unit.

    `care` is what to do, or whom to ask, as it is built: it changes nothing in the brief and holds whatever is changed.
    `remedy` is a change, and `advice` says what it is worth. A stage cannot try anything, so a stage asks (`QUESTION`,
    put as a question whatever its words); only `remedies`, which plans again, makes a `REMEDY` of it, with its `price`.
    `edits` is that change in the brief, where it is known.
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
    care: str = ""
    edits: tuple[Edit, ...] = ()
    advice: Advice = Advice.QUESTION
    price: Price | None = None
    figure: Measure | None = None
    settled: Agreement | None = None  # `verdict` is then fine, `settled.was` what it would be
    kind: Kind = field(init=False)  # what is at stake, by `name`

    def __post_init__(self) -> None:
        """Taste stops nothing; a fine check advises nothing; what nobody has tried is a question, whoever wrote it."""
        self._put("kind", kind_of(self.name))
        if self.kind is Kind.TASTE and self.verdict is Verdict.STOP:
            self._put("verdict", Verdict.CAUTION)
        if self.verdict is Verdict.FINE:
            for name, nothing in (("remedy", ""), ("care", ""), ("edits", ())):
                self._put(name, nothing)
        if not self.remedy:
            self._put("advice", Advice.NONE)
        elif self.advice is Advice.QUESTION:
            self._put("remedy", asked(self.remedy))

    def _put(self, name: str, value: object) -> None:
        object.__setattr__(self, name, value)


def worst(checks: Iterable[Check]) -> Verdict:
    """The heaviest verdict of all; `fine` when there is none."""
    order = list(Verdict)
    return max((check.verdict for check in checks), key=order.index, default=Verdict.FINE)


def in_order(checks: Iterable[Check]) -> tuple[Check, ...]:
    """What can kill first: by verdict, then by what is at stake, then as they come; all of taste in one block, last."""
    verdicts, kinds = list(Verdict), list(Kind)
    return tuple(
        sorted(
            checks,
            key=lambda one: (
                one.kind is Kind.TASTE,
                -verdicts.index(one.verdict),
                one.settled is None,
                kinds.index(one.kind),
            ),
        )
    )


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
        remedy: str = "",
        source: str,
        subject: str = "",
        care: str = "",
        edits: tuple[Edit, ...] = (),
        figure: float | None = None,
    ) -> Check:
        """A check of this stage; `figure` is what it turns on, in the unit that `settling` has for its name."""
        return Check(
            stage=self.stage,
            name=name,
            title=title,
            verdict=verdict,
            found=found,
            allowed=allowed,
            why=why,
            remedy=remedy,
            source=source,
            subject=subject,
            care=care,
            edits=edits,
            figure=None if figure is None else Measure(value=figure, unit=SETTLEABLE[name].unit),
        )
