"""Where the cleat, its fixings and the foot spacer sit on the wall, and which studs the cleat meets."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from bossage.brief.records import Brief, FixingKind, WallBuild
from bossage.hang.records import FootSpacer, StudMet, StudMissed
from bossage.hang.statics import carried_shares
from bossage.layout.records import Layout, Leaf
from bossage.units import NM_PER_MM

FOOT_HEIGHT_NM = 40 * NM_PER_MM
"""Height of the foot spacer: a strip of about 40 mm (1-1/2 in); common practice, no source."""

STUDDED = (WallBuild.TIMBER_STUDS, WallBuild.METAL_STUDS)
HOLDS_OFF = ("frame", "stile")


@dataclass(frozen=True, slots=True, kw_only=True)
class CleatLine:
    """A leaf's cleat on the wall: from and to of each piece, and the height of its line over the floor."""

    pieces: tuple[tuple[int, int], ...]  # left to right
    line_nm: int

    @property
    def from_nm(self) -> int:
        """Its left end."""
        return self.pieces[0][0]

    @property
    def to_nm(self) -> int:
        """Its right end."""
        return self.pieces[-1][1]

    @property
    def length_nm(self) -> int:
        """Length of one piece; all are alike."""
        return self.pieces[0][1] - self.pieces[0][0]

    @property
    def total_nm(self) -> int:
        """Length of all pieces."""
        return self.length_nm * len(self.pieces)

    def moved(self, by_nm: int) -> CleatLine:
        """The same further to the right."""
        return replace(self, pieces=tuple((start + by_nm, end + by_nm) for start, end in self.pieces))

    def shares(self, at_nm: float) -> tuple[float, ...] | None:
        """How a load at a place is shared: two pieces by the lever rule about their middles; None where it tips."""
        middles = [(start + end) / 2 for start, end in self.pieces]
        return carried_shares(middles, at_nm) if len(middles) > 1 else (1.0,)

    @property
    def middle_nm(self) -> float:
        """Its middle along the wall."""
        return (self.from_nm + self.to_nm) / 2


def bevel_rise_nm(brief: Brief) -> int:
    """How high the bevel rises over the cleat's thickness: how deep the halves grip."""
    return round(brief.cleat.thickness_nm * math.tan(math.radians(brief.cleat.bevel_deg)))


