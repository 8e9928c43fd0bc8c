"""What is sawn on parts beyond their straight cuts: bevels of the cleat, openings of the backer, notches of rails."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterator
from typing import Literal

from bossage.body import MadeAt, Part, key_of, marks_of, word_of
from bossage.brief.records import Brief
from bossage.saw.records import BevelRip, SawnNotches, SawnOpenings


def bevel_rips(brief: Brief, parts: tuple[Part, ...]) -> tuple[BevelRip, ...]:
    """The bevelled edge of every cleat half that is sawn; alike halves together."""
    return tuple(
        BevelRip(
            name=word_of(same[0]),
            mark=mark,
            parts=tuple(key_of(part) for part in same),
            edge=_bevelled_edge(same[0]),
            long_face=_long_face(same[0]),
            tilt_deg=brief.cleat.bevel_deg,
            thickness_nm=same[0].box.z1 - same[0].box.z0,
            length_nm=same[0].length_nm,
            long_nm=max(_faces(same[0])),
            short_nm=min(_faces(same[0])),
        )
        for mark, same in _alike([part for part in parts if part.bevelled and part.made_at is not MadeAt.BOUGHT], parts)
    )


def openings_of(parts: tuple[Part, ...]) -> tuple[SawnOpenings, ...]:
    """What is sawn out of parts, from their left and lower edges as seen from the front."""
    return tuple(
        SawnOpenings(
            name=word_of(same[0]),
            mark=mark,
            parts=tuple(key_of(part) for part in same),
            width_nm=same[0].length_nm,
            height_nm=same[0].box.y1 - same[0].box.y0,
            rects_nm=tuple(sorted(_openings(same[0]), key=lambda r: (-r[1], r[0]))),
        )
        for mark, same in _alike([part for part in parts if part.openings_nm], parts)
    )


def notches_of(parts: tuple[Part, ...]) -> tuple[SawnNotches, ...]:
    """Notches of parts, from their left end as seen from the front, into the edge that faces the wall."""
    return tuple(
        SawnNotches(
            name=word_of(same[0]),
            mark=mark,
            parts=tuple(key_of(part) for part in same),
            length_nm=same[0].length_nm,
            slots_nm=tuple(sorted(_notches(same[0]))),
        )
        for mark, same in _alike([part for part in parts if part.notches_nm], parts)
    )


def _alike(some: list[Part], parts: tuple[Part, ...]) -> Iterator[tuple[str, list[Part]]]:
    """Parts that are sawn alike, by what is pencilled on them."""
    marks = marks_of(parts)
    groups: dict[Hashable, list[Part]] = defaultdict(list)
    for part in some:
        if part.made_at is not MadeAt.BOUGHT:
            key = (marks[key_of(part)], part.length_nm, _faces(part), _openings(part), _notches(part))
            groups[key].append(part)
    for same in groups.values():
        yield marks[key_of(same[0])], same


def _openings(part: Part) -> tuple[tuple[int, int, int, int], ...]:
    box = part.box
    return tuple((x0 - box.x0, y0 - box.y0, x1 - box.x0, y1 - box.y0) for x0, y0, x1, y1 in part.openings_nm)


def _notches(part: Part) -> tuple[tuple[int, int, int], ...]:
    """From, to, and how deep from the wall's side."""
    box = part.box
    return tuple((x0 - box.x0, x1 - box.x0, z1 - box.z0) for x0, x1, _, z1 in part.notches_nm)


def _faces(part: Part) -> tuple[int, int]:
    """Heights of the face toward the wall and of that toward the room."""
    box = part.box
    heights = []
    for z in (box.z0, box.z1):
        ys = [y for y, at in part.outline_nm if at == z]
        heights.append(max(ys) - min(ys))
    return heights[0], heights[1]


def _long_face(part: Part) -> Literal["wall", "room"]:
    wall, room = _faces(part)
    return "wall" if wall > room else "room"


def _bevelled_edge(part: Part) -> Literal["upper", "lower"]:
    """The edge at which both faces end at unlike heights."""
    box = part.box
    lows = {min(y for y, at in part.outline_nm if at == z) for z in (box.z0, box.z1)}
    return "lower" if len(lows) > 1 else "upper"
