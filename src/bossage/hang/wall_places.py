"""Where the fixings of a wall half go: evenly along it, beside studs, or over one another in the studs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations

from bossage.fasteners import AnchorKind
from bossage.hang.case import Case
from bossage.hang.prying import foot_of_half_nm, rows_mm
from bossage.hang.sharing import shares_of
from bossage.hang.spread import Tape, spread_over
from bossage.layout.cleat_sold import evenly, holes_nm, shared_out
from bossage.units import NM_PER_MM
from bossage.zones import free_spans, heeded

MANY_STUDS = 9

BESIDE_STUD_NM = 25 * NM_PER_MM
"""Clear wallboard between the side of a stud and a hollow-wall fixing: ours, about 1 in."""

APART_NM = 50 * NM_PER_MM
"""Fixings along the wall half, no nearer to one another: ours, about 2 in; a sheet of the maker may ask for more."""


def most_fixings(case: Case, least: int) -> int:
    """How many find room along the wall half outside every zone, at least `least`."""
    if case.brief.cleat.hole_pitch_nm is not None:
        return max(least, sum(len(mine) for mine in _holes(case, AnchorKind.PLUG)))
    return max(least, sum(1 + (b - a) // _apart_nm(case) for free in _free(case) for a, b in free))


def middle_row_nm(case: Case) -> int:
    """Height over the floor of fixings that stand in one row."""
    return foot_of_half_nm(case) + round(rows_mm(case, 1)[0] * NM_PER_MM)


def even_places(case: Case, count: int, kind: AnchorKind) -> list[int]:
    """Places of so many fixings, left to right, outside every zone; a hollow-wall fixing stands in the hollow.

    Fewer where zones leave no room for so many; none where they leave a piece of the wall half without any.
    """
    if case.brief.cleat.hole_pitch_nm is not None:
        return _in_holes(_holes(case, kind), count)
    places = _wished(case, count, kind)
    if not case.zones:
        return places
    found: list[int] = []
    for number, free in enumerate(_free(case)):
        mine = [x for x in places if _piece_of(case, x) == number]
        settled = _settled(mine, free, _apart_nm(case))
        if mine and not settled:
            return []
        found += settled
    return found if len(found) > 1 else []


def _holes(case: Case, kind: AnchorKind) -> list[list[int]]:
    """Of each piece of a bought wall half, the holes that no zone takes; of hollow-wall fixings those beside studs."""
    wall, y = case.brief.wall, middle_row_nm(case)
    held = heeded(case.zones, wall, into_stud=False)
    clear = wall.stud_width_nm // 2 + BESIDE_STUD_NM if kind is AnchorKind.HOLLOW else 0
    return [
        [
            x
            for x in holes_nm(case.brief.cleat, piece)
            if free_spans(held, (x, x), y) and all(abs(x - stud) >= clear for stud in wall.studs_nm)
        ]
        for piece in case.cleat.on_wall
    ]


def _in_holes(holes: list[list[int]], count: int) -> list[int]:
    """So many holes, as evenly over the pieces and along each as can be; none where a piece has no free hole."""
    if not all(holes):
        return []
    found = [x for mine, many in zip(holes, shared_out(count, len(holes)), strict=True) for x in evenly(mine, many)]
    return found if len(found) > 1 else []


def _wished(case: Case, count: int, kind: AnchorKind) -> list[int]:
    places = list(spread_over(case.cleat.on_wall, case.brief.cleat.end_distance_nm, count, _tape(case)))
    return _beside_studs(case, places) if kind is AnchorKind.HOLLOW else places


def _free(case: Case) -> list[list[tuple[int, int]]]:
    """Of each piece of the wall half, the stretches where a fixing may stand in the middle of its height."""
    end, y = case.brief.cleat.end_distance_nm, middle_row_nm(case)
    held, tape = heeded(case.zones, case.brief.wall, into_stud=False), _tape(case)
    found = []
    for a, b in case.cleat.on_wall:
        free = free_spans(held, (a + end, b - end) if b - a > 2 * end else ((a + b) // 2,) * 2, y)
        found.append([tape.within(low, high) for low, high in free])
    return found


def _tape(case: Case) -> Tape:
    """A rule laid along the wall from its left corner."""
    return Tape(case.brief.piece.unit)


def _apart_nm(case: Case) -> int:
    return _tape(case).after(APART_NM)


def _settled(wished: list[int], free: list[tuple[int, int]], apart_nm: int) -> list[int]:
    """Each place in the nearest free stretch that has room for one more, no nearer to one another than is allowed."""
    if all(any(a <= x <= b for a, b in free) for x in wished):
        return wished
    held: list[list[int]] = [[] for _ in free]
    for x in wished:
        near = sorted(range(len(free)), key=lambda k: max(free[k][0] - x, x - free[k][1], 0))
        room = next((k for k in near if len(held[k]) <= (free[k][1] - free[k][0]) // apart_nm), None)
        if room is not None:
            held[room].append(x)
    found: list[int] = []
    for mine, (low, high) in zip(held, free, strict=True):
        spread: list[int] = []
        for number, x in enumerate(sorted(mine)):
            least = low if not spread else spread[-1] + apart_nm
            most = high - (len(mine) - 1 - number) * apart_nm
            spread.append(min(max(x, least), most))
        found += spread
    return found


def _beside_studs(case: Case, places: list[int]) -> list[int]:
    """The same places, those before a stud moved to its nearer side: a hollow-wall fixing spreads in the hollow.

    A place stays where it is if neither side of the stud has room on the cleat for another fixing.
    """
    wall, end, tape = case.brief.wall, case.brief.cleat.end_distance_nm, _tape(case)
    clear = wall.stud_width_nm // 2 + BESIDE_STUD_NM
    taken: list[int] = []
    for x in places:
        stud = next((s for s in wall.studs_nm if abs(s - x) < clear), None)
        sides = (
            []
            if stud is None
            else sorted((tape.before(stud - clear), tape.after(stud + clear)), key=lambda at: abs(at - x))
        )
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


def over_studs(
    case: Case, studs: list[int], count: int, worked: Callable[[list[int], Sequence[float]], float]
) -> list[int]:
    """A given number of screws over the studs so that the hardest-worked has least; fewer than studs leave some out.

    Tried are even spreads over every choice of studs (over every run of neighbours where there are very many), so
    another stud can only help. `worked` says by places and shares how hard the hardest-worked one is worked.
    """
    best: list[int] = []
    least = float("inf")
    for chosen in _choices(studs):
        even = list(_evenly(chosen, count))
        shares = shares_of(case, even)
        if shares is not None and worked(even, shares) < least * (1 - 1e-12):
            best, least = even, worked(even, shares)
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
