"""How the panel half of the cleat is screwed to the leaf: side, size, covered length, count, places."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bossage.body import Role
from bossage.errors import BossageError
from bossage.fasteners import TIP_COVER_NM, head_hole_mm, least_thread_mm, wood_holes
from bossage.hang.case import Case, gravity_of
from bossage.hang.glue_screws import apart_nm
from bossage.hang.lasting import LEAST_UNDER_HEAD_NM
from bossage.hang.panel_links import Opening, openings, panel_screws
from bossage.hang.records import PanelFixing, PanelScrew
from bossage.hang.sharing import shares_of
from bossage.hang.spread import Tape, spread_over
from bossage.hang.threads import Shank, bite_of, shank_or_reason, thinner_than
from bossage.layout.cleat_sold import evenly, holes_nm, shared_out
from bossage.layout.grid import bevel_rise_nm
from bossage.units import NM_PER_MM

SPACING_NM = 200 * NM_PER_MM
"""Screws along the panel half, no further apart; common practice, no source."""

MOST_SCREWS = 60

SINK_STEP_NM = NM_PER_MM

BITE_NM = 38 * NM_PER_MM
"""Length of a screw in the part that receives it that is enough: 1-1/2 in; common practice, no source."""


def plan_panel(case: Case) -> PanelFixing:
    """Screws of the panel half: as many as keep their spacing and hold the pull, none that comes through.

    They come from behind where the leaf gives their thread enough wood: a filler, a thick backer, the packer of a metal
    cleat. Into a thin backer they would hold by their tips alone, so there they come from the backer's face, before the
    blocks are laid, and bite in the panel half. A thinner screw is taken where the brief leaves the size open.
    """
    brief = case.brief
    asked = brief.fixings.panel_count
    span = case.cleat.length_nm - 2 * brief.cleat.end_distance_nm
    count = asked if asked is not None else max(2, -(-max(span, 0) // SPACING_NM) + 1) * len(case.cleat.pieces)
    panel = _panel(case, count)
    most = _most(case, panel.gauge)
    if count > most:
        count = most
        panel = replace(panel, screws=tuple(_places(case, count)))
    while asked is None and count < min(most, MOST_SCREWS) and 0 < panel_screws(case, panel).margin < 1:
        count = min(count + len(case.cleat.pieces), most)
        panel = replace(panel, screws=tuple(_places(case, count)))
    return panel


def _most(case: Case, gauge: str) -> int:
    """How many find room along the panel half, so that no two meet; of two pieces as many on each."""
    cleat = case.brief.cleat
    if cleat.hole_pitch_nm is not None:
        return sum(len(holes_nm(cleat, piece)) for piece in case.cleat.pieces)
    shank = shank_or_reason(gauge)
    tape = _tape(case)
    apart = tape.step_nm if isinstance(shank, str) else apart_nm(shank.shank_mm) + tape.step_nm
    span = case.cleat.length_nm - 2 * case.brief.cleat.end_distance_nm - 2 * tape.step_nm
    return len(case.cleat.pieces) * (1 + max(0, span) // apart)


def longest_screw_nm(case: Case) -> int:
    """The longest screw of the panel half whose tip stays covered, from either side: all that it could pass."""
    front = case.layout.stand_off.stand_off_nm + case.brief.backer.thickness_nm
    return front - case.choice.back_nm - TIP_COVER_NM


@dataclass(frozen=True, slots=True)
class _Size:
    """A side, a size and a length of screw."""

    from_front: bool
    gauge: str
    length_nm: int
    sunk_nm: int = 0


def _panel(case: Case, count: int) -> PanelFixing:
    """The first side and size whose thread goes deep enough; the brief's own from behind where none does."""
    brief = case.brief
    size = next(_that_hold(case), None) or _as_asked(case)
    first = openings(case, from_front=size.from_front, sunk_nm=size.sunk_nm)[0]
    thread, holds, least = _bitten_nm(size.gauge, size.length_nm, first)
    clearance, lead = _holes_mm(case, size.gauge, first)
    return PanelFixing(
        into=first.part,
        from_front=size.from_front,
        gauge=size.gauge,
        length_nm=size.length_nm,
        thread_nm=thread,
        holds_nm=holds,
        least_nm=least,
        under_head_nm=first.through_nm,
        sunk_nm=size.sunk_nm,
        tip_to_face_nm=longest_screw_nm(case) + TIP_COVER_NM - size.length_nm - size.sunk_nm,
        screws=tuple(_places(case, count)),
        # wood glue holds no metal
        glued=brief.fixings.panel_glued and brief.cleat.kind == "wood",
        filler_nm=case.deep_nm(Role.FILLER),
        clearance_hole_mm=clearance,
        lead_hole_mm=lead,
        head_hole_mm=_head_hole_mm(case, size),
    )


