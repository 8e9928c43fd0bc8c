"""The wall's side of the load path: how many fixings hold the wall half, where they go, and what each carries."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from bossage.brief.records import Ratings, WallBuild
from bossage.fasteners import AnchorKind
from bossage.hang.case import IN_STUDS, Case
from bossage.hang.crowded import crowded, crowding
from bossage.hang.holds import LEAST_MARGIN, Hold, hold_link, short_of
from bossage.hang.places import screws_at, studs_taken
from bossage.hang.prying import foot_of_half_nm, loads_on, rows_mm
from bossage.hang.rated import anchor_kind, rated_hold, reaching
from bossage.hang.records import Factor, Link, Load
from bossage.hang.sharing import shares_of
from bossage.hang.stud_screws import (
    beside_line_nm,
    depth_in_stud_mm,
    most_over_one_another,
    over_one_another,
    stud_hold,
)
from bossage.hang.wall_half import most_bent, wall_half
from bossage.hang.wall_places import even_places, most_fixings, over_studs
from bossage.hang.wall_records import FixingPoint
from bossage.units import NM_PER_MM

LEAST_FIXINGS = 2
"""Never on one fixing alone: common practice, no source."""

ENOUGH = (1 + 1e-9) / LEAST_MARGIN
"""Most that may be used of what one holds; by a whisker more, so that an exact multiple asks for no further fixing."""

AT_LEAST = "never on one alone"
IN_ZONES = "every place for one lies in a zone where nothing is drilled"
ONE_SIDE = "all places for fixings lie at one side of the centre of gravity, so the leaf can tip"
NO_STUD = "the cleat meets no stud that is free"
NOBODY_WITHOUT = "no number of them would do without a figure"


@dataclass(frozen=True, slots=True, kw_only=True)
class WallHold:
    """What holds the wall half. `needed` would do for this mass; `needed_elsewhere` with nobody below."""

    points: tuple[FixingPoint, ...]
    per_stud: int
    needed: int
    needed_elsewhere: int
    reason: str  # why so many
    allowable_each_n: float  # straight down, factors of the place included
    hold: Hold | str  # what one of them may carry, or why nothing is counted on
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Count:
    """How many, and why not one fewer."""

    count: int
    reason: str


def hold_wall(case: Case) -> WallHold:
    """Count, places and links of the fixings of one leaf's wall half.

    Screws go into every stud that is met. A leaf that its studs alone would not hold level takes hollow-wall fixings
    where the brief has figures for them.
    """
    if not case.brief.into_studs:
        fixings = case.brief.fixings
        return _rated(case, fixings.ratings, anchor_kind(fixings.kind))
    studs = screws_at(case.brief, case.cleat)
    if case.brief.fixings.board.given and (len(studs) < LEAST_FIXINGS or shares_of(case, studs) is None):
        return _rated(case, case.brief.fixings.board, AnchorKind.HOLLOW, studs)
    return _in_studs(case)


def _rated(case: Case, ratings: Ratings, kind: AnchorKind, studs: Sequence[int] = ()) -> WallHold:
    """Plugs or hollow-wall fixings, evenly along the wall half; they hold as if no stud that is met held anything."""
    fixings, over = case.brief.fixings, (case.over_head,) if case.over_head else ()
    hold, elsewhere = (reaching(case, kind, rated_hold(case, ratings, kind, factors)) for factors in (over, ()))
    needed = _beside_a_screw(case, _fewest(case, hold, kind), len(studs))
    count = fixings.count or needed.count
    places = even_places(case, count, kind)
    shares = shares_of(case, places) if places else None
    if shares is None:
        return _nowhere(case, hold, ONE_SIDE if places else IN_ZONES)
    count, hold = len(places), crowded(case, hold, places)
    loads = loads_on(case, places, shares)
    into = "masonry" if case.brief.wall.build is WallBuild.MASONRY else "wallboard"
    say = case.voice.bare_force
    held = hold_link(
        case,
        "fixings in the wall",
        f"the hardest-worked of {count}",
        hold,
        max(loads, key=lambda load: load.whole_n),
        assumptions=(
            f"the hardest-worked fixing carries {max(shares):.2f} of the leaf",
            _thrust_words(case),
            f"the wall half turns about its lower edge, so that all fixings together are pulled by "
            f"{say(sum(load.pull_n for load in loads))}",
        ),
    )
    points = _points(case, places, shares, loads, into)
    links = [held, *_of_half(case, places)]
    if studs:
        extra, link = _beside_board(case, places, studs)
        points, links = tuple(sorted((*points, *extra), key=lambda point: point.x_nm)), [*links, link]
    return WallHold(
        points=points,
        per_stud=1,
        needed=needed.count + len(studs),
        needed_elsewhere=_fewest(case, elsewhere, kind).count + len(studs),
        reason="the brief asks for so many" if fixings.count else needed.reason,
        allowable_each_n=0.0 if isinstance(hold, str) else hold.along_n,
        hold=hold,
        links=tuple(links),
    )


def _nowhere(case: Case, hold: Hold | str, reason: str) -> WallHold:
    """No fixing at all, because of the zones."""
    load = Load(pull_n=case.thrust_n, shear_n=case.weight_n)
    return WallHold(
        points=(),
        per_stud=0,
        needed=LEAST_FIXINGS,
        needed_elsewhere=LEAST_FIXINGS,
        reason=reason,
        allowable_each_n=0.0 if isinstance(hold, str) else hold.along_n,
        hold=hold,
        links=(hold_link(case, "fixings in the wall", "all", reason, load),),
    )


def _beside_a_screw(case: Case, found: _Count, studs: int) -> _Count:
    """As many more fixings in the board as make a screw in a stud hold beside them."""
    hold = stud_hold(case, case.wall_factors) if studs else ""
    alone = None if isinstance(hold, str) else hold.use(loads_on(case, (0,), (1.0,))[0])
    count, reason, most = found.count, found.reason, most_fixings(case, LEAST_FIXINGS)
    while alone is not None and count < most and (used := alone * _screw_share(count, studs)) > ENOUGH:
        reason = f"beside {count} the screw in the stud would have {_short(1 / used)}"
        count += 1
    return _Count(count=count, reason=reason)


def _screw_share(fixings: int, studs: int) -> float:
    """A stud gives less than the board and draws the load to itself: twice an even share, ours.

    Where there is one of each, that is the whole leaf, and never more.
    """
    return 2 / (fixings + studs)


def _beside_board(case: Case, places: Sequence[int], studs: Sequence[int]) -> tuple[tuple[FixingPoint, ...], Link]:
    """A screw in each stud that is met, beside fixings that stand in the board alone."""
    loads = loads_on(case, studs, (_screw_share(len(places), len(studs)),) * len(studs))
    link = hold_link(
        case,
        "screws in the studs",
        "beside the fixings in the wallboard",
        stud_hold(case, case.wall_factors),
        loads[0],
        assumptions=("each carries twice an even share, as a stud gives less than the board: ours",),
    )
    into = "stud" if case.brief.wall.build is WallBuild.TIMBER_STUDS else "metal stud"
    return _points(case, studs, (0.0,) * len(studs), loads, into), link


def _fewest(case: Case, hold: Hold | str, kind: AnchorKind) -> _Count:
    """The fewest at which fixings and wall half hold; as many as find room where none do.

    Where the free end of the wall half rules, a further fixing mends nothing.
    """
    most = most_fixings(case, LEAST_FIXINGS)
    count, reason = LEAST_FIXINGS, AT_LEAST
    # every rule grows as the load does, so one fixing under the whole leaf says how hard each of many is worked
    alone = None if isinstance(hold, str) else hold.use(loads_on(case, (0,), (1.0,))[0])
    if alone is None:
        reason = NOBODY_WITHOUT
    else:
        # none of so many has less than an even share
        count = min(most, max(LEAST_FIXINGS, math.ceil(alone / ENOUGH) - 1))
        if count > LEAST_FIXINGS:
            reason = f"{count - 1} would have {_short((count - 1) / alone)} at best"
        while count < most and (used := alone * _worst_share(case, count, kind)) > ENOUGH:
            reason = f"{count} would have {_short(1 / used)}"
            count += 1
    while count < most and (words := _bends(case, even_places(case, count, kind))):
        reason = f"with {count} {words}"
        count += 1
    return _Count(count=count, reason=reason)


def _worst_share(case: Case, count: int, kind: AnchorKind) -> float:
    """Part of the leaf on the hardest-worked of so many; without end where they do not hold it level."""
    places = even_places(case, count, kind)
    worst = max((places and shares_of(case, places)) or (math.inf,))
    return worst / crowding(places) if kind is AnchorKind.HOLLOW and places else worst


def _short(margin: float) -> str:
    return short_of(margin, LEAST_MARGIN)


def _bends(case: Case, places: Sequence[int]) -> str:
    """Why the wall half asks for one fixing more; empty where it holds, or where one more would not mend it."""
    half, bent = wall_half(case, places), most_bent(case, places)
    if half is None or bent is None or bent.by_end or half.margin >= 1:
        return ""
    return f"the wall half would bend too far, margin {half.margin:.2f} {half.part}"


def _in_studs(case: Case) -> WallHold:
    """Screws in every stud that is met; more in each where one is not enough."""
    studs = screws_at(case.brief, case.cleat)
    fixings = case.brief.fixings
    here, elsewhere = case.wall_factors, case.wood_factors
    rows = cache(lambda count: stud_hold(case, here, count))
    hold = rows(1)
    least = _least_per_stud(case, studs, here)
    places = (
        over_studs(
            case,
            studs,
            _in_holes(case, fixings.count, studs),
            lambda at, on: _worked(case, rows(over_one_another(at)), at, on),
        )
        if fixings.count
        else None
    )
    reason = "the brief asks for so many" if fixings.count or fixings.per_stud > least.count else least.reason
    if places is None:
        places = studs * (1 if _holes(case) else max(fixings.per_stud, least.count))
    places = sorted(places)
    shares = shares_of(case, places)
    loads = loads_on(case, places, shares or (0.0,) * len(places))
    into = "stud" if case.brief.wall.build is WallBuild.TIMBER_STUDS else "metal stud"
    rated = _rated_in_studs(case, places) if fixings.allowable_g is not None else ()
    return WallHold(
        points=_points(case, places, shares or (0.0,) * len(places), loads, into),
        per_stud=max((places.count(x) for x in studs), default=0),
        needed=least.count * len(studs),
        needed_elsewhere=_least_per_stud(case, studs, elsewhere).count * len(studs),
        reason=reason if studs else NO_STUD,
        allowable_each_n=_straight_down_n(case, hold),
        hold=hold,
        links=(_screws(case, places, here), *rated, *_of_half(case, places)),
    )


def _holes(case: Case) -> bool:
    """Whether the wall half has holes of its own, each for one screw."""
    return case.brief.cleat.hole_pitch_nm is not None


def _in_holes(case: Case, count: int, studs: list[int]) -> int:
    """As many screws as the brief asks for, no more than there are holes before studs."""
    return min(count, len(studs)) if _holes(case) else count


def _worked(case: Case, hold: Hold | str, places: Sequence[int], shares: Sequence[float]) -> float:
    """How hard the hardest-worked is worked; by its share alone where nothing is known of the screw."""
    if isinstance(hold, str):
        return max(shares)
    return max(1 / hold.margin(load) for load in loads_on(case, places, shares))


def _least_per_stud(case: Case, studs: list[int], factors: tuple[Factor, ...]) -> _Count:
    """Fewest screws in each stud that hold, at least so many that two hold in all; the most if none would do."""
    first = LEAST_FIXINGS if len(studs) == 1 else 1
    reason = AT_LEAST if len(studs) == 1 else "one in each stud that the wall half meets"
    most = max(first, most_over_one_another(case))
    for per_stud in range(first, most + 1):
        link = _screws(case, sorted(studs * per_stud), factors)
        if link.reserve >= 1:
            return _Count(count=per_stud, reason=reason)
        reason = f"{per_stud} in each stud would have {_short(link.margin)}"
    return _Count(count=most, reason=reason)


def _screws(case: Case, places: list[int], factors: tuple[Factor, ...]) -> Link:
    """The hardest-worked wall screw: its pull and its shear, both at once; in a row over one another it holds less."""
    shares = shares_of(case, places)
    held = stud_hold(case, factors, over_one_another(places))
    if not places:
        held = (
            "zones take every stud behind the cleat"
            if studs_taken(case.brief, case.cleat)
            else "the cleat meets no stud"
        )
    elif shares is None or len(set(places)) < 2:
        reason = "the centre of gravity lies outside the screws" if shares is None else "one stud alone holds it"
        held = f"{reason}, so the leaf can tip sideways"
    if isinstance(held, str):
        return hold_link(case, "screws in the studs", "all", held, Load(pull_n=case.thrust_n, shear_n=case.weight_n))
    assert shares is not None
    worst = min(loads_on(case, places, shares), key=held.margin)
    return hold_link(
        case,
        "screws in the studs",
        f"the hardest-worked of {len(places)}",
        held,
        worst,
        assumptions=(
            f"the hardest-worked screw carries {worst.shear_n / case.weight_n:.2f} of the leaf",
            _thrust_words(case),
            "the wall half turns about its lower edge, which makes the pull on its screws the larger",
            "wallboard bears nothing: it is a gap between the wall half and the stud",
        ),
    )


def _rated_in_studs(case: Case, places: list[int]) -> tuple[Link, ...]:
    """The screws held against the brief's own figures as well: along the wall, and straight out where it gives that."""
    over = (case.over_head,) if case.over_head else ()
    hold = rated_hold(case, case.brief.fixings.ratings, AnchorKind.STEEL, over)
    shares = shares_of(case, places)
    name, part = "screws by the brief's allowable", f"the hardest-worked of {len(places)}"
    if isinstance(hold, str) or shares is None:
        reason = hold if isinstance(hold, str) else "the centre of gravity lies outside the screws"
        return (hold_link(case, name, part, reason, Load(pull_n=0.0, shear_n=case.weight_n)),)
    loads = loads_on(case, places, shares)
    if hold.pull_n is None:
        loads = tuple(Load(pull_n=0.0, shear_n=load.shear_n) for load in loads)
    return (hold_link(case, name, part, hold, min(loads, key=hold.margin)),)


