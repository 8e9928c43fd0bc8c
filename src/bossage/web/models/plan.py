"""A plan as the page draws it."""

from __future__ import annotations

from typing import Any, Literal

from bossage.web.models.behind import FixingOut, RunOut, ZoneOut
from bossage.web.models.common import Advice, Kind, Out, Verdict
from bossage.web.models.pieces import PieceShort


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


class SettleOut(Out):
    """How a check can be settled: who has to agree, to what, and all of the answer but name, day and words.

    `asked`: the sheet of questions has it; what the maker chooses alone is not asked of anybody.
    """

    who: str
    question: str
    asked: bool
    agreed: str
    table: dict[str, Any]


class CheckOut(Out):
    """One thing that was looked at."""

    check_id: str
    stage: str
    name: str
    subject: str
    kind: Kind
    at_stake: str
    title: str
    verdict: Verdict
    found: str
    allowed: str
    why: str
    care: str
    advice: Advice
    remedy: str
    source: str
    settled: str
    settle: SettleOut | None
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
    recess_mm: float | None
    recess: str
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
    """A part behind the blocks or on the wall; `back_mm` to `front_mm` off the wall. `moves`: with its leaf.

    `edges_mm` are its lower and upper edge over the floor, at its back and then at its front: a bevel differs there.
    """

    kind: str
    name: str
    number: int
    moves: bool
    leaf: int
    back_mm: float
    front_mm: float
    edges_mm: tuple[float, float, float, float]


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
    runs: list[RunOut]
    eyes: list[EyeOut]
    leaves: list[LeafOut]
    solids: list[SolidOut]
    openings: list[OpenCellOut]
    bands: list[BandOut]
    zones: list[ZoneOut]
    zones_told: list[str]
    fixings: list[FixingOut]
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
