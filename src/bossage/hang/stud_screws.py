"""What one wall screw may carry in a stud."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from bossage.brief.records import FixingKind, WallBuild
from bossage.errors import BossageError
from bossage.fasteners import (
    ANCHOR_RULES,
    STUD_TENSILE_MPA,
    AnchorKind,
    MetalStud,
    WoodScrew,
    bite,
    dowel_bearing_mpa,
    head_pull_through_n,
    metal_stud,
    metal_studs,
    reduction_terms,
    steel_pull_out_n,
    steel_shear_n,
    wood_screw_lateral,
    wood_screw_withdrawal_n_per_mm,
    yield_modes,
)
from bossage.fasteners.group import LEAST_APART_DIAMETERS, group_pull_share, row_shear_share
from bossage.hang.case import Case, gravity_of, product, screw_or_reason
from bossage.hang.holds import Hold
from bossage.hang.prying import straight_mm
from bossage.hang.rated import allowed, rated_hold
from bossage.hang.records import Factor
from bossage.hang.spread import Tape
from bossage.hang.strengths import STEEL_BEARING_MPA
from bossage.units import NM_PER_MM

THICK_MM = 5.0
"""Of a screw that no table knows, for the room that it takes: ours."""

STUD_DEEP_MM = 63.5
"""A stud is at least so deep behind its covering: the shallowest in use, 2-1/2 in; common practice, no source."""

PAST_STEEL_MM = 10.0
"""How far a screw must reach past the steel: three threads and a drilling tip; ours, after building notes."""

NDS_SOURCE = "NDS 2018 12.2, 12.3, 12.4 (read in part in a public transcription; with a gap from memory)"


def stud_hold(case: Case, factors: tuple[Factor, ...], rows: int = 1, apart_mm: float = 0.0) -> Hold | str:
    """One wall screw in a stud, or why nothing is known of it.

    Args:
        case: The leaf: screw, wall half, covering, studs.
        factors: Taken off what the wood holds, in both directions; the steel of a metal stud knows no duration.
        rows: How many stand over one another in that stud: in wood they hold less than each by itself.
        apart_mm: How far apart these stand; 0: evenly over the straight part of the wall half.
    """
    if case.brief.wall.build is WallBuild.TIMBER_STUDS:
        return _wood_hold(case, factors, rows, apart_mm)
    if case.brief.fixings.kind is FixingKind.STEEL:
        return _steel_hold(case, factors)
    over = (case.over_head,) if case.over_head else ()
    made = rated_hold(case, case.brief.fixings.ratings, AnchorKind.STEEL, over)
    if isinstance(made, str):
        return (
            f"no table knows a wood screw in a metal stud, and {made}: use screws for metal studs "
            f'(fixings.kind = "{FixingKind.STEEL.value}")'
        )
    return made


def _steel_hold(case: Case, factors: tuple[Factor, ...]) -> Hold | str:
    """A screw for metal studs: thread in the steel, its tilting there, the gap of the board, the wall half at its head.

    The maker's allowable takes the place of the published value in its direction; a rating on the packet only lowers
    it.
    """
    brief, voice, say = case.brief, case.voice, case.voice.bare_force
    taken, passed = case.wall_screw, case.passed
    screw = screw_or_reason(taken.gauge)
    if isinstance(screw, str):
        return screw
    stud = metal_stud(brief.wall.stud_steel or metal_studs()[0].name)
    past_mm = (taken.length_nm - passed.whole_nm) / NM_PER_MM - stud.thickness_mm
    if past_mm < PAST_STEEL_MM:
        return f"the screw reaches {voice.mm(max(0, past_mm))} past the steel, {voice.mm(PAST_STEEL_MM)} are asked for"
    over = product((case.over_head,) if case.over_head else ())
    try:
        drawn = steel_pull_out_n(stud.thickness_mm, screw.shank_mm, stud.tensile_mpa)
        tilt = steel_shear_n(stud.thickness_mm, screw.shank_mm, stud.tensile_mpa)
        dowel = _over_board_n(case, screw, stud)
        head = _head_n(case, screw)
    except BossageError as error:
        return voice.retold(str(error))
    ratings = brief.fixings.ratings
    pull, shear = min(drawn * over, head * product(factors)), min(tilt * over, dowel * product(factors))
    pull, pull_by = _made(pull, ratings.pull_allowable_g, ratings.pull_rating_g, over)
    shear, shear_by = _made(shear, ratings.allowable_g, ratings.rating_g, over)
    through = "" if math.isinf(head) else f", head through the {case.screwed_word} {say(head)}"
    return Hold(
        kind=AnchorKind.STEEL,
        pull_n=pull,
        shear_n=shear,
        basis=f"{taken.gauge} in steel of {stud.name}: pull {say(pull)} ({pull_by}; thread in the steel "
        f"{say(drawn)}{through}); shear {say(shear)} ({shear_by}; the screw tilts at {say(tilt)}, bends over the "
        f"board at {say(dowel)})",
        factors=factors,
        source="AISI S100 E4 (from memory, pull-out agrees with a read report); NDS 2018 and AWC TR12, the board a gap "
        f"and the steel the main member, our calculation; both at once: {ANCHOR_RULES[AnchorKind.STEEL]}",
    )


def _over_board_n(case: Case, screw: WoodScrew, stud: MetalStud) -> float:
    """Reference shear of a screw from the wall half over the board into thin steel: yield equations with a gap."""
    wood = dowel_bearing_mpa(gravity_of(case.screwed_wood), screw.shank_mm)
    return yield_modes(
        diameter_mm=screw.root_mm,
        main_mm=stud.thickness_mm,
        side_mm=_side_mm(case),
        main_bearing_mpa=STEEL_BEARING_MPA * stud.tensile_mpa / STUD_TENSILE_MPA,
        side_bearing_mpa=STEEL_BEARING_MPA if case.metal_cleat else wood,
        bending_yield_mpa=screw.bending_yield_mpa,
        reduction=reduction_terms(screw.root_mm, screw.shank_mm),
        gap_mm=_gap_mm(case),
    ).z_n


def _head_n(case: Case, screw: WoodScrew) -> float:
    """What draws the head through the wall half; without end through a metal one."""
    if case.metal_cleat:
        return math.inf
    under_mm = max(1.0, _side_mm(case) - screw.head_mm / 2)
    return head_pull_through_n(gravity_of(case.screwed_wood), screw.head_mm, under_mm)


def _made(published_n: float, allowable_g: float | None, rating_g: float | None, over: float) -> tuple[float, str]:
    """What counts in one direction, and whose figure it is."""
    made = allowed(allowable_g, rating_g)
    if made is None:
        return published_n, "published"
    if made[2]:
        return min(published_n, made[0] * over), "the lesser of published and of the packet over four"
    return made[0] * over, "its maker's"


def over_one_another(places_nm: Sequence[int]) -> int:
    """How many of these stand at one place along the wall, so over one another, at most."""
    return max(Counter(places_nm).values(), default=1)


def beside_line_nm(case: Case, number: int, of: int) -> int:
    """How far a screw stands beside the middle of its wooden stud, so that those over one another split no one line.

    Args:
        case: The leaf: screw, studs, unit.
        number: Which it is from above, from 0.
        of: How many stand in that stud. A single one stands in the middle, and so do all in thin steel.

    Returns:
        The screw's own thickness, as a rule reads it; the first to the left, the next to the right, and so on.
    """
    if of == 1 or case.brief.wall.build is not WallBuild.TIMBER_STUDS:
        return 0
    screw = screw_or_reason(case.wall_screw.gauge)
    across = THICK_MM if isinstance(screw, str) else screw.shank_mm
    return Tape(case.brief.piece.unit).nearest(round(across * NM_PER_MM)) * (1 if number % 2 else -1)


def most_over_one_another(case: Case) -> int:
    """How many find room over one another in one stud: four diameters apart along its grain; one in a cleat's hole."""
    if case.brief.cleat.hole_pitch_nm is not None and not case.swings:
        return 1
    screw = screw_or_reason(case.wall_screw.gauge)
    across = THICK_MM if isinstance(screw, str) else screw.shank_mm
    return max(1, int(straight_mm(case) / (LEAST_APART_DIAMETERS * across)))


