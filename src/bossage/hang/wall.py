"""The wall's side of the load path: the wall half of the cleat and what holds it in stud, masonry or wallboard."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

from bossage.brief.records import FixingKind, WallBuild
from bossage.errors import BossageError
from bossage.fasteners import (
    ScrewLateral,
    WoodScrew,
    combined_allowable_n,
    head_pull_through_n,
    hollow_wall_fixing,
    masonry_plug,
    thread_length_mm,
    wood_screw_lateral,
    wood_screw_withdrawal_n_per_mm,
)
from bossage.hang.case import DURATION, Case, gravity_of, link, product, screw_or_reason
from bossage.hang.leaf_links import METAL_WALL_MM, STEEL_BEARING_MPA
from bossage.hang.panel import spread_over
from bossage.hang.places import studs_met, wants_studs
from bossage.hang.records import Factor, FixingPoint, Link
from bossage.hang.sharing import shares_of
from bossage.hang.statics import weight_n
from bossage.hang.strengths import SOURCE, bending_mpa
from bossage.layout.grid import bevel_rise_nm
from bossage.units import NM_PER_MM

LEAST_FIXINGS = 2
"""Never on one fixing alone: common practice, no source."""

MOST_PER_STUD = 4
MOST_FIXINGS = 2000
"""Where the search for a number ends; nobody drills so many."""

MANY_STUDS = 9

BESIDE_STUD_NM = 25 * NM_PER_MM
"""Clear wallboard between the side of a stud and a hollow-wall fixing: ours, about 1 in."""

PLUG_ASSUMED_G = 5000.0
"""A plug in sound masonry when the brief gives no figure: ours, low on purpose, and the plan says so."""

NDS_SOURCE = "NDS 2018 12.2, 12.3, 12.4 (read in part in a public transcription; with a gap from memory)"


@dataclass(frozen=True, slots=True, kw_only=True)
class WallHold:
    """What holds the wall half. `needed` would do for this mass; `needed_elsewhere` with nobody below."""

    points: tuple[FixingPoint, ...]
    per_stud: int
    needed: int
    needed_elsewhere: int
    allowable_each_n: float  # straight down, factors of the place included
    links: tuple[Link, ...]


def hold_wall(case: Case) -> WallHold:
    """Count, places and links of the fixings of one leaf's wall half."""
    if wants_studs(case.brief):
        return _in_studs(case)
    return _rated(case)


def rated_each_n(case: Case) -> tuple[float, str, tuple[Factor, ...]]:
    """Allowable of one fixing by its rating, the words for it, and the factors in it, without those of the place."""
    fixings = case.brief.fixings
    if fixings.allowable_g is not None:
        own = masonry_plug(weight_n(fixings.allowable_g))
        return own.allowable_n, "the allowable that the brief gives, its factor inside", ()
    if fixings.rating_g is not None and fixings.kind is FixingKind.PLUG:
        own = masonry_plug(weight_n(fixings.rating_g))
        return own.allowable_n, own.basis, ()
    if fixings.rating_g is not None:
        held = hollow_wall_fixing(weight_n(fixings.rating_g))
        quarter = Factor(name="rating over allowable", value=1 / held.factor, source="common practice, no source")
        return held.allowable_n, held.basis, (quarter,)
    if fixings.kind is FixingKind.PLUG:
        return weight_n(PLUG_ASSUMED_G), "assumed by us: the brief gives no figure for the plug", ()
    return 0.0, "nothing is counted on: the brief gives neither allowable nor rating of the fixing", ()


def one_wall_screw(case: Case) -> tuple[ScrewLateral, float, str] | str:
    """Reference values of one wall screw in shear and in pull with their basis, or why there are none."""
    brief = case.brief
    screw = screw_or_reason(brief.fixings.gauge)
    if isinstance(screw, str):
        return screw
    metal = brief.cleat.kind == "metal"
    side_mm = METAL_WALL_MM if metal else brief.cleat.thickness_nm / NM_PER_MM
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
        withdrawal, thread_mm = _pulled_n(screw, brief.fixings.length_nm / NM_PER_MM, deep_mm, stud)
        words = f"{case.voice.mm(thread_mm)} of thread {case.voice.bare_force(withdrawal)}"
        head = math.inf if metal else head_pull_through_n(half, screw.head_mm, max(1.0, side_mm - screw.head_mm / 2))
    except BossageError as error:
        return case.voice.retold(str(error))
    say = case.voice.bare_force
    basis = f"shear {say(lateral.z_n)} ({'; '.join(lateral.basis)}); pull {say(min(withdrawal, head))} ({words}"
    basis += f", head through the wall half {say(head)})" if not metal else ")"
    return lateral, min(withdrawal, head), f"{brief.fixings.gauge}: {basis}; both at once by Eq. 12.4-1"


