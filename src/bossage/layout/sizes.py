"""Sizes to choose from: those that no other beats in cover, mass, cost, proportion and studs at once.

For each grid the places that matter are few: along the wall and up it, the best cover lies at the centre or where a
rule, a stud or an obstacle begins. So the front is exact over all places, not only over a raster of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bossage.brief.records import Brief, EdgeStyle, FixingKind, Fixture, Need, Opens, WallBuild
from bossage.checks import Edit
from bossage.layout.edits import size_edits
from bossage.layout.grid import (
    centred_place,
    fixture_rect,
    hidden_rect,
    lift_room_wanted,
    obstacles_of,
    plan_grid,
)
from bossage.layout.rect import Rect, around
from bossage.layout.rough import LeafSize, fits_a_sheet, leaf_size, rough_cost_cents, rough_mass_g
from bossage.layout.stand_off import stand_off_of
from bossage.layout.wall_rules import EYE_ABOUT_NM, EYE_SEATED_NM, EYE_STANDING_NM, gap_band, off_eye_level, width_suits
from bossage.layout.words import Voice, mm
from bossage.units import format_mass, format_money

LEAF_MOST_NM = mm(900)  # above this, or above LEAF_MOST_G, split: our assumption from shop talk
LEAF_MOST_G = 18_000.0
LEAVES_MOST = 4
MORE = 12  # columns and rows beyond the smallest grid that covers
STUDS_COUNTED = 3  # a fourth stud is no gain to speak of
STUDS_LEAST = 2
RULES = {
    "width_band": "two thirds to three quarters of the furniture below",
    "furniture_gap": "the gap above the furniture",
    "eye_level": "a centre near eye level",
    "one_leaf": "one leaf in front of each fixture",
    "leaf_size": "leaves of at most 900 mm",
    "leaf_mass": "leaves of at most 18 kg",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A size and place. `margin_nm` is the least cover over all fixtures; masses are estimates."""

    columns: int  # of each leaf
    rows: int
    leaves: int
    x_nm: int
    y_nm: int
    width_nm: int  # of all leaves with their gaps
    height_nm: int
    margin_nm: int
    leaf_g: float  # one leaf
    mass_g: float  # all leaves
    cost_cents: int | None
    broken: tuple[str, ...]  # proportion rules that it breaks, keys of RULES
    studs: int  # fewest that a leaf's cleat meets
    own: bool  # the size and place that the brief itself leads to
    gives_up: tuple[str, ...] = ()
    edits: tuple[Edit, ...] = ()  # the brief's way to it; none where counts cannot be kept in proportion


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shape:
    """One grid with all that does not depend on its place."""

    leaf: LeafSize
    leaves: int
    width: int
    height: int
    leaf_g: float
    cost_cents: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Site:
    """What every grid is held against, worked out once."""

    brief: Brief
    hidden: Rect
    faces: tuple[Rect, ...]
    obstacles: tuple[Rect, ...]
    wanted_nm: int
    studs: bool
    pitch_x: int
    pitch_y: int
    top_nm: int  # as high as the piece may reach


def candidate_sizes(brief: Brief, *, more: int = MORE) -> tuple[Candidate, ...]:
    """All sizes and places on the Pareto front, best first, each with what it gives up against the others.

    Judged by: cover margin (up to the wanted one: more is no gain), mass, cost, proportion rules broken, studs met.
    Ranked by studs short of two, rules broken, cover, mass, cost. Every candidate covers all fixtures, leaves rows to
    open above and below what must breathe, stands free of obstacles on the wall, leaves room to lift off, can be cut
    from a board and keeps the mass cap.

    Args:
        brief: What the maker said; columns, rows and place in it are only where the search begins.
        more: How many columns and rows beyond the smallest grid that covers are looked at.

    Returns:
        The front; empty when nothing fits. The brief's own size is marked where it lies on the front, and
        `own_size` gives it where it does not.
    """
    site = _site(brief)
    found = [c for shape in _shapes(site, more) for c in _best_places(site, shape)]
    front = pareto([(_costs(site, c), c) for c in found])
    ranked = sorted(front, key=lambda c: _rank(site, c))
    return tuple(replace(c, gives_up=_gives_up(site, c, ranked), edits=_edits(brief, c)) for c in ranked)


