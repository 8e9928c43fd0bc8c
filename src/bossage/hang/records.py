"""What `hang` gives: the mass, the load path link by link, positions, lifting.

Every holding number is an allowable with its basis and its factors, never a promise. Positions are wall coordinates:
x from the left corner, y from the floor.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from bossage.checks import Caution, Check
from bossage.fasteners.wall_lengths import WallScrew
from bossage.hang.hinge_records import HingePlan
from bossage.hang.screw_records import GlueScrews
from bossage.hang.wall_records import FixingPoint, InStuds, ProofLoad, TrialBattens, WallHoles


@dataclass(frozen=True, slots=True, kw_only=True)
class MassPart:
    """One line of the mass bill of a leaf, with the place of its centre."""

    name: str
    mass_g: float
    from_wall_mm: float
    from_left_mm: float
    from_foot_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafMass:
    """A leaf's mass bill and its centre of gravity.

    `total_g` is what all later numbers stand on: the sum of the parts, or what the scales say where the brief gives
    it (`weighed`); the sum stays in `computed_g`. The centre of gravity is always the computed one.
    """

    leaf: str
    copy: int
    parts: tuple[MassPart, ...]
    total_g: float
    from_wall_mm: float
    from_left_mm: float
    from_foot_mm: float
    computed_g: float
    weighed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingToBuy:
    """A thing for hanging. `count` is for one leaf; the leaf that needs most decides.

    `parts` are the bought parts of the body that it stands for, over all leaves, each as `leaf/copy/name`.
    """

    what: str
    count: int
    note: str
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StudMet:
    """A stud that the cleat meets: its centre line, and how far that lies inside the nearer end of the cleat."""

    x_nm: int
    inside_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StudMissed:
    """The next stud that the cleat does not meet, and what would meet it.

    `miss_nm` is from the cleat's end to the stud's centre line (0 when the line lies inside the cleat but too near to
    its end), `short_nm` adds the end distance. `shortest_nm` is the shortest cleat, centred as this one, that meets
    one more stud. `shift_nm` is the smallest sideways move of the cleat at its own length, right plus, that meets one
    more stud and loses none; None where there is none on this backer.
    """

    x_nm: int
    miss_nm: int
    short_nm: int
    shortest_nm: int
    shortest_fits: bool  # on the leaf's backer
    shift_nm: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What one fixing has to carry: straight out of the wall, and along the wall."""

    pull_n: float
    shear_n: float

    @property
    def whole_n(self) -> float:
        """Both at once."""
        return math.hypot(self.pull_n, self.shear_n)


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelScrew:
    """Where one screw holds the panel half of the cleat, from the leaf's left edge and from its foot."""

    from_leaf_left_nm: int
    from_leaf_foot_nm: int
    load_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelFixing:
    """How the panel half holds on the leaf. `tip_to_face_nm`: from the tip of the screw to the next face ahead.

    `thread_nm` lies in the part that receives it, `holds_nm` of that without the tip, `least_nm` is asked for before
    anything is counted on it.
    """

    into: str  # "backer", "filler" or "panel half"
    from_front: bool  # driven from the backer's face before the blocks are laid, else from behind
    gauge: str
    length_nm: int
    thread_nm: int
    holds_nm: int
    least_nm: int
    under_head_nm: int  # wood between the head and the part that receives the thread
    sunk_nm: int  # how far the head lies below the backer's face; 0 from behind, where it lies flush
    tip_to_face_nm: int
    screws: tuple[PanelScrew, ...]
    glued: bool
    filler_nm: int  # thickness of the wood between panel half (with packer) and backer; 0 when they touch
    clearance_hole_mm: float  # through what it passes; 0: nothing is known of the screw
    lead_hole_mm: float  # into the part that holds its thread; 0 alike
    head_hole_mm: float  # for a head that goes below the face; 0 where the head lies flush

    @property
    def hole_in_backer_mm(self) -> float:
        """Across the hole that the backer gets for one of these screws; a mark of 1 mm where nothing is known of it."""
        return (self.clearance_hole_mm if self.from_front else self.lead_hole_mm) or 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CleatPiece:
    """One cleat of a leaf on the wall, and its part of the leaf's weight and pull by the lever rule."""

    from_nm: int
    to_nm: int
    load_share: float
    weight_n: float
    pull_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CleatPlan:
    """The two halves of a leaf's cleat. `line_nm` is the height of the cleat line (middle of the bevel) over the floor.

    `length_nm` is that of one piece; `from_nm` and `to_nm` are the outermost ends.

    `engagement_nm` is how deep the halves grip into each other when the leaf is down: the rise of the bevel.
    """

    kind: str  # "wood" or "metal"
    pieces: tuple[CleatPiece, ...]
    from_nm: int
    to_nm: int
    length_nm: int
    line_nm: int
    line_below_top_nm: int
    wall_half_bottom_nm: int  # lower edge of the wall half over the floor: the line to draw
    bevel_deg: float
    engagement_nm: int
    studs: tuple[StudMet, ...]
    missed: StudMissed | None
    taken_nm: tuple[int, ...]  # studs behind it that a zone takes
    fixings: tuple[FixingPoint, ...]
    per_stud: int
    count_reason: str  # why so many fixings
    screw: WallScrew  # that goes into the wall
    proof: ProofLoad
    holes: WallHoles | None  # None: the packet of the fixing says
    in_studs: InStuds | None  # None: no fixing stands in a stud, or not all
    panel: PanelFixing
    battens: TrialBattens | None  # None: weights hang from the metal panel part itself


