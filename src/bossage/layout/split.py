"""A leaf that is too wide, too heavy or too large for its board, parted into leaves that are not."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.records import Brief, EdgeStyle
from bossage.checks import Edit
from bossage.layout.edits import size_edits
from bossage.layout.grid import fixture_rect, plan_grid
from bossage.layout.rect import Rect, around
from bossage.layout.refused import to_hide
from bossage.layout.rough import LeafSize, fits_a_sheet, leaf_size, rough_mass_g
from bossage.layout.sizes_rules import LEAF_MOST_G, LEAF_MOST_NM, LEAVES_MOST
from bossage.layout.suggest import NoHeal, sound_place
from bossage.layout.words import Voice
from bossage.units import format_mass


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """The piece in more leaves. `reasons` say what is amiss with it as it is, `gives_up` what the split costs."""

    leaves: int
    columns: int  # of each leaf
    rows: int
    gap_nm: int
    places: tuple[tuple[int, int], ...]
    leaf_g: float
    reasons: tuple[str, ...]
    gives_up: tuple[str, ...]
    text: str
    edits: tuple[Edit, ...]


def too_large(brief: Brief) -> tuple[str, ...]:
    """What makes a leaf of the brief's own size too large, in words; none where it is not."""
    grid = plan_grid(brief)
    return _reasons(brief, leaf_size(brief, grid.columns, grid.rows))


def smallest_split(brief: Brief) -> Split | NoHeal | None:
    """The fewest leaves, as wide together as the piece is now or nearly so, of which none is too large.

    Returns:
        The split; None where no leaf is too large; `NoHeal` where up to four leaves do not do it.
    """
    reasons = too_large(brief)
    if not reasons:
        return None
    grid, gap = plan_grid(brief), brief.blocks.leaf_gap_nm
    now = len(grid.places)
    if len({y for _, y in grid.places}) > 1:
        reason = f"{', '.join(reasons)}; leaves that stand over one another are not parted"
        return NoHeal(reason=reason, remedy="part them by hand")
    outline = around(Rect(x, y, grid.width_nm, grid.height_nm) for x, y in grid.places)
    least = 3 if brief.edge.style is EdgeStyle.OUTRIGGER else 1
    for leaves in range(now + 1, LEAVES_MOST + 1):
        about = now * grid.columns / leaves
        for columns in sorted(range(least, grid.columns + 1), key=lambda c: (abs(c - about), -c)):
            if abs(columns - about) > 1:
                break
            size = leaf_size(brief, columns, grid.rows)
            if min(size.backer.width, size.backer.height) <= 0 or _reasons(brief, size):
                continue
            step = size.face.width + gap
            wide = leaves * step - gap
            left = outline.x + (outline.width - wide) // 2
            places = tuple((left + n * step, outline.y) for n in range(leaves))
            move = sound_place(brief, size, places)
            if move is not None:
                dx, dy = move[0] - places[0][0], move[1] - places[0][1]
                places = tuple((x + dx, y + dy) for x, y in places)
            elif outline.width > wide and _covers(brief, outline) and not _covers(brief, _around(size, places)):
                continue  # never cover less because of a split
            return _split(brief, size, places, reasons)
    return NoHeal(
        reason=f"no split into up to {LEAVES_MOST} leaves helps: {', '.join(reasons)}",
        remedy="take rows off, lower levels, a lighter wood or a thinner backer, or a larger board",
    )


def _reasons(brief: Brief, size: LeafSize) -> tuple[str, ...]:
    voice, mass, unit = Voice(brief), rough_mass_g(brief, size), brief.piece.unit
    cap = min(LEAF_MOST_G, brief.piece.mass_cap_g or LEAF_MOST_G)
    reasons = []
    if size.face.width > LEAF_MOST_NM:
        reasons.append(f"{voice.say(size.face.width)} wide, over {voice.say(LEAF_MOST_NM)}")
    if mass > cap:
        reasons.append(f"about {format_mass(mass, unit)}, over {format_mass(cap, unit)}")
    if not fits_a_sheet(brief, size):
        reasons.append(f"a backer of {voice.say(size.backer.width)} × {voice.say(size.backer.height)} on no board")
    return tuple(reasons)


def _split(brief: Brief, size: LeafSize, places: tuple[tuple[int, int], ...], reasons: tuple[str, ...]) -> Split:
    voice = Voice(brief)
    mass, gap, n = rough_mass_g(brief, size), brief.blocks.leaf_gap_nm, len(places)
    leaves = [Rect(x, y, size.face.width, size.face.height) for x, y in places]
    given = []
    cut = [f.name for f in to_hide(brief) if not any(_holds(leaf, fixture_rect(f)) for leaf in leaves)]
    if cut:
        given.append(f"{' and '.join(cut)} lies behind a gap: to reach it take off more than one leaf")
    before = plan_grid(brief)
    old = around(Rect(x, y, before.width_nm, before.height_nm) for x, y in before.places)
    new = around(leaves)
    if new.width != old.width:
        more = new.width - old.width
        given.append(f"the piece becomes {voice.say(abs(more))} {'wider' if more > 0 else 'narrower'}")
    words = (
        f"split it into {n} leaves of {size.columns} columns each, {voice.say(gap)} apart: {n} × "
        f"{voice.say(size.face.width)}, about {format_mass(mass, brief.piece.unit)} a leaf"
    )
    return Split(
        leaves=n,
        columns=size.columns,
        rows=size.rows,
        gap_nm=gap,
        places=places,
        leaf_g=mass,
        reasons=reasons,
        gives_up=tuple(given),
        text=words,
        edits=size_edits(brief, size.columns, size.rows, places),
    )


def _covers(brief: Brief, outline: Rect) -> bool:
    return all(_holds(outline, fixture_rect(f)) for f in to_hide(brief))


def _around(size: LeafSize, places: tuple[tuple[int, int], ...]) -> Rect:
    return around(Rect(x, y, size.face.width, size.face.height) for x, y in places)


def _holds(leaf: Rect, face: Rect) -> bool:
    return leaf.x <= face.x and leaf.right >= face.right and leaf.y <= face.y and leaf.top >= face.top
