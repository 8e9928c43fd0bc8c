"""Fewest trails of a graph: in which order the saw goes, by setting or stick by stick, by the maker's time model.

By setting, the saw makes one run for each setting over all sticks. Stick by stick, the stop need not move where a
stick starts with the length with which the last stick ended. Draw each stick as an edge between its first and its last
length: then the fewest moves of the stop are the fewest trails (Euler 1736 for the argument; its use here is our own).
"""

from __future__ import annotations

from dataclasses import dataclass

from bossage.saw.job.records import Handling, TimeModel

EXACT_STICKS = 7

Contents = tuple[tuple[int, ...], ...]  # by span, the distinct lengths in it


@dataclass(frozen=True, slots=True, kw_only=True)
class Sequence:
    """Visits (stick, length index) in order, the order of lengths within each span, and what it costs."""

    visits: tuple[tuple[int, int], ...]
    within: tuple[Contents, ...]
    handling: Handling


def by_setting(sticks: list[Contents], cuts: int, time: TimeModel) -> Sequence:
    """Longest first over all sticks; a stick with zones is cut from its squared end on and may need a second pass.

    Where fewer sticks lie at the saw at once than there are, lot follows lot: each begins at the length at which the
    stop stands, if it needs that one, and goes on longest first.
    """
    within = [tuple(tuple(sorted(span)) for span in stick if span) for stick in sticks]
    at = [(0, 0)] * len(sticks)
    visits: list[tuple[int, int]] = []
    changes, setting = 0, -1
    lot = time.at_once or len(sticks)
    for first in range(0, len(sticks), lot):
        here = range(first, min(len(sticks), first + lot))
        begun = False
        for s in here:
            # in clear wood the order is free, so the length at which the stop stands may come first
            if within[s] and setting in within[s][0]:
                rest = tuple(i for i in within[s][0] if i != setting)
                within[s] = ((setting, *rest), *within[s][1:])
        while any(at[s][0] < len(within[s]) for s in here):
            # Indices rise as lengths fall, so rising order is longest first.
            due = sorted({within[s][at[s][0]][at[s][1]] for s in here if at[s][0] < len(within[s])})
            ahead = [i for i in due if i > setting] if begun else [i for i in due if i == setting]
            nxt = ahead[0] if ahead else due[0]
            changes += nxt != setting
            setting, begun = nxt, True
            for s in here:
                span, k = at[s]
                hit = False
                while span < len(within[s]) and within[s][span][k] == nxt:
                    hit = True
                    span, k = (span, k + 1) if k + 1 < len(within[s][span]) else (span + 1, 0)
                if hit:
                    visits.append((s, nxt))
                    at[s] = (span, k)
    return _weigh("by_setting", visits, within, changes, len(visits), cuts, time)


def by_stick(sticks: list[Contents], cuts: int, time: TimeModel) -> Sequence:
    """Stick by stick, chained so that the stop stays where it can."""
    spans = [[set(span) for span in stick if span] for stick in sticks]
    order = _chain(spans)
    visits: list[tuple[int, int]] = []
    within: list[Contents] = [()] * len(sticks)
    changes, stop = 0, -1
    for place, s in enumerate(order):
        follow = set().union(*spans[order[place + 1]]) if place + 1 < len(order) else set()
        runs: list[tuple[int, ...]] = []
        for j, span in enumerate(spans[s]):
            after = spans[s][j + 1] if j + 1 < len(spans[s]) else follow
            runs.append(_order_span(span, stop, after))
            for i in runs[-1]:
                changes += i != stop
                if i != stop or j == 0:
                    visits.append((s, i))
                stop = i
        within[s] = tuple(runs)
    return _weigh("by_stick", visits, within, changes, len(sticks), cuts, time)


def _order_span(span: set[int], stop: int, after: set[int]) -> tuple[int, ...]:
    """Start at the present stop, end at a length that comes next, longest first between."""
    first = [stop] if stop in span else []
    shared = sorted((span & after) - set(first), reverse=True)
    if not shared and len(span) > 1 and first and stop in after and len(span & after) == 1:
        first, shared = [], [stop]  # end at the shared length rather than start at it: the same saving
    last = shared[:1]
    middle = sorted(span - set(first) - set(last))
    return (*first, *middle, *last)


def _chain(sticks: list[list[set[int]]]) -> list[int]:
    """Order of the sticks with many shared lengths between neighbours; exhaustive for a handful, else greedy.

    Of equal orders the one that has the tall slices first, so that one that is spoilt can still become a lower one.
    """
    ends = [(stick[0], stick[-1]) for stick in sticks]
    count = len(sticks)
    # rising indices are falling lengths
    tall_first = sorted(range(count), key=lambda s: (min((min(span) for span in sticks[s] if span), default=0), s))
    if count <= EXACT_STICKS:
        best: tuple[int, list[int]] = (-1, [])

        def walk(path: list[int], entered: int, joins: int) -> None:
            nonlocal best
            if joins + count - len(path) <= best[0]:
                return
            if len(path) == count:
                best = (joins, path.copy())
                return
            for s in tall_first:
                if s in path:
                    continue
                links = [-1]
                if path:
                    tail = ends[path[-1]][1]
                    lone = len(sticks[path[-1]]) == 1 and len(tail) > 1
                    links = [i for i in sorted(tail & ends[s][0]) if not (lone and i == entered)] or [-1]
                for link in links:
                    walk([*path, s], link, joins + (link >= 0))

        walk([], -1, 0)
        return best[1]
    todo = tall_first
    path = [todo.pop(0)]
    while todo:
        tail = ends[path[-1]][1]
        nxt = next((s for s in todo if tail & ends[s][0]), todo[0])
        todo.remove(nxt)
        path.append(nxt)
    return path


def _weigh(
    mode: str,
    visits: list[tuple[int, int]],
    within: list[Contents],
    changes: int,
    loads: int,
    cuts: int,
    time: TimeModel,
) -> Sequence:
    seconds = changes * time.change_s + loads * time.load_s + cuts * time.cut_s
    way = Handling(
        mode="by_stick" if mode == "by_stick" else "by_setting",
        changes=changes,
        loads=loads,
        cuts=cuts,
        seconds=seconds,
    )
    return Sequence(visits=tuple(visits), within=tuple(within), handling=way)