@dataclass(frozen=True, slots=True, kw_only=True)
class FootSpacer:
    """A pad or strip that keeps the leaf plumb at its foot, as thick as the stand-off is at the cleat."""

    from_nm: int
    to_nm: int
    y_nm: int  # middle, over the floor
    height_nm: int
    thickness_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowPlan:
    """A window in a leaf: the lid on the wall, the cells that it takes, and what is left of the backer round it.

    `rest_nm` is the least of the four sides; `hinge_pull_n` the pull at the lid's upper hinge, hung by its side.
    """

    fixtures: tuple[str, ...]
    x_nm: int
    y_nm: int
    width_nm: int
    height_nm: int
    from_row: int
    to_row: int
    from_column: int
    to_column: int
    blocks: int
    mass_g: float
    rest_nm: int
    fits: bool
    battens_nm: int
    hinge_spacing_nm: int
    hinge_pull_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftOffRoom:
    """Room above the leaf: what the bevel asks for and what there is."""

    bevel_rise_nm: int
    wanted_nm: int
    room_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafHang:
    """How one leaf hangs. Either `cleat` or `hinges` is set.

    `if_swung` is how a leaf that lifts off would swing instead, `if_windowed` the window that it would have; both are
    given where what it hides is opened often.
    """

    leaf: str
    copy: int
    mass_g: float
    weight_n: float
    from_wall_mm: float  # centre of gravity
    x_nm: int  # centre of gravity on the wall
    y_nm: int
    arm_nm: int  # cleat line to foot spacer
    pull_n: float  # outward pull at the cleat
    pull_g: float  # the same as a mass, as scales would show it
    wedge_n: float  # pull of the bevel on the wall half
    cleat: CleatPlan | None
    hinges: HingePlan | None
    feet: tuple[FootSpacer, ...]  # left to right; none where a frame or stiles reach the wall
    room: LiftOffRoom | None
    glue_screws: tuple[GlueScrews, ...]  # that hold parts of the back while their glue dries
    if_swung: HingePlan | None = None
    if_windowed: WindowPlan | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """One factor of an allowable: what it is called, its value, where it is from."""

    name: str
    value: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One link of the load path. `margin` is allowable over demand; 1 is just enough.

    `demand_n` and `allowable_n` are of the whole link where it acts as one, of the hardest-worked part (one block, one
    screw) where `part` names it. The allowable is an allowable-stress value, factors included.

    A link of fixings in the wall also says what one of them is pulled out with and what it carries along the wall, each
    with its own allowable; `demand_n` is then both at once, and `margin` by the rule that `source` names. A pull that
    nobody has given a figure for has no `pull_allowable_n`.

    `least` is the margin that is asked for: 1, or more where something is left out of the reckoning. `assumed`: the
    allowable is a figure of ours in place of one that the brief does not give.
    """

    name: str
    leaf: str
    part: str
    demand_n: float
    allowable_n: float
    margin: float
    basis: str
    factors: tuple[Factor, ...]
    assumptions: tuple[str, ...]
    source: str
    pull_n: float | None = None
    shear_n: float | None = None
    pull_allowable_n: float | None = None
    shear_allowable_n: float | None = None
    least: float = 1.0
    assumed: bool = False

    @property
    def reserve(self) -> float:
        """Margin over the margin that is asked for: the weakest link has the least."""
        return self.margin / self.least


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifting:
    """The lift at the hook by the revised NIOSH equation, in the form of the piece's unit."""

    leaf: str
    system: str  # "metric" or "us"
    where: str  # "at the hook", "from the floor"
    place: str  # where one stands
    horizontal_nm: int
    vertical_nm: int
    travel_nm: int
    turn_deg: float
    HM: float
    VM: float
    DM: float
    AM: float
    FM: float
    CM: float
    recommended_g: float
    index: float  # of the load; of two people over two thirds of the sum; infinite where nothing is recommended
    people: int
    carries_g: float  # of one person: two people carry half each
    why_not: str  # why the equation does not hold where one stands; empty where it does
    assumptions: tuple[str, ...]
    leaves_out: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BowedHold:
    """What holds where a leaf lies on a part of its cleat alone: margins of the fixings there by themselves."""

    cleat_nm: int  # from end to end
    middle_margin: float  # in the middle half of its length
    ends_margin: float  # in the quarter at either end


@dataclass(frozen=True, slots=True, kw_only=True)
class Hang:
    """How the piece hangs.

    `links` are those of all leaves of one copy (the heaviest copy of each leaf), weakest first; `weakest` names the
    first. `figures` carry what tests and papers quote, unit at the end of each key; they are of the leaf that has the
    weakest link, `mass_*` of the heaviest one.
    """

    leaf_masses: tuple[LeafMass, ...]
    leaves: tuple[LeafHang, ...]
    links: tuple[Link, ...]
    liftings: tuple[Lifting, ...]  # one a leaf of one copy
    to_buy: tuple[FixingToBuy, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    bowed: BowedHold | None  # of the leaf whose fixings have least to spare; None where none hangs on a cleat
    bond_margin: float  # of the block that works its glue hardest; infinite without blocks
    figures: dict[str, float] = field(default_factory=dict)

    @property
    def weakest(self) -> Link:
        """The link with the least margin over what is asked for."""
        return self.links[0]
