"""A sheet as plain text in reading order: for a screen reader, or to be read out across a shop.

One thing a line, no lines drawn with letters, nothing that only its place tells. Every number that stands on the
printed sheet stands here, those on drawings too: a drawing gives its own lines to read, and what is written on it and
said nowhere yet follows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from bossage.drawing.model import Drawing
from bossage.drawing.plain import plain
from bossage.drawing.shapes import Label
from bossage.pack.sheet import (
    Beside,
    Card,
    Care,
    Column,
    Drawn,
    Figures,
    Heading,
    NewPage,
    Para,
    Part,
    Photo,
    Sheet,
    Steps,
    Table,
    Whole,
)
from bossage.pack.words import sentence
from bossage.plan import Plan

#: A box to tick, as a screen reader says it.
BOX = "[ ]"


def spoken(plan: Plan, sheet: Sheet) -> str:
    """The sheet as text, lines ended by a line feed."""
    piece = plan.brief.piece
    of = f" of {piece.date}" if piece.date else ""
    lines = [sheet.title, f"{piece.name}, plan {plan.stamp}{of}.", f"What to do here: {sheet.todo}", ""]
    for part in sheet.parts:
        lines += _part(part)
    if sheet.scale:
        bar = "4 in" if piece.unit.value == "in" else "100 mm"
        lines += ["", f"The printed sheet has drawings at scale {sheet.scale} and a bar of {bar} to measure."]
    lines += ["", f"When it went wrong: {sheet.wrong}"]
    return "\n".join(_without_double_blanks(lines)) + "\n"


def drawing_lines(drawing: Drawing) -> list[str]:
    """A drawing in words: what it shows, its own lines to read, then whatever is written on it and not said yet."""
    lines = [f"Drawing: {drawing.title}. {drawing.description}", *drawing.reading]
    said = set(numbers(" ".join(lines)))
    heard = " ".join(lines).casefold()
    rest: dict[str, list[str]] = {}
    for label in _labels(drawing):
        missing = set(numbers(label.text)) - said
        if missing or (not numbers(label.text) and label.text.casefold() not in heard):
            rest.setdefault(label.layer or "words", []).append(label.text)
    return [*lines, *(f"Written on it, {layer}: {'; '.join(texts)}." for layer, texts in rest.items())]


def numbers(text: str) -> list[str]:
    """Every number in a text, as it is written: `1,024`, `3-1/2`, `1½`, `0.5`."""
    return re.findall(r"\d(?:[\d.,/-]*[\d])?[½¼¾⅛⅜⅝⅞]?|[½¼¾⅛⅜⅝⅞]", text)


def _labels(drawing: Drawing) -> list[Label]:
    """What is written on a drawing, line by line from the top."""
    found = [
        label
        for shape in drawing.shapes
        for label in plain(shape, drawing.scale_n)
        if isinstance(label, Label) and label.text.strip()
    ]
    line_mm = 2.0 * drawing.scale_n
    return sorted(found, key=lambda label: (-round(label.at[1] / line_mm), label.at[0]))


def _part(part: Part) -> Iterator[str]:
    if isinstance(part, Table):
        yield from ("", *table_lines(part), "")
    elif isinstance(part, Drawn | Whole):
        yield from ("", *drawing_lines(part.drawing))
        if isinstance(part, Drawn) and part.caption:
            yield part.caption
    elif isinstance(part, Steps):
        yield from ("", *(f"{BOX} {number}. {text}" for number, text in enumerate(part.texts, start=part.first)), "")
    elif isinstance(part, Beside):
        for inner in (*part.left, *part.right):
            yield from _part(inner)
    elif isinstance(part, Card):
        yield from ("", f"{BOX} {part.title}", *(f"{blank}: to fill in." for blank in part.blanks))
        for inner in part.parts:
            yield from _part(inner)
    else:
        yield from _words(part)


def _words(part: Heading | Para | Figures | Care | Photo | NewPage) -> Iterator[str]:
    if isinstance(part, Heading):
        yield from ("", part.text)
    elif isinstance(part, Para):
        yield f"{part.lead} {part.text}".strip()
    elif isinstance(part, Figures):
        yield from (f"{item.words}: {f'{item.value} {item.unit}'.strip()}." for item in part.items)
    elif isinstance(part, Care):
        yield from ("", f"Take care: {sentence(f'{part.title} {part.text}'.strip())}")
    elif isinstance(part, Photo):
        yield f"Picture: {part.description}"
    else:
        yield ""


def table_lines(table: Table) -> list[str]:
    """Each row as one line: every cell after the head of its column."""
    lines = [row_line(table.columns, row) for row in table.rows]
    if table.total:
        untold = tuple(replace(column, kind="text") if column.kind == "tick" else column for column in table.columns)
        lines.append(f"In all: {row_line(untold, table.total)}")
    return lines


def row_line(columns: tuple[Column, ...], row: tuple[str, ...]) -> str:
    """One row: `level, mm: 18; lichen 82: 3; [ ] done`. Patches are left out: their names stand beside them."""
    said = [words for column, cell in zip(columns, row, strict=True) if (words := _cell(column, cell))]
    return sentence("; ".join(said))


def _cell(column: Column, cell: str) -> str:
    if column.kind == "patch":
        return ""
    if column.kind == "tick":
        return "" if cell == "-" else f"{BOX} {column.head}".strip()
    if column.kind == "blank":
        return f"{column.head}: {cell or 'to fill in'}" if column.head else (cell or "to fill in")
    if not cell:
        return ""
    return f"{column.head}: {cell}" if column.head else cell


def _without_double_blanks(lines: list[str]) -> Iterator[str]:
    last = ""
    for line in lines:
        if line or last:
            yield line
        last = line
