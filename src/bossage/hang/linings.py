"""Studs as they are found: under another lining than the plan's, or beside the place that the plan has for them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product as every

from bossage.brief.records import LengthUnit
from bossage.brief.settle_fixings import passed_nm
from bossage.brief.settle_fixings import wall_screw as usual_wall_screw
from bossage.fasteners import MOST_IN_STUD_NM, least_placing
from bossage.hang.case import IN_STUDS, Case, screw_or_reason
from bossage.hang.holds import LEAST_MARGIN
from bossage.hang.prying import loads_on
from bossage.hang.sharing import shares_of
from bossage.hang.stud_screws import THICK_MM, depth_in_stud_mm, over_one_another, stud_hold
from bossage.hang.wall_half import wall_half
from bossage.hang.wall_holes import wall_holes
from bossage.hang.wall_records import FixingPoint, InStuds, OtherLining
from bossage.units import NM_PER_IN, NM_PER_MM

LININGS_NM = {
    LengthUnit.MM: tuple(round(mm * NM_PER_MM) for mm in (9.5, 12.5, 15, 18, 25)),
    LengthUnit.IN: tuple(NM_PER_IN * eighths // 8 for eighths in (3, 4, 5, 6, 7, 10)),
}
"""Wallboard, single and double, and plaster on lath; common practice, no source."""

FOLLOWED_NM = {
    LengthUnit.MM: tuple(mm * NM_PER_MM for mm in (25, 20, 15, 10, 5, 3)),
    LengthUnit.IN: tuple(NM_PER_IN * eighths // 8 for eighths in (8, 6, 4, 2, 1)),
}
"""How far a stud may be off, most first: ours. What lies farther is another wall than the one measured."""

MOST_STUDS_MIXED = 5
"""Of so many studs every mixture of left and right is tried; of more all one way, and by turns."""


def in_studs(case: Case, points: tuple[FixingPoint, ...]) -> InStuds | None:
    """What to measure at studs, and what to do where they differ; None where no fixing stands in one.

    Args:
        case: The leaf: screw, lining, cleat.
        points: The fixings of its wall half.
    """
    mine = [point for point in points if point.into in IN_STUDS]
    if not mine or len(mine) < len(points):
        return None
    screw = screw_or_reason(case.wall_screw.gauge)
    across = THICK_MM if isinstance(screw, str) else screw.shank_mm
    return InStuds(
        lining_nm=case.brief.wall.covering_nm,
        deep_nm=round(depth_in_stud_mm(case) * NM_PER_MM),
        most_nm=None if case.brief.wall.studs_seen else MOST_IN_STUD_NM,
        others=tuple(_others(case, mine)),
        follow_nm=_follow_nm(case, mine),
        edge_nm=round(least_placing(min(across, THICK_MM), prebored=True).edge_mm * NM_PER_MM),
    )


def _others(case: Case, points: Sequence[FixingPoint]) -> Iterator[OtherLining]:
    """Usual linings under which as many fixings hold, with a screw that is sold."""
    brief, unit = case.brief, case.brief.piece.unit
    for lining in LININGS_NM[unit]:
        if lining == brief.wall.covering_nm:
            continue
        wall = replace(brief.wall, covering_nm=lining)
        screw = usual_wall_screw(
            brief.fixings.kind,
            wall,
            passed_nm(brief.cleat, brief.fixings.kind),
            unit,
            gauge=None if brief.left_open("fixings.gauge") else brief.fixings.gauge,
            packers_nm=case.packers_nm,
        )
        fixings = replace(brief.fixings, gauge=screw.gauge, length_nm=screw.length_nm)
        other = replace(case, brief=replace(brief, wall=wall, fixings=fixings))
        if other.wall_screw != screw:
            continue
        deep = depth_in_stud_mm(other) * NM_PER_MM
        safe = wall.studs_seen or deep <= MOST_IN_STUD_NM + 1
        if safe and _holds(other, [point.line_nm for point in points]):
            holes = wall_holes(other.brief, screw, other.screwed_nm + other.packers_nm)
            yield OtherLining(lining_nm=lining, screw=screw, drill_mm=holes.drill_mm if holes else 0.0)


def _holds(case: Case, places_nm: Sequence[int]) -> bool:
    """Whether screws in studs at those places hold, and the wall half between them."""
    places = sorted(places_nm)
    each = stud_hold(case, case.wall_factors, over_one_another(places))
    shares = shares_of(case, places)
    half = wall_half(case, places)
    if isinstance(each, str) or shares is None or len(set(places)) < 2:
        return False
    held = min(each.margin(load) for load in loads_on(case, places, shares))
    return held * (1 + 1e-9) >= LEAST_MARGIN and (half is None or half.margin * (1 + 1e-9) >= 1)


def _follow_nm(case: Case, points: Sequence[FixingPoint]) -> int:
    """How far each stud may stand to either side of its planned place, so that the screws still hold; 0: not at all."""
    return next((step for step in FOLLOWED_NM[case.brief.piece.unit] if _all_hold(case, points, step)), 0)


def _all_hold(case: Case, points: Sequence[FixingPoint], step_nm: int) -> bool:
    studs = sorted({point.line_nm for point in points})
    sides: Iterator[tuple[int, ...]] | list[tuple[int, ...]]
    if len(studs) <= MOST_STUDS_MIXED:
        sides = every((-1, 1), repeat=len(studs))
    else:
        turns = tuple((-1) ** number for number in range(len(studs)))
        ways = ((1,) * len(studs), turns)
        sides = [tuple(sign * side for side in way) for way in ways for sign in (1, -1)]
    return all(_one_holds(case, points, dict(zip(studs, signs, strict=True)), step_nm) for signs in sides)


def _one_holds(case: Case, points: Sequence[FixingPoint], sides: dict[int, int], step_nm: int) -> bool:
    """One mixture of left and right; at an end of the wall half a screw follows as far as its end distance lets it."""
    end = case.brief.cleat.end_distance_nm
    moved = []
    for point in points:
        start, stop = next((a, b) for a, b in case.cleat.on_wall if a <= point.line_nm <= b)
        line = min(max(point.line_nm + sides[point.line_nm] * step_nm, start + end), stop - end)
        clear = case.clear_nm(line + point.beside_nm, point.y_nm, point.into)
        if clear is not None and clear < 0:
            return False
        moved.append(line)
    return _holds(case, moved)
