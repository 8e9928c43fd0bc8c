"""Screws from the backer's face that hold the hinge stile at its hinges: how many, where, and what pulls at them.

The pins lie behind the glue of the stile, so the hinges turn the stile off the backer. Glue is weak against that, and
a thin backer bends away from the glue's edge. So the screws alone are counted on against the turning.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bossage.body import Part, Role
from bossage.fasteners import least_placing, shank_mm
from bossage.fasteners.group import group_pull_share
from bossage.fasteners.hinged import HingeForce, row_pull_n
from bossage.hang.bonds import no_hold
from bossage.hang.case import Case, link
from bossage.hang.chain import eye_spots, plan_eyes
from bossage.hang.glue_screws import Spot, apart_nm, glue_screws
from bossage.hang.hinge_forces import Glued, glued_of
from bossage.hang.lasting import GROUP_SOURCE, pull_of
from bossage.hang.panel_links import OUR_DEPTH
from bossage.hang.records import Factor, Link
from bossage.hang.screw_records import GlueScrews
from bossage.hang.threads import Held
from bossage.units import NM_PER_MM

STILE_SCREWS = "hinge stile's screws"

LEAST_EACH, MOST_EACH = 2, 5
"""Screws of the stile at each hinge: as few as hold. Ours."""

NEAR_NM = 100 * NM_PER_MM
"""A screw counts for a hinge whose middle is no further along the stile: ours."""

FLAP_STEP_NM = 4 * NM_PER_MM
"""A flap's screws may stand anywhere along the hinge; every so far along them and beside them is kept clear."""


def screws_of_back(case: Case, parts: Sequence[Part], flap_screw_nm: int) -> tuple[GlueScrews, ...]:
    """All screws from the backer's face of a leaf that swings; at each hinge as few as hold its stile.

    Args:
        case: The heaviest copy of the leaf: what pulls.
        parts: Those of one copy.
        flap_screw_nm: Length of the screws of a flap, which these stay clear of.
    """
    found: tuple[GlueScrews, ...] = ()
    for each in range(LEAST_EACH, MOST_EACH + 1):
        found = _placed(case, parts, flap_screw_nm, each)
        if stile_screws(case, found).reserve >= 1:
            return found
    return found


def stile_screws(case: Case, screws: Sequence[GlueScrews]) -> Link:
    """The hardest-worked screw at the harder-worked hinge, drawn out of the stile, or by its head through the backer.

    Source:
        Moments about the edge of the lap that stays shut, `row_pull_n`.
    """
    stile = case.first(Role.HINGE_STILE)
    assert stile is not None
    glued, say = glued_of(case, stile), case.voice
    row = _row(case, stile, glued, next((one for one in screws if one.part == stile.name), None))
    if isinstance(row, str):
        part, pull = "the screws at the harder-worked hinge", _worst_n(glued, glued.lap_mm / 2)
        return no_hold(case, STILE_SCREWS, part, pull, row)
    loads = [(count, _worst_n(glued, row.from_outer_mm, number)) for number, count in enumerate(row.near)]
    count, pull = max(loads, key=lambda one: one[1] / one[0] / group_pull_share(one[0]))
    share = Factor(name=f"{count} in a group, pull", value=group_pull_share(count), source=GROUP_SOURCE)
    return link(
        case,
        STILE_SCREWS,
        part=f"each of {count} at the harder-worked hinge",
        demand_n=pull / count,
        allowable_n=row.held.allowable_n * share.value,
        basis=row.basis,
        factors=(*row.held.factors, share),
        assumptions=(
            f"the pins lie {say.mm(glued.behind_mm)} behind the face between stile and backer, and turn the stile "
            f"about an edge of its lap; the screws stand {say.mm(row.from_outer_mm)} from the outer one",
            "each hinge is held by its own screws; the glue takes the shear, and nothing of this pull",
            *OUR_DEPTH,
        ),
        source=row.held.source,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """The screws of the stile: how far from the outer edge of its lap, how many near each hinge, what each holds."""

    from_outer_mm: float
    near: tuple[int, ...]
    held: Held
    basis: str


def _row(case: Case, stile: Part, glued: Glued, mine: GlueScrews | None) -> _Row | str:
    """The screws as they are placed, or why nothing is counted on them."""
    if mine is None or not mine.lasting:
        return "no screw from the backer's face finds four diameters of thread in the hinge stile"
    swing, say = case.swing, case.voice
    along = [(spot.y_nm if swing.upright else spot.x_nm) for spot in mine.spots]
    across = mine.spots[0].x_nm if swing.upright else mine.spots[0].y_nm
    outer_mm = abs(across - (glued.low_nm if swing.sign > 0 else glued.high_nm)) / NM_PER_MM
    least_mm = least_placing(shank_mm(mine.gauge), prebored=True).edge_mm
    if min(outer_mm, glued.lap_mm - outer_mm) < least_mm:
        return f"the stile laps {say.mm(glued.lap_mm)}, and a screw asks for {say.mm(least_mm)} to either edge"
    middles = swing.middles_nm
    near = tuple(
        sum(abs(at - middle) <= NEAR_NM and _nearest(at, middles) == middle for at in along) for middle in middles
    )
    if not all(near):
        return "a hinge has no screw of the stile near it"
    held = pull_of(case, stile, mine)
    if isinstance(held, str):
        return held
    return _Row(from_outer_mm=outer_mm, near=near, held=held[0], basis=held[1])


def _worst_n(glued: Glued, row_mm: float, number: int | None = None) -> float:
    """The most that a hinge draws at the screws near it, in any state.

    What a pull off the wall takes off the turning is not counted on.
    """
    return max(
        row_pull_n(
            along_n=one.along_n,
            off_n=off,
            lap_mm=glued.lap_mm,
            row_mm=row_mm,
            behind_mm=glued.behind_mm,
            beside_mm=glued.aside_mm - glued.lap_mm / 2,
        )
        for one in _forces(glued, number)
        for off in (one.off_n, 0.0)
    )


def _forces(glued: Glued, number: int | None) -> Iterator[HingeForce]:
    for state in glued.states:
        yield from state if number is None else (state[number],)


def _nearest(at: int, middles: Sequence[int]) -> int:
    return min(middles, key=lambda middle: abs(at - middle))


def _placed(case: Case, parts: Sequence[Part], flap_screw_nm: int, each: int) -> tuple[GlueScrews, ...]:
    brief, swing = case.brief, case.swing
    eye = plan_eyes(brief, parts, swing)
    others = [*(eye_spots(eye) if eye else ()), *_flap_spots(case, flap_screw_nm)]
    thick_mm = max(shank_mm(brief.butt.gauge), eye.wire_mm if eye else 0.0)
    apart = 2 * apart_nm(shank_mm(brief.butt.gauge))
    wished = [
        middle + round((number - (each - 1) / 2) * apart) for middle in swing.middles_nm for number in range(each)
    ]
    return glue_screws(brief, parts, others, thick_mm, wished)


def _flap_spots(case: Case, flap_screw_nm: int) -> Iterator[Spot]:
    """Where screws of the flaps may run in the stile, on the wall."""
    swing, half = case.swing, case.brief.butt.height_nm // 2
    for middle in swing.middles_nm:
        for at in range(middle - half, middle + half + 1, FLAP_STEP_NM):
            for deep in (*range(0, flap_screw_nm, FLAP_STEP_NM), flap_screw_nm):
                across = swing.inward(deep)
                yield (across, at) if swing.upright else (at, across)
