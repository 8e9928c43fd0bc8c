"""What a size would weigh and cost, before its heights are drawn: estimates to choose a size by.

Mass counts the same parts as the finished plan does, with every block at its footprint's mean level, so it is off by
a few per cent at most. Cost is the sticks and the boards alone, bought whole.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from bossage.brief.hinges import post_and_stile_nm
from bossage.brief.mosaic import area_of, mosaic_counts
from bossage.brief.records import Brief, EdgeStyle, Footprint, Opens, SheetStock, Side
from bossage.layout.cleat_sold import as_sold_nm
from bossage.layout.edges import backer_rect
from bossage.layout.fill import fills_of
from bossage.layout.grid import bevel_rise_nm, packer_high_nm
from bossage.layout.rect import Rect
from bossage.layout.stand_off import stand_off_of
from bossage.timber import species_or_board

NM3_PER_M3 = 1e27
HINGE_STILE_NM = 60_000_000  # width of a hinge stile where no edge strip asks for more: that of `body.swing`
METAL_WALL_NM = 1_500_000  # wall of a metal cleat's profile: ours, a common light one
ALUMINIUM_KG_M3 = 2700.0  # any handbook of materials
SIDE_SHARE = 0.6  # of a block's sides painted, where the brief leaves it open; our assumption for estimates


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafSize:
    """One leaf by its grid, and its face and backer."""

    columns: int
    rows: int
    face: Rect
    backer: Rect


def leaf_size(brief: Brief, columns: int, rows: int) -> LeafSize:
    """Face and backer of a leaf with that grid, at the origin."""
    blocks = brief.blocks
    face = Rect(
        0,
        0,
        columns * (blocks.module_width_nm + blocks.gap_nm) - blocks.gap_nm,
        rows * (blocks.module_height_nm + blocks.gap_nm) - blocks.gap_nm,
    )
    return LeafSize(columns=columns, rows=rows, face=face, backer=backer_rect(brief, face))


def rough_mass_g(brief: Brief, size: LeafSize) -> float:
    """About what a leaf of that size weighs, ready to hang."""
    blocks = brief.blocks
    counts = blocks_by_footprint(brief, size)
    wood = sum(n * f.width_nm * f.height_nm * mean_level_nm(brief, f) for f, n in counts)
    faces = sum(n * f.width_nm * f.height_nm for f, n in counts)
    share = brief.paint.side_share if brief.paint.side_share is not None else SIDE_SHARE
    sides = sum(n * 2 * (f.width_nm + f.height_nm) * mean_level_nm(brief, f) for f, n in counts)
    if brief.edge.style is EdgeStyle.OUTRIGGER:
        ring = 2 * (size.columns + size.rows) - 4
        wood += ring * blocks.module_width_nm * blocks.module_height_nm * brief.backer.thickness_nm
    mass = wood * _density(blocks.species)
    mass += size.backer.area * brief.backer.thickness_nm * _density(brief.backer.material)
    mass += _edge_mass_g(brief, size) + _behind_mass_g(brief, size)
    mass += _cleat_mass_g(brief, size) if brief.access.opens is Opens.LIFT_OFF else _hinge_stile_mass_g(brief, size)
    painted_m2, glued_m2 = (faces + share * sides) / 1e18, faces / 1e18
    return mass + painted_m2 * brief.paint.dry_g_per_m2 + glued_m2 * brief.glue.dry_g_per_m2


def rough_cost_cents(brief: Brief, size: LeafSize, leaves: int) -> int | None:
    """About what sticks and boards cost for so many leaves of one copy, whole ones, by those that have a price.

    What is in the shop costs nothing and is used up first. None where nothing has a price.
    """
    prices = []
    by_section: dict[str, float] = {}
    for print_, count in blocks_by_footprint(brief, size):
        length = count * leaves * (mean_level_nm(brief, print_) + brief.tools.kerf_nm)
        by_section[print_.section] = by_section.get(print_.section, 0.0) + length
    for section, length in by_section.items():
        stocks = [
            Stock(
                gives=stick.length_nm - stick.trim_nm - stick.stub_nm,
                count=stick.count,
                owned=stick.owned,
                price_cents=stick.price_cents,
            )
            for stick in brief.sticks
            if stick.name == section
        ]
        spares = next((stick.spares_pct for stick in brief.sticks if stick.name == section), 0.0)
        prices.append(cheapest_cents(length * (1 + spares / 100), stocks))
    boards = [
        Stock(
            gives=backers_per_sheet(sheet.width_nm, sheet.height_nm, size.backer, sheet.turn),
            count=sheet.count,
            owned=sheet.owned,
            price_cents=sheet.price_cents,
        )
        for sheet in _backer_sheets(brief)
    ]
    prices.append(cheapest_cents(leaves, boards))
    known = [price for price in prices if price is not None]
    return sum(known) if known else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One kind of stick or board: what one of them gives, how many there are (None: no end), what one costs."""

    gives: float
    count: int | None
    owned: bool
    price_cents: int | None


