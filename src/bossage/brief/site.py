"""What the maker found in the room: the wall, what is to be hidden, what stands around it.

On the wall, x runs right from the left corner and y up from the floor, as the maker faces it.
"""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.terms import (
    Below,
    ClearKind,
    Facing,
    FixtureKind,
    FoundBy,
    LengthUnit,
    Medium,
    Need,
    RunKind,
    Side,
    WallBuild,
    Wiring,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DefaultUsed:
    """A value that the brief left open, and why this one was taken."""

    field: str
    value: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """The piece as a whole. `copies` is above 1 for a series; each copy has leaves of its own."""

    name: str
    unit: LengthUnit
    paper: str  # "A4" or "Letter"
    seed: int
    date: str  # as the maker gives it, printed on every paper; may be empty
    currency: str
    client: str
    copies: int
    budget_cents: int | None
    mass_cap_g: float | None
    weighed_g: float | None  # what the scales say of one finished leaf; replaces the computed mass when given


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """The wall. Studs are centre lines from the left corner."""

    width_nm: int
    height_nm: int  # floor to ceiling
    build: WallBuild
    covering_nm: int  # wallboard or plaster over the structure
    studs_nm: tuple[int, ...]
    stud_width_nm: int
    stud_species: str
    passage_nm: int | None  # clear width in front, where the wall lines a passage
    circulation: bool  # people walk along it
    escape_route: bool
    escape_width_nm: int | None
    below: Below
    light_from: Side
    colour_hex: str
    stud_steel: str = ""  # of metal studs: a name of the table of thicknesses
    studs_seen: bool = False  # somebody has looked into the studs: nothing runs where screws go
    wiring: Wiring = Wiring.HOUSE


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """The fixture's own door: its width, the side it is hung on and how far its face stands from the wall."""

    width_nm: int
    hinge: Side
    plane_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixture:
    """Something to hide; `x_nm, y_nm` is its lower left corner on the wall."""

    name: str
    kind: FixtureKind
    x_nm: int
    y_nm: int
    width_nm: int
    height_nm: int
    proud_nm: int
    opened_per_year: float
    needs: tuple[Need, ...]
    cover_screws_nm: tuple[tuple[int, int], ...]  # x, y on the wall
    door: Door | None
    flue_in_use: bool
    flue_capped: bool
    copies: tuple[int, ...]  # in which copies of a series it occurs, from 1; empty means all
    volts: float = 230.0  # electrical: to ground
    facing: Facing = Facing.NOTHING  # electrical: what is opposite
    handle_nm: int | None = None  # middle of its highest grip, over the floor; None: not measured
    recess_nm: int | None = None  # how deep it sits in the wall; None: not measured
    fed_from: tuple[Side, ...] | None = None  # sides from which its cables, pipes or ducts come; None: not known
    medium: Medium | None = None  # of a meter or valves: what goes through; None: nobody says

    @property
    def right_nm(self) -> int:
        """Its right edge."""
        return self.x_nm + self.width_nm

    @property
    def top_nm(self) -> int:
        """Its upper edge."""
        return self.y_nm + self.height_nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Furniture:
    """Something that stands in front of or below the piece. `near_nm`/`far_nm`: from the wall, 0 touches it."""

    name: str
    kind: str  # bed, sofa, bench, table, counter, desk, cabinet, shelf, other
    x_nm: int
    width_nm: int
    bottom_nm: int
    top_nm: int
    near_nm: int
    far_nm: int
    moved_nm: int | None = None  # out into the room, before the piece is lifted; None: it stays
    moved_by: str = ""

    @property
    def right_nm(self) -> int:
        """Its right edge along the wall."""
        return self.x_nm + self.width_nm


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepClear:
    """A part of the wall that the piece must not cover, nor come nearer to than `margin_nm`."""

    name: str
    x_nm: int
    y_nm: int
    width_nm: int
    height_nm: int
    why: str
    margin_nm: int = 0
    kind: ClearKind = ClearKind.OTHER

    @property
    def kept_nm(self) -> tuple[int, int, int, int]:
        """Place and size with its margin: x, y, width, height; left or lower edge may be negative."""
        m = self.margin_nm
        return self.x_nm - m, self.y_nm - m, self.width_nm + 2 * m, self.height_nm + 2 * m


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A cable, pipe or duct in the wall, as a straight line. `clear_nm` is kept free at each side of it."""

    name: str
    kind: RunKind
    from_nm: tuple[int, int]
    to_nm: tuple[int, int]
    clear_nm: int
    found: FoundBy


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """A place somebody looks from: along the wall, above the floor, out from the wall."""

    name: str
    x_nm: int
    height_nm: int
    distance_nm: int
