"""What the stage `saw` gives: sticks by section, boards, and lengths of everything else that is wood."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bossage.checks import Caution, Check
from bossage.saw.boards.records import SheetPlan, SheetShortfall, SheetStock
from bossage.saw.job.records import SawPlan, Shortfall, StickStock


@dataclass(frozen=True, slots=True, kw_only=True)
class SliceRow:
    """Slices of one length of one section: how many blocks need it, how many spares, which long parts.

    `parts` are parts of the body, each as `leaf/copy/name`; `named` the same in words: name, mark, how many.
    """

    length_nm: int
    blocks: int
    spares: int
    levels: tuple[str, ...]  # which levels it serves, `18 mm` or `24 mm ring`
    parts: tuple[str, ...] = ()  # without spares
    named: tuple[tuple[str, str, int], ...] = ()

    @property
    def slices(self) -> int:
        """Blocks, spares and long parts."""
        return self.blocks + self.spares + len(self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionCut:
    """All slices of one section of stock. `plan` is None where the stock does not suffice (`shortfall` then)."""

    section: str
    bought_as: str
    species: str
    section_width_nm: int
    section_height_nm: int
    kerf_nm: int
    rows: tuple[SliceRow, ...]  # longest first
    plan: SawPlan | None
    shortfall: Shortfall | None
    priced: bool

    @property
    def bought(self) -> SawPlan | None:
        """The plan to buy for: the next safer one where the cheapest has next to no slack."""
        return self.plan.advised if self.plan else None

    @property
    def slices(self) -> int:
        """Slices of all lengths, spares too."""
        return sum(row.slices for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class StripPiece:
    """Pieces alike that are cut to length from a strip, one for each of `parts` (`leaf/copy/name`)."""

    name: str
    mark: str
    length_nm: int
    parts: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many."""
        return len(self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortStrip:
    """A strip ripped from a board for parts that are too short to be guided past the blade one by one.

    Its pieces come off in their order; the last `stub_nm` is what it is held by and stays over.
    """

    name: str  # `strip for foot spacer`
    mark: str  # those of its pieces: `6`, `6, 7`
    width_nm: int
    length_nm: int
    stub_nm: int
    turn: bool  # whether it may lie either way in its board
    pieces: tuple[StripPiece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardCut:
    """Rectangles out of boards of one material and thickness.

    Each of `parts` (`leaf/copy/name`) is a rectangle of the plan, or a piece of one of the `strips`, which are.
    """

    material: str
    thickness_nm: int
    serves: tuple[str, ...]  # backer, edge strip, panel half, packer: each name once
    parts: tuple[str, ...]
    strips: tuple[ShortStrip, ...]
    unheld: tuple[str, ...]  # names of short parts that no strip is left for
    plan: SheetPlan | None
    shortfall: SheetShortfall | None
    priced: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthCut:
    """Long parts of one section that the brief names no stock for, out of lengths as bought.

    `name` is that of their role; `parts` are they, each as `leaf/copy/name`.
    """

    name: str
    species: str
    width_nm: int
    depth_nm: int
    parts: tuple[str, ...]
    plan: SawPlan | None
    shortfall: Shortfall | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BevelRip:
    """One long edge ripped at a tilt, after the strip is cut to size; `parts` are alike, each as `leaf/copy/name`.

    `edge` and `long_face` are as the part hangs: the face that keeps its whole height, `long_nm`, looks to the wall or
    to the room. `tilt_deg` is that of the blade from upright.
    """

    name: str
    mark: str
    parts: tuple[str, ...]
    edge: Literal["upper", "lower"]
    long_face: Literal["wall", "room"]
    tilt_deg: float
    thickness_nm: int
    length_nm: int
    long_nm: int
    short_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SawnOpenings:
    """Rectangles sawn out of parts alike: x and y of two corners from the left and lower edge, seen from the front."""

    name: str
    mark: str
    parts: tuple[str, ...]
    width_nm: int
    height_nm: int
    rects_nm: tuple[tuple[int, int, int, int], ...]  # from the top down, then from left to right


@dataclass(frozen=True, slots=True, kw_only=True)
class SawnNotches:
    """Slots across an edge of parts alike: from and to along it from its left end, seen from the front, and how deep.

    The edge is the one toward the wall.
    """

    name: str
    mark: str
    parts: tuple[str, ...]
    length_nm: int
    slots_nm: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StickLeft:
    """Sticks that no slice of the plan takes: the rest of one that is cut, or whole ones (`of_stick` None).

    A rest begins where the last slice ended: nothing to square, the stub still in it, zones measured from there.
    `stock.count` says how many whole ones are left, None for as many as wanted.
    """

    section: str
    of_stick: int | None  # its number on the sheet of its section
    stock: StickStock
    priced: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardLeft:
    """A rectangle that the cuts leave of a board (`of_board`), or whole boards of the brief that they do not touch."""

    material: str
    thickness_nm: int
    of_board: int | None
    stock: SheetStock
    priced: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """Everything that is sawn, over all leaves and copies, and what is left before shims are cut from it."""

    sections: tuple[SectionCut, ...]
    boards: tuple[BoardCut, ...]
    lengths: tuple[LengthCut, ...]
    bevels: tuple[BevelRip, ...]
    openings: tuple[SawnOpenings, ...]
    notches: tuple[SawnNotches, ...]
    sticks_left: tuple[StickLeft, ...]  # by section: rests, then whole ones in the shop, then those to be bought
    boards_left: tuple[BoardLeft, ...]
    minutes: float  # at the saw, by the time model of the settings
    cautions: tuple[Caution, ...]
    checks: tuple[Check, ...]