def own_size(brief: Brief) -> Candidate:
    """The size and place that the brief itself leads to, measured like the candidates."""
    site, grid = _site(brief), plan_grid(brief)
    leaves = len(grid.places)
    size = leaf_size(brief, grid.columns, grid.rows)
    outline = around(Rect(x, y, grid.width_nm, grid.height_nm) for x, y in grid.places)
    shape = _Shape(
        leaf=size,
        leaves=leaves,
        width=outline.width,
        height=outline.height,
        leaf_g=rough_mass_g(brief, size),
        cost_cents=rough_cost_cents(brief, size, leaves),
    )
    return _candidate(site, shape, outline.x, outline.y, own=True)


def rule_words(brief: Brief, rule: str) -> str:
    """A rule of `RULES`, its figures in the piece's unit."""
    if rule == "leaf_size":
        return f"leaves of at most {Voice(brief).say(LEAF_MOST_NM)}"
    if rule == "leaf_mass":
        return f"leaves of at most {format_mass(LEAF_MOST_G, brief.piece.unit)}"
    return RULES[rule]


def leaf_places(brief: Brief, c: Candidate) -> tuple[tuple[int, int], ...]:
    """Lower left corners of a candidate's leaves, side by side."""
    step = (c.width_nm + brief.blocks.leaf_gap_nm) // c.leaves
    return tuple((c.x_nm + n * step, c.y_nm) for n in range(c.leaves))


def pareto(scored: list[tuple[tuple[float, ...], Candidate]]) -> list[Candidate]:
    """Those that no other beats: as good in everything and better in something. Of equals the first stays."""
    kept: list[tuple[tuple[float, ...], Candidate]] = []
    for costs, candidate in sorted(scored, key=lambda entry: entry[0]):
        # In this order nothing that comes later can beat what is kept already.
        if not any(all(a <= b for a, b in zip(other, costs, strict=True)) for other, _ in kept):
            kept.append((costs, candidate))
    return [candidate for _, candidate in kept]


def wants_studs(brief: Brief) -> bool:
    """Whether the cleat's screws go into studs."""
    studded = brief.wall.build in (WallBuild.TIMBER_STUDS, WallBuild.METAL_STUDS)
    return studded and brief.fixings.kind is FixingKind.WOOD_SCREW and brief.access.opens is Opens.LIFT_OFF


def cleat_span(brief: Brief, size: LeafSize) -> tuple[int, int]:
    """Where a leaf's cleat begins, from the leaf's left edge, and its length: as given, else the backer's width."""
    long = min(brief.cleat.length_nm or size.backer.width, size.backer.width)
    return (size.face.width - long) // 2 + brief.cleat.offset_nm, long


