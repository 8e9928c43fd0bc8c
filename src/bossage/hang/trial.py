"""Two battens on each loose panel half, which the weights of the trial hang from: size, place, clear of fixtures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bossage.body import Part, Role
from bossage.brief.records import Fixture, LengthUnit
from bossage.hang.case import Case
from bossage.hang.records import PanelFixing
from bossage.hang.wall_records import TrialBattens
from bossage.units import NM_PER_IN, NM_PER_MM

BATTENS_NM = {
    LengthUnit.MM: tuple((thick * NM_PER_MM, 48 * NM_PER_MM) for thick in (18, 24, 38)),
    LengthUnit.IN: tuple((NM_PER_IN * quarters // 4, NM_PER_IN * 3 // 2) for quarters in (3, 6)),
}
"""Thickness and width of battens that shops have; common practice, no source."""

BATTEN_COVER_NM = 3 * NM_PER_MM
"""Wood past the tip of a screw: ours."""

MOST_SUNK_NM = 10 * NM_PER_MM
"""A head is sunk no deeper in a batten; ours."""

STEP_NM = {LengthUnit.MM: 5 * NM_PER_MM, LengthUnit.IN: NM_PER_IN // 4}
HOLE_UP_NM = {LengthUnit.MM: 30 * NM_PER_MM, LengthUnit.IN: NM_PER_IN * 5 // 4}
"""From a batten's lower end to the hole of its rope: ours."""

PAST_NM = 60 * NM_PER_MM
"""A batten goes so far past the wall half's lower edge, so that the rope hangs free of the wall half: ours."""


def trial_battens(case: Case, panel: PanelFixing) -> TrialBattens | None:
    """Battens where two screws of each panel half go later; None of a metal cleat, which carries weights by itself.

    Of the screws those are taken that lie nearest to a quarter of its length from each end, first of all among those
    whose batten hangs clear of every fixture and of its air. Where a half of the row has none, the battens are so short
    that they end above the fixture's air.

    Args:
        case: The leaf: panel half, wall half, fixtures.
        panel: The screws of its panel half.
    """
    halves = sorted((p for p in case.parts if p.role is Role.PANEL_HALF), key=lambda part: part.from_x_nm)
    still = [part for part in case.parts if part.role is Role.WALL_HALF]
    if case.metal_cleat or not halves or not still or not panel.screws:
        return None
    unit = case.brief.piece.unit
    thick, wide, sunk = _section(panel, unit)
    top, foot = max(half.box.y1 for half in halves), min(half.box.y0 for half in still)
    step = STEP_NM[unit]
    long = -(-(top - foot + PAST_NM) // step) * step
    screws = [case.leaf.x_nm + screw.from_leaf_left_nm for screw in panel.screws]
    up = case.leaf.y_nm + panel.screws[0].from_leaf_foot_nm
    chosen, met = [], []
    for half in halves:
        mine = [x for x in screws if half.from_x_nm <= x <= half.to_x_nm]
        places = sorted(_chosen(case, half, mine, wide, (top - long, top)))
        chosen.append(tuple(places))
        met += [one for x in places for one in _before(case, half, x, wide, (top - long, top))]
    if met:
        long = max(step, min(top - one.top_nm - case.brief.access.air_nm for one in met) // step * step)
    return TrialBattens(
        thick_nm=thick,
        wide_nm=wide,
        long_nm=long,
        sunk_nm=sunk,
        up_nm=up - halves[0].box.y0,
        below_top_nm=top - up,
        hole_up_nm=min(HOLE_UP_NM[unit], long // 4),
        places_nm=tuple(tuple(x - half.from_x_nm for x in places) for half, places in zip(halves, chosen, strict=True)),
        before=tuple(dict.fromkeys(one.name for one in met)),
    )


def _section(panel: PanelFixing, unit: LengthUnit) -> tuple[int, int, int]:
    """Thickness and width of a batten, and how deep the screw's head is sunk in it.

    A screw from the backer's face passes the batten as it will pass the backer, so a thicker batten has its head sunk.
    A screw from the wall side bites in the batten, which may be thicker.
    """
    wide = BATTENS_NM[unit][0][1]
    if not panel.from_front:
        least = panel.thread_nm + BATTEN_COVER_NM
        thick = next((thick for thick, _ in BATTENS_NM[unit] if thick >= least), least)
        return thick, wide, 0
    asked = panel.under_head_nm
    thick = next((t for t, _ in BATTENS_NM[unit] if 0 <= t - asked <= MOST_SUNK_NM), asked)
    return thick, wide, thick - asked


def _chosen(case: Case, half: Part, screws: Sequence[int], wide_nm: int, low_top: tuple[int, int]) -> Iterator[int]:
    """One screw in each end of a panel half, the left one first."""
    long = half.to_x_nm - half.from_x_nm
    middle = half.from_x_nm + long / 2
    for wanted, mine in (
        (half.from_x_nm + long // 4, [x for x in screws if x < middle]),
        (half.to_x_nm - long // 4, [x for x in screws if x > middle]),
    ):
        clear = [x for x in mine if not list(_before(case, half, x, wide_nm, low_top))]
        if mine:
            yield min(clear or mine, key=lambda x: abs(x - wanted))


def _before(case: Case, half: Part, x_nm: int, wide_nm: int, low_top: tuple[int, int]) -> Iterator[Fixture]:
    """Fixtures, with their air, that a batten at this place would hang before."""
    air = case.brief.access.air_nm
    for one in case.brief.fixtures:
        if one.copies and case.leaf.copy not in one.copies:
            continue
        beside = x_nm + wide_nm // 2 <= one.x_nm - air or x_nm - wide_nm // 2 >= one.right_nm + air
        apart = one.top_nm + air <= low_top[0] or one.y_nm - air >= low_top[1]
        if not (beside or apart or one.proud_nm + air <= half.box.z1):
            yield one
