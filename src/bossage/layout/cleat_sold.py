"""A metal cleat as it is sold: in which lengths, with which holes. It is bought and neither sawn nor drilled.

Of a wooden cleat, and of a metal one of which the brief says nothing, any length and any place for a screw will do.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bossage.brief.records import Cleat
from bossage.units import NM_PER_MM

STUD_EDGE_NM = 10 * NM_PER_MM
"""A screw through a hole keeps so far inside the edges of its stud: ours, twice the shank of a 5 mm screw."""

Span = tuple[int, int]


def as_sold_nm(cleat: Cleat, most_nm: int) -> int | None:
    """The longest length that is sold and no longer than `most_nm`; all of it where nothing is said, None if none."""
    if not cleat.lengths_nm:
        return most_nm
    return max((length for length in cleat.lengths_nm if length <= most_nm), default=None)


def holes_nm(cleat: Cleat, piece: Span) -> tuple[int, ...]:
    """Its holes along the wall, left to right: from each end, or centred where the brief leaves the first one open."""
    start, stop = piece
    pitch, long = cleat.hole_pitch_nm, stop - start
    if pitch is None:
        return ()
    first = cleat.first_hole_nm
    count = max(1, long // pitch) if first is None else max(0, (long - 2 * first) // pitch) + 1
    before = (long - (count - 1) * pitch) // 2 if first is None else first
    return tuple(start + before + number * pitch for number in range(count))


def hole_before(cleat: Cleat, pieces: Iterable[Span], stud_nm: int, stud_width_nm: int) -> int | None:
    """The hole that is nearest to the middle of a stud and inside its edges; None where there is none."""
    most = stud_width_nm // 2 - STUD_EDGE_NM
    near = min((x for piece in pieces for x in holes_nm(cleat, piece)), key=lambda x: abs(x - stud_nm), default=None)
    return near if near is not None and abs(near - stud_nm) <= most else None


def evenly(holes: Sequence[int], count: int) -> list[int]:
    """So many of these, spread evenly from the first to the last; all where there are no more, one in the middle."""
    if count >= len(holes):
        return list(holes)
    if count == 1:
        return [holes[len(holes) // 2]]
    return [holes[number * (len(holes) - 1) // (count - 1)] for number in range(count)]


def shared_out(count: int, pieces: int) -> list[int]:
    """How many of so many each piece gets, as even as can be."""
    return [count * (number + 1) // pieces - count * number // pieces for number in range(pieces)]