def _that_hold(case: Case) -> Iterator[_Size]:
    """Sides and sizes of screw whose thread goes deep enough, best first."""
    brief = case.brief
    gauges = [brief.fixings.panel_gauge]
    if brief.left_open("fixings.panel_gauge"):
        gauges += thinner_than(gauges[0])
    for from_front in (False, True) if brief.cleat.kind == "wood" else (False,):
        for gauge in gauges:
            shank = shank_or_reason(gauge)
            if isinstance(shank, str):
                continue
            for size in _lengths(case, shank, from_front=from_front):
                first = openings(case, from_front=from_front, sunk_nm=size.sunk_nm)[0]
                thread, holds, least = _bitten_nm(gauge, size.length_nm, first)
                if thread >= least and holds > 0:
                    yield size


def _lengths(case: Case, shank: Shank, *, from_front: bool) -> Iterator[_Size]:
    """The brief's own length; where it is left open, the longest of use that stays covered, then with its head sunk."""
    asked, most = case.brief.fixings.panel_length_nm, longest_screw_nm(case)
    if asked <= most and not case.brief.left_open("fixings.panel_length"):
        yield _Size(from_front, shank.name, asked)
        return
    through = openings(case, from_front=from_front)[0].through_nm
    longest = max((length for length in shank.lengths_nm if length <= min(most, through + BITE_NM)), default=None)
    if longest is None:
        return
    yield _Size(from_front, shank.name, longest)
    deeper = through + round(least_thread_mm(shank.shank_mm) * NM_PER_MM) - longest
    deeper = -(-deeper // SINK_STEP_NM) * SINK_STEP_NM
    under_head = case.brief.backer.thickness_nm - round(shank.head_mm / 2 * NM_PER_MM) - deeper
    if from_front and 0 < deeper <= most - longest and under_head >= LEAST_UNDER_HEAD_NM:
        yield _Size(from_front, shank.name, longest, deeper)


def _as_asked(case: Case) -> _Size:
    """The brief's own screw from behind, shortened to what stays covered."""
    asked, most = case.brief.fixings.panel_length_nm, longest_screw_nm(case)
    shank = shank_or_reason(case.brief.fixings.panel_gauge)
    sold = () if isinstance(shank, str) else shank.lengths_nm
    shorter = max((length for length in sold if length <= most), default=max(NM_PER_MM, most))
    return _Size(False, case.brief.fixings.panel_gauge, asked if asked <= most else shorter)


def _bitten_nm(gauge: str, length_nm: int, where: Opening) -> tuple[int, int, int]:
    """Thread in the receiving part, what of it holds, and what is asked for."""
    shank = shank_or_reason(gauge)
    if isinstance(shank, str):
        return 0, 0, 0
    try:
        found = bite_of(shank, length_nm, where.through_nm, where.receiving_nm)
    except BossageError:
        return 0, 0, 1
    return tuple(round(mm * NM_PER_MM) for mm in (found.thread_mm, found.holds_mm, found.least_mm))  # type: ignore[return-value]


def _holes_mm(case: Case, gauge: str, where: Opening) -> tuple[float, float]:
    """Drills for the clearance hole and the lead hole; 0 where nothing is known of the screw."""
    shank = shank_or_reason(gauge)
    if isinstance(shank, str):
        return 0.0, 0.0
    found = wood_holes(shank.shank_mm, shank.root_mm, gravity_of(where.material), case.brief.piece.unit)
    return found.clearance_mm, found.pilot_mm


def _head_hole_mm(case: Case, size: _Size) -> float:
    shank = shank_or_reason(size.gauge)
    return 0.0 if isinstance(shank, str) or not size.sunk_nm else head_hole_mm(shank.head_mm, case.brief.piece.unit)


def _places(case: Case, count: int) -> Iterator[PanelScrew]:
    """Evenly along the cleat inside its end distances, or in its holes; halfway up it, by a rule laid at the backer."""
    brief, cleat, leaf = case.brief, case.cleat, case.leaf
    up = cleat.line_nm + (brief.cleat.strip_nm - bevel_rise_nm(brief) // 2) // 2
    up = Tape(brief.piece.unit, leaf.backer_y_nm).nearest(up) - leaf.y_nm
    along = spread_over(cleat.pieces, brief.cleat.end_distance_nm, count, _tape(case))
    if brief.cleat.hole_pitch_nm is not None:
        each = zip(cleat.pieces, shared_out(count, len(cleat.pieces)), strict=True)
        along = (x for piece, many in each for x in evenly(holes_nm(brief.cleat, piece), many))
    places = [x - leaf.x_nm for x in along]
    shares = shares_of(case, [x + leaf.x_nm for x in places]) or (0.0,) * len(places)
    for x, share in zip(places, shares, strict=True):
        yield PanelScrew(from_leaf_left_nm=x, from_leaf_foot_nm=up, load_share=share)


def _tape(case: Case) -> Tape:
    """A rule laid along the back from the corner that its sheet measures from."""
    return Tape(case.brief.piece.unit, case.leaf.backer_x_nm + case.leaf.backer_width_nm)
