"""What a layout would have to give where its cleat has no place: more rows or columns, or another place on the wall.

Sizes are tried from the smallest on, each at the place that suits the piece best and shifted up and down as far as what
is hidden stays covered. A size counts only when every part of every leaf has its place on it and nothing is met on the
way off.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bossage.body.cleats import studs_met
from bossage.body.place import fitting, place_leaf
from bossage.body.records import Wants
from bossage.body.site import Site, outline_of
from bossage.body.words import Voice
from bossage.brief.records import Brief, DefaultUsed, LeafBrief
from bossage.checks import Edit
from bossage.layout.edits import size_edits, toml_length
from bossage.layout.grid import Grid, covering_room, plan_grid
from bossage.layout.place import nearest_place
from bossage.units import NM_PER_MM

MORE = 4  # rows and columns that are tried beyond those that there are

Place = tuple[int, int]


STRIPS_NM = {60 * NM_PER_MM: 1.0, 50 * NM_PER_MM: 1.05, 40 * NM_PER_MM: 1.15}
"""Lower halves of a cleat that are tried where the brief leaves their height open, each with what a piece so much
larger would count for it: a low half grips as deep, but has less wood for its screws. Ours."""


@dataclass(frozen=True, slots=True)
class _Try:
    """A size, a place and a height of the cleat's halves to try."""

    more_rows: int
    more_columns: int
    strip_nm: int
    places: tuple[Place, ...]
    grid: Grid


def strips_to_try(brief: Brief) -> dict[int, float]:
    """Heights of the cleat's halves, the brief's own first, and lower ones where the brief leaves it open."""
    strips = {brief.cleat.strip_nm: 1.0}
    if brief.left_open("cleat.strip"):
        strips |= {strip: dear for strip, dear in STRIPS_NM.items() if strip < brief.cleat.strip_nm}
    return strips


def with_strip(brief: Brief, strip_nm: int) -> Brief:
    """The brief with cleat halves of that height, and a packer as high as the half if it was so before."""
    cleat = brief.cleat
    high = strip_nm if cleat.packer_height_nm == cleat.strip_nm else cleat.packer_height_nm
    return replace(brief, cleat=replace(cleat, strip_nm=strip_nm, packer_height_nm=high))


def smallest_wants(brief: Brief, reason: str) -> Wants | None:
    """The smallest larger size, or the nearest other place, on which everything has its place; None if none does."""
    now = plan_grid(brief)
    for one in _tries(brief, now):
        amended = _amended(brief, one)
        if fits(amended):
            return _wants(brief, one, reason)
    return None


def amended(brief: Brief, wants: Wants) -> Brief:
    """The brief with what the body wants, as if the maker had said so."""
    brief = with_strip(brief, wants.strip_nm or brief.cleat.strip_nm)
    blocks = replace(
        brief.blocks,
        rows=wants.rows or brief.blocks.rows,
        columns=wants.columns or brief.blocks.columns,
        leaves=_leaves_at(brief, wants.places_nm or ()),
    )
    found = DefaultUsed(field="blocks", value=wants.words, reason=f"so that everything has its place: {wants.reason}")
    return replace(brief, blocks=blocks, defaults=(*brief.defaults, found))


def _tries(brief: Brief, now: Grid) -> Iterator[_Try]:
    leaves = max(1, len(brief.blocks.leaves))
    strips = strips_to_try(brief)
    # a lower cleat asks for less than a move of what the maker has placed
    if any(leaf.x_nm is not None or leaf.y_nm is not None for leaf in brief.blocks.leaves):
        yield from (_Try(0, 0, strip, now.places, now) for strip in strips if strip != brief.cleat.strip_nm)
    sizes = [(r, c, s) for r in range(MORE + 1) for c in range(MORE + 1 if leaves == 1 else 1) for s in strips]
    for rows, columns, strip in sorted(
        sizes, key=lambda s: ((now.rows + s[0]) * (now.columns + s[1]) * strips[s[2]], s[0] + s[1], -s[2])
    ):
        bare = replace(brief, blocks=replace(brief.blocks, rows=now.rows + rows, columns=now.columns + columns))
        bare = replace(bare, blocks=replace(bare.blocks, leaves=_unplaced(brief)))
        grid = plan_grid(bare)
        total = grid.places[-1][0] + grid.width_nm - grid.places[0][0]
        room = covering_room(bare, total, grid.height_nm)
        seen = set()
        for wish in (grid.places[0][1], room.y_high, room.y_low):
            spot = nearest_place((grid.places[0][0], wish), total, grid.height_nm, room)
            if spot is None or spot in seen:
                continue
            seen.add(spot)
            dx, dy = spot[0] - grid.places[0][0], spot[1] - grid.places[0][1]
            places = tuple((x + dx, y + dy) for x, y in grid.places)
            if not (rows or columns) and places == now.places and strip == brief.cleat.strip_nm:
                continue
            yield _Try(rows, columns, strip, places, grid)