def _rated(case: Case) -> WallHold:
    each, basis, factors = rated_each_n(case)
    here = each * (case.over_head.value if case.over_head else 1.0)
    needed = _enough(case, here)
    count = case.brief.fixings.count or needed
    worst = _worst_share(case, count)
    points = tuple(_rated_points(case, count))
    factors += (case.over_head,) if case.over_head else ()
    held = link(
        case,
        "fixings in the wall",
        part=f"{count} together",
        demand_n=case.weight_n,
        allowable_n=here / worst,
        basis=f"{case.voice.bare_force(here)} each: {basis}",
        factors=factors,
        assumptions=(
            "each carries the same: they stand evenly along the wall half",
            f"a hanging load; the pull of {case.voice.bare_force(case.pull_n)} from the depth is held to be inside the "
            "maker's figure",
        ),
        source="the fixing's maker, as the brief gives it",
    )
    return WallHold(
        points=points,
        per_stud=1,
        needed=needed,
        needed_elsewhere=_enough(case, each),
        allowable_each_n=here,
        links=(held, *_wall_half(case, points)),
    )


def _enough(case: Case, each: float) -> int:
    """Fixings for a leaf, at least two; with no allowable the least number, for none would do."""
    if each <= 0:
        return LEAST_FIXINGS
    count = LEAST_FIXINGS
    # a whisker off, so that a mass that is an exact multiple asks for no further fixing
    while case.weight_n * _worst_share(case, count) > each * (1 + 1e-9) and count < MOST_FIXINGS:
        count += 1
    return count


