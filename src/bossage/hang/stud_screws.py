"""What one wall screw may carry in a stud."""

from __future__ import annotations

import math

from bossage.brief.records import WallBuild
from bossage.errors import BossageError
from bossage.fasteners import (
    bite,
    head_pull_through_n,
    wood_screw_lateral,
    wood_screw_withdrawal_n_per_mm,
)
from bossage.hang.case import Case, gravity_of, product, screw_or_reason
from bossage.hang.holds import Hold
from bossage.hang.leaf_links import METAL_WALL_MM, STEEL_BEARING_MPA
from bossage.hang.records import Factor
from bossage.units import NM_PER_MM

STUD_DEEP_MM = 63.5
"""A stud is at least so deep behind its covering: the shallowest in use, 2-1/2 in; common practice, no source."""

NDS_SOURCE = "NDS 2018 12.2, 12.3, 12.4 (read in part in a public transcription; with a gap from memory)"


def stud_hold(case: Case, factors: tuple[Factor, ...]) -> Hold | str:
    """One wall screw in a stud by the published rules, or why nothing is known of it.

    Args:
        case: The leaf: screw, wall half, covering, studs.
        factors: Taken off both directions.
    """
    if case.brief.wall.build is WallBuild.METAL_STUDS:
        return "the NDS knows no screw in a metal stud: give the allowable of the screw's maker"
    return _wood_hold(case, factors)


def _wood_hold(case: Case, factors: tuple[Factor, ...]) -> Hold | str:
    brief = case.brief
    screw = screw_or_reason(brief.fixings.gauge)
    if isinstance(screw, str):
        return screw
    metal = brief.cleat.kind == "metal"
    side_mm = _side_mm(case)
    gap_mm = brief.wall.covering_nm / NM_PER_MM
    deep_mm = brief.fixings.length_nm / NM_PER_MM - side_mm - gap_mm
    stud, half = gravity_of(brief.wall.stud_species), gravity_of(brief.cleat.material)
    try:
        lateral = wood_screw_lateral(
            screw,
            side_mm=side_mm,
            penetration_mm=deep_mm,
            main_gravity=stud,
            side_gravity=half,
            gap_mm=gap_mm,
            side_bearing_mpa=STEEL_BEARING_MPA if metal else None,
        )
        bites = bite(brief.fixings.length_nm / NM_PER_MM, screw.shank_mm, side_mm + gap_mm, STUD_DEEP_MM)
        withdrawal = wood_screw_withdrawal_n_per_mm(stud, screw.shank_mm) * bites.holds_mm
        head = math.inf if metal else head_pull_through_n(half, screw.head_mm, max(1.0, side_mm - screw.head_mm / 2))
    except BossageError as error:
        return case.voice.retold(str(error))
    if not bites.enough:
        thread, least = case.voice.mm(bites.thread_mm), case.voice.mm(bites.least_mm)
        return f"{thread} of thread lie in the stud, at least {least} are asked for: use a longer screw"
    say = case.voice.bare_force
    basis = f"shear {say(lateral.z_n)} ({'; '.join(lateral.basis)}); pull {say(min(withdrawal, head))} ("
    basis += f"{case.voice.mm(bites.holds_mm)} of thread without its tip {say(withdrawal)}"
    basis += f", head through the wall half {say(head)})" if not metal else ")"
    return Hold(
        kind=None,
        pull_n=min(withdrawal, head) * product(factors),
        shear_n=lateral.z_n * product(factors),
        basis=f"{brief.fixings.gauge}: {basis}; both at once by Eq. 12.4-1",
        factors=factors,
        source=NDS_SOURCE,
    )


def _side_mm(case: Case) -> float:
    """What the screw passes before the covering."""
    if case.brief.cleat.kind == "metal":
        return METAL_WALL_MM
    return case.brief.cleat.thickness_nm / NM_PER_MM