def _unplaced(brief: Brief) -> tuple[LeafBrief, ...]:
    return tuple(replace(leaf, x_nm=None, y_nm=None) for leaf in brief.blocks.leaves)


def _leaves_at(brief: Brief, places: tuple[Place, ...]) -> tuple[LeafBrief, ...]:
    given = brief.blocks.leaves or (LeafBrief(name="leaf 1", x_nm=None, y_nm=None, open_cells=()),)
    if not places:
        return given
    return tuple(replace(leaf, x_nm=x, y_nm=y) for leaf, (x, y) in zip(given, places, strict=True))


def _amended(brief: Brief, one: _Try) -> Brief:
    blocks = replace(brief.blocks, rows=one.grid.rows, columns=one.grid.columns, leaves=_leaves_at(brief, one.places))
    return with_strip(replace(brief, blocks=blocks), one.strip_nm)


def fits(brief: Brief) -> bool:
    """Whether every part of every leaf has its place."""
    return fewest_studs(brief) is not None


def fewest_studs(brief: Brief) -> int | None:
    """Studs that the cleat of the leaf with the fewest meets; None where not every part has its place."""
    sites = _sites(brief)
    whole = [(site, draft) for site in sites if (draft := fitting(site)) is not None]
    if len(whole) < len(sites):
        return None
    return min(len(studs_met(site, d.cleats)) if d.cleats else 0 for site, d in whole)


def lacking(brief: Brief) -> str:
    """Why not every part of every leaf has its place, in words; empty where each has."""
    for site in _sites(brief):
        draft = place_leaf(site)
        if not draft.whole:
            subject = "no place for the cleat:" if draft.forced else "the cleat" if site.lifts else "the leaf"
            return f"{subject} {draft.reason(site)}"
    return ""


def _sites(brief: Brief) -> list[Site]:
    """The leaves of the first copy."""
    outline = outline_of(brief)
    return [Site(brief, outline, leaf, n) for n, leaf in enumerate(outline.leaves) if leaf.copy == 1]


def _wants(brief: Brief, one: _Try, reason: str) -> Wants:
    blocks = brief.blocks
    said = []
    for more, word in ((one.more_rows, "row"), (one.more_columns, "column")):
        if more:
            said.append(f"{more} {word}{'s' if more > 1 else ''} more")
    open_size = blocks.rows is None and blocks.columns is None
    free = all(f.quotas is None and f.count is None for f in blocks.footprints) and all(
        fill.count is None for fill in blocks.fills
    )
    unplaced = all(leaf.x_nm is None and leaf.y_nm is None for leaf in blocks.leaves)
    moved = one.places != plan_grid(brief).places
    edits = size_edits(brief, one.grid.columns, one.grid.rows, one.places) if said or moved else ()
    told = [f"take {' and '.join(said)}"] if said else ["move the piece"] if moved else []
    if one.strip_nm != brief.cleat.strip_nm:
        told.append(f"rip the cleat's halves {Voice(brief).say(one.strip_nm)} high")
        edits += (Edit(op="set", path=("cleat", "strip"), value=toml_length(one.strip_nm, brief.piece.unit)),)
    return Wants(
        rows=one.grid.rows,
        columns=one.grid.columns,
        places_nm=one.places if said or moved else None,
        strip_nm=one.strip_nm,
        words=" and ".join(told),
        reason=reason,
        edits=edits,
        open=(unplaced or not (said or moved)) and ((open_size and free and not blocks.pins) or not said),
    )