def _worst_share(case: Case, count: int) -> float:
    """Part of the leaf on the hardest-worked of so many fixings: each cleat's part over its own fixings."""
    pieces = len(case.cleat.pieces)
    on = [count * (k + 1) // pieces - count * k // pieces for k in range(pieces)]
    return max(part / max(1, n) for part, n in zip(case.cleat_shares, on, strict=True))


def _rated_points(case: Case, count: int) -> Iterator[FixingPoint]:
    cleat, brief = case.cleat, case.brief
    into = {WallBuild.MASONRY: "masonry"}.get(brief.wall.build, "wallboard")
    places = list(spread_over(cleat.on_wall, brief.cleat.end_distance_nm, count))
    if brief.fixings.kind is FixingKind.HOLLOW:
        places = _beside_studs(case, places)
    on = Counter(_piece_of(case, x) for x in places)
    for x in places:
        yield FixingPoint(
            x_nm=x,
            y_nm=_rows_nm(case, 1)[0],
            from_leaf_left_nm=x - case.leaf.x_nm,
            into=into,
            load_share=case.cleat_shares[_piece_of(case, x)] / on[_piece_of(case, x)],
        )


def _beside_studs(case: Case, places: list[int]) -> list[int]:
    """The same places, those before a stud moved to its nearer side: a hollow-wall fixing spreads in the hollow.

    A place stays where it is if neither side of the stud has room on the cleat for another fixing.
    """
    wall, end = case.brief.wall, case.brief.cleat.end_distance_nm
    clear = wall.stud_width_nm // 2 + BESIDE_STUD_NM
    taken: list[int] = []
    for x in places:
        stud = next((s for s in wall.studs_nm if abs(s - x) < clear), None)
        sides = [] if stud is None else sorted((stud - clear, stud + clear), key=lambda side: abs(side - x))
        free = (
            side
            for side in sides
            if any(start + end <= side <= stop - end for start, stop in case.cleat.on_wall)
            and all(abs(side - other) >= 2 * BESIDE_STUD_NM for other in (*taken, *places) if other != x)
            and all(abs(s - side) >= clear for s in wall.studs_nm)
        )
        taken.append(next(free, x))
    return sorted(taken)


def _piece_of(case: Case, x_nm: int) -> int:
    """Which cleat a place lies on."""
    return next(k for k, (start, stop) in enumerate(case.cleat.on_wall) if start <= x_nm <= stop)


def _in_studs(case: Case) -> WallHold:
    """Screws in every stud that is met; more in each where one is not enough."""
    studs = [stud.x_nm for stud in studs_met(case.brief, case.cleat)]
    fixings = case.brief.fixings
    here, elsewhere = case.wall_factors, (DURATION,)
    least = _least_per_stud(case, studs, here)
    places = _spread_count(case, studs, fixings.count) if fixings.count else None
    if places is None:
        places = studs * max(fixings.per_stud, least)
    places = sorted(places)
    per_stud = max((places.count(x) for x in studs), default=0)
    shares = shares_of(case, places)
    points = tuple(_stud_points(case, places, shares))
    rated = _rated_in_studs(case, points, shares) if fixings.allowable_g is not None else ()
    return WallHold(
        points=points,
        per_stud=per_stud,
        needed=least * len(studs),
        needed_elsewhere=_least_per_stud(case, studs, elsewhere) * len(studs),
        allowable_each_n=_straight_down_n(case, here),
        links=(_screws(case, places, here), *rated, *_wall_half(case, points)),
    )


def _least_per_stud(case: Case, studs: list[int], factors: tuple[Factor, ...]) -> int:
    """Fewest screws in each stud that hold, at least so many that two hold in all; the most if none would do."""
    first = LEAST_FIXINGS if len(studs) == 1 else 1
    for per_stud in range(first, MOST_PER_STUD + 1):
        if _screws(case, studs * per_stud, factors).margin >= 1:
            return per_stud
    return MOST_PER_STUD


def _spread_count(case: Case, studs: list[int], count: int) -> list[int]:
    """A given number of screws over the studs so that the hardest-worked has least; fewer than studs leave some out.

    Tried are even spreads over every choice of studs (over every run of neighbours where there are very many), so
    another stud can only help.
    """
    best: list[int] = []
    least = math.inf
    for chosen in _choices(studs):
        even = list(_evenly(chosen, count))
        shares = shares_of(case, even)
        if shares is not None and max(shares) < least - 1e-12:
            best, least = even, max(shares)
    return best or (studs * count)[:count]


def _choices(studs: list[int]) -> Iterator[tuple[int, ...]]:
    """Two studs or more: on one alone the leaf can tip, however well it sits under the load."""
    if len(studs) <= MANY_STUDS:
        for size in range(2, len(studs) + 1):
            yield from combinations(studs, size)
        return
    for first, last in combinations(range(len(studs) + 1), 2):
        if last - first >= 2:
            yield tuple(studs[first:last])


def _evenly(studs: tuple[int, ...], count: int) -> Iterator[int]:
    for number, x in enumerate(studs):
        yield from [x] * ((number + 1) * count // len(studs) - number * count // len(studs))


def _stud_points(case: Case, places: list[int], shares: tuple[float, ...] | None) -> Iterator[FixingPoint]:
    into = "stud" if case.brief.wall.build is WallBuild.TIMBER_STUDS else "metal stud"
    seen: dict[int, int] = {}
    for number, x in enumerate(places):
        level = seen.get(x, 0)
        seen[x] = level + 1
        yield FixingPoint(
            x_nm=x,
            y_nm=_rows_nm(case, places.count(x))[level],
            from_leaf_left_nm=x - case.leaf.x_nm,
            into=into,
            load_share=shares[number] if shares else 0.0,
        )


def _rows_nm(case: Case, rows: int) -> list[int]:
    """Heights of fixings one over the other: evenly over the straight part of the wall half."""
    brief = case.brief
    rise = bevel_rise_nm(brief)
    top = case.cleat.line_nm - rise // 2
    high = max(1, brief.cleat.strip_nm - rise)
    return [top - high * (2 * number + 1) // (2 * rows) for number in range(rows)]


def _screws(case: Case, places: list[int], factors: tuple[Factor, ...]) -> Link:
    """The hardest-worked wall screw: shear of the weight, pull of the depth or of the bevel, both at once."""
    name, part = "screws in the studs", f"the hardest-worked of {len(places)}"
    pull = max(case.pull_n, case.wedge_n)
    shares = shares_of(case, places)
    if case.brief.wall.build is WallBuild.METAL_STUDS:
        return _none(case, name, "the NDS knows no screw in a metal stud: give the allowable of the screw's maker")
    if not places:
        return _none(case, name, "the cleat meets no stud")
    if shares is None or len(set(places)) < 2:
        reason = "the centre of gravity lies outside the screws" if shares is None else "one stud alone holds it"
        return _none(case, name, f"{reason}, so the leaf can tip sideways")
    held = one_wall_screw(case)
    if isinstance(held, str):
        return _none(case, name, held)
    lateral, withdrawal, basis = held
    say = case.voice.bare_force
    angle = math.degrees(math.atan2(pull, case.weight_n))
    whole = combined_allowable_n(withdrawal, lateral.z_n, angle)
    return link(
        case,
        name,
        part=part,
        demand_n=max(shares) * math.hypot(case.weight_n, pull),
        allowable_n=whole * product(factors),
        basis=basis,
        factors=factors,
        assumptions=(
            f"the hardest-worked screw carries {max(shares):.2f} of the leaf",
            f"pull {say(pull)}: the larger of tipping ({say(case.pull_n)}) and of the bevel ({say(case.wedge_n)})",
            "wallboard bears nothing: it is a gap between the wall half and the stud",
        ),
        source=NDS_SOURCE,
    )


def _none(case: Case, name: str, reason: str) -> Link:
    return link(
        case,
        name,
        part="all",
        demand_n=case.weight_n,
        allowable_n=0.0,
        basis=f"nothing is counted on: {reason}",
        source="",
    )


def _pulled_n(screw: WoodScrew, length_mm: float, deep_mm: float, gravity: float) -> tuple[float, float]:
    """What the thread holds, and how much of it bites."""
    thread_mm = min(deep_mm, thread_length_mm(length_mm, screw.shank_mm))
    return wood_screw_withdrawal_n_per_mm(gravity, screw.shank_mm) * thread_mm, thread_mm


def _straight_down_n(case: Case, factors: tuple[Factor, ...]) -> float:
    """Allowable of one wall screw for a load straight down; what the brief gives if that is less."""
    held = one_wall_screw(case)
    own = case.brief.fixings.allowable_g
    given = math.inf if own is None else weight_n(own) * (case.over_head.value if case.over_head else 1.0)
    computed = 0.0 if isinstance(held, str) else held[0].z_n * product(factors)
    if case.brief.wall.build is WallBuild.METAL_STUDS:
        computed = math.inf if own is not None else 0.0
    return min(computed, given)


def _rated_in_studs(case: Case, points: tuple[FixingPoint, ...], shares: tuple[float, ...] | None) -> tuple[Link, ...]:
    each, basis, factors = rated_each_n(case)
    factors += (case.over_head,) if case.over_head else ()
    return (
        link(
            case,
            "screws by the brief's allowable",
            part=f"the hardest-worked of {len(points)}",
            demand_n=(max(shares) if shares else 1.0) * case.weight_n,
            allowable_n=each * product(factors) if shares else 0.0,
            basis=basis,
            factors=factors,
            source="the brief",
        ),
    )


def _wall_half(case: Case, points: tuple[FixingPoint, ...]) -> Iterator[Link]:
    """The wall half as a beam between its fixings: bent down by the weight, out by the pull.

    A metal one is covered by its maker's rating.
    """
    brief, cleat = case.brief, case.cleat
    if brief.cleat.kind == "metal":
        return
    thick_mm = brief.cleat.thickness_nm / NM_PER_MM
    high_mm = max(1.0, (brief.cleat.strip_nm - bevel_rise_nm(brief)) / NM_PER_MM)
    length_mm = cleat.length_nm / NM_PER_MM
    bends = []
    for (start, stop), share in zip(cleat.on_wall, case.cleat_shares, strict=True):
        xs = sorted({point.x_nm for point in points if start <= point.x_nm <= stop})
        if not xs:
            which = "it" if len(cleat.pieces) == 1 else "one of two"
            yield _none(case, "wall half", f"no fixing holds {which}")
            return
        between = max((b - a for a, b in pairwise(xs)), default=0) / NM_PER_MM
        over = max(xs[0] - start, stop - xs[-1], 0) / NM_PER_MM
        # N·mm for each newton of the leaf, spread over the cleat
        bends.append((share * max(between**2 / 8, over**2 / 2) / length_mm, between, over))
    moment, between, over = max(bends)
    pull = max(case.pull_n, case.wedge_n)
    stress = case.weight_n * moment / (thick_mm * high_mm**2 / 6) + pull * moment / (high_mm * thick_mm**2 / 6)
    strength = bending_mpa(brief.cleat.material) * DURATION.value
    yield link(
        case,
        "wall half",
        part=f"between fixings {case.voice.mm(between)} apart"
        if between >= 2 * over
        else f"its end, {case.voice.mm(over)} out",
        demand_n=case.weight_n,
        allowable_n=case.weight_n * strength / stress if stress else math.inf,
        basis=f"bending {case.voice.stress(stress)} of {case.voice.stress(strength)} allowable",
        factors=(DURATION,),
        assumptions=("the weight is spread evenly over the cleat",),
        source=SOURCE,
    )
