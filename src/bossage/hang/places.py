"""Where the cleat, its fixings and the foot spacer sit on the wall, and which studs the cleat meets."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bossage.brief.records import Brief, FixingKind, WallBuild
from bossage.hang.records import FootSpacer, StudMet, StudMissed
from bossage.layout.records import Layout, Leaf
from bossage.units import NM_PER_MM

FOOT_HEIGHT_NM = 40 * NM_PER_MM
"""Height of the foot spacer: a strip of about 40 mm (1-1/2 in); common practice, no source."""

STUDDED = (WallBuild.TIMBER_STUDS, WallBuild.METAL_STUDS)
HOLDS_OFF = ("frame", "stile")


@dataclass(frozen=True, slots=True, kw_only=True)
class CleatLine:
    """A leaf's cleat on the wall: from, to, and the height of its line over the floor."""

    from_nm: int
    to_nm: int
    line_nm: int

    @property
    def length_nm(self) -> int:
        """Its length."""
        return self.to_nm - self.from_nm

    @property
    def middle_nm(self) -> float:
        """Its middle along the wall."""
        return (self.from_nm + self.to_nm) / 2


def bevel_rise_nm(brief: Brief) -> int:
    """How high the bevel rises over the cleat's thickness: how deep the halves grip."""
    return round(brief.cleat.thickness_nm * math.tan(math.radians(brief.cleat.bevel_deg)))


def cleat_length_nm(brief: Brief, leaf: Leaf) -> int:
    """Length of the panel half: as given, else as long as the backer, which meets all studs that can be met."""
    return brief.cleat.length_nm or leaf.backer_width_nm


def line_below_top_nm(brief: Brief, leaf: Leaf) -> int:
    """Cleat line under the top of the leaf: as given, else so that the panel half ends at the backer's top."""
    if brief.cleat.line_below_top_nm is not None:
        return brief.cleat.line_below_top_nm
    over_backer = leaf.y_nm + leaf.height_nm - leaf.backer_y_nm - leaf.backer_height_nm
    wanted = over_backer + brief.cleat.strip_nm - bevel_rise_nm(brief) // 2
    return min(wanted, over_backer + leaf.backer_height_nm // 2)


def cleat_line(brief: Brief, leaf: Leaf) -> CleatLine:
    """The leaf's cleat, centred on the leaf but for the offset that the brief gives."""
    length = cleat_length_nm(brief, leaf)
    start = leaf.x_nm + (leaf.width_nm - length) // 2 + brief.cleat.offset_nm
    line = leaf.y_nm + leaf.height_nm - line_below_top_nm(brief, leaf)
    return CleatLine(from_nm=start, to_nm=start + length, line_nm=line)


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
    inside = {x: min(x - cleat.from_nm, cleat.to_nm - x) for x in sorted(brief.wall.studs_nm)}
    return tuple(StudMet(x_nm=x, inside_nm=depth) for x, depth in inside.items() if depth >= end)


def stud_missed(brief: Brief, leaf: Leaf, cleat: CleatLine) -> StudMissed | None:
    """The nearest stud that is not met, the shortest cleat that meets it, and the smallest shift that would."""
    met = {stud.x_nm for stud in studs_met(brief, cleat)}
    unmet = [x for x in brief.wall.studs_nm if x not in met]
    if not unmet:
        return None
    end = brief.cleat.end_distance_nm
    nearest = min(unmet, key=lambda x: (_short_nm(cleat, x, end), x))
    twice_off = abs(2 * nearest - cleat.from_nm - cleat.to_nm)
    shortest = twice_off + 2 * end
    fits = 2 * leaf.backer_x_nm <= cleat.from_nm + cleat.to_nm - shortest and (
        cleat.from_nm + cleat.to_nm + shortest <= 2 * (leaf.backer_x_nm + leaf.backer_width_nm)
    )
    return StudMissed(
        x_nm=nearest,
        miss_nm=max(0, cleat.from_nm - nearest, nearest - cleat.to_nm),
        short_nm=_short_nm(cleat, nearest, end),
        shortest_nm=shortest,
        shortest_fits=fits,
        shift_nm=_best_shift_nm(brief, leaf, cleat),
    )


def shortest_cleats_nm(brief: Brief, cleat: CleatLine) -> tuple[int, ...]:
    """The shortest cleat, centred as this one, that meets one stud, two, three … of all studs of the wall."""
    off = sorted(abs(2 * x - cleat.from_nm - cleat.to_nm) for x in brief.wall.studs_nm)
    return tuple(twice + 2 * brief.cleat.end_distance_nm for twice in off)


def _short_nm(cleat: CleatLine, x: int, end: int) -> int:
    """How much further the nearer end of the cleat would have to reach."""
    return max(0, cleat.from_nm + end - x, x - cleat.to_nm + end)


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
            for move in (x + end - cleat.to_nm, x - end - cleat.from_nm)
            if low <= move <= high and move != 0
        ),
        key=lambda move: (abs(move), move),
    )
    for move in moves:
        moved = CleatLine(from_nm=cleat.from_nm + move, to_nm=cleat.to_nm + move, line_nm=cleat.line_nm)
        if len(studs_met(brief, moved)) > now:
            return move
    return None