def _in_a_row(
    case: Case, screw: WoodScrew, rows: int, apart_mm: float
) -> tuple[tuple[Factor, ...], tuple[Factor, ...]]:
    """What a row takes off the pull and off the shear of each; nothing of a single one."""
    if rows == 1:
        return (), ()
    apart = apart_mm or straight_mm(case) / rows
    words, of = f"{rows} over one another", "EN 1995-1-1 (from memory)"
    shear = row_shear_share(rows, apart, screw.shank_mm)
    return (
        (Factor(name=f"{words}, pull", value=group_pull_share(rows), source=f"{of} 8.7.2(8)"),),
        (Factor(name=f"{words}, along the wall", value=shear, source=f"{of} Table 8.1"),),
    )


def _wood_hold(case: Case, factors: tuple[Factor, ...], rows: int, apart_mm: float) -> Hold | str:
    brief = case.brief
    taken = case.wall_screw
    screw = screw_or_reason(taken.gauge)
    if isinstance(screw, str):
        return screw
    metal = case.metal_cleat
    side_mm = _side_mm(case)
    gap_mm = _gap_mm(case)
    deep_mm = depth_in_stud_mm(case)
    stud, half = gravity_of(brief.wall.stud_species), gravity_of(case.screwed_wood)
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
        bites = bite(taken.length_nm / NM_PER_MM, screw.shank_mm, side_mm + gap_mm, STUD_DEEP_MM)
        withdrawal = wood_screw_withdrawal_n_per_mm(stud, screw.shank_mm) * bites.holds_mm
        head = _head_n(case, screw)
        row_pull, row_shear = _in_a_row(case, screw, rows, apart_mm)
    except BossageError as error:
        return case.voice.retold(str(error))
    if not bites.enough:
        thread, least = case.voice.mm(bites.thread_mm), case.voice.mm(bites.least_mm)
        return f"{thread} of thread lie in the stud, at least {least} are asked for: use a longer screw"
    say = case.voice.bare_force
    off, row = product(factors), product(row_pull)
    drawn, through = withdrawal * off * row, head * off * row
    shear = lateral.z_n * off * product(row_shear)
    basis = f"shear {say(shear)} ({'; '.join(lateral.basis)}); pull {say(min(drawn, through))} ("
    basis += f"{case.voice.mm(bites.holds_mm)} of thread without its tip {say(drawn)}"
    basis += f", head through the {case.screwed_word} {say(through)})" if not metal else ")"
    return Hold(
        kind=None,
        pull_n=min(drawn, through),
        shear_n=shear,
        basis=f"{case.voice.screw(taken.gauge, taken.length_nm)}: {basis}; both at once by Eq. 12.4-1",
        factors=(*factors, *row_pull, *row_shear),
        source=NDS_SOURCE,
    )


def depth_in_stud_mm(case: Case) -> float:
    """How deep the tip of a wall screw lies behind the face of the stud: wall half, packers, covering not counted."""
    return max(0, case.wall_screw.length_nm - case.passed.whole_nm) / NM_PER_MM


def _gap_mm(case: Case) -> float:
    """Room between wall half and stud that bears nothing: the covering, and packers, on which nobody counts."""
    return (case.passed.packers_nm + case.passed.covering_nm) / NM_PER_MM


def _side_mm(case: Case) -> float:
    """Thickness of the wall half, or of the post of hinges."""
    return case.passed.cleat_nm / NM_PER_MM
