"""Every sentence that the product prints: papers, checks, faults of a brief, screen; and how long each is."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from bossage.brief.faults import BriefFaults
from bossage.brief.reader import read_brief
from bossage.pack.catalogue import pack_sheets
from bossage.plan import NoPlan, Plan, make_plan

PAGE_WORDS = sorted((Path(__file__).parents[1] / "ui" / "src").glob("words*.ts"))
END = re.compile(r"(?<=[.!?;])\s+(?=\S)|\n+")
WORD = re.compile(r"[A-Za-z]{2}|^[aAI]$")
LEAST_WORDS = 4  # shorter ones are labels


def sentences(texts: Iterable[str]) -> Iterator[tuple[str, int]]:
    """Each sentence with its number of words; figures, units and codes are none. A semicolon ends a thought."""
    for text in texts:
        for sentence in END.split(text):
            words = sum(bool(WORD.search(word)) for word in sentence.split())
            names = 2 * sentence.count(",") > words  # a list of keys, which nobody reads as a thought
            if words >= LEAST_WORDS and not names:
                yield sentence, words


def on_paper(plan: Plan) -> Iterator[str]:
    """Every text of every sheet, and of every check."""
    for sheet in pack_sheets(plan):
        yield from texts_of(sheet)
    for check in plan.checks:
        yield from texts_of(check)


def of_a_brief(text: str) -> Iterator[str]:
    """What a brief draws: its papers and checks, or the faults that are told."""
    try:
        plan = make_plan(read_brief(text))
    except BriefFaults as faults:
        for fault in faults.faults:
            yield from texts_of(fault)
        return
    yield from texts_of(plan) if isinstance(plan, NoPlan) else on_paper(plan)


def on_screen() -> Iterator[str]:
    """What the page says of itself: the literals of its words, each figure put in as one."""
    for path in PAGE_WORDS:
        for line in path.read_text(encoding="utf-8").splitlines():
            for literal in re.findall(r"\"((?:[^\"\\]|\\.)*)\"|`([^`]*)`", line.split("// ")[0]):
                yield re.sub(r"\$\{[^}]*\}", "7", "".join(literal))


def texts_of(value: object) -> Iterator[str]:
    """Every text inside a record, however deep."""
    if isinstance(value, str):
        yield value
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from texts_of(getattr(value, field.name))
    elif isinstance(value, dict):
        for one in value.values():
            yield from texts_of(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from texts_of(one)
