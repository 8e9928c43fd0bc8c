"""Short parts of a board: ripped as one strip that can be held, then cut to length from it like slices of a stick."""

from __future__ import annotations

from collections import defaultdict

from bossage.brief.records import Brief
from bossage.saw.parts import BoardPart
from bossage.saw.records import ShortStrip, StripPiece
from bossage.units import NM_PER_MM

HELD_HANDS = 2
"""A part whose longer side is shorter than so many times the distance that hands keep from the blade cannot be guided
past it: hands need that distance before the blade and behind it. Ours."""

LONGEST_STRIPS_NM = (1200 * NM_PER_MM, 600 * NM_PER_MM, 0)
"""A longer strip is made two, so that it still comes out of the smaller boards that shops keep; where boards have no
room for these, shorter strips are tried, at last one a piece. Ours."""


def too_short(brief: Brief, part: BoardPart) -> bool:
    """Whether hands cannot keep their distance before the blade and behind it."""
    return shorter_than_hands(brief, max(part.width_nm, part.length_nm))


def shorter_than_hands(brief: Brief, longer_side_nm: int) -> bool:
    """Whether a piece with that longer side cannot be guided past the blade."""
    return longer_side_nm < HELD_HANDS * brief.tools.hold_nm


def strips_of(
    brief: Brief, parts: tuple[BoardPart, ...], longest_nm: int
) -> tuple[tuple[BoardPart, ...], tuple[ShortStrip, ...]]:
    """Parts that are cut from a board as they are, and strips for the short ones of one material and thickness.

    Args:
        brief: Distance of hands, kerf, and the end that is held while a stick is cut.
        parts: All of one material and thickness.
        longest_nm: No strip of several pieces is longer.

    Returns:
        The parts that are long enough, in their order; and strips, each as wide as its pieces, with room for a kerf
        behind each piece and an end to hold by.
    """
    kerf, stub = brief.tools.kerf_nm, min(stick.stub_nm for stick in brief.sticks)
    whole: list[BoardPart] = []
    short: dict[tuple[int, bool], list[tuple[BoardPart, int]]] = defaultdict(list)
    for part in parts:
        width, length = sorted((part.width_nm, part.length_nm)) if part.turn else (part.width_nm, part.length_nm)
        if too_short(brief, part):
            short[width, part.turn].append((part, length))
        else:
            whole.append(part)
    strips: list[ShortStrip] = []
    for (width, turn), some in sorted(short.items(), key=lambda one: one[0], reverse=True):
        for pieces in _shared_out(some, longest_nm - stub, kerf):
            length = sum(piece.count * (piece.length_nm + kerf) for piece in pieces) + stub
            names = list(dict.fromkeys(piece.name for piece in pieces))
            strips.append(
                ShortStrip(
                    name=f"strip for {', '.join(names[:-1])}{' and ' if names[1:] else ''}{names[-1]}",
                    mark=", ".join(dict.fromkeys(piece.mark for piece in pieces)),
                    width_nm=width,
                    length_nm=length,
                    stub_nm=stub,
                    turn=turn,
                    pieces=pieces,
                )
            )
    return tuple(whole), tuple(strips)


def _shared_out(some: list[tuple[BoardPart, int]], room: int, kerf: int) -> list[tuple[StripPiece, ...]]:
    """Pieces in their order, the longest first, strip by strip."""
    strips: list[list[StripPiece]] = []
    left = 0
    for part, length in sorted(some, key=lambda one: -one[1]):
        keys = part.parts
        while keys:
            fits = left // (length + kerf)
            if not strips or not fits:
                strips.append([])
                left = max(room, length + kerf)
                continue
            here, keys = keys[:fits], keys[fits:]
            strips[-1].append(StripPiece(name=part.name, mark=part.mark, length_nm=length, parts=here))
            left -= len(here) * (length + kerf)
    return [tuple(strip) for strip in strips]


def panel_of(strip: ShortStrip, material: str, thickness_nm: int) -> BoardPart:
    """A strip as a part to be cut from the board. Its `parts` stand with its pieces; the key only counts it."""
    return BoardPart(
        name=strip.name,
        mark=strip.mark,
        material=material,
        thickness_nm=thickness_nm,
        width_nm=strip.width_nm,
        length_nm=strip.length_nm,
        parts=("",),
        turn=strip.turn,
    )
