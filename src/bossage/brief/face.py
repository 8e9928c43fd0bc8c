"""What the face of the piece is made of: blocks, edge, colours."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.terms import EdgeStyle, FadeShape, HomeKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Footprint:
    """One face size. `section` names the stock it is sliced from.

    `quotas` are counts per level (per leaf), `weights` shares per level; exactly one of them is set. `allowed` holds
    the levels (indices) that this footprint may take. `spread_nm` is the measured plus-or-minus of its size.
    In a mosaic `cells` are the columns and rows of cells that it covers, and either `count` says how many there are on
    each leaf, or `share` its part of the blocks that counts leave open; otherwise all three are None.
    """

    name: str
    width_nm: int
    height_nm: int
    section: str
    quotas: tuple[int, ...] | None
    weights: tuple[float, ...] | None
    allowed: tuple[int, ...]
    spread_nm: int
    cells: tuple[int, int] | None = None  # columns, rows
    count: int | None = None
    share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """One way to fill a module: rows of footprint names, top row first. `count` per leaf; None takes the rest."""

    rows: tuple[tuple[str, ...], ...]
    count: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """A block that the maker has settled. `level` and `shade` are indices, None where free."""

    leaf: str
    address: str
    level: int | None
    shade: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafBrief:
    """A leaf by its place. Without a position it is centred on what it hides, or set beside the one before it."""

    name: str
    x_nm: int | None
    y_nm: int | None
    open_cells: tuple[tuple[int, int], ...]  # (row, column)


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocks:
    """The field: a grid of modules, `module_width_nm` × `module_height_nm`, one gap apart; columns, rows count them.

    `columns`/`rows` are None where the tool is to find the size from what is hidden and the margin.
    """

    columns: int | None
    rows: int | None
    module_width_nm: int
    module_height_nm: int
    gap_nm: int
    footprints: tuple[Footprint, ...]
    fills: tuple[Fill, ...]
    levels_nm: tuple[int, ...]  # lowest first
    min_step: int  # neighbours differ by at least so many levels
    diagonal: bool  # corner neighbours count too
    species: str
    moisture_sawn_pct: float
    moisture_laid_pct: float  # when glued on the backer
    moisture_use_low_pct: float
    moisture_use_high_pct: float
    leaves: tuple[LeafBrief, ...]
    leaf_gap_nm: int
    cover_margin_nm: int
    pins: tuple[Pin, ...]
    ring_quotas: tuple[int, ...] | None  # the outrigger's ring by level; the footprint's quotas then mean the field
    edge_levels: tuple[int, ...] | None = None  # levels that blocks at the outline may take; None for all
    mass_target_g: float | None = None  # what the blocks of one piece are to weigh; weights lean towards it
    fire_class: str = ""  # of the wood, as its maker states it
    through_joints: bool = True  # mosaic: whether a joint may run straight through a leaf

    @property
    def mosaic(self) -> bool:
        """Whether footprints cover cells of the grid, rather than modules being filled."""
        return any(footprint.cells is not None for footprint in self.footprints)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """How the outer blocks end. Fields of the other two styles are 0."""

    style: EdgeStyle
    overhang_nm: int  # inset: blocks past the backer
    strip_thickness_nm: int  # outrigger
    strip_width_nm: int
    strip_behind_nm: int  # lap behind the backer; the rest runs out behind the ring
    strip_run_out_nm: int  # how far the corner-owning strips run past the backer at each end
    strip_material: str
    strip_corners: str  # "horizontal" or "upright": who owns the corners
    bond_share_min: float
    lipping_thickness_nm: int  # banded
    lipping_depth_nm: int
    lipping_species: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """Where a family lives, in fractions of the piece: x from the left, y from the bottom."""

    kind: HomeKind
    x: float
    y: float


PaintColour = str | tuple[float, float, float]
"""A coat's colour: a hex colour such as `#4A6B4E`, or CIELAB (D65) as measured. An empty text is no colour."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TestCard:
    """A painted and dried mix: parts of tinter in the whole, and what colour it came out."""

    tinter: str
    fraction: float
    colour: PaintColour
    uncertainty_de: float | None  # CIEDE2000 that holds the truth 9 times in 10; None: not said


@dataclass(frozen=True, slots=True, kw_only=True)
class Tinter:
    """A strong colour, by the colour of its opaque coat."""

    name: str
    colour: PaintColour
    uncertainty_de: float | None
    g_per_ml: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """Colours of one base and its tinters. `lightness`: CIE L* of each shade, from its home outward.

    Without base and tinters the family is bought ready mixed or by eye: `colour_hex` gives its hue. `mixed` holds the
    pots that stand there already, one entry a shade, each the share of every tinter in the whole; names stay.
    """

    name: str
    lightness: tuple[float, ...]
    home: Home
    colour_hex: str
    base: PaintColour
    base_g_per_ml: float | None
    tinters: tuple[Tinter, ...]
    cards: tuple[TestCard, ...]
    mixed: tuple[tuple[float, ...], ...] | None
    finish: str  # a word of `terms.FINISHES`; a clear finish has the wood's colour for a base and one tinter
    end_grain: float | None  # by how much more of it goes into end grain; None: as usual, or by the cards
    hex_measured: bool  # hex colours of base, tinters and cards were read off a coat, so they go in as they are
    quotas: tuple[int, ...] | None  # blocks per shade, over the whole piece

    @property
    def clear(self) -> bool:
        """Whether the wood is seen through it: stain, oil or wax."""
        return self.finish != "paint"


@dataclass(frozen=True, slots=True, kw_only=True)
class FadeBrief:
    """The fade over the piece: grain in shades (0 to 1.5)."""

    shape: FadeShape
    grain: float
    neighbours_differ: bool
    neighbours_dl: float  # least difference in L* between neighbours; 0: none asked for
    meet_dl: float  # largest difference in L* where families meet
    meet_de: float  # largest CIEDE2000 difference there
    shades_each: int | None = None  # how many of the shades one piece of a series takes; None for all
