"""Where a leaf's cleat may go: lines above, under and across what is hidden, in one piece or two.

The brief's own wishes come first. What it leaves open is tried line by line, and on each line as one piece or as two,
wherever no fixture is in the way of the wall half, of the panel half, or of what lies behind the panel half as it is
lifted. A wall half may bridge what is never opened, on packers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bossage.body.records import FixtureSolid
from bossage.body.site import HOLDS_OFF, PASS_NM, Site
from bossage.body.solids import Cuboid
from bossage.layout.cleat_sold import as_sold_nm, hole_before, holes_nm
from bossage.layout.grid import packer_high_nm
from bossage.units import NM_PER_MM
from bossage.zones import free_spans

SHORTEST_NM = 100 * NM_PER_MM
"""No piece of a cleat is shorter: ours, two fixings with their end distances."""

Span = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleats:
    """One way to put the cleat: its line, its pieces, and how far it departs from the brief's own words.

    `back_nm` is the thickness of packers under the wall half. `ends_nm` is taken off each end of the wall half.
    """

    words: str
    line_nm: int
    pieces: tuple[Span, ...]
    back_nm: int = 0
    ends_nm: int = 0
    departs: tuple[str, ...] = ()
    rank: int = 0  # of the line among those tried

    @property
    def wall_pieces(self) -> tuple[Span, ...]:
        """From and to of the wall half's pieces."""
        return tuple((a + self.ends_nm, b - self.ends_nm) for a, b in self.pieces)


@dataclass(frozen=True, slots=True)
class Heights:
    """Heights of both halves: the bevel's low and high edge, foot of the wall half, top of the panel half.

    `packer` is the packer's lower edge: above the sharp edge of the wall half, which would run up a packer's face into
    a corner that holds glue.
    """

    bottom: int
    low: int
    high: int
    top: int
    packer: int


def heights(site: Site, line_nm: int) -> Heights:
    """Where both halves sit when the middle of the bevel is at that height."""
    strip, rise = site.brief.cleat.strip_nm, site.rise_nm
    high = line_nm + rise // 2
    low = high - rise
    top = low + strip
    return Heights(bottom=high - strip, low=low, high=high, top=top, packer=top - packer_high_nm(site.brief))


def candidates(site: Site) -> list[Cleats]:
    """Every way that keeps clear of fixtures and of the backer's edges, best first; empty where there is none.

    Ordered by: studs that are missing, departures from the brief, the order of the lines, pieces, longer before
    shorter. Each comes once more with a wall half a little shorter, so that stiles can stand beside it.
    """
    found = [
        one
        for rank, (words, line) in enumerate(_lines(site))
        for one in _on_line(site, words, line, rank)
        if _inside(site, one)
    ]
    found += [one for held in found[:] for one in _shorter(site, held)]
    if site.brief.cleat.lengths_nm:
        found = [sold for one in found for sold in [_as_sold(site, one)] if sold is not None]
    return sorted(found, key=lambda one: _cost(site, one))


def studs_met(site: Site, one: Cleats) -> list[int]:
    """Free studs that the wall half can be screwed to: far enough inside its ends, or before one of its holes."""
    cleat, studs, pieces = site.brief.cleat, sorted(site.free_studs(one.line_nm)), one.wall_pieces
    if cleat.hole_pitch_nm is not None:
        wide = site.brief.wall.stud_width_nm
        return [x for x in studs if hole_before(cleat, pieces, x, wide) is not None]
    return [x for x in studs if any(min(x - a, b - x) >= cleat.end_distance_nm for a, b in pieces)]


def _as_sold(site: Site, one: Cleats) -> Cleats | None:
    """Each piece in the longest length that is sold and fits, moved along until most studs have a hole; None if none.

    What is bought is not sawn, so the wall half is as long as the panel half.
    """
    cleat, pieces = site.brief.cleat, []
    for start, stop in one.pieces:
        long = as_sold_nm(cleat, stop - start)
        if long is None or one.ends_nm:
            return None
        middle = start + (stop - start - long) // 2
        moved = {middle, start, stop - long}
        if cleat.hole_pitch_nm is not None:
            first = holes_nm(cleat, (0, long))
            moved |= {x - hole for x in site.free_studs(one.line_nm) for hole in first}
        best = min(
            (at for at in moved if start <= at <= stop - long),
            key=lambda at: (-len(studs_met(site, replace(one, pieces=((at, at + long),)))), abs(at - middle), at),
        )
        pieces.append((best, best + long))
    return replace(one, pieces=tuple(pieces))


def _cost(site: Site, one: Cleats) -> tuple[int, ...]:
    if site.wants_studs:
        missing = max(0, 2 - len(studs_met(site, one)))
    else:
        missing = sum(not room_for_fixings(site, one.line_nm, piece) for piece in one.wall_pieces)
    total = sum(b - a for a, b in one.pieces)
    wished = site.brief.cleat.pieces
    return (missing, len(one.departs), one.rank, abs(len(one.pieces) - wished), one.back_nm, one.ends_nm, -total)


