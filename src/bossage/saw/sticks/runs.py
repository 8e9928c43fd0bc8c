"""The way through the saw step by step: so many slices at this stop from that stick, as the plan's order goes."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.saw.job.records import SawPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Slices of one length cut from one stick without moving the stop."""

    length_nm: int
    stick: int  # its number
    count: int
    sets_stop: bool  # the stop is moved before it, and its first slice is measured


def runs_of(plan: SawPlan) -> tuple[Run, ...]:
    """Every run of a plan in the order of its quicker way; together they cut all slices once."""
    at = {stick.number: 0 for stick in plan.sticks}
    slices = {stick.number: stick.slices for stick in plan.sticks}
    runs: list[Run] = []
    stop = None
    for number, length_nm in plan.order:
        first = last = at[number]
        # a zone may part slices of one length: the stop stays, and so does the run
        while last < len(slices[number]) and slices[number][last].length_nm == length_nm:
            last += 1
        at[number] = last
        runs.append(Run(length_nm=length_nm, stick=number, count=last - first, sets_stop=length_nm != stop))
        stop = length_nm
    return tuple(runs)
