"""What a request asks for, and what comes of trials, remedies and sizes."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from bossage.web.models.behind import ZoneOut
from bossage.web.models.common import Advice, FaultOut, In, Name, Out, PieceId, RevisionN, Words
from bossage.web.models.plan import BandOut, Box, CheckOut, NoPlanOut, Said, TitleBlock

Step = Annotated[str, StringConstraints(max_length=80)] | Annotated[int, Field(ge=0, le=10**6)]


class EditIn(In):
    """One change of the brief's text; places in lists count from 0. `value` is what TOML holds."""

    op: Literal["set", "remove", "append", "insert"]
    path: Annotated[list[Step], Field(min_length=1, max_length=8)]
    value: object = None


class ChangesIn(In):
    """Changes of one revision, saved together as the next."""

    base_revision_n: RevisionN
    edits: Annotated[list[EditIn], Field(min_length=1, max_length=500)]
    words: Words = ""


class BaseIn(In):
    """The revision that the asker sees."""

    base_revision_n: RevisionN


class RestoreIn(BaseIn):
    """An earlier, or a refused, revision to be the newest again."""

    revision_n: RevisionN


class NamedIn(In):
    """A name for a revision; the head if no number is given."""

    name: Name
    revision_n: RevisionN | None = None


class TextIn(BaseIn):
    """The whole brief as text, to stand in place of the one there is."""

    toml: Annotated[str, StringConstraints(max_length=1_000_000)]
    words: Words = ""


class FromExample(In):
    """A piece that begins as one of the examples."""

    from_: Literal["example"]
    name: Name


class FromText(In):
    """A piece from a brief."""

    toml: Annotated[str, StringConstraints(max_length=1_000_000)]


class FromPiece(In):
    """A copy of a piece, with none of its history; of its head if no revision is given."""

    duplicate: PieceId
    revision_n: RevisionN | None = None
    name: Name | None = None


Length = Annotated[str, StringConstraints(max_length=40)] | Annotated[float, Field(ge=-1e6, le=1e6)]
Colour = Annotated[str, StringConstraints(max_length=20)]


class WallAnswer(In):
    """First question: the wall. Lengths as typed: a number in the piece's unit, or text such as `3 1/2 in`."""

    width: Length
    height: Length
    build: Literal["timber studs", "metal studs", "masonry"]
    first_stud: Length | None = None
    stud_spacing: Length | None = None


class HideAnswer(In):
    """Second question: what is to be hidden, by its lower left corner, size and how far it stands proud."""

    kind: Words
    name: Words = ""
    x: Length
    y: Length
    width: Length
    height: Length
    proud: Length


class BelowAnswer(In):
    """Third question: what stands below, how far into the room, and how far it is moved before the piece is lifted."""

    kind: Words
    x: Length
    width: Length
    top: Length
    far: Length | None = None
    moved: Length | None = None  # it stays where it is
    moved_by: str = ""


class BlockAnswer(In):
    """Fourth question: the face of a block, and the tallest of them."""

    width: Length
    height: Length
    tallest: Length


class ColoursAnswer(In):
    """Fifth question: the colours at the left and at the right, as hex."""

    left: Colour
    right: Colour
    left_name: Words = ""
    right_name: Words = ""


class AnswersIn(In):
    """The five questions answered."""

    name: Name
    unit: Literal["mm", "in"]
    wall: WallAnswer
    hide: HideAnswer
    below: BelowAnswer | None = None
    block: BlockAnswer
    colours: ColoursAnswer


class FromAnswers(In):
    """A piece from five questions. Faults name fields of the brief that was written from them."""

    answers: AnswersIn


NewPiece = FromExample | FromText | FromPiece | FromAnswers


class TryIn(BaseIn):
    """Changes to be tried, with nothing saved."""

    edits: Annotated[list[EditIn], Field(min_length=1, max_length=500)]


class Tried(Out):
    """What changes would do: what would be wrong with the brief, or what the checks would say."""

    faults: list[FaultOut]
    no_plan: NoPlanOut | None
    title_block: TitleBlock | None
    bands: list[BandOut]
    zones: list[ZoneOut]
    checks: list[CheckOut]
    appeared: list[str]
    gone: list[str]


class EditOut(Out):
    """One change of the brief's text."""

    op: Literal["set", "remove", "append", "insert"]
    path: list[str | int]
    value: object


class FixOut(Out):
    """What is advised for a check: a remedy that was tried, with its price and a mark to apply it by, or a question."""

    check_id: str
    advice: Advice
    remedy: str
    fix_id: str | None
    words: str
    price: str
    edits: list[EditOut]


class FixIn(BaseIn):
    """A remedy to be applied."""

    fix_id: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{16}$")]


class SizeOut(Box):
    """A size and place to choose, with what it gives up against the others."""

    columns: int
    rows: int
    leaves: int
    studs: int
    own: bool
    size: Said
    place: str
    covers_by: Said
    mass: Said
    cost: Said
    breaks: list[str]
    gives_up: list[str]
    edits: list[EditOut]


class SizesOut(Out):
    """Sizes that no other beats, best first, and the brief's own."""

    own: SizeOut
    sizes: list[SizeOut]
