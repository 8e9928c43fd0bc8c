"""What a sheet says, before any of it is ink: one list of parts, so that every form of it says the same."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from bossage.drawing.model import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading within a sheet."""

    text: str
    level: int = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Para:
    """A paragraph; `lead` stands before it in bold."""

    text: str
    lead: str = ""
    small: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One number that is looked for first, with its unit and what it is."""

    value: str
    unit: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """A row of such numbers."""

    items: tuple[Figure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Care:
    """A caution, at the step where the work can hurt somebody or spoil the piece."""

    title: str
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table.

    `kind`: `text`, `strong`, `figure` (18 pt and more), `small`, `tick` (a box for a pencil), `patch` (a colour, as
    `#rrggbb`), `verdict`. `patch` is a colour shown over the head, `mm` a width on paper (0: as wide as its words). A
    tick cell that says `-` has no box.
    """

    head: str = ""
    kind: str = "text"
    align: str = "left"
    wide: bool = False  # takes what room is left
    patch: str = ""
    mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows of words. A thin line stands before each row whose number is in `groups`."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    groups: tuple[int, ...] = ()
    total: tuple[str, ...] = ()
    tight: bool = False  # rows close together, so that a table stays on one sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A drawing at its scale; `caption` stands under it."""

    drawing: Drawing
    caption: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A picture file of the pack, as wide as the sheet unless that makes it higher than `highest_mm`."""

    name: str
    description: str
    highest_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Numbered steps, each with a box to tick."""

    texts: tuple[str, ...]
    first: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Two groups of parts side by side; `left_mm` is the width of the left one."""

    left: tuple[Part, ...]
    right: tuple[Part, ...]
    left_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One job of several on a sheet: a box to tick, a name, blanks to fill in; never torn over two pages."""

    title: str
    blanks: tuple[str, ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPage:
    """The rest of the sheet begins on a page of its own."""


Part = Heading | Para | Figures | Care | Table | Drawn | Photo | Steps | Beside | Card | NewPage


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One station's paper. `name` is the word by which it can be asked for: `saw`, `paint`."""

    name: str
    title: str
    todo: str
    wrong: str
    parts: tuple[Part, ...]
    scale: str = ""
    landscape: bool = False


@dataclass(slots=True)
class Files:
    """Drawings gathered while sheets are turned into data: file name to SVG."""

    svg: dict[str, str] = field(default_factory=dict)


def sheet_data(sheet: Sheet, files: Files) -> dict[str, object]:
    """The sheet as plain values for the template; its drawings go into `files`."""
    return {
        "name": sheet.name,
        "title": sheet.title,
        "todo": sheet.todo,
        "wrong": sheet.wrong,
        "scale": sheet.scale or None,
        "landscape": sheet.landscape,
        # Setting a sheet twice takes time: only one that is near the end of its page is tried closer.
        "fits": 0.8 < sum(_rough_mm(part) for part in sheet.parts) / PAGE_MM < 1.5,
        "parts": [_part_data(part, files) for part in sheet.parts],
    }


PAGE_MM = 205.0  # of an upright page, for its parts


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
    # Cards and pages of their own break anyhow.
    return {Heading: 12.0, Figures: 22.0}.get(type(part), 2 * PAGE_MM)


def parts_of(sheet: Sheet) -> Iterator[Part]:
    """Every part in reading order, those side by side one after the other."""
    for part in sheet.parts:
        if isinstance(part, Beside):
            yield from (*part.left, *part.right)
        elif isinstance(part, Card):
            yield from part.parts
        else:
            yield part


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
            "rows": [list(row) for row in part.rows],
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
        }
    if isinstance(part, Card):
        inner = [_part_data(one, files) for one in part.parts]
        return {"kind": "card", "title": part.title, "blanks": list(part.blanks), "parts": inner}
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
    from bossage.drawing.svg import svg_text

    name = f"drawing-{len(files.svg) + 1:03}.svg"
    files.svg[name] = svg_text(part.drawing)
    return {
        "kind": "drawn",
        "file": name,
        "alt": f"{part.drawing.title}. {part.drawing.description}",
        "width": round(part.drawing.paper_width_mm, 4),
        "height": round(part.drawing.paper_height_mm, 4),
        "caption": part.caption,
    }
