"""What the stage `body` gives: every solid part at the back and at the wall, with its place, its joints and its moves.

Wall coordinates in whole nanometres: x right from the left corner, y up from the floor, z out of the wall. A part is
its convex cross-section in the plane y-z, drawn out along x. These records are written to plan.json in nanometres.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from bossage.body.solids import Corner, Cuboid, area2_nm2, around, centroid_nm
from bossage.checks import Check, Edit


class Role(StrEnum):
    """What a part is for."""

    BACKER = "backer"
    STRIP = "edge strip"
    LIPPING = "lipping"
    RIB = "rib"
    FRAME = "frame"
    STILE = "stile"
    HINGE_STILE = "hinge stile"
    STOP = "stop block"
    PANEL_HALF = "panel half"
    PACKER = "packer"
    FILLER = "filler"
    WALL_HALF = "wall half"
    WALL_PACKER = "wall packer"
    FOOT = "foot spacer"
    POST = "hinge post"
    BUTTON = "lock button"
    LEDGE = "lock ledge"
    HINGE = "hinge"
    STAY = "stay"
    STAY_BLOCK = "stay block"
    CATCH = "catch"
    KEEPER = "keeper"


class How(StrEnum):
    """How two parts, or a part and the wall, hold one another."""

    GLUE = "glue"
    GLUE_AND_SCREWS = "glue and screws"
    SCREWS = "screws"
    BEVEL = "bevel"
    BEARING = "bearing"
    HINGE = "hinge"
    HOOK = "hook"


class MadeAt(StrEnum):
    """Where a part comes from: a stick, a board, or the shop's shelf."""

    STICKS = "sticks"
    BOARDS = "boards"
    BOUGHT = "bought"


