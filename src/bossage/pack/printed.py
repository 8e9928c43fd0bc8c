"""A sheet as plain values for the template that sets it in print; its drawings become files beside them."""

from __future__ import annotations

from dataclasses import dataclass, field

from bossage.drawing.model import Drawing
from bossage.drawing.svg import svg_text
from bossage.pack.overlay import words_apart
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
from bossage.pack.short_names import breakable, short_names
from bossage.plan import Plan


@dataclass(slots=True)
class Files:
    """Drawings gathered while sheets are turned into data: file name to SVG."""

    svg: dict[str, str] = field(default_factory=dict)


def piece_data(plan: Plan) -> dict[str, object]:
    """What stands in the title block of every sheet."""
    piece = plan.brief.piece
    long = {one.full: one.short for one in short_names(plan.brief)}
    return {
        "name": long.get(piece.name, piece.name),
        "stamp": plan.stamp,
        "date": piece.date,
        "paper": piece.paper,
        "inches": piece.unit.value == "in",
    }


def sheet_data(sheet: Sheet, files: Files) -> dict[str, object]:
    """The sheet as plain values for the template; its drawings go into `files`."""
    return {
        "name": sheet.name,
        "title": sheet.title,
        "todo": sheet.todo,
        "wrong": sheet.wrong,
        "scale": sheet.scale or None,
        "landscape": sheet.landscape,
        "fits": _may_fit(sheet),
        "parts": [_part_data(part, files) for part in sheet.parts],
        "tail": _tail_n(sheet),
    }


def alt_text(drawing: Drawing) -> str:
    """A drawing for those who cannot see it, as long as a paragraph at the most; the plain text form has it all."""
    said = " ".join([f"{drawing.title}. {drawing.description}", *drawing.reading])
    return said if len(said) <= LONGEST_ALT else f"{drawing.title}. {drawing.description}"


LONGEST_ALT = 1500
MOST_PAGES, TAIL_MM = 5.0, 70.0
PAGE_MM = 205.0  # of an upright page, for its parts


def _may_fit(sheet: Sheet) -> bool:
    """Whether a sheet is worth setting twice, once closer: of a page or a few, without cards of its own."""
    if any(isinstance(part, Card | NewPage | Whole) for part in sheet.parts):
        return False
    return 0.8 < sum(_rough_mm(part) for part in sheet.parts) / PAGE_MM < MOST_PAGES


def _tail_n(sheet: Sheet) -> int:
    """How many parts at the end stay together, so that no last line goes over to a page alone."""
    count, high_mm = 0, 0.0
    for part in reversed(sheet.parts):
        if isinstance(part, Beside | Card | NewPage | Whole | Photo) or (
            isinstance(part, Table) and len(part.rows) > 6
        ):
            break
        high_mm += _rough_mm(part)
        if high_mm > TAIL_MM:
            break
        count += 1
    return count


def _rough_mm(part: Part) -> float:
    """About how high a part is on paper."""
    if isinstance(part, Table):
        ticks = any(column.kind == "tick" for column in part.columns)
        return 14.0 + sum((9.0 if ticks else 6.5) + 4.5 * (max(map(len, row)) // 60) for row in part.rows)
    if isinstance(part, Drawn):
        return part.drawing.paper_height_mm + 10.0
    if isinstance(part, Photo):
        return part.highest_mm
    if isinstance(part, Para):
        return 7.0 + 5.0 * (len(part.text) // 85)
    if isinstance(part, Care):
        return 12.0 + 5.0 * (len(part.text) // 85)
    if isinstance(part, Steps):
        return 11.0 * len(part.texts)
    if isinstance(part, Beside):
        return max(sum(map(_rough_mm, side)) for side in (part.left, part.right))
    return {Heading: 12.0, Figures: 22.0}.get(type(part), 0.0)


def _part_data(part: Part, files: Files) -> dict[str, object]:
    simple = _words_data(part)
    if simple is not None:
        return simple
    if isinstance(part, Table):
        return {
            "kind": "table",
            "columns": [
                {"head": c.head, "kind": c.kind, "align": c.align, "wide": c.wide, "patch": c.patch, "mm": c.mm}
                for c in part.columns
            ],
            "tight": part.tight,
            # A short table stays on one page; one with long texts may be higher than a page.
            "keep": len(part.rows) <= 14 and max((len(cell) for row in part.rows for cell in row), default=0) <= 90,
            "rows": [[breakable(cell) for cell in row] for row in part.rows],
            "groups": list(part.groups),
            "total": list(part.total),
        }
    if isinstance(part, Drawn):
        return _drawn_data(part, files)
    if isinstance(part, Photo):
        return {"kind": "photo", "file": part.name, "alt": part.description, "highest": part.highest_mm}
    if isinstance(part, Beside):
        return {
            "kind": "beside",
            "left": [_part_data(inner, files) for inner in part.left],
            "right": [_part_data(inner, files) for inner in part.right],
            "width": part.left_mm,
            "keep": _rough_mm(part) < 0.8 * PAGE_MM,  # what fits on a page is not torn over two
        }
    if isinstance(part, Card):
        inner = [_part_data(one, files) for one in part.parts]
        return {"kind": "card", "title": part.title, "blanks": list(part.blanks), "parts": inner}
    if isinstance(part, Whole):
        return _drawn_data(Drawn(drawing=part.drawing), files) | {"kind": "whole"}
    return {"kind": "page"}


def _words_data(part: Part) -> dict[str, object] | None:
    if isinstance(part, Heading):
        return {"kind": "heading", "text": part.text, "level": part.level}
    if isinstance(part, Para):
        return {"kind": "para", "text": part.text, "lead": part.lead, "small": part.small}
    if isinstance(part, Figures):
        return {"kind": "figures", "items": [[item.value, item.unit, item.words] for item in part.items]}
    if isinstance(part, Care):
        return {"kind": "care", "title": part.title, "text": part.text}
    if isinstance(part, Steps):
        return {"kind": "steps", "texts": list(part.texts), "first": part.first}
    return None


def _drawn_data(part: Drawn, files: Files) -> dict[str, object]:
    drawing, words = words_apart(part.drawing.framed())
    name = f"drawing-{len(files.svg) + 1:03}.svg"
    files.svg[name] = svg_text(drawing)
    return {
        "kind": "drawn",
        "file": name,
        "alt": alt_text(drawing),
        "width": round(drawing.paper_width_mm, 4),
        "height": round(drawing.paper_height_mm, 4),
        "words": words,
        "caption": part.caption,
    }
