"""The sheets of a stage for the screen: the same parts as on paper, drawings as SVG text."""

from __future__ import annotations

from typing import Any

from bossage.drawing.svg import svg_text
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheet import (
    Beside,
    Card,
    Care,
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
from bossage.plan import Plan

Json = dict[str, Any]

#: Which sheets of the pack a stage of the screen shows: each sheet once; `papers` has those of the whole job.
STAGE_SHEETS: dict[str, tuple[str, ...]] = {
    "wall": ("wall",),
    "sizes": ("sizes",),
    "relief": ("trays", "map"),
    "fade": ("scales",),
    "saw": ("saw", "boards", "lengths", "sand"),
    "paint": ("paint", "ground", "grounds", "paintways", "stain", "recipes", "onepot", "testcard"),
    "press": ("wood", "methods", "press", "cards", "ring"),
    "hang": ("back", "hang", "loads", "basis", "access", "household"),
    "ask": ("ask", "answers"),
    "papers": (
        *("first", "days", "timeline", "survey", "approval", "quote", "shopping", "costs", "traylabels"),
        *("touch", "helpers", "names", "slips", "drylay", "strips", "backs", "rows", "care", "checks", "assumed"),
    ),
}


def stage_sheets(plan: Plan, stage: str) -> list[Json]:
    """The sheets of a stage, what is asked for most first (`SheetOut`)."""
    names = STAGE_SHEETS[stage]
    return [_sheet(sheet) for sheet in sorted(pack_sheets(plan, names), key=lambda sheet: names.index(sheet.name))]


def _sheet(sheet: Sheet) -> Json:
    return {
        "name": sheet.name,
        "title": sheet.title,
        "todo": sheet.todo,
        "wrong": sheet.wrong,
        "scale": sheet.scale,
        "landscape": sheet.landscape,
        "parts": _parts(sheet.parts),
    }


def _parts(parts: tuple[Part, ...]) -> list[Json]:
    return [_part(part) for part in parts if not isinstance(part, NewPage)]


def _part(part: Part) -> Json:
    if isinstance(part, Table):
        return {
            "kind": "table",
            "columns": [
                {"head": c.head, "kind": c.kind, "align": c.align, "wide": c.wide, "patch": c.patch}
                for c in part.columns
            ],
            "rows": [list(row) for row in part.rows],
            "groups": list(part.groups),
            "total": list(part.total),
        }
    if isinstance(part, Drawn | Whole):
        return _drawing(part)
    if isinstance(part, Beside):
        return {"kind": "beside", "left": _parts(part.left), "right": _parts(part.right)}
    if isinstance(part, Card):
        return {"kind": "card", "title": part.title, "blanks": list(part.blanks), "parts": _parts(part.parts)}
    return _words(part)


def _drawing(part: Drawn | Whole) -> Json:
    drawing = part.drawing
    return {
        "kind": "drawing",
        "svg": svg_text(drawing),
        "title": drawing.title,
        "description": drawing.description,
        "caption": part.caption if isinstance(part, Drawn) else "",
        "width_mm": drawing.paper_width_mm,
        "height_mm": drawing.paper_height_mm,
    }


def _words(part: Part) -> Json:
    if isinstance(part, Heading):
        return {"kind": "heading", "text": part.text, "level": part.level}
    if isinstance(part, Para):
        return {"kind": "para", "text": part.text, "lead": part.lead, "small": part.small}
    if isinstance(part, Figures):
        items = [{"value": item.value, "unit": item.unit, "words": item.words} for item in part.items]
        return {"kind": "figures", "items": items}
    if isinstance(part, Care):
        return {"kind": "care", "title": part.title, "text": part.text}
    if isinstance(part, Steps):
        return {"kind": "steps", "texts": list(part.texts), "first": part.first}
    if isinstance(part, Photo):
        return {"kind": "picture", "description": part.description}
    raise TypeError(f"{type(part).__name__} has no form on the screen")
