"""What `paint` says of the ways to paint, of the ground, of faces and of tins."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintWay:
    """One way to paint all blocks, over all leaves and copies.

    Areas are of one coat. Hours are of hands at work; waiting is what the rack and the label ask for beside them.
    """

    name: str  # a word of `terms.PAINT_WAYS`
    title: str
    shade_mm2: float  # in the block's own shade
    ground_mm2: float  # sides in the ground's colour
    bare_mm2: float  # of the sides, what shows above the neighbours and no coat reaches
    primer_ml: float  # with its reserve
    shade_ml: float  # all coats, with the reserve and what the tool keeps or blows away
    ground_ml: float  # sides alone, likewise
    topcoat_ml: float
    minutes: dict[str, float]  # by step of the work
    goes: int  # how often blocks are coated and left to dry
    rack_mm2: float  # for all blocks of the job at once
    batches: int  # that the rack makes of them
    strips_mm: float  # of strips of wood that all blocks stand on, drying or parked
    parked_mm2: float  # for all blocks at once, dry and out of the drying room
    wait_h: float
    touch: str  # which faces touch what while they are wet
    risks: tuple[str, ...]
    missing: tuple[str, ...]
    why: str
    hands: int
    handles: int  # blocks and primed spares that want a screw in their back to be held by
    advised: bool = False
    chosen: bool = False

    @property
    def has_means(self) -> bool:
        """Whether the shop has what it takes."""
        return not self.missing

    @property
    def attended_h(self) -> float:
        """Hours of hands at work, all painters together."""
        return sum(self.minutes.values()) / 60

    @property
    def rank_h(self) -> float:
        """Hours that decide which is advised: an hour of drying counts an eighth, for other work goes on beside it."""
        return self.attended_h / self.hands + self.wait_h / 8


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundWay:
    """One way to give the front of the backer its colour."""

    name: str  # a word of `terms.GROUND_WAYS`
    painted_mm2: float  # of the front, under a film of paint
    dyed_mm2: float  # of the front, in a stain that glue holds on
    bare_field_mm2: float  # where blocks are glued, without a film of paint
    lines_mm: float  # of edge to be painted along
    minutes: float
    why: str
    advised: bool = False
    chosen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StainShade:
    """How one shade of a clear finish is made, and how its sides look beside its face of end grain."""

    shade: str
    coats: int
    parts: tuple[int, int]  # finish to thinner
    mix_ml: float  # let down, all coats, with the reserve
    finish_ml: float
    face_lab: tuple[float, float, float]
    sides_lab: tuple[float, float, float]
    sides_hex: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StainFamily:
    """A family that is stained, oiled or waxed on bare wood."""

    family: str
    finish: str  # stain, oil or wax
    name: str  # what is on the tin
    end_grain: float
    by_cards: bool  # the factor of end grain comes from test cards, not from an assumption
    wood_lab: tuple[float, float, float]
    shades: tuple[StainShade, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceCoat:
    """What a face of a part carries when it is glued: `bare`, `stain` (glue holds on it) or `paint` (a film).

    `part` is a word of the making (`block`, `backer`, `strip`, `lipping`, `behind`, `cleat`), `face` one of `front`,
    `back`, `edges`, `sides`, `glue field`.
    """

    part: str
    face: str
    coat: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tins:
    """What to buy of one paint: the need, and whole tins that hold it."""

    what: str  # as on the shopping list
    need_ml: float
    tins: tuple[tuple[float, int], ...]  # size in mL, how many; largest first
    cents: int | None  # None where a tin has no price
    note: str = ""
