"""Sheets part by part, papers that are made, the photo of a wall."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from bossage.web.models.common import In, Out, RevisionN, Words
from bossage.web.models.requests import Length


class ColumnOut(Out):
    """A column of a table. `kind`: text, strong, figure, small, tick (a box), patch (a colour), verdict."""

    head: str
    kind: str
    align: str
    wide: bool
    patch: str


class HeadingPart(Out):
    """A heading."""

    kind: Literal["heading"]
    text: str
    level: int


class ParaPart(Out):
    """A paragraph; `lead` stands before it in bold."""

    kind: Literal["para"]
    text: str
    lead: str
    small: bool


class FigureOut(Out):
    """A number that is looked for first."""

    value: str
    unit: str
    words: str


class FiguresPart(Out):
    """A row of such numbers."""

    kind: Literal["figures"]
    items: list[FigureOut]


class CarePart(Out):
    """A caution."""

    kind: Literal["care"]
    title: str
    text: str


class TablePart(Out):
    """A table; a thin line stands before each row whose number is in `groups`."""

    kind: Literal["table"]
    columns: list[ColumnOut]
    rows: list[list[str]]
    groups: list[int]
    total: list[str]


class DrawingPart(Out):
    """A drawing, as it is on paper."""

    kind: Literal["drawing"]
    svg: str
    title: str
    description: str
    caption: str
    width_mm: float
    height_mm: float


class StepsPart(Out):
    """Numbered steps."""

    kind: Literal["steps"]
    texts: list[str]
    first: int


class PicturePart(Out):
    """The lit picture: GET .../picture.png."""

    kind: Literal["picture"]
    description: str


class BesidePart(Out):
    """Two groups of parts side by side."""

    kind: Literal["beside"]
    left: list[PartOut]
    right: list[PartOut]


class CardPart(Out):
    """One job of several on a sheet."""

    kind: Literal["card"]
    title: str
    blanks: list[str]
    parts: list[PartOut]


PartOut = Annotated[
    HeadingPart
    | ParaPart
    | FiguresPart
    | CarePart
    | TablePart
    | DrawingPart
    | StepsPart
    | PicturePart
    | BesidePart
    | CardPart,
    Field(discriminator="kind"),
]


class SheetOut(Out):
    """One station's sheet: first line what to do, last line what to do when it went wrong."""

    name: str
    title: str
    todo: str
    wrong: str
    scale: str
    landscape: bool
    parts: list[PartOut]


class PapersIn(In):
    """What to put on paper: all of the pack, or some sheets; of the head if no revision is given."""

    sheets: Annotated[list[Words], Field(min_length=1, max_length=60)] | None = None
    form: Literal["print", "large", "text"] = "print"
    revision_n: RevisionN | None = None


class JobOut(Out):
    """Long work. `share` of it is done, None where that cannot be told."""

    job_id: str
    state: Literal["waiting", "working", "done", "failed", "cancelled"]
    stage: str
    share: float | None
    words: str
    file_name: str | None
    stamp: str


Px = Annotated[float, Field(ge=-20_000, le=20_000)]


class PhotoOut(Out):
    """A photo of the wall, as it is kept: turned upright and made smaller."""

    photo_id: str
    width_px: int
    height_px: int
    marked: bool


class MarksIn(In):
    """Four points of a photo and where they are on the wall, in the same order.

    `points` in pixels of the photo as it is kept, from its upper left. `places` on the wall as the maker types them,
    from the left corner and from the floor; without them the points are the corners of a fixture (upper left, upper
    right, lower right, lower left), by its place in the brief.
    """

    points: Annotated[list[tuple[Px, Px]], Field(min_length=4, max_length=4)]
    places: Annotated[list[tuple[Length, Length]], Field(min_length=4, max_length=4)] | None = None
    fixture: Annotated[int, Field(ge=0, le=1000)] | None = None
