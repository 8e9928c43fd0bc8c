"""Screws that keep a joint of the back shut while its glue dries, and those that hold for good: how many, and where.

All go through the backer at right angles, as the screws of the panel half do, so two of them meet where their places
on the backer lie closer than they are thick.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from bossage.body import Part, Role
from bossage.brief.records import Brief, LengthUnit
from bossage.fasteners import least_placing
from bossage.hang.lasting import for_good, screws_of, while_glue_dries
from bossage.hang.screw_records import GlueScrews
from bossage.hang.spread import Tape, spread
from bossage.hang.threads import Shank
from bossage.units import NM_PER_IN, NM_PER_MM

EVERY_NM = 200 * NM_PER_MM
"""One screw for so much of a joint, and one more. Common practice, no source."""

FROM_END_NM = {LengthUnit.MM: 40 * NM_PER_MM, LengthUnit.IN: 3 * NM_PER_IN // 2}
"""The first and the last from the ends, so that nothing splits: about ten shanks. Ours."""

APART_SHANKS = 3
"""Middles of two screws of a leaf, no nearer: a shank each and as much wood between. Ours."""

SLOT_EDGE_NM = 10 * NM_PER_MM
"""A screw stays so far beside a slot through its part: ours."""

SCREWED = (
    Role.RIB, Role.FRAME, Role.STILE, Role.HINGE_STILE, Role.STOP, Role.STAY_BLOCK, Role.FILLER, Role.LEDGE
)  # fmt: skip

FOR_GOOD = (Role.HINGE_STILE, Role.STAY_BLOCK)
"""Parts of the back whose screws hold what would peel their glue, for as long as the leaf hangs."""

Spot = tuple[int, int]
Span = tuple[int, int]


def screws_along(length_nm: int) -> int:
    """How many screws a joint of that length gets."""
    return 1 + length_nm // EVERY_NM


def apart_nm(shank_mm: float) -> int:
    """Middles of two screws, the thicker of that shank, no nearer."""
    return round(APART_SHANKS * shank_mm * NM_PER_MM)


def glue_screws(
    brief: Brief,
    parts: Sequence[Part],
    others: Sequence[Spot] = (),
    others_mm: float = 0.0,
    at_hinges_nm: Sequence[int] = (),
) -> tuple[GlueScrews, ...]:
    """Screws from the backer's face of every part of one leaf that is glued and screwed to the backer.

    Args:
        brief: Unit, by which screws are sold and places measured.
        parts: All parts of the leaf.
        others: Where other screws of the leaf run, on the wall, as those of the panel half or the eye of a chain: none
            of these is met.
        others_mm: Shank of these.
        at_hinges_nm: Where along its length the hinge stile wants its screws, before any other.

    Returns:
        One for each part that takes a screw, in the order of the parts. A place that would meet another screw, or a
        slot through the part, is moved along the part: as far off as the grain asks where that can be, else just clear.
        Where no place is clear one screw fewer is driven.

    Source:
        Distance along the grain: `fasteners.least_placing`.
    """
    backer = next(part for part in parts if part.role is Role.BACKER)
    taken, found = list(others), []
    for part in parts:
        if part.role not in SCREWED or part.box.z1 != backer.box.z0:
            continue
        lasting = for_good(brief, part, backer) if part.role in FOR_GOOD else None
        size = lasting or while_glue_dries(brief, part, backer)
        if size is None:
            continue
        least = apart_nm(max(size.shank.shank_mm, others_mm))
        first = at_hinges_nm if part.role is Role.HINGE_STILE else ()
        spots = (
            _corners(brief, part, backer)
            if lasting and part.role is Role.STAY_BLOCK
            else tuple(_spots(brief, part, backer, taken, size.shank, least, first))
        )
        if not spots:
            continue
        taken += spots
        found.append(screws_of(brief, part, size, spots, lasting=lasting is not None))
    return tuple(found)


def _corners(brief: Brief, part: Part, backer: Part) -> tuple[Spot, ...]:
    """Four, a quarter of the part's size from its edges: clear of what is screwed to the middle of the part."""
    box, on = part.box, backer.box
    across, up = Tape(brief.piece.unit, on.x1), Tape(brief.piece.unit, on.y0)
    wide, high = box.x1 - box.x0, box.y1 - box.y0
    return tuple(
        (across.nearest(box.x0 + wide * x // 4), up.nearest(box.y0 + high * y // 4)) for y in (1, 3) for x in (1, 3)
    )


def _spots(
    brief: Brief,
    part: Part,
    backer: Part,
    taken: Sequence[Spot],
    shank: Shank,
    least_nm: int,
    first_nm: Sequence[int],
) -> Iterator[Spot]:
    """Places on the middle line of what lies on the backer, from the corner that the back sheet measures from."""
    box, on = part.box, backer.box
    x0, x1, y0, y1 = max(box.x0, on.x0), min(box.x1, on.x1), max(box.y0, on.y0), min(box.y1, on.y1)
    lies = x1 - x0 >= y1 - y0
    unit = brief.piece.unit
    tapes = Tape(unit, on.x1), Tape(unit, on.y0)
    along, across = tapes if lies else tapes[::-1]
    low, high = (x0, x1) if lies else (y0, y1)
    line = across.nearest((y0 + y1) // 2 if lies else (x0 + x1) // 2)
    end = min(FROM_END_NM[unit], (high - low) // 4)
    room = along.within(low + end, high - end)
    others = [(x, y) if lies else (y, x) for x, y in taken]
    slots = [(a - SLOT_EDGE_NM, b + SLOT_EDGE_NM) for a, b, _, _ in part.notches_nm] if lies else []
    grain = round(least_placing(shank.shank_mm, prebored=True).along_grain_mm * NM_PER_MM)
    mine: list[int] = []
    for wish in (*first_nm, *spread(low, high, end, max(2, screws_along(high - low)), along)):
        if wish not in first_nm and any(abs(wish - one) < EVERY_NM // 2 for one in mine[: len(first_nm)]):
            continue  # a screw of a hinge keeps the joint shut there
        for apart in (max(grain, least_nm), least_nm):
            place = _nearest(along.nearest(wish), room, [*slots, *near_spans(others, line, apart)], along)
            if place is not None:
                others.append((place, line))
                mine.append(place)
                break
    for place in sorted(mine):
        yield (place, line) if lies else (line, place)


def near_spans(others: Sequence[Spot], line_nm: int, apart_nm: int) -> Iterator[Span]:
    """Stretches of a line that lie nearer to other screws than that; a screw by its place along the line and beside."""
    for at, off in others:
        away = abs(off - line_nm)
        if away < apart_nm:
            half = math.ceil(math.sqrt(apart_nm**2 - away**2))
            yield at - half, at + half


def _nearest(wish_nm: int, room: Span, shut: Sequence[Span], tape: Tape) -> int | None:
    """The place on the tape nearest to the wished one, in the room and in no shut stretch; None where there is none."""
    edges = [*room, *(tape.before(low) for low, _ in shut), *(tape.after(high) for _, high in shut)]
    fit = (
        place
        for place in (wish_nm, *edges)
        if room[0] <= place <= room[1] and not any(low < place < high for low, high in shut)
    )
    return min(fit, key=lambda place: (abs(place - wish_nm), place), default=None)
