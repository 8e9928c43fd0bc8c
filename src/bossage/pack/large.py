"""Large print: every sheet again in one column, nothing under 18 pt, black on white.

A table too wide for that is told row by row. A drawing is enlarged to the width of the page; words on it that would
be smaller are set at 18 pt where they find room within their own field and clear of one another, and left out where
they do not, because all of them follow in words.

18 pt is the least that large print for poor sight is commonly given (clear-print practice, from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from bossage.drawing.box import Box
from bossage.drawing.extent import label_box
from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.plain import plain
from bossage.drawing.shapes import Label, Rect, Shape
from bossage.drawing.svg import svg_text
from bossage.pack.overlay import words_apart
from bossage.pack.printed import Files, alt_text
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
from bossage.pack.sheets.common import PAPER_MM
from bossage.pack.short_names import breakable
from bossage.pack.spoken import drawing_lines
from bossage.plan import Plan

LARGE_MM = 18 * 25.4 / 72
MARGIN_MM, COLUMN_GAP_MM, TICK_MM, PATCH_MM = 15.0, 5.0, 10.0, 20.0  # as templates/large.typ sets them
HIGHEST_MM = 190.0  # of a drawing
LONGEST_WORD_MM = 26.0  # as wide in body type; a longer word in a table may be broken
WIDE_COLUMN_MM = 70.0  # a column of sentences is not set narrower


def large_data(plan: Plan) -> Callable[[Sheet, Files], dict[str, object]]:
    """How a sheet of this plan becomes plain values for the template of large print; drawings go into the files."""
    width_mm = PAPER_MM[plan.brief.piece.paper][0] - 2 * MARGIN_MM

    def data(sheet: Sheet, files: Files) -> dict[str, object]:
        parts = [one for part in sheet.parts for one in _part(part, files, width_mm)]
        return {"name": sheet.name, "title": sheet.title, "todo": sheet.todo, "wrong": sheet.wrong, "parts": parts}

    return data


def enlarged(drawing: Drawing, *, width_mm: float, height_mm: float) -> tuple[Drawing, bool]:
    """The drawing as large as the room allows with no word under 18 pt, and whether every word is still on it."""
    times = min(width_mm / drawing.paper_width_mm, height_mm / drawing.paper_height_mm)
    scale_n = drawing.scale_n / times
    parts = [part for shape in drawing.shapes for part in plain(shape, drawing.scale_n)]
    fields = [_box(part) for part in parts if isinstance(part, Rect)]
    kept: list[Shape] = [part for part in parts if not isinstance(part, Label)]
    taken: list[Box] = []
    labels = [part for part in parts if isinstance(part, Label)]
    frame = drawing.extent()
    cramped: set[str] = set()
    fitting: list[tuple[Label, bool]] = []
    for label in sorted(labels, key=lambda one: (not one.bold, -one.size_mm)):
        bigger = replace(label, size_mm=max(LARGE_MM, label.size_mm * times))
        box = label_box(bigger, scale_n)
        field = _field(label, fields, drawing.scale_n)
        clear = not any(box.meets(other, 0.4 * scale_n) for other in taken)
        if clear and frame.holds(box) and (field is None or field.holds(box)):
            taken.append(box)
            fitting.append((bigger, field is not None))
        elif field is not None:
            cramped.add(label.layer)
    # A map on which some blocks have their number and some do not would mislead: all of a kind, or none.
    kept += [label for label, in_field in fitting if not (in_field and label.layer in cramped)]
    return replace(drawing, shapes=tuple(kept), scale_n=scale_n, frame=frame), len(fitting) == len(labels)


def _field(label: Label, fields: list[Box], scale_n: float) -> Box | None:
    """The smallest rectangle that a label stands in."""
    own = label_box(label, scale_n)
    return min(
        (field for field in fields if field.holds(own)), key=lambda box: box.width_mm * box.height_mm, default=None
    )


def _box(rect: Rect) -> Box:
    return Box(
        left_mm=rect.x_mm, bottom_mm=rect.y_mm, right_mm=rect.x_mm + rect.width_mm, top_mm=rect.y_mm + rect.height_mm
    )


def _part(part: Part, files: Files, width_mm: float) -> list[dict[str, object]]:
    if isinstance(part, Heading):
        return [{"kind": "heading", "text": part.text}]
    if isinstance(part, Para):
        return [{"kind": "para", "lead": part.lead, "text": part.text}]
    if isinstance(part, Figures):
        return [{"kind": "figures", "items": [[i.value, i.unit, i.words] for i in part.items]}]
    if isinstance(part, Care):
        return [{"kind": "care", "title": part.title, "text": part.text}]
    if isinstance(part, Table):
        return [_table(part, width_mm)]
    if isinstance(part, Drawn | Whole):
        return _drawn(part.drawing, part.caption if isinstance(part, Drawn) else "", files, width_mm)
    if isinstance(part, Photo):
        return [{"kind": "photo", "file": part.name, "alt": part.description}]
    if isinstance(part, Steps):
        return [{"kind": "steps", "texts": list(part.texts), "first": part.first}]
    if isinstance(part, Beside):
        return [one for inner in (*part.left, *part.right) for one in _part(inner, files, width_mm)]
    if isinstance(part, Card):
        head: dict[str, object] = {"kind": "card", "title": part.title, "blanks": list(part.blanks)}
        return [head, *(one for inner in part.parts for one in _part(inner, files, width_mm))]
    assert isinstance(part, NewPage)
    return [{"kind": "page"}]


def _drawn(drawing: Drawing, caption: str, files: Files, width_mm: float) -> list[dict[str, object]]:
    larger, whole = enlarged(drawing, width_mm=width_mm, height_mm=HIGHEST_MM)
    name = f"drawing-{len(files.svg) + 1:03}.svg"
    bare, words = words_apart(larger)
    files.svg[name] = svg_text(bare)
    picture: dict[str, object] = {
        "kind": "drawn",
        "file": name,
        "alt": alt_text(drawing),
        "width": round(larger.paper_width_mm, 4),
        "height": round(larger.paper_height_mm, 4),
        "words": words,
    }
    lines = [] if whole else drawing_lines(drawing)
    return [picture, {"kind": "lines", "texts": [*lines, *([caption] if caption else [])]}]


def _table(table: Table, width_mm: float) -> dict[str, object]:
    columns = [
        {"head": column.head, "kind": column.kind, "align": column.align, "wide": column.wide, "patch": column.patch}
        for column in table.columns
    ]
    wide = sum(_least_mm(column, number, table) for number, column in enumerate(table.columns))
    fits = wide + COLUMN_GAP_MM * (len(columns) - 1) <= width_mm
    return {
        "kind": "table" if fits else "records",
        "columns": columns,
        "rows": [[breakable(cell, LONGEST_WORD_MM) for cell in row] for row in table.rows],
        "total": list(table.total),
    }


def _least_mm(column: Column, number: int, table: Table) -> float:
    """Width that a column needs at 18 pt: its longest cell, or enough for sentences; a head may break at spaces."""
    cells = [row[number] for row in (*table.rows, table.total) if row]
    if column.kind == "tick":
        cells = []
    longest = max((text_width(cell, bold=True) for cell in cells), default=0.0) * LARGE_MM
    if column.kind == "figure":
        longest *= 1.35
    if column.kind == "blank":
        longest = WIDE_COLUMN_MM
    if column.wide and longest > WIDE_COLUMN_MM:
        longest = WIDE_COLUMN_MM
    head = max((text_width(word, bold=True) for word in column.head.split()), default=0.0) * LARGE_MM
    fixed = {"tick": TICK_MM, "patch": PATCH_MM, "verdict": 34.0}.get(column.kind, 0.0)
    return max(longest if column.kind != "patch" else 0.0, head, fixed)