WALL = "wall"
"""The name of the wall as a partner of a joint."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One solid part.

    `openings_nm` are rectangles (x0, y0, x1, y1) sawn through in z; `notches_nm` are slots (x0, x1, z0, z1) sawn
    through in y, by which air passes a rail. `mass_g` is that of the solid less both. `bevelled` says that one long
    edge is ripped at the cleat's angle. `number` is the number on its sheets; parts alike share one.
    """

    in_nm: ClassVar[bool] = True

    name: str
    number: int
    role: Role
    leaf: str
    copy: int
    moves: bool  # with the leaf; else it stays on the wall
    material: str
    grain: str | None  # "x", "y", "z"; None where the material has none
    from_x_nm: int
    to_x_nm: int
    outline_nm: tuple[Corner, ...]
    openings_nm: tuple[tuple[int, int, int, int], ...] = ()
    notches_nm: tuple[tuple[int, int, int, int], ...] = ()
    mass_g: float
    made_at: MadeAt
    bevelled: bool = False
    label: str = ""  # the maker's own word for it

    @property
    def box(self) -> Cuboid:
        """The smallest box around it."""
        return around(self.from_x_nm, self.to_x_nm, self.outline_nm)

    @property
    def length_nm(self) -> int:
        """Its length along x."""
        return self.to_x_nm - self.from_x_nm

    @property
    def centre_nm(self) -> tuple[float, float, float]:
        """Its centre of volume, openings and notches taken out."""
        y, z = centroid_nm(self.outline_nm)
        box, whole = self.box, area2_nm2(self.outline_nm) / 2 * self.length_nm
        sums = [whole, whole * (self.from_x_nm + self.to_x_nm) / 2, whole * y, whole * z]
        holes = [Cuboid(x0, x1, y0, y1, box.z0, box.z1) for x0, y0, x1, y1 in self.openings_nm]
        holes += [Cuboid(x0, x1, box.y0, box.y1, z0, z1) for x0, x1, z0, z1 in self.notches_nm]
        for hole in holes:
            out = hole.volume_nm3
            middle = (hole.x0 + hole.x1) / 2, (hole.y0 + hole.y1) / 2, (hole.z0 + hole.z1) / 2
            sums = [total - out * value for total, value in zip(sums, (1.0, *middle), strict=True)]
        return sums[1] / sums[0], sums[2] / sums[0], sums[3] / sums[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class FixtureSolid:
    """A fixture as a solid on the wall, and the same with the air that must stay round it."""

    in_nm: ClassVar[bool] = True

    name: str
    copy: int
    from_x_nm: int
    to_x_nm: int
    outline_nm: tuple[Corner, ...]
    air_from_x_nm: int
    air_to_x_nm: int
    air_nm: tuple[Corner, ...]

    @property
    def box(self) -> Cuboid:
        """The fixture itself."""
        return around(self.from_x_nm, self.to_x_nm, self.outline_nm)

    @property
    def air_box(self) -> Cuboid:
        """The fixture with its air."""
        return around(self.air_from_x_nm, self.air_to_x_nm, self.air_nm)


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingPlace:
    """One screw of a joint: its place on the wall (x, y), its gauge and length."""

    in_nm: ClassVar[bool] = True

    x_nm: int
    y_nm: int
    gauge: str
    length_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Which part holds which. `b` may be `WALL`. Names are those of parts of the same leaf and copy."""

    leaf: str
    copy: int
    a: str
    b: str
    how: How
    area_mm2: float
    fixings: tuple[FixingPlace, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """The free area of the narrowest cut between the room and a fixture that needs air, low down or high up."""

    fixture: str
    copy: int
    leaf: str
    side: str  # "low" or "high"
    free_mm2: float
    wanted_mm2: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """What the path of a leaf as it comes off or swings was found to meet; nothing where `meets` is empty."""

    leaf: str
    copy: int
    how: str  # "up and out", "round its hinge"
    part: str  # of the leaf, that meets it first
    meets: str
    at: str  # how far on the way, in words of the maker


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Two solids that share volume; `air_only` where a part stands in the air of a fixture, not in the fixture."""

    in_nm: ClassVar[bool] = True

    leaf: str
    copy: int
    a: str
    b: str
    deep_nm: int  # the least of the three sizes of what they share
    air_only: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Runner:
    """Another place for the cleat that was looked at, and why it was not taken."""

    words: str
    against: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Where a leaf's cleat went and why. `pieces_nm` are from and to of the panel half's pieces, left to right.

    `wall_pieces_nm` are those of the wall half, shorter where stiles stand beside it. `line_nm` is the middle of the
    bevel over the floor. `arm_nm` runs from it down to the middle of what the leaf bears on at its foot.
    """

    in_nm: ClassVar[bool] = True

    leaf: str
    copy: int
    words: str
    reasons: tuple[str, ...]
    runners: tuple[Runner, ...]
    pieces_nm: tuple[tuple[int, int], ...]
    wall_pieces_nm: tuple[tuple[int, int], ...]
    line_nm: int
    back_nm: int  # of the wall half from the wall: the thickness of the packers under it
    arm_nm: int
    leaf_middle_nm: int
    free_studs_nm: tuple[int, ...]  # of the whole wall, those that no zone takes behind the wall half
    bears_on: str  # the part that keeps the leaf plumb, by name


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOver:
    """A part that the brief asks for and that has no place, with the longest that would have one (0: none)."""

    in_nm: ClassVar[bool] = True

    leaf: str
    copy: int
    name: str
    why: str
    longest_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of making the body of one leaf, in an order that follows from the joints: what is done to which parts.

    `kind` is `saw` (openings, notches), `wall` (fix to the wall), `proof` (weights on the loose panel half in the wall
    half), `hold` (glue, screw to what is there already), `try` (the bare leaf on the wall, before blocks are laid) or
    `ring` (edge strips, with the ring's blocks, once the field is laid). Of a leaf that swings `bench` screws the catch
    on, and joins stile and post by their hinges before the post goes to the wall; `keep` fixes to the wall what the
    catch meets. Leaves alike share their steps, as those of the first.
    """

    leaf: str
    kind: str
    parts: tuple[str, ...]
    on: tuple[str, ...] = ()  # what they are held on
    how: How | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Every solid part of the piece but its blocks, in wall coordinates.

    `parts` are ordered by copy, leaf, number. `choices` has one entry a leaf that hangs on a cleat.
    """

    parts: tuple[Part, ...]
    fixtures: tuple[FixtureSolid, ...]
    joints: tuple[Joint, ...]
    ways: tuple[Way, ...]
    moves: tuple[Move, ...]
    clashes: tuple[Clash, ...]
    left_over: tuple[LeftOver, ...]
    choices: tuple[Choice, ...]
    steps: tuple[Step, ...]
    checks: tuple[Check, ...]

    def of(self, leaf: str, copy: int) -> tuple[Part, ...]:
        """The parts of one leaf."""
        return tuple(part for part in self.parts if part.leaf == leaf and part.copy == copy)

    def choice(self, leaf: str, copy: int) -> Choice | None:
        """Where that leaf's cleat is; None where it swings."""
        return next((one for one in self.choices if one.leaf == leaf and one.copy == copy), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wants:
    """The body has no place in this layout; what the layout would have to give, as a change of the brief.

    `rows` and `columns` are those of each leaf then, `places_nm` the lower left corners of the leaves of one copy,
    `strip_nm` the height of the cleat's halves; None leaves a value as it is. `open` says that the brief left all of
    these to be found, so that `plan` may take the change by itself.
    """

    rows: int | None = None
    columns: int | None = None
    places_nm: tuple[tuple[int, int], ...] | None = None
    strip_nm: int | None = None
    words: str
    reason: str
    edits: tuple[Edit, ...]
    open: bool
