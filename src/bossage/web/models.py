"""What goes in and out of the API, for its description: fields as in the records, units in their names.

Lengths are millimetres. What is read by a person comes ready made as `text`, in the piece's own unit.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Verdict = Literal["fine", "caution", "stop"]
Words = Annotated[str, StringConstraints(max_length=200)]
Name = Annotated[str, StringConstraints(min_length=1, max_length=120)]
Stamp = Annotated[str, StringConstraints(max_length=20)]
RevisionN = Annotated[int, Field(ge=1, le=10**9)]
PieceId = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{12}$")]


class Out(BaseModel):
    """An answer."""

    model_config = ConfigDict(extra="forbid")


class In(BaseModel):
    """A request."""

    model_config = ConfigDict(extra="forbid")


# -- errors -------------------------------------------------------------------------------------------------------


class Error(Out):
    """What was found, what is allowed, what to do."""

    title: str
    found: str
    allowed: str
    remedy: str


class FaultOut(Out):
    """One thing that is wrong with a brief; `field` counts from 1, as a maker does: `footprint[2].width`."""

    field: str
    found: str
    allowed: str
    remedy: str


class Conflict(Out):
    """Two changes of one revision: the one that stands, and the refused one, kept."""

    theirs_revision_n: int
    mine_revision_n: int | None


class Refused(Out):
    """Every answer that is not what was asked for."""

    error: Error
    faults: list[FaultOut]
    conflict: Conflict | None


# -- pieces -------------------------------------------------------------------------------------------------------


class Session(Out):
    """What this server is and where a visit begins."""

    version: str
    unit_default: Literal["mm", "in"]
    example_open: str | None
    examples: list[ExampleOut]
    sheets: list[str]
    forms: list[str]


class ExampleOut(Out):
    """An example that comes with bossage."""

    name: str
    about: str


class PieceLine(Out):
    """A piece in the list."""

    piece_id: str
    name: str
    revision_n: int
    changed_at: str
    discarded: bool
    verdict: Literal["fine", "caution", "stop", "no plan"]
    stamp: str


class VersionOut(Out):
    """A revision that the maker named."""

    name: str
    revision_n: int
    made_at: str


class PieceShort(Out):
    """A piece at one of its revisions. `revision_n` is the one asked for, `head_n` the one that stands."""

    piece_id: str
    name: str
    unit: Literal["mm", "in"]
    revision_n: int
    head_n: int
    words: str
    can_undo: bool
    can_redo: bool
    undo_words: str | None
    redo_words: str | None
    discarded: bool
    versions: list[VersionOut]


class PieceOut(PieceShort):
    """The same with its brief: as text, and as plain values (lengths as the maker wrote them)."""

    toml: str
    brief: dict[str, object]


class RevisionLine(Out):
    """One line of a piece's history. `aside`: refused because a newer one stood, and kept."""

    revision_n: int
    parent_n: int | None
    saved_at: str
    words: str
    name: str
    seed: int
    stamp: str
    verdict: Literal["fine", "caution", "stop", "no plan"]
    aside: bool


# -- a plan -------------------------------------------------------------------------------------------------------


class Said(Out):
    """A value and how it is said."""

    value: float | int | None
    text: str


class SaidVerdict(Out):
    """The heaviest verdict of all."""

    value: Verdict
    text: str


class TitleBlock(Out):
    """What stands in the title block at the foot of the sheet."""

    size: Said
    depth: Said
    mass: Said
    cost: Said
    hours: Said
    sticks: Said
    blocks: Said
    verdict: SaidVerdict


class About(Out):
    """Where a check belongs: the sheet, and the thing on it (`fixture`, `furniture`, `leaf`, `shade` ...)."""

    view: Literal["wall", "sizes", "relief", "fade", "saw", "paint", "press", "hang", "papers"]
    anchor: str
    name: str


class CheckOut(Out):
    """One thing that was looked at."""

    check_id: str
    stage: str
    name: str
    subject: str
    title: str
    verdict: Verdict
    found: str
    allowed: str
    why: str
    remedy: str
    source: str
    about: About


class CautionOut(Out):
    """A usual caution, at the step where somebody can get hurt."""

    step: str
    text: str
    source: str


class DefaultOut(Out):
    """A value that the brief left open."""

    field: str
    value: str
    reason: str