def cleat_length_nm(brief: Brief, leaf: Leaf) -> int:
    """Length of one piece of panel half: as given; else as long as the backer, which meets all studs that can be met.

    Two pieces are a third of the backer each.
    """
    return brief.cleat.length_nm or (leaf.backer_width_nm if brief.cleat.pieces == 1 else leaf.backer_width_nm // 3)


def line_below_top_nm(brief: Brief, leaf: Leaf) -> int:
    """Cleat line under the top of the leaf: as given, else so that the panel half ends at the backer's top."""
    if brief.cleat.line_below_top_nm is not None:
        return brief.cleat.line_below_top_nm
    over_backer = leaf.y_nm + leaf.height_nm - leaf.backer_y_nm - leaf.backer_height_nm
    wanted = over_backer + brief.cleat.strip_nm - bevel_rise_nm(brief) // 2
    return min(wanted, over_backer + leaf.backer_height_nm // 2)


def cleat_line(brief: Brief, leaf: Leaf) -> CleatLine:
    """The leaf's cleat, centred on the leaf but for the offset that the brief gives."""
    cleat, length = brief.cleat, cleat_length_nm(brief, leaf)
    apart = 0 if cleat.pieces == 1 else cleat.apart_nm or max(length, leaf.backer_width_nm - length)
    start = leaf.x_nm + (leaf.width_nm - length - apart) // 2 + cleat.offset_nm
    line = leaf.y_nm + leaf.height_nm - line_below_top_nm(brief, leaf)
    pieces = tuple((start + apart * k, start + apart * k + length) for k in range(cleat.pieces))
    return CleatLine(pieces=pieces, line_nm=line)


def arm_nm(brief: Brief, leaf: Leaf) -> int:
    """Cleat line to the middle of the foot spacer: as given, else with the spacer at the backer's foot."""
    if brief.cleat.arm_nm is not None:
        return brief.cleat.arm_nm
    line = leaf.y_nm + leaf.height_nm - line_below_top_nm(brief, leaf)
    foot = leaf.backer_y_nm + min(FOOT_HEIGHT_NM, leaf.backer_height_nm // 4) // 2
    return max(NM_PER_MM, line - foot)


def foot_spacer(brief: Brief, layout: Layout, leaf: Leaf) -> FootSpacer | None:
    """The strip that keeps the leaf plumb; None where a frame or stiles reach the wall themselves."""
    stand_off = layout.stand_off.stand_off_nm
    reaches = max((part.depth_nm for part in brief.behind if part.role in HOLDS_OFF), default=0)
    if reaches >= stand_off:
        return None
    cleat = cleat_line(brief, leaf)
    return FootSpacer(
        from_nm=max(cleat.from_nm, leaf.backer_x_nm),
        to_nm=min(cleat.to_nm, leaf.backer_x_nm + leaf.backer_width_nm),
        y_nm=cleat.line_nm - arm_nm(brief, leaf),
        thickness_nm=stand_off,
    )


def wants_studs(brief: Brief) -> bool:
    """Whether the fixings go into studs: screws in a studded wall."""
    return brief.wall.build in STUDDED and brief.fixings.kind is FixingKind.WOOD_SCREW


def studs_met(brief: Brief, cleat: CleatLine) -> tuple[StudMet, ...]:
    """Studs whose centre line lies at least the end distance inside both ends of the cleat, left to right."""
    end = brief.cleat.end_distance_nm
    inside = {x: max(min(x - start, stop - x) for start, stop in cleat.pieces) for x in sorted(brief.wall.studs_nm)}
    return tuple(StudMet(x_nm=x, inside_nm=depth) for x, depth in inside.items() if depth >= end)


def stud_missed(brief: Brief, leaf: Leaf, cleat: CleatLine) -> StudMissed | None:
    """The nearest stud that is not met, the shortest cleat that meets it, and the smallest shift that would."""
    met = {stud.x_nm for stud in studs_met(brief, cleat)}
    unmet = [x for x in brief.wall.studs_nm if x not in met]
    if not unmet:
        return None
    end = brief.cleat.end_distance_nm
    nearest = min(unmet, key=lambda x: (_short_nm(cleat, x, end), x))
    start, stop = min(cleat.pieces, key=lambda piece: _short_of(piece, nearest, end))
    shortest = abs(2 * nearest - start - stop) + 2 * end
    low, high = 2 * leaf.backer_x_nm, 2 * (leaf.backer_x_nm + leaf.backer_width_nm)
    if len(cleat.pieces) > 1:
        # both grow alike, and may not grow into one another
        half = (cleat.from_nm + cleat.to_nm) // 2
        low, high = (low, 2 * half) if stop <= half else (2 * half, high)
    return StudMissed(
        x_nm=nearest,
        miss_nm=max(0, start - nearest, nearest - stop),
        short_nm=_short_nm(cleat, nearest, end),
        shortest_nm=shortest,
        shortest_fits=low <= start + stop - shortest and start + stop + shortest <= high,
        shift_nm=_best_shift_nm(brief, leaf, cleat),
    )


def shortest_cleats_nm(brief: Brief, cleat: CleatLine) -> tuple[int, ...]:
    """The shortest single cleat, centred as this one, that meets one stud, two, three … of all studs of the wall."""
    if len(cleat.pieces) > 1:
        return ()
    off = sorted(abs(2 * x - cleat.from_nm - cleat.to_nm) for x in brief.wall.studs_nm)
    return tuple(twice + 2 * brief.cleat.end_distance_nm for twice in off)


def _short_nm(cleat: CleatLine, x: int, end: int) -> int:
    """How much further the nearest end of the cleat would have to reach."""
    return min(_short_of(piece, x, end) for piece in cleat.pieces)


def _short_of(piece: tuple[int, int], x: int, end: int) -> int:
    return max(0, piece[0] + end - x, x - piece[1] + end)


def _best_shift_nm(brief: Brief, leaf: Leaf, cleat: CleatLine) -> int | None:
    """The smallest move along the wall, cleat on its backer, after which it meets more studs than now."""
    low = leaf.backer_x_nm - cleat.from_nm
    high = leaf.backer_x_nm + leaf.backer_width_nm - cleat.to_nm
    now = len(studs_met(brief, cleat))
    end = brief.cleat.end_distance_nm
    moves = sorted(
        (
            move
            for x in brief.wall.studs_nm
            for start, stop in cleat.pieces
            for move in (x + end - stop, x - end - start)
            if low <= move <= high and move != 0
        ),
        key=lambda move: (abs(move), move),
    )
    for move in moves:
        if len(studs_met(brief, cleat.moved(move))) > now:
            return move
    return None
