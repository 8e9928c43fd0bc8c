"""A sheet as plain values for the template that sets it in print; its drawings become files beside them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

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
        "parts": _parts_data([part for part in sheet.parts if not isinstance(part, Whole)], files),
        "wholes": [_drawn_data(Drawn(drawing=part.drawing), files) for part in sheet.parts if isinstance(part, Whole)],
        "tail": _tail_n(sheet),
    }


def runs(sheets: Iterable[Sheet]) -> list[list[Sheet]]:
    """Sheets that are set one after the other, without a new page: neighbours of one place, on paper of one way up.

    A sheet without a place stands alone, and so does one with pages of stickers. Within a run a caution stands once,
    and so do a paragraph, and a first and a last line that neighbours have in common.
    """
    found: list[list[Sheet]] = []
    for sheet in sheets:
        last = found[-1][-1] if found else None
        if last is not None and last.place and _stands(last) == _stands(sheet) and not _whole(last) | _whole(sheet):
            found[-1].append(sheet)
        else:
            found.append([sheet])
    return [_said_once(run) for run in found]


def _said_once(run: list[Sheet]) -> list[Sheet]:
    """The sheets of a run without what another of them says already."""
    seen: set[Part] = set()
    made = []
    for before, sheet, after in zip([None, *run], run, [*run[1:], None], strict=False):
        made.append(
            replace(
                sheet,
                todo="" if before is not None and before.todo == sheet.todo else sheet.todo,
                wrong="" if after is not None and after.wrong == sheet.wrong else sheet.wrong,
                parts=_cared_once(sheet.parts, seen),
            )
        )
    return made


def _cared_once(parts: tuple[Part, ...], seen: set[Part]) -> tuple[Part, ...]:
    """Parts without cautions and paragraphs that were met before; those met are added to `seen`."""
    kept: list[Part] = []
    for part in parts:
        if isinstance(part, Care) or (isinstance(part, Para) and len(part.text) > SAID_AGAIN):
            if part in seen:
                continue
            seen.add(part)
        elif isinstance(part, Beside):
            kept.append(replace(part, left=_cared_once(part.left, seen), right=_cared_once(part.right, seen)))
            continue
        kept.append(part)
    return tuple(kept)


def _stands(sheet: Sheet) -> tuple[str, bool]:
    return sheet.place, sheet.landscape


def _whole(sheet: Sheet) -> bool:
    return any(isinstance(part, Whole) for part in sheet.parts)


def alt_text(drawing: Drawing) -> str:
    """A drawing for those who cannot see it, as long as a paragraph at the most; the plain text form has it all."""
    said = " ".join([f"{drawing.title}. {drawing.description}", *drawing.reading])
    return said if len(said) <= LONGEST_ALT else f"{drawing.title}. {drawing.description}"


LONGEST_ALT = 1500
TAIL_MM = 40.0
SAID_AGAIN = 40  # letters; a longer paragraph is not said twice in a run
PAGE_MM = 205.0  # of an upright page, for its parts


def _tail_n(sheet: Sheet) -> int:
    """How many parts at the end stay together, so that no last line goes over to a page alone."""
    count, high_mm = 0, 0.0
    for part in reversed([part for part in sheet.parts if not isinstance(part, Whole)]):
        if isinstance(part, Beside | Card | Care | NewPage | Photo) or (isinstance(part, Table) and len(part.rows) > 6):
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
        return 7.0 + 5.0 * (len(part.text) // 85)
    if isinstance(part, Steps):
        return 11.0 * len(part.texts)
    if isinstance(part, Beside):
        return max(sum(map(_rough_mm, side)) for side in (part.left, part.right))
    return {Heading: 12.0, Figures: 22.0}.get(type(part), 0.0)


def _parts_data(parts: Sequence[Part], files: Files) -> list[dict[str, object]]:
    """Parts in their order; cautions that follow each other are one part, under one bar."""
    made: list[dict[str, object]] = []
    for caution, group in groupby(parts, key=lambda part: isinstance(part, Care)):
        if caution:
            made.append({"kind": "cares", "items": [[one.title, one.text] for one in group if isinstance(one, Care)]})
        else:
            made += [_part_data(part, files) for part in group]
    return made


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
            "left": _parts_data(part.left, files),
            "right": _parts_data(part.right, files),
            "width": part.left_mm,
            "keep": _rough_mm(part) < 0.4 * PAGE_MM,  # what is low is not torn over two pages
        }
    if isinstance(part, Card):
        # a small first paragraph stands in the line of the title
        first = part.parts[0] if part.parts else None
        note = first.text if isinstance(first, Para) and first.small else ""
        inner = _parts_data(part.parts[1:] if note else part.parts, files)
        return {"kind": "card", "title": part.title, "blanks": list(part.blanks), "note": note, "parts": inner}
    return {"kind": "page"}


def _words_data(part: Part) -> dict[str, object] | None:
    if isinstance(part, Heading):
        return {"kind": "heading", "text": part.text, "level": part.level}
    if isinstance(part, Para):
        return {"kind": "para", "text": part.text, "lead": part.lead, "small": part.small}
    if isinstance(part, Figures):
        return {"kind": "figures", "items": [[item.value, item.unit, item.words] for item in part.items]}
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
