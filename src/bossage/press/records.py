"""What `press` gives: a card a row, the shims, the glue, the hours; the edge ring as a job of its own."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.checks import Caution, Check
from bossage.press.bed_records import BedCard
from bossage.press.method_records import Caul, PressMethod, ScrewFit
from bossage.press.rest_records import Rest
from bossage.press.schedule_records import Schedule
from bossage.press.shim_records import ShimCut, ShimNeed, ShimPanels, ShimWay
from bossage.press.wood_records import BackerBow, House


@dataclass(frozen=True, slots=True, kw_only=True)
class CardBlock:
    """One block on a card, in the order of laying; `block` is its number in the layout's field."""

    block: int
    shim_nm: int  # on its face under the caul; 0 for the highest level


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Blocks that are laid and pressed within one open time."""

    blocks: tuple[CardBlock, ...]
    glue_g: float
    lay_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RowCard:
    """One pressing row of one leaf: shim + block is `constant_nm` all along it."""

    leaf: int
    row: int
    constant_nm: int
    caul_length_nm: int
    caul_width_nm: int
    clamps: int
    glue_g: float
    batches: tuple[Batch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RingStep:
    """One step of setting the edge ring on its strips."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RingPlace:
    """A ring block on the template of one leaf, seen from the back: from the template's lower left corner.

    `shim_nm` goes under its face, so that its back lies level with the back of the backer.
    """

    block: int
    x_nm: int
    y_nm: int
    width_nm: int
    height_nm: int
    shim_nm: int
    corner: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RingJob:
    """The edge ring of an outrigger: its blocks around, the strips, and the steps in order."""

    blocks_per_leaf: int
    template_width_nm: int
    template_height_nm: int
    support_nm: int  # what the face-down piece rests on stands this high above the bench, under the lowest level
    glue_g: float
    fixing_longest_nm: int  # a screw or brad through strip and block may not be longer
    fixing_usual_nm: int | None  # the longest that is sold and bites; None: glue alone
    fixing_backer_nm: int  # the same through strip, backer and the lowest field block behind
    knock_n: float  # a hand's push on the outer edge of one ring block
    knock_move_nm: int  # how far that edge gives way
    knock_stress_mpa: float  # in the strip
    template: tuple[tuple[RingPlace, ...], ...]  # by leaf
    steps: tuple[RingStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PressHours:
    """Hours of the row-by-row method with so many sets of caul and clamps in use."""

    sets: int
    elapsed_h: float
    attended_h: float
    bound_h: float  # nothing can be quicker, rows in their order


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """Gluing and pressing of the whole job."""

    rows: tuple[RowCard, ...]
    shims: tuple[ShimNeed, ...]
    glue_wet_g: float
    glue_dry_g: float
    batch_most: int  # blocks that can be laid within the open time
    hours: tuple[PressHours, ...]  # with 1, 2, ... sets; the shop's own number among them
    ring: RingJob | None
    schedule: Schedule  # with the shop's own number of sets, from the first laying
    shim_cut: ShimCut | None
    shim_ways: tuple[ShimWay, ...]  # up to the highest level, and as levels; empty where the second does not go
    shim_panels: tuple[ShimPanels, ...]  # by thickness, where the brief names a board of just that thickness
    caul: Caul
    screws: tuple[ScrewFit, ...]  # from behind, by level
    rests: tuple[Rest, ...]  # leaves of the first copy that have something on their back
    methods: tuple[PressMethod, ...]
    beds: tuple[BedCard, ...]  # leaf by leaf, face down
    house: House
    bow: BackerBow
    figures: dict[str, float]  # move.*_mm, bow.*_mm, room.*_pct ...
    cautions: tuple[Caution, ...]
    checks: tuple[Check, ...]

    @property
    def way(self) -> PressMethod:
        """The way that cards, shims and calendar are for: the brief's own, else the advised one."""
        return next(method for method in self.methods if method.chosen)
