"""Which grids, leaves and places are worth a look: those where something begins or ends, and no others."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bossage.brief.records import Brief, EdgeStyle, Need
from bossage.layout.grid import fixture_rect, hidden_rect, lift_room_wanted, obstacles_of
from bossage.layout.rect import Rect
from bossage.layout.refused import to_hide
from bossage.layout.rough import LeafSize, fits_a_sheet, leaf_size, rough_cost_cents, rough_mass_g
from bossage.layout.sizes_rules import LEAF_MOST_G, LEAF_MOST_NM, LEAVES_MOST, cleat_span, wants_studs
from bossage.layout.stand_off import stand_off_of
from bossage.layout.wall_rules import EYE_ABOUT_NM, EYE_SEATED_NM, EYE_STANDING_NM, gap_band


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """One grid with all that does not depend on its place."""

    leaf: LeafSize
    leaves: int
    width: int
    height: int
    leaf_g: float
    cost_cents: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
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


def site_of(brief: Brief) -> Site:
    """The wall and what hangs and stands there, as every grid is held against it."""
    blocks = brief.blocks
    return Site(
        brief=brief,
        hidden=hidden_rect(brief),
        faces=tuple(fixture_rect(f) for f in to_hide(brief)),
        obstacles=obstacles_of(brief),
        # Beyond the margin, and what hides the fixture from the side, more cover is no gain.
        wanted_nm=max(blocks.cover_margin_nm, 2 * stand_off_of(brief).stand_off_nm),
        studs=wants_studs(brief),
        pitch_x=blocks.module_width_nm + blocks.gap_nm,
        pitch_y=blocks.module_height_nm + blocks.gap_nm,
        top_nm=brief.wall.height_nm - lift_room_wanted(brief),
    )


def shapes_of(site: Site, more: int) -> Iterator[Shape]:
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
                yield Shape(
                    leaf=size,
                    leaves=leaves,
                    width=width,
                    height=size.face.height,
                    leaf_g=mass,
                    cost_cents=rough_cost_cents(brief, size, leaves),
                )


def _grid_range(site: Site, hidden: int, wall: int, pitch: int, more: int) -> range:
    """Columns (or rows) from the fewest that may cover to some more, while they fit the wall."""
    least = 3 if site.brief.edge.style is EdgeStyle.OUTRIGGER else 1
    first = max(least, -(-max(hidden, 0) // pitch))
    return range(first, min(first + more, (wall + pitch) // pitch) + 1)


def across(site: Site, shape: Shape, wish: int) -> list[int]:
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


def up_the_wall(site: Site, shape: Shape, wish: int) -> list[int]:
    """Places up the wall that matter."""
    brief, height = site.brief, shape.height
    low, high = max(0, site.hidden.top - height), min(site.top_nm - height, site.hidden.y)
    marks = [edge for o in site.obstacles for edge in (o.y - height, o.top)]
    # as low and as high as the margin lets it hang, for what is behind it
    margin = brief.blocks.cover_margin_nm
    marks += [site.hidden.y - margin, site.hidden.top + margin - height]
    for item in brief.furniture:
        lower, upper = gap_band(item.kind)
        marks += [item.top_nm, item.top_nm + lower, item.top_nm + (lower if upper is None else upper)]
    marks += [middle - height // 2 for band in (EYE_SEATED_NM, EYE_STANDING_NM) for middle in _about(band)]
    for fixture in to_hide(brief):
        if Need.AIR in fixture.needs:
            face = fixture_rect(fixture)
            for rows in range(1, shape.leaf.rows):
                marks += [face.y - rows * site.pitch_y, face.top + rows * site.pitch_y - height]
    return sorted({v for v in (low, high, min(max(wish, low), high), *marks) if low <= v <= high})


def _about(band: tuple[int, int]) -> tuple[int, int]:
    """The ends of an eye-level band with its slack."""
    return band[0] - EYE_ABOUT_NM, band[1] + EYE_ABOUT_NM