class Box(Out):
    """A rectangle on the wall: x from the left corner, y from the floor."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


class WallOut(Out):
    """The wall."""

    width_mm: float
    height_mm: float
    build: str
    covering_mm: float
    colour: str
    below: str


class FixtureOut(Box):
    """Something to hide. `index` is its place in the brief."""

    index: int
    name: str
    kind: str
    proud_mm: float
    text: str


class StudOut(Out):
    """A stud: its centre line and width."""

    x_mm: float
    width_mm: float


class FurnitureOut(Box):
    """Something that stands before or under the piece; `near_mm`, `far_mm` off the wall."""

    index: int
    name: str
    kind: str
    near_mm: float
    far_mm: float
    text: str


class KeepClearOut(Box):
    """A part of the wall that must stay free."""

    index: int
    name: str
    why: str


class EyeOut(Out):
    """A place that somebody looks from: along the wall, above the floor, off the wall."""

    name: str
    x_mm: float
    height_mm: float
    distance_mm: float


class LeafOut(Box):
    """A leaf with its backer. `copy_n` counts the copies of a series from 1."""

    index: int
    name: str
    copy_n: int
    columns: int
    rows: int
    backer: Box


class SolidOut(Box):
    """A strip, a lipping or a cleat half; `back_mm` to `front_mm` off the wall."""

    kind: Literal["strip", "lipping", "wall cleat", "panel cleat", "spacer"]
    leaf: int
    back_mm: float
    front_mm: float


class OpenCellOut(Box):
    """A cell without a block."""

    leaf: int
    row: int
    column: int


class LightOut(Out):
    """Where light comes from. Azimuth: 0 from the right, 90 from above, 180 from the left, as seen on the wall."""

    side: Literal["left", "right", "top", "bottom"]
    azimuth_deg: float
    elevation_deg: float


class BandOut(Box):
    """A rule of the wall where it has a place; `moves` when that goes where the piece goes."""

    check_id: str
    verdict: Verdict
    words: str
    moves: bool


class Geometry(Out):
    """The room and the piece in it."""

    wall: WallOut
    outline: Box
    fixtures: list[FixtureOut]
    studs: list[StudOut]
    furniture: list[FurnitureOut]
    keep_clear: list[KeepClearOut]
    eyes: list[EyeOut]
    leaves: list[LeafOut]
    solids: list[SolidOut]
    openings: list[OpenCellOut]
    bands: list[BandOut]
    light: LightOut
    stand_off_mm: float
    backer_mm: float
    depth_mm: float
    ground_colour: str


class BlocksOut(Out):
    """Every block, one entry of each list a block. `tall_mm` is off the backer.

    `level` and `shade` index the lists beside, `leaf` those of `geometry.leaves`. A ring block stands outside the
    backer and begins `backer_mm` further back.
    """

    address: list[str]
    leaf: list[int]
    x_mm: list[float]
    y_mm: list[float]
    width_mm: list[float]
    height_mm: list[float]
    tall_mm: list[float]
    level: list[int]
    shade: list[int]
    ring: list[bool]
    pinned_level: list[bool]
    pinned_shade: list[bool]


class LevelOut(Out):
    """A height that blocks come in."""

    height_mm: float
    text: str


class ShadeOut(Out):
    """A shade."""

    name: str
    family: str
    colour: str
    lightness: float
    blocks: int


class HomeOut(Out):
    """Where a family lives, in fractions of the piece from its lower left corner."""

    kind: str
    x: float
    y: float


class FamilyOut(Out):
    """A family. `index` is its place in the brief."""

    index: int
    name: str
    home: HomeOut
    colour: str
    shades: list[int]


class PlanView(Out):
    """A plan, as the screen shows it."""

    stamp: str
    version: str
    unit: Literal["mm", "in"]
    title_block: TitleBlock
    checks: list[CheckOut]
    cautions: list[CautionOut]
    defaults: list[DefaultOut]
    geometry: Geometry
    blocks: BlocksOut
    levels: list[LevelOut]
    shades: list[ShadeOut]
    families: list[FamilyOut]


class NoPlanOut(Out):
    """Why there is nothing to draw."""

    stage: str
    reason: str
    remedy: str


class Answer(Out):
    """A revision with its plan, or why there is none. `changed` are the stages that were worked out anew for it."""

    revision_n: int
    piece: PieceShort
    changed: list[str]
    plan: PlanView | None
    no_plan: NoPlanOut | None


# -- requests -----------------------------------------------------------------------------------------------------

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
    """Third question: what stands below."""

    kind: Words
    x: Length
    width: Length
    top: Length


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
    checks: list[CheckOut]
    appeared: list[str]
    gone: list[str]


class EditOut(Out):
    """One change of the brief's text."""

    op: Literal["set", "remove", "append", "insert"]
    path: list[str | int]
    value: object


class FixOut(Out):
    """A remedy that was tried and heals a check without a new stop."""

    check_id: str
    fix_id: str
    words: str
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


class HealOut(Out):
    """The smallest change that mends the brief's own size or place."""

    text: str
    edits: list[EditOut]


class SizesOut(Out):
    """Sizes that no other beats, best first, and the brief's own."""

    own: SizeOut
    sizes: list[SizeOut]
    heals: list[HealOut]


# -- sheets -------------------------------------------------------------------------------------------------------


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


# -- papers -------------------------------------------------------------------------------------------------------


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


# -- photo --------------------------------------------------------------------------------------------------------

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
