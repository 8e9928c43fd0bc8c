"""Where the cleat, its fixings and the foot spacer sit on the wall, and which studs the cleat meets."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bossage.body import Choice, Part, Role
from bossage.brief.records import Brief
from bossage.hang.records import FootSpacer, StudMet, StudMissed
from bossage.hang.statics import carried_shares
from bossage.layout.cleat_sold import hole_before
from bossage.layout.records import Leaf


@dataclass(frozen=True, slots=True, kw_only=True)
class CleatLine:
    """A leaf's cleat on the wall: from and to of each piece, and the height of its line over the floor."""

    pieces: tuple[tuple[int, int], ...]  # of the panel half, left to right
    on_wall: tuple[tuple[int, int], ...]  # of the wall half
    line_nm: int
    studs_nm: tuple[int, ...]  # that no zone takes behind it, left to right

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

    def moved(self, by_nm: int) -> CleatLine:
        """The same further to the right."""
        pieces, on_wall = (
            tuple((start + by_nm, end + by_nm) for start, end in held) for held in (self.pieces, self.on_wall)
        )
        return replace(self, pieces=pieces, on_wall=on_wall)

    def shares(self, at_nm: float) -> tuple[float, ...] | None:
        """How a load at a place is shared: two pieces by the lever rule about their middles; None where it tips."""
        middles = [(start + end) / 2 for start, end in self.pieces]
        return carried_shares(middles, at_nm) if len(middles) > 1 else (1.0,)


def cleat_line(choice: Choice) -> CleatLine:
    """The leaf's cleat where the body has it."""
    return CleatLine(
        pieces=choice.pieces_nm, on_wall=choice.wall_pieces_nm, line_nm=choice.line_nm, studs_nm=choice.free_studs_nm
    )


def feet_of(parts: tuple[Part, ...]) -> tuple[FootSpacer, ...]:
    """The pads or strips that keep a leaf plumb, left to right; none where a frame or stiles reach the wall."""
    places: dict[tuple[int, int, int, int], int] = {}
    for part in parts:
        if part.role is Role.FOOT:
            box = part.box
            key = (box.x0, box.x1, box.y0, box.y1)
            places[key] = max(places.get(key, 0), box.z1)
    return tuple(
        FootSpacer(from_nm=x0, to_nm=x1, y_nm=(y0 + y1) // 2, height_nm=y1 - y0, thickness_nm=deep)
        for (x0, x1, y0, y1), deep in sorted(places.items())
    )


def studs_met(brief: Brief, cleat: CleatLine) -> tuple[StudMet, ...]:
    """Studs whose centre line lies at least the end distance inside both ends of the cleat, left to right.

    A stud that a zone takes behind the wall half is not met.
    """
    inside = {x: _inside_nm(cleat, x) for x in cleat.studs_nm}
    return tuple(StudMet(x_nm=x, inside_nm=deep) for x, deep in inside.items() if _is_met(brief, cleat, x, deep))


def _is_met(brief: Brief, cleat: CleatLine, x: int, inside: int) -> bool:
    if brief.cleat.hole_pitch_nm is None:
        return inside >= brief.cleat.end_distance_nm
    return hole_before(brief.cleat, cleat.on_wall, x, brief.wall.stud_width_nm) is not None


def screws_at(brief: Brief, cleat: CleatLine) -> list[int]:
    """Where the screws of the studs that are met stand: in the middle of each, or in the hole before it."""
    wide = brief.wall.stud_width_nm
    met = [stud.x_nm for stud in studs_met(brief, cleat)]
    return [x if (hole := hole_before(brief.cleat, cleat.on_wall, x, wide)) is None else hole for x in met]


def studs_taken(brief: Brief, cleat: CleatLine) -> tuple[int, ...]:
    """Studs behind the cleat that would be met if no zone took them, left to right."""
    lost = sorted(set(brief.wall.studs_nm) - set(cleat.studs_nm))
    return tuple(x for x in lost if _is_met(brief, cleat, x, _inside_nm(cleat, x)))


def _inside_nm(cleat: CleatLine, x: int) -> int:
    """How far a place lies inside the nearer end of the piece that it is deepest in; negative outside."""
    return max(min(x - start, stop - x) for start, stop in cleat.on_wall)


def stud_missed(brief: Brief, leaf: Leaf, cleat: CleatLine) -> StudMissed | None:
    """The nearest stud that is not met, the shortest cleat that meets it, and the smallest shift that would."""
    met = {stud.x_nm for stud in studs_met(brief, cleat)}
    unmet = [x for x in cleat.studs_nm if x not in met]
    if not unmet or brief.cleat.hole_pitch_nm is not None:  # which hole meets which stud no shorter form tells
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
    """The shortest single cleat, centred as this one, that meets one stud, two, three … of those that no zone takes."""
    if len(cleat.pieces) > 1 or brief.cleat.hole_pitch_nm is not None:
        return ()
    off = sorted(abs(2 * x - cleat.from_nm - cleat.to_nm) for x in cleat.studs_nm)
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
            for x in cleat.studs_nm
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
