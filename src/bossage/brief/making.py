"""What the piece is made from and with: boards, sticks, cleats, fixings, tools, glue, paint, rates."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.hinges import Butt
from bossage.brief.terms import Coupling, FixingKind, OpenedBy, Opens, Side


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """A board as bought. `grain` is `along` its height when its pieces must not be turned."""

    name: str
    material: str
    width_nm: int
    height_nm: int
    thickness_nm: int
    price_cents: int | None
    count: int | None  # None: as many as wanted
    owned: bool
    edge_trim_nm: int
    turn: bool  # pieces may be turned a quarter


@dataclass(frozen=True, slots=True, kw_only=True)
class Backer:
    """The board behind one leaf. An empty `colour_hex` asks for a recommendation."""

    material: str
    thickness_nm: int
    colour_hex: str
    colour_name: str
    sealed_faces: int  # 0, 1 or 2
    sheets: tuple[SheetStock, ...]
    fire_class: str = ""  # as its maker states it


@dataclass(frozen=True, slots=True, kw_only=True)
class BehindPart:
    """Ribs, stiles, frame rails: wood on the back of each leaf's backer, reaching `depth_nm` towards the wall.

    `role` is `rib`, `frame` or `stile`; `width_nm` is the size in the plane of the wall. `at_nm` are lower left corners
    from the leaf's lower left corner, one for each as far as the maker gives them; the rest are placed by search.
    """

    name: str
    role: str
    count: int
    length_nm: int
    width_nm: int
    depth_nm: int
    species: str
    upright: bool
    at_nm: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleat:
    """One cleat a leaf; both halves lie in one plane of `thickness_nm`, `packer_nm` sits behind the panel half."""

    kind: str  # "wood" or "metal"
    material: str
    thickness_nm: int
    strip_nm: int  # full height of a half
    bevel_deg: float
    length_nm: int | None  # None: found from studs and width
    packer_nm: int
    packer_height_nm: int
    end_distance_nm: int
    offset_nm: int  # of its middle from the leaf's middle, to the right
    arm_nm: int | None  # cleat line to foot spacer; None: found
    line_below_top_nm: int | None  # cleat line under the leaf's top; None: found
    allowable_g: float | None = None  # metal: what a pair of this length may carry, factor inside
    rating_g: float | None = None  # metal: what its packet says, before any divisor
    pieces: int = 1  # 2: two cleats side by side on one line, each of `length_nm`
    apart_nm: int | None = None  # middle to middle of the two; None: as far apart as the backer lets them
    foot: str = "leaf"  # or "wall": what the foot spacer stays on
    hook_nm: int | None = None  # metal: how far the leaf is lifted until it is free; None: as a bevel of its thickness
    lengths_nm: tuple[int, ...] = ()  # metal: as it is sold; empty: any length
    hole_pitch_nm: int | None = None  # metal: from hole to hole, in which its screws stand; None: anywhere
    first_hole_nm: int | None = None  # metal: from each end; None: the row of holes is centred


@dataclass(frozen=True, slots=True, kw_only=True)
class Ratings:
    """What a maker says that one fixing carries: along the wall, and pulled straight out of it (`pull_…`).

    An allowable has its factor inside; a rating is as on the packet, before any divisor.
    """

    allowable_g: float | None = None
    rating_g: float | None = None
    pull_allowable_g: float | None = None
    pull_rating_g: float | None = None

    @property
    def given(self) -> bool:
        """Whether there is any figure."""
        return (self.allowable_g, self.rating_g, self.pull_allowable_g, self.pull_rating_g) != (None,) * 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixings:
    """What holds the wall half. Its figures are those of `Ratings`."""

    kind: FixingKind
    gauge: str  # "#10", "5 mm"
    length_nm: int
    count: int | None  # fitted per leaf; None: found
    per_stud: int
    allowable_g: float | None
    rating_g: float | None
    panel_gauge: str  # screws from the panel half into the backer or ribs
    panel_length_nm: int
    panel_count: int | None
    panel_glued: bool
    pull_allowable_g: float | None = None
    pull_rating_g: float | None = None
    board: Ratings = Ratings()  # of hollow-wall fixings, where a leaf meets too few studs

    @property
    def ratings(self) -> Ratings:
        """The maker's figures of one fixing."""
        return Ratings(
            allowable_g=self.allowable_g,
            rating_g=self.rating_g,
            pull_allowable_g=self.pull_allowable_g,
            pull_rating_g=self.pull_rating_g,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """How it opens. `hinge` and `angle_deg` matter when it swings."""

    opens: Opens
    tool: bool  # a screw or a tool stands between the hand and the opening
    hinge: Side
    angle_deg: float
    marked: bool  # a mark outside tells where and how
    lock: bool  # anti-lift lock
    fixed_to_fixture: bool  # anything screwed or stuck to the fixture itself
    air_nm: int  # clear air over the proudest fixture
    opened_by: OpenedBy = OpenedBy.STANDING
    tug_g: float = 10_000.0  # a pull or a lean by accident, as the mass that weighs as much
    lock_allowable_g: float | None = None
    grip_nm: int | None = None  # where it is taken hold of, over the floor; None: half its height
    butt: Butt | None = None  # as measured; None: a usual one


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """The lift at the hook, in the terms of the revised lifting equation. None where it is to be worked out."""

    horizontal_nm: int | None
    vertical_nm: int | None
    travel_nm: int | None
    turn_deg: float
    per_minute: float
    coupling: Coupling
    people: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StickStock:
    """Sticks of one section and length. `section_*_nm` are measured (after squaring, if any)."""

    name: str  # the section that footprints refer to; several entries may share it
    section_width_nm: int
    section_height_nm: int
    bought_as: str
    length_nm: int
    price_cents: int | None
    count: int | None  # None: as many as wanted
    owned: bool
    trim_nm: int
    stub_nm: int
    no_go_nm: tuple[tuple[int, int], ...]
    spares_pct: float
    species: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """What the shop has."""

    saw: str  # "power saw" or "mitre box"
    kerf_nm: int
    hold_nm: int  # hands no nearer to the blade
    keep_offcut_nm: int
    clamps: int
    cauls: int  # sets of caul and clamps: rows pressed at once
    clamp_reach_nm: int
    measure_ml: float  # smallest amount the maker can measure out
    people: int = 1  # pairs of hands at the glue
    bench: int = 1  # leaves that can lie on the bench at once
    day_from_h: float = 9.0  # working hours, on the clock
    day_to_h: float = 17.0
    days_off: tuple[str, ...] = ()
    set_s: float = 180.0  # move the stop, cut and measure the first slice
    load_s: float = 45.0  # fetch a stick and lay it against fence and stop
    cut_s: float = 20.0  # one cut, the slice put by
    clamp_opening_nm: int = 100_000_000  # pad to pad
    short_slice_nm: int = 12_000_000  # a slice shorter than this draws a caution at a power saw
    sticks_at_once: int | None = None  # that lie at the saw together; None: all
    capacity_nm: tuple[int, int] | None = None  # width and height of the largest section that the saw cuts


@dataclass(frozen=True, slots=True, kw_only=True)
class Glue:
    """The glue and its clock."""

    name: str
    open_min: float
    clamp_min: float
    close_min: float  # from the last block laid to pressure on
    unload_min: float
    spread_g_per_m2: float  # wet, as spread
    dry_g_per_m2: float
    way: str = ""  # of pressing, a word of `terms.PRESS_WAYS`; empty: the advised one


@dataclass(frozen=True, slots=True, kw_only=True)
class Tin:
    """A tin as the maker can buy it: of what (`primer`, `base`, `paint`, `ground`, `topcoat` or a tinter's name)."""

    what: str
    size_ml: float
    cents: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintBrief:
    """Coats, coverage, the way of painting and what the room has for it."""

    coats: int
    colour_m2_per_l: float
    reserve: float  # 0.25 = a quarter more
    primer_coats: int
    primer_m2_per_l: float
    side_share: float | None  # of each side, by the maker's own count; weighs dry paint, pots are of the way
    dry_g_per_m2: float
    build_nm: int = 100_000  # all coats on one side, dry
    dressed: bool = False  # sticks are squared smaller by the paint of both sides
    primer_reserve: float = 0.0
    way: str = ""  # a word of `terms.PAINT_WAYS`; empty: the advised one
    ground_way: str = ""  # a word of `terms.GROUND_WAYS`; empty: the least labour that leaves the glue field bare
    brushes: int = 1  # brushes or rollers that can be at work at once
    rack_m2: float = 1.0  # where painted blocks can stand to dry
    dry_h: float = 4.0  # between two coats
    sprayer: bool = False
    topcoat: str = ""  # what it is; empty: none
    topcoat_coats: int = 1
    topcoat_m2_per_l: float = 10.0
    gloss: str = "matt"
    tins: tuple[Tin, ...] = ()
    fire_class: str = ""  # of the coating, as its maker states it
    blue_wool: int | None = None  # lightfastness, 1 to 8, as the maker says; None: not known

    @property
    def side_build_nm(self) -> int:
        """How far dry paint stands out past a block's own size on a side that touches its neighbour."""
        return 0 if self.dressed else self.build_nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """Minutes a block, fixed hours, and what money is added."""

    saw_min: float
    sand_min: float
    paint_min: float | None  # None: by the way of painting
    lay_min: float
    glue_min: float
    fixed_h: float
    lay_s: float  # seconds to lay one block into wet glue
    hourly_cents: int | None
    overhead_pct: float
    contingency_pct: float
    markup_pct: float
    deposit_pct: float
    repeat_step_pct: float
    repeat_floor_pct: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """A line of the shopping list that the maker has priced as a lump: what it is for, and what it costs.

    `covers` names the computed lines that it pays for: a group (`wood`, `boards`, `paint`, `glue`, `fixings`) or a
    word of the line (`primer`, `plywood`, `rib`).
    """

    what: str
    cents: int
    covers: tuple[str, ...] = ()