def room_for_fixings(site: Site, line_nm: int, piece: Span) -> bool:
    """Whether a piece of the wall half has a place for a fixing that no zone takes."""
    if not site.zones:
        return True
    foot, bevel = site.wall_half_nm(line_nm)
    end = site.brief.cleat.end_distance_nm
    return bool(free_spans(site.zones, (piece[0] + end, piece[1] - end), (foot + bevel) // 2))


def _lines(site: Site) -> Iterator[tuple[str, int]]:
    """Heights of the line worth trying, each with its words; the brief's own alone where it gives one."""
    cleat, leaf, backer = site.brief.cleat, site.leaf, site.mount
    rise, strip = site.rise_nm, cleat.strip_nm
    top_of_line = backer.top - strip + rise - rise // 2  # the panel half ends at the backer's top
    if cleat.line_below_top_nm is not None:
        yield "where the brief puts it", leaf.y_nm + leaf.height_nm - cleat.line_below_top_nm
        return
    lines = []
    rails = [p for p in site.brief.behind if not p.upright and p.role in HOLDS_OFF]
    if cleat.arm_nm is not None and rails:
        lines.append(("above the foot rail by the brief's arm", backer.y + rails[-1].width_nm // 2 + cleat.arm_nm))
    lines.append(("along the top of the backer", top_of_line))
    if rails:
        lines.append(("under the top rail", top_of_line - rails[0].width_nm))
    for one in sorted(site.hidden, key=lambda one: -one.air_box.y1):
        # the wall half stands on top of the air of what is hidden
        lines.append((f"above the {one.name}", one.air_box.y1 + strip - rise // 2))
    for one in sorted(site.hidden, key=lambda one: -one.air_box.y0):
        # the panel half, lifted, still ends under it
        lines.append((f"below the {one.name}", one.air_box.y0 - site.lift_nm - strip + rise - rise // 2))
    seen = set()
    for words, line in lines:
        if line not in seen:
            seen.add(line)
            yield words, line


def _on_line(site: Site, words: str, line: int, rank: int) -> Iterator[Cleats]:
    """One piece as wished, then moved or cut to where the wall is free, then two pieces, then a bridge."""
    cleat, backer = site.brief.cleat, site.mount
    wished = _wished(site)
    free = _free(site, line, site.hidden)
    base = Cleats(words=words, line_nm=line, pieces=wished, rank=rank)
    if all(_within(piece, free) for piece in wished):
        yield base
    spread = backer.x, backer.right
    for room in _room_for_uprights(site):
        # a shorter cleat, so that what stands upright behind the backer has room beside it
        piece = (spread[0] + room, spread[1] - room)
        if (
            cleat.length_nm is None
            and cleat.pieces == 1
            and piece[1] - piece[0] >= SHORTEST_NM
            and _within(piece, free)
        ):
            yield replace(base, words=f"{words}, with room for stiles or ribs beside it", pieces=(piece,))
    if cleat.pieces == 1:
        yield from _moved(site, base, free)
        yield from _parted(site, base, free)
    yield from _bridged(site, base)


def _wished(site: Site) -> tuple[Span, ...]:
    """The pieces as the brief has them; centred on the leaf but for its offset."""
    cleat, leaf, backer = site.brief.cleat, site.leaf, site.mount
    length = cleat.length_nm or (backer.width if cleat.pieces == 1 else backer.width // 3)
    apart = 0 if cleat.pieces == 1 else cleat.apart_nm or max(length, backer.width - length)
    start = leaf.x_nm + (leaf.width_nm - length - apart) // 2 + cleat.offset_nm
    return tuple((start + apart * k, start + apart * k + length) for k in range(cleat.pieces))


def _moved(site: Site, base: Cleats, free: list[Span]) -> Iterator[Cleats]:
    """One piece in each free stretch, as near to the middle of the leaf as may be."""
    cleat, leaf = site.brief.cleat, site.leaf
    middle = leaf.x_nm + leaf.width_nm // 2 + cleat.offset_nm
    for low, high in free:
        length = min(cleat.length_nm or high - low, high - low)
        if length < SHORTEST_NM or not low <= middle <= high:
            continue  # a leaf that hangs beside its middle tips
        start = min(max(middle - length // 2, low), high - length)
        piece = (start, start + length)
        if piece == base.pieces[0]:
            continue
        departs = ["shorter than the brief's length"] if length < (cleat.length_nm or 0) else []
        if cleat.length_nm is not None and length == cleat.length_nm:
            departs.append("moved along")
        yield replace(base, words=f"{base.words}, moved clear", pieces=(piece,), departs=tuple(departs))


def _parted(site: Site, base: Cleats, free: list[Span]) -> Iterator[Cleats]:
    """Two pieces, one at each side of what is hidden."""
    leaf, wished = site.leaf, site.brief.cleat.length_nm
    middle = leaf.x_nm + leaf.width_nm // 2
    left = [(a, b) for a, b in free if (a + b) // 2 < middle and b - a >= SHORTEST_NM]
    right = [(a, b) for a, b in free if (a + b) // 2 >= middle and b - a >= SHORTEST_NM]
    if not left or not right or left[0] == right[-1]:
        return
    one, other = left[0], right[-1]
    length = min(one[1] - one[0], other[1] - other[0], wished // 2 if wished else one[1] - one[0])
    length = max(length, SHORTEST_NM)
    pieces = ((one[0], one[0] + length), (other[1] - length, other[1]))
    departs = ("in two pieces",) if wished is not None else ()
    yield replace(base, words=f"{base.words}, in two pieces beside what is hidden", pieces=pieces, departs=departs)


def _bridged(site: Site, base: Cleats) -> Iterator[Cleats]:
    """The wall half on packers over what is low and never opened, where the stand-off gives room for it."""
    over = [f for f in site.hidden if _crosses(site, base, f)]
    if not over or any(_opened(site, f) for f in over):
        return
    back = max(f.air_box.z1 for f in over)
    if back + site.brief.cleat.thickness_nm > site.stand_off_nm:
        return
    bridged = replace(base, words=f"{base.words}, on packers over the {over[0].name}", back_nm=back)
    others = tuple(f for f in site.hidden if f not in over)
    if all(_within(piece, _free(site, base.line_nm, others)) for piece in base.pieces):
        yield bridged


def opened(site: Site, name: str) -> bool:
    """Whether somebody has to get at a fixture: it has a door or cover screws, or is opened at all."""
    fixture = next(f for f in site.brief.fixtures if f.name == name)
    return bool(fixture.door or fixture.cover_screws_nm or fixture.opened_per_year > 0)


def _opened(site: Site, fixture: FixtureSolid) -> bool:
    return opened(site, fixture.name)


def _crosses(site: Site, one: Cleats, fixture: FixtureSolid) -> bool:
    at, box = heights(site, one.line_nm), fixture.air_box
    across = any(a < box.x1 and b > box.x0 for a, b in one.pieces)
    return across and box.y0 < at.top + site.lift_nm and box.y1 > at.bottom


def _free(site: Site, line: int, hidden: tuple[FixtureSolid, ...]) -> list[Span]:
    """Stretches of the backer along which neither half, nor what lies behind the panel half, meets a fixture."""
    backer, at = site.mount, heights(site, line)
    cleat = site.brief.cleat
    volumes = (
        Cuboid(0, 1, at.bottom, at.high, 0, cleat.thickness_nm),
        Cuboid(0, 1, at.low, at.top + site.lift_nm, 0, cleat.thickness_nm),
        Cuboid(0, 1, at.high, at.top + site.lift_nm, cleat.thickness_nm, site.stand_off_nm),
    )
    free = [(backer.x, backer.right)]
    for box in (f.air_box for f in hidden):
        if any(v.y0 < box.y1 and v.y1 > box.y0 and v.z0 < box.z1 and v.z1 > box.z0 for v in volumes):
            free = [part for span in free for part in _less(span, (box.x0, box.x1))]
    for opening in site.openings:
        # the panel half, and what lies behind it, may not close a vent
        if opening.y < at.top and opening.top > at.low:
            free = [part for span in free for part in _less(span, (opening.x, opening.right))]
    return free


def _less(span: Span, hole: Span) -> Iterator[Span]:
    if hole[1] <= span[0] or hole[0] >= span[1]:
        yield span
        return
    if hole[0] > span[0]:
        yield span[0], hole[0]
    if hole[1] < span[1]:
        yield hole[1], span[1]


def _within(piece: Span, free: list[Span]) -> bool:
    return any(a <= piece[0] and piece[1] <= b for a, b in free)


def _room_for_uprights(site: Site) -> Iterator[int]:
    """How much of each end of the backer upright parts would take."""
    widths = [p.width_nm for p in site.brief.behind for _ in range(p.count) if p.upright]
    if widths:
        yield sum(widths[: -(-len(widths) // 2)]) + 2 * PASS_NM[site.brief.piece.unit]


def _shorter(site: Site, one: Cleats) -> Iterator[Cleats]:
    if any(p.upright and p.role in HOLDS_OFF for p in site.brief.behind):
        yield replace(one, ends_nm=PASS_NM[site.brief.piece.unit])


def _inside(site: Site, one: Cleats) -> bool:
    at, backer = heights(site, one.line_nm), site.mount
    level = backer.y <= at.bottom and at.top <= backer.top
    along = all(backer.x <= a and b <= backer.right and b - a > 2 * one.ends_nm for a, b in one.pieces)
    return level and along


def wished_anyway(site: Site) -> Cleats:
    """The brief's own cleat, whatever it runs into: for a drawing where no candidate is left."""
    words, line = next(_lines(site))
    lowest, highest = site.mount.y, site.mount.top
    at = heights(site, line)
    line = min(line, line + highest - at.top)
    line = max(line, line + lowest - heights(site, line).bottom)
    forced = Cleats(words=words, line_nm=line, pieces=_wished(site))
    return _as_sold(site, forced) or forced
