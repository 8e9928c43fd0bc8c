"""How the panel half of the cleat is screwed to the leaf: length that cannot come through, count, places."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bossage.body import Part, Role
from bossage.errors import BossageError
from bossage.fasteners import lead_hole_withdrawal_mm, longest_sold_nm, thread_length_mm
from bossage.hang.case import Case, gravity_of, screw_or_reason
from bossage.hang.leaf_links import panel_screws, thread_in
from bossage.hang.records import PanelFixing, PanelScrew
from bossage.hang.sharing import shares_of
from bossage.layout.grid import bevel_rise_nm
from bossage.units import NM_PER_MM

TIP_COVER_NM = 3 * NM_PER_MM
"""No tip ends nearer to a face than this: our rule. A screw is a turn longer than its label now and then."""

SPACING_NM = 200 * NM_PER_MM
"""Screws along the panel half, no further apart; common practice, no source."""

MOST_SCREWS = 60

BITE_NM = 38 * NM_PER_MM
"""Length of a screw in the filler that is enough: 1-1/2 in; common practice, no source."""


def plan_panel(case: Case) -> PanelFixing:
    """Screws of the panel half: as many as keep their spacing and hold the pull, none that comes through.

    A brief's screw that is too long is shortened to the longest that leaves `TIP_COVER_NM` before the next face.
    """
    brief = case.brief
    asked = brief.fixings.panel_count
    span = case.cleat.length_nm - 2 * brief.cleat.end_distance_nm
    count = asked if asked is not None else max(2, -(-max(span, 0) // SPACING_NM) + 1) * len(case.cleat.pieces)
    panel = _panel(case, count)
    while asked is None and count < MOST_SCREWS and 0 < panel_screws(case, panel).margin < 1:
        count += len(case.cleat.pieces)
        panel = replace(panel, screws=tuple(_places(case, count)))
    return panel


def longest_screw_nm(case: Case) -> int:
    """The longest screw from the panel half into the leaf whose tip stays covered."""
    front = case.layout.stand_off.stand_off_nm + case.brief.backer.thickness_nm
    return front - case.choice.back_nm - TIP_COVER_NM


def _of(case: Case, role: Role) -> Part | None:
    return next((part for part in case.parts if part.role is role), None)


def _deep_nm(part: Part | None) -> int:
    return 0 if part is None else part.box.z1 - part.box.z0


def _panel(case: Case, count: int) -> PanelFixing:
    brief = case.brief
    filler = _deep_nm(_of(case, Role.FILLER))
    # a packer behind a metal cleat is glued to the leaf and holds the screw like the leaf itself
    packer = 0 if brief.cleat.kind == "metal" else _deep_nm(_of(case, Role.PACKER))
    head_to_wood = brief.cleat.thickness_nm + packer
    length = _length_nm(case, head_to_wood, filler)
    return PanelFixing(
        into="filler" if filler else "backer",
        gauge=brief.fixings.panel_gauge,
        length_nm=length,
        thread_nm=_thread_nm(case, length, head_to_wood),
        under_head_nm=head_to_wood,
        tip_to_face_nm=longest_screw_nm(case) + TIP_COVER_NM - length,
        screws=tuple(_places(case, count)),
        # wood glue holds no metal
        glued=brief.fixings.panel_glued and brief.cleat.kind == "wood",
        filler_nm=filler,
        lead_hole_mm=_lead_hole_mm(case),
    )


def _length_nm(case: Case, head_to_wood_nm: int, filler_nm: int) -> int:
    """The brief's own length; where that would come through, or is left open before a filler, the best on the shelf."""
    asked, most = case.brief.fixings.panel_length_nm, longest_screw_nm(case)
    if filler_nm and case.brief.left_open("fixings.panel_length"):
        asked = longest_sold_nm(min(most, head_to_wood_nm + BITE_NM), case.brief.piece.unit) or asked
    if asked <= most:
        return asked
    return longest_sold_nm(most, case.brief.piece.unit) or most


def _thread_nm(case: Case, length_nm: int, stack_nm: int) -> int:
    """Thread that bites: what reaches past the stack, as far as the screw is threaded."""
    reaches = max(0, length_nm - stack_nm)
    screw = screw_or_reason(case.brief.fixings.panel_gauge)
    if isinstance(screw, str):
        return reaches
    try:
        threaded = thread_length_mm(length_nm / NM_PER_MM, screw.shank_mm)
    except BossageError:
        return 0
    return min(reaches, round(threaded * NM_PER_MM))


def _lead_hole_mm(case: Case) -> float:
    screw = screw_or_reason(case.brief.fixings.panel_gauge)
    if isinstance(screw, str):
        return 0.0
    return lead_hole_withdrawal_mm(gravity_of(thread_in(case)), screw.root_mm)


def _places(case: Case, count: int) -> Iterator[PanelScrew]:
    """Evenly along the cleat between its end distances, in the middle of its height."""
    brief, cleat, leaf = case.brief, case.cleat, case.leaf
    up = cleat.line_nm - leaf.y_nm + (brief.cleat.strip_nm - bevel_rise_nm(brief) // 2) // 2
    places = [x - leaf.x_nm for x in spread_over(cleat.pieces, brief.cleat.end_distance_nm, count)]
    shares = shares_of(case, [x + leaf.x_nm for x in places]) or (0.0,) * count
    for x, share in zip(places, shares, strict=True):
        yield PanelScrew(from_leaf_left_nm=x, from_leaf_foot_nm=up, load_share=share)


def spread_over(pieces: tuple[tuple[int, int], ...], end_nm: int, count: int) -> Iterator[int]:
    """Places evenly over all pieces of the cleat, as many on each as can be, left to right."""
    for number, (start, stop) in enumerate(pieces):
        each = count * (number + 1) // len(pieces) - count * number // len(pieces)
        yield from spread(start, stop, end_nm, each)


def spread(from_nm: int, to_nm: int, end_nm: int, count: int) -> Iterator[int]:
    """Places evenly between the end distances; a single one in the middle."""
    first, last = from_nm + end_nm, to_nm - end_nm
    if count == 1 or last < first:
        first = last = (from_nm + to_nm) // 2
    for number in range(count):
        yield first + (last - first) * number // max(1, count - 1)