def _straight_down_n(case: Case, hold: Hold | str) -> float:
    """Allowable of one wall screw for a load straight down; what the brief gives if that is less."""
    over: tuple[Factor, ...] = (case.over_head,) if case.over_head else ()
    given = rated_hold(case, case.brief.fixings.ratings, AnchorKind.STEEL, over)
    computed = 0.0 if isinstance(hold, str) else hold.along_n
    return min(computed, math.inf if isinstance(given, str) else given.along_n)


def _of_half(case: Case, places: Sequence[int]) -> tuple[Link, ...]:
    half = wall_half(case, places)
    return () if half is None else (half,)


def _thrust_words(case: Case) -> str:
    say = case.voice.bare_force
    return (
        f"the wall half is pushed out by {say(case.thrust_n)}: the larger of tipping ({say(case.pull_n)}) and of the "
        f"bevel ({say(case.wedge_n)})"
    )


def _points(
    case: Case, places: Sequence[int], shares: Sequence[float], loads: Sequence[Load], into: str
) -> tuple[FixingPoint, ...]:
    """Every fixing with its place; those in one stud over one another, highest first."""
    seen, foot = dict.fromkeys(places, 0), foot_of_half_nm(case)
    points = []
    deep_mm = depth_in_stud_mm(case) if into in IN_STUDS else None
    for x, share, load in zip(places, shares, loads, strict=True):
        y = foot + round(rows_mm(case, places.count(x))[seen[x]] * NM_PER_MM)
        beside = beside_line_nm(case, seen[x], places.count(x))
        points.append(
            FixingPoint(
                x_nm=x + beside,
                y_nm=y,
                from_leaf_left_nm=x + beside - case.leaf.x_nm,
                into=into,
                load_share=share,
                pull_n=load.pull_n,
                shear_n=load.shear_n,
                clear_nm=case.clear_nm(x + beside, y, into),
                depth_in_stud_mm=deep_mm,
                beside_nm=beside,
            )
        )
        seen[x] += 1
    return tuple(points)
