"""What an eye at a stated place sees past the piece's edges: backer, strips, the side of what is hidden.

Each edge is looked at in the plane square to it, as if it went on for ever; what shows at the ends of an edge is left
out. Exact in whole nanometres, rounded up.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from bossage.brief.records import Brief, EdgeStyle, Eye
from bossage.checks import Check, Verdict
from bossage.layout.grid import fixture_rect
from bossage.layout.rect import Rect
from bossage.layout.words import Voice

SIDES = ("left", "right", "below", "above")


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """Something behind the face at one edge: how far in from the face's edge it begins, and its depths off the wall."""

    name: str
    inset_nm: int
    back_nm: int
    front_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """How much depth of a part one eye sees past one side."""

    part: str
    side: str
    depth_nm: int


def what_shows(brief: Brief, outline: Rect, stand_off_nm: int, eye: Eye) -> tuple[Seen, ...]:
    """Everything behind the face that this eye sees, by side; empty when nothing shows.

    An eye sees past a side only when it is beyond it. Slabs nearer to the room or further out hide those behind.
    """
    sees = []
    for side in SIDES:
        beyond = _beyond(outline, eye, side)
        if beyond <= 0:
            continue
        slabs = _edge_slabs(brief, stand_off_nm, side)
        for fixture in brief.fixtures:
            inset = _inset(outline, fixture_rect(fixture), side)
            if inset > 0 and fixture.proud_nm > 0:
                slabs.append(Slab(name=fixture.name, inset_nm=inset, back_nm=0, front_nm=fixture.proud_nm))
        for slab in slabs[1:]:
            depth = _visible(slab, slabs, beyond, eye.distance_nm)
            if depth > 0:
                sees.append(Seen(part=slab.name, side=side, depth_nm=depth))
    return tuple(sees)


def check_eyes(brief: Brief, outline: Rect, stand_off_nm: int, voice: Voice) -> tuple[Check, ...]:
    """`sightline`, one for each eye."""
    checks = []
    for eye in brief.eyes:
        seen = what_shows(brief, outline, stand_off_nm, eye)
        words = ", ".join(f"{voice.say(s.depth_nm)} of {s.part} ({s.side})" for s in seen)
        checks.append(
            voice.check(
                "sightline",
                "What shows past the edge",
                Verdict.CAUTION if seen else Verdict.FINE,
                found=f"from {eye.name} one sees {words}" if seen else f"from {eye.name} one sees blocks only",
                allowed="blocks only",
                why="a bare edge of board, or the thing itself, undoes the cover for whoever sits or lies there",
                care="paint what shows in the backer's colour",
                remedy="let the blocks overhang further, or stand the piece nearer to the wall",
                source="geometry, each edge taken as endless",
                subject=eye.name,
            )
        )
    return tuple(checks)


def _edge_slabs(brief: Brief, stand_off: int, side: str) -> list[Slab]:
    """The parts at one edge; the first is the outer block itself, which hides but is meant to be seen."""
    edge, blocks, board = brief.edge, brief.blocks, brief.backer.thickness_nm
    front = stand_off + board + blocks.levels_nm[0]  # the lowest level hides least
    across = side in ("left", "right")
    if edge.style is EdgeStyle.OUTRIGGER:
        module = blocks.module_width_nm if across else blocks.module_height_nm
        owns = edge.strip_corners == ("upright" if across else "horizontal")
        past = edge.strip_width_nm - edge.strip_behind_nm
        strip = module + blocks.gap_nm - past
        slabs = [
            Slab(name="block", inset_nm=0, back_nm=stand_off, front_nm=front),
            Slab(
                name="the edge strip",
                inset_nm=strip,
                back_nm=stand_off - edge.strip_thickness_nm,
                front_nm=stand_off,
            ),
            Slab(
                name="the backer",
                inset_nm=module + blocks.gap_nm,
                back_nm=stand_off,
                front_nm=stand_off + board,
            ),
        ]
        # Where the other strips own the corners, their ends stick out as far as their run-out.
        end = module + blocks.gap_nm - edge.strip_run_out_nm
        if not owns and end < strip:
            slabs.insert(1, Slab(name="a strip's end", inset_nm=end, back_nm=slabs[1].back_nm, front_nm=stand_off))
        return slabs
    if edge.style is EdgeStyle.BANDED:
        return [
            Slab(name="lipping", inset_nm=0, back_nm=stand_off + board - edge.lipping_depth_nm, front_nm=front),
            Slab(
                name="the backer",
                inset_nm=edge.lipping_thickness_nm,
                back_nm=stand_off,
                front_nm=stand_off + board,
            ),
        ]
    return [
        Slab(name="block", inset_nm=0, back_nm=stand_off + board, front_nm=front),
        Slab(name="the backer", inset_nm=edge.overhang_nm, back_nm=stand_off, front_nm=stand_off + board),
    ]


def _visible(slab: Slab, slabs: list[Slab], beyond: int, distance: int) -> int:
    """Depth of a slab's outer side that the eye sees.

    From its back upward it is seen as far as the line over the slab's side stays behind every slab further out: a
    line from the eye (`beyond` outside the face's edge, `distance` off the wall) to depth z at inset i passes inset j
    at z + (distance − z) · (i − j) / (beyond + i).
    """
    highest = Fraction(min(slab.front_nm, distance))
    for other in slabs:
        if other.inset_nm >= slab.inset_nm or other.name == "a strip's end":
            continue
        reach = beyond + slab.inset_nm
        k = Fraction(slab.inset_nm - other.inset_nm, reach)
        highest = min(highest, (other.back_nm - distance * k) / (1 - k))
    return max(0, ceil(highest - slab.back_nm))


def _beyond(outline: Rect, eye: Eye, side: str) -> int:
    """How far the eye lies outside the face on that side."""
    return {
        "left": outline.x - eye.x_nm,
        "right": eye.x_nm - outline.right,
        "below": outline.y - eye.height_nm,
        "above": eye.height_nm - outline.top,
    }[side]


def _inset(outline: Rect, face: Rect, side: str) -> int:
    """How far a fixture lies inside the face's edge on that side."""
    return {
        "left": face.x - outline.x,
        "right": outline.right - face.right,
        "below": face.y - outline.y,
        "above": outline.top - face.top,
    }[side]