def cheapest_cents(need: float, stocks: list[Stock]) -> int | None:
    """What is to be paid for so much: nothing while what is owned lasts, the rest whole from the cheapest kind.

    None where something must be bought that has no price.
    """
    useful = [stock for stock in stocks if stock.gives > 0]
    for stock in useful:
        if stock.owned:
            need -= need if stock.count is None else stock.gives * stock.count
    if need <= 0:
        return 0
    return min(
        (
            ceil(need / stock.gives) * stock.price_cents
            for stock in useful
            if not stock.owned and stock.price_cents is not None
        ),
        default=None,
    )


def fits_a_sheet(brief: Brief, size: LeafSize) -> bool:
    """Whether the backer can be cut from one of the brief's boards; true when it names none."""
    sheets = _backer_sheets(brief)
    return not sheets or any(backers_per_sheet(s.width_nm, s.height_nm, size.backer, s.turn) for s in sheets)


def _backer_sheets(brief: Brief) -> list[SheetStock]:
    """The boards that a backer may come from; others are for cleats, ribs and shims."""
    backer = brief.backer
    return [s for s in backer.sheets if (s.material, s.thickness_nm) == (backer.material, backer.thickness_nm)]


def backers_per_sheet(wide_nm: int, tall_nm: int, backer: Rect, turn: bool) -> int:
    """How many backers a board gives in straight rows, one way round or, where it may, the other."""
    upright = (wide_nm // backer.width) * (tall_nm // backer.height)
    turned = (wide_nm // backer.height) * (tall_nm // backer.width) if turn else 0
    return max(upright, turned)


def blocks_by_footprint(brief: Brief, size: LeafSize) -> list[tuple[Footprint, float]]:
    """About how many blocks of each footprint a leaf of that size holds, open cells left out.

    Fills keep their share of the modules that the brief's own counts give them.
    """
    if brief.blocks.mosaic:
        return _mosaic_blocks(brief, size)
    fills = fills_of(brief)
    own = (brief.blocks.columns or size.columns) * (brief.blocks.rows or size.rows)
    leaves = brief.blocks.leaves
    open_n = sum(len(leaf.open_cells) for leaf in leaves) / len(leaves) if leaves else 0.0
    own_filled = max(1.0, own - open_n)
    counted = sum(fill.count or 0 for fill in fills)
    rests = sum(fill.count is None for fill in fills)
    modules = max(0.0, size.columns * size.rows - open_n)
    by_name: dict[str, float] = {}
    for fill in fills:
        share = (own_filled - counted) / rests if fill.count is None else fill.count
        for row in fill.rows:
            for name in row:
                by_name[name] = by_name.get(name, 0.0) + modules * max(0.0, share) / own_filled
    return [(f, by_name[f.name]) for f in brief.blocks.footprints if by_name.get(f.name)]


def _mosaic_blocks(brief: Brief, size: LeafSize) -> list[tuple[Footprint, float]]:
    """The same for footprints that cover cells: as the brief's own grid has them, in proportion to the cells."""
    prints, leaves = brief.blocks.footprints, brief.blocks.leaves
    open_n = sum(len(leaf.open_cells) for leaf in leaves) // len(leaves) if leaves else 0
    cells = size.columns * size.rows - open_n
    own = (brief.blocks.columns or size.columns) * (brief.blocks.rows or size.rows) - open_n
    counts = mosaic_counts(prints, own)
    if counts is None:  # as shares, whatever the rest
        shares = [float(f.count if f.count is not None else f.share or 1.0) for f in prints]
    else:
        shares = [float(count) for count in counts]
    covered = sum(share * area_of(f) for share, f in zip(shares, prints, strict=True))
    each = max(0, cells) / covered if covered else 0.0
    return [(f, share * each) for f, share in zip(prints, shares, strict=True) if share]


def mean_level_nm(brief: Brief, footprint: Footprint) -> float:
    """Mean level of a footprint's blocks, by its quotas or weights."""
    levels = brief.blocks.levels_nm
    shares = footprint.quotas if footprint.quotas is not None else footprint.weights
    if shares is None or len(shares) != len(levels) or not sum(shares):
        return sum(levels) / len(levels)
    return sum(level * share for level, share in zip(levels, shares, strict=True)) / sum(shares)


def _density(key: str) -> float:
    """Grams per cubic nanometre."""
    return species_or_board(key).density_12pct_kg_m3 * 1e3 / NM3_PER_M3


def _edge_mass_g(brief: Brief, size: LeafSize) -> float:
    edge = brief.edge
    if edge.style is EdgeStyle.OUTRIGGER:
        run = 2 * (size.backer.width + size.backer.height)
        return run * edge.strip_width_nm * edge.strip_thickness_nm * _density(edge.strip_material)
    if edge.style is EdgeStyle.BANDED:
        run = 2 * (size.face.width + size.backer.height)
        return run * edge.lipping_thickness_nm * edge.lipping_depth_nm * _density(edge.lipping_species)
    return 0.0


def _behind_mass_g(brief: Brief, size: LeafSize) -> float:
    """Parts on the back, as long in proportion as they are in the brief's own size."""
    own = leaf_size(brief, brief.blocks.columns or size.columns, brief.blocks.rows or size.rows)
    mass = 0.0
    for part in brief.behind:
        ratio = size.face.height / own.face.height if part.upright else size.face.width / own.face.width
        volume = part.count * part.length_nm * ratio * part.width_nm * part.depth_nm
        mass += volume * _density(part.species)
    return mass


def _hinge_stile_mass_g(brief: Brief, size: LeafSize) -> float:
    """The stile that the hinges are screwed to, from the edge of the face to where strips would end."""
    edge, upright = brief.edge, brief.access.hinge in (Side.LEFT, Side.RIGHT)
    outrigger = edge.style is EdgeStyle.OUTRIGGER
    past = size.face.width - size.backer.width if upright else size.face.height - size.backer.height
    lap = edge.strip_behind_nm
    wide = past // 2 + lap - brief.butt.knuckle_nm if outrigger else HINGE_STILE_NM
    run = (size.backer.height if upright else size.backer.width) - (2 * lap if outrigger else 0)
    _, thick = post_and_stile_nm(stand_off_of(brief).stand_off_nm, brief.piece.unit)
    mass = run * wide * thick * _density(brief.blocks.species)
    strip = run * edge.strip_width_nm * edge.strip_thickness_nm * _density(edge.strip_material) if outrigger else 0.0
    return mass - strip


def _cleat_mass_g(brief: Brief, size: LeafSize) -> float:
    pieces, room = brief.cleat.pieces, size.backer.width
    each = brief.cleat.length_nm or (room if pieces == 1 else room // 3)
    long = min(pieces * (as_sold_nm(brief.cleat, each) or each), room)
    return long * (cleat_g_per_nm(brief) + packer_g_per_nm(brief))


def cleat_g_per_nm(brief: Brief) -> float:
    """Grams of panel half for each nanometre of cleat: wood by its mean height, metal by the wall of its profile."""
    cleat = brief.cleat
    mean_height = max(0.0, cleat.strip_nm - bevel_rise_nm(brief) / 2)
    if cleat.kind == "metal":
        return METAL_WALL_NM * mean_height * ALUMINIUM_KG_M3 * 1e3 / NM3_PER_M3
    return cleat.thickness_nm * mean_height * _density(cleat.material)


def packer_g_per_nm(brief: Brief) -> float:
    """Grams of packer for each nanometre of cleat."""
    return brief.cleat.packer_nm * packer_high_nm(brief) * _density(brief.cleat.material)