def breathes(brief: Brief, fixture: Fixture, place: Rect) -> bool:
    """Whether enough whole rows lie above and below a fixture that needs air, in the columns it surely touches."""
    if Need.AIR not in fixture.needs:
        return True
    blocks = brief.blocks
    face = fixture_rect(fixture)
    across = -(-face.width // (blocks.module_width_nm + blocks.gap_nm))
    row_area = across * blocks.module_width_nm * blocks.module_height_nm
    pitch = blocks.module_height_nm + blocks.gap_nm
    # Rows count from the piece's own ends, so only whole rows clear of the fixture can be opened.
    above, below = (place.top - face.top) // pitch, (face.y - place.y) // pitch
    return min(above, below) * row_area >= face.area


def broken_rules(brief: Brief, place: Rect, leaves: tuple[Rect, ...], leaf_g: float) -> tuple[str, ...]:
    """Which proportion rules a place breaks, keys of `RULES`."""
    broken = []
    below = [f for f in brief.furniture if f.x_nm < place.right and f.right_nm > place.x and f.top_nm <= place.y]
    judged = False
    for kind in ("bench", "sofa", "bed"):
        under = [f for f in below if f.kind == kind]
        if not under:
            continue
        judged = True
        item = max(under, key=lambda f: f.top_nm)
        low, high = gap_band(kind)
        gap = place.y - item.top_nm
        if gap < low or (high is not None and gap > high):
            broken.append("furniture_gap")
        if not width_suits(place.width, item.width_nm):
            broken.append("width_band")
    if not judged and off_eye_level(brief, place.y + place.height // 2)[0] > EYE_ABOUT_NM:
        broken.append("eye_level")
    if any(not any(_holds(leaf, fixture_rect(f)) for leaf in leaves) for f in brief.fixtures):
        broken.append("one_leaf")
    if max(leaves[0].width, leaves[0].height) > LEAF_MOST_NM:
        broken.append("leaf_size")
    if leaf_g > LEAF_MOST_G:
        broken.append("leaf_mass")
    return tuple(sorted(set(broken)))


def _site(brief: Brief) -> _Site:
    blocks = brief.blocks
    return _Site(
        brief=brief,
        hidden=hidden_rect(brief),
        faces=tuple(fixture_rect(f) for f in brief.fixtures),
        obstacles=obstacles_of(brief),
        # Beyond the margin, and what hides the fixture from the side, more cover is no gain.
        wanted_nm=max(blocks.cover_margin_nm, 2 * stand_off_of(brief).stand_off_nm),
        studs=wants_studs(brief),
        pitch_x=blocks.module_width_nm + blocks.gap_nm,
        pitch_y=blocks.module_height_nm + blocks.gap_nm,
        top_nm=brief.wall.height_nm - lift_room_wanted(brief),
    )


def _shapes(site: _Site, more: int) -> Iterator[_Shape]:
    """Every grid worth a look, split into no more leaves than its size and mass ask for."""
    brief, hidden = site.brief, site.hidden
    own_leaves = max(1, len(brief.blocks.leaves))
    gap, cap = brief.blocks.leaf_gap_nm, brief.piece.mass_cap_g
    sizes: dict[tuple[int, int], tuple[LeafSize, float, bool] | None] = {}

    def measured(columns: int, rows: int) -> tuple[LeafSize, float, bool] | None:
        """A leaf, its mass, and whether it is small enough to stay one; None where it cannot be made at all."""
        if (columns, rows) not in sizes:
            size = leaf_size(brief, columns, rows)
            made = None
            if min(size.backer.width, size.backer.height) > 0:
                mass = rough_mass_g(brief, size)
                fits = fits_a_sheet(brief, size) and (cap is None or mass <= cap)
                small = fits and size.face.width <= LEAF_MOST_NM and mass <= LEAF_MOST_G
                made = (size, mass, small) if fits else (size, float("inf"), False)
            sizes[columns, rows] = made
        return sizes[columns, rows]

    for leaves in range(own_leaves, LEAVES_MOST + 1):
        for columns in _grid_range(
            site, hidden.width - (leaves - 1) * gap, brief.wall.width_nm, site.pitch_x * leaves, more
        ):
            for rows in _grid_range(site, hidden.height, brief.wall.height_nm, site.pitch_y, more):
                made = measured(columns, rows)
                if made is None or made[1] == float("inf"):
                    continue
                size, mass, _ = made
                width = leaves * size.face.width + (leaves - 1) * gap
                if width < hidden.width or size.face.height < hidden.height:
                    continue
                if leaves > own_leaves:
                    whole = measured(max(1, round(width / (leaves - 1) / site.pitch_x)), rows)
                    if whole is not None and whole[2]:
                        continue
                yield _Shape(
                    leaf=size,
                    leaves=leaves,
                    width=width,
                    height=size.face.height,
                    leaf_g=mass,
                    cost_cents=rough_cost_cents(brief, size, leaves),
                )


def _grid_range(site: _Site, hidden: int, wall: int, pitch: int, more: int) -> range:
    """Columns (or rows) from the fewest that may cover to some more, while they fit the wall."""
    least = 3 if site.brief.edge.style is EdgeStyle.OUTRIGGER else 1
    first = max(least, -(-max(hidden, 0) // pitch))
    return range(first, min(first + more, (wall + pitch) // pitch) + 1)


def _best_places(site: _Site, shape: _Shape) -> list[Candidate]:
    """The best places of one grid: per count of studs and of broken rules, the one with the most cover."""
    wish = centred_place(site.brief, shape.width, shape.height)
    best: dict[tuple[int, int], tuple[tuple[int, int, int, int], Candidate]] = {}
    ups = _up(site, shape, wish[1])
    for x in _across(site, shape, wish[0]):
        for y in ups:
            place = Rect(x, y, shape.width, shape.height)
            if any(place.overlap(o) for o in site.obstacles):
                continue
            if not all(breathes(site.brief, f, place) for f in site.brief.fixtures):
                continue
            candidate = _candidate(site, shape, x, y)
            key = (len(candidate.broken), candidate.studs)
            cover = min(candidate.margin_nm, site.wanted_nm)
            order = (-cover, abs(x - wish[0]) + abs(y - wish[1]), x, y)
            if key not in best or order < best[key][0]:
                best[key] = (order, candidate)
    return [candidate for _, candidate in best.values()]


def _candidate(site: _Site, shape: _Shape, x: int, y: int, own: bool = False) -> Candidate:
    """One grid at one place, measured."""
    brief, hidden = site.brief, site.hidden
    place = Rect(x, y, shape.width, shape.height)
    step = shape.leaf.face.width + brief.blocks.leaf_gap_nm
    leaves = tuple(Rect(x + n * step, y, shape.leaf.face.width, shape.height) for n in range(shape.leaves))
    margin = min(hidden.x - x, place.right - hidden.right, hidden.y - y, place.top - hidden.top)
    return Candidate(
        columns=shape.leaf.columns,
        rows=shape.leaf.rows,
        leaves=shape.leaves,
        x_nm=x,
        y_nm=y,
        width_nm=shape.width,
        height_nm=shape.height,
        margin_nm=margin,
        leaf_g=shape.leaf_g,
        mass_g=shape.leaf_g * shape.leaves,
        cost_cents=shape.cost_cents,
        broken=broken_rules(brief, place, leaves, shape.leaf_g),
        studs=_fewest_studs(site, shape.leaf, leaves),
        own=own,
    )


def _fewest_studs(site: _Site, size: LeafSize, leaves: tuple[Rect, ...]) -> int:
    """Studs that the leaf with the fewest meets, counted up to `STUDS_COUNTED`; 0 where none are wanted."""
    if not site.studs:
        return 0
    start, long = cleat_span(site.brief, size)
    end = site.brief.cleat.end_distance_nm
    met = [
        sum(leaf.x + start + end <= stud <= leaf.x + start + long - end for stud in site.brief.wall.studs_nm)
        for leaf in leaves
    ]
    return min(STUDS_COUNTED, *met)


def _across(site: _Site, shape: _Shape, wish: int) -> list[int]:
    """Places along the wall that matter: the centre, and wherever something begins or ends."""
    brief, width, leaf_width = site.brief, shape.width, shape.leaf.face.width
    low, high = max(0, site.hidden.right - width), min(brief.wall.width_nm - width, site.hidden.x)
    marks = [edge for o in site.obstacles for edge in (o.x - width, o.right)]
    marks += [edge for f in brief.furniture for edge in (f.x_nm - width, f.right_nm)]
    start, long = cleat_span(brief, shape.leaf)
    for n in range(shape.leaves):
        shift = n * (leaf_width + brief.blocks.leaf_gap_nm)
        if site.studs:
            end = brief.cleat.end_distance_nm
            marks += [edge - shift - start for stud in brief.wall.studs_nm for edge in (stud - end, stud + end - long)]
        if shape.leaves > 1:
            marks += [edge - shift for face in site.faces for edge in (face.x, face.right - leaf_width)]
    return sorted({v for v in (low, high, min(max(wish, low), high), *marks) if low <= v <= high})


def _up(site: _Site, shape: _Shape, wish: int) -> list[int]:
    """Places up the wall that matter."""
    brief, height = site.brief, shape.height
    low, high = max(0, site.hidden.top - height), min(site.top_nm - height, site.hidden.y)
    marks = [edge for o in site.obstacles for edge in (o.y - height, o.top)]
    for item in brief.furniture:
        lower, upper = gap_band(item.kind)
        marks += [item.top_nm, item.top_nm + lower, item.top_nm + (lower if upper is None else upper)]
    marks += [middle - height // 2 for band in (EYE_SEATED_NM, EYE_STANDING_NM) for middle in _about(band)]
    for fixture in brief.fixtures:
        if Need.AIR in fixture.needs:
            face = fixture_rect(fixture)
            for rows in range(1, shape.leaf.rows):
                marks += [face.y - rows * site.pitch_y, face.top + rows * site.pitch_y - height]
    return sorted({v for v in (low, high, min(max(wish, low), high), *marks) if low <= v <= high})


def _edits(brief: Brief, c: Candidate) -> tuple[Edit, ...]:
    return size_edits(brief, c.columns, c.rows, leaf_places(brief, c))


def _about(band: tuple[int, int]) -> tuple[int, int]:
    """The ends of an eye-level band with its slack."""
    return band[0] - EYE_ABOUT_NM, band[1] + EYE_ABOUT_NM


def _holds(leaf: Rect, face: Rect) -> bool:
    """Whether a leaf covers a whole face."""
    return leaf.x <= face.x and leaf.right >= face.right and leaf.y <= face.y and leaf.top >= face.top


def _costs(site: _Site, c: Candidate) -> tuple[float, ...]:
    """What is to be small: short of cover, mass, cost, rules broken, studs not met."""
    short = site.wanted_nm - min(c.margin_nm, site.wanted_nm)
    return (short, c.mass_g, c.cost_cents if c.cost_cents is not None else 0, len(c.broken), -c.studs)


def _rank(site: _Site, c: Candidate) -> tuple[float, ...]:
    short, mass, cost, broken, studs = _costs(site, c)
    missed = max(0, STUDS_LEAST - c.studs) if site.studs else 0
    return (missed, broken, short, mass, cost, studs, c.leaves, c.columns, c.rows, c.x_nm, c.y_nm)


def _gives_up(site: _Site, c: Candidate, front: list[Candidate]) -> tuple[str, ...]:
    """What the candidate gives up against the best of the front in each respect, in words."""
    voice, unit, money = Voice(site.brief), site.brief.piece.unit, site.brief.piece.currency
    given = []
    most = max(min(o.margin_nm, site.wanted_nm) for o in front)
    if c.margin_nm < most:
        given.append(f"{voice.say(most - c.margin_nm)} less cover")
    lightest = min(o.mass_g for o in front)
    if c.mass_g > lightest:
        given.append(f"{format_mass(c.mass_g - lightest, unit)} heavier than the lightest")
    cheapest = min((o.cost_cents for o in front if o.cost_cents is not None), default=None)
    if c.cost_cents is not None and cheapest is not None and c.cost_cents > cheapest:
        given.append(f"{format_money(c.cost_cents - cheapest, money)} dearer than the cheapest")
    given += [f"misses {rule_words(site.brief, rule)}" for rule in c.broken]
    studs = max(o.studs for o in front)
    if c.studs < studs:
        given.append(f"its cleat meets {c.studs} stud{'' if c.studs == 1 else 's'}, not {studs}")
    return tuple(given)
