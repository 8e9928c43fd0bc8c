"""What a sheet says, before any of it is ink: one list of parts, so that every form of it says the same."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

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
    `#rrggbb`), `verdict`, `blank` (a line to write on). `patch` is a colour shown over the head, `mm` a width on paper
    (0: as wide as its words). A tick cell that says `-` has no box.
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
    """One job of several on a sheet: a box to tick, a name, blanks to fill in; torn only where no page holds it."""

    title: str
    blanks: tuple[str, ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPage:
    """The rest of the sheet begins on a page of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """A page of its own without head, foot or margins: a drawing exactly as large as the paper, for sticker sheets."""

    drawing: Drawing


Part = Heading | Para | Figures | Care | Table | Drawn | Photo | Steps | Beside | Card | NewPage | Whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One station's paper. `name` is the word by which it can be asked for: `saw`, `paint`.

    `place` is where it is read: sheets that follow each other and have one place share pages. Without one it stands
    alone.
    """

    name: str
    title: str
    todo: str
    wrong: str
    parts: tuple[Part, ...]
    scale: str = ""
    landscape: bool = False
    place: str = ""


def in_shares(sheet: Sheet, most: int) -> list[Sheet]:
    """The sheet, or where it has more pages of stickers than `most`, several that share them, in order."""
    wholes = [part for part in sheet.parts if isinstance(part, Whole)]
    if len(wholes) <= most:
        return [sheet]
    count = -(-len(wholes) // most)
    each = -(-len(wholes) // count)
    others = tuple(part for part in sheet.parts if not isinstance(part, Whole))
    return [
        replace(
            sheet,
            title=f"{sheet.title}, part {number + 1} of {count}",
            parts=(*others, *wholes[number * each : (number + 1) * each]),
        )
        for number in range(count)
    ]


def parts_of(sheet: Sheet) -> Iterator[Part]:
    """Every part in reading order, those side by side one after the other, those of cards among them."""
    yield from _flat(sheet.parts)


def _flat(parts: tuple[Part, ...]) -> Iterator[Part]:
    for part in parts:
        if isinstance(part, Beside):
            yield from _flat((*part.left, *part.right))
        elif isinstance(part, Card):
            yield from _flat(part.parts)
        else:
            yield part
