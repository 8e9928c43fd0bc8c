"""Rows of sticks and sheets, and of the heights."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np

from bossage.layout import plan_layout
from bossage.relief import NoRelief, Relief, plan_relief
from bossage.saw import Piece, SawJob, SawPlan, SectionCut, StickStock, plan_sticks
from tests.scenarios.cases import length, plan_of, verdict

Row = Callable[[str], Any]


def section(scenario: str, name: str) -> SectionCut:
    """The cut of a section, called by its own name or by that of the footprint sliced from it."""
    plan = plan_of(scenario)
    sections = {footprint.name: footprint.section for footprint in plan.brief.blocks.footprints}
    return next(cut for cut in plan.saw.sections if cut.section == sections.get(name, name))


def best(scenario: str, name: str) -> SawPlan:
    plan = section(scenario, name).plan
    assert plan is not None
    return plan


def _saw(name: str) -> dict[str, Row]:
    def usable(scenario: str) -> Any:
        stick = best(scenario, name).sticks[0]
        return length(plan_of(scenario), stick.usable_nm)

    def greedy(scenario: str) -> Any:
        first_fit = best(scenario, name).greedy
        assert first_fit is not None
        return first_fit.sticks

    return {
        f"saw.{name}.usable": usable,
        f"saw.{name}.slices": lambda s: section(s, name).slices,
        f"saw.{name}.need": lambda s: length(plan_of(s), best(s, name).need_nm),
        f"saw.{name}.sticks": lambda s: proven_sticks(best(s, name)),
        f"saw.{name}.sticks_greedy": greedy,
        f"saw.{name}.slack": lambda s: length(plan_of(s), best(s, name).slack_nm),
        f"saw.{name}.settings": lambda s: len({row.length_nm for row in section(s, name).rows}),
    }


def proven_sticks(plan: SawPlan) -> int:
    assert plan.proven
    return len(plan.sticks)


def one_spare_fewer(scenario: str) -> tuple[Any, int]:
    """S2's 45s with one spare of 18 mm fewer, planned afresh from the section's rows."""
    plan, cut = plan_of(scenario), section(scenario, "45")
    stock = best(scenario, "45").sticks[0].stock
    rows = [replace(row, spares=row.spares - (row.length_nm == 18_000_000)) for row in cut.rows]
    job = SawJob(
        pieces=tuple(Piece(length_nm=row.length_nm, count=row.slices, spares=row.spares) for row in rows),
        sticks=(StickStock(**{name: getattr(stock, name) for name in StickStock.__slots__}),),
        kerf_nm=cut.kerf_nm,
    )
    answer = plan_sticks(job)
    assert isinstance(answer, SawPlan)
    return length(plan, answer.need_nm), len(answer.sticks)


def feasible_share(scenario: str) -> float:
    """Share of 12 draws of the layout that can hold the quotas; leaves and copies are drawn alike."""
    plan = plan_of(scenario)
    outcomes = []
    for draw in range(12):
        layout = plan_layout(plan.brief, draw=draw)
        relief = plan_relief(plan.brief, layout)  # type: ignore[arg-type]
        assert isinstance(relief, Relief | NoRelief)
        outcomes.append(isinstance(relief, Relief))
    return float(np.mean(outcomes))


def maps_differ(scenario: str) -> int:
    """The row asks for at least half; the least of any two maps is given back as the half that it reaches."""
    plan = plan_of(scenario)
    maps = [plan.relief.level[plan.layout.blocks.leaf == leaf] for leaf in range(len(plan.layout.leaves))]
    least = min(int((one != other).sum()) for one, other in itertools.combinations(maps, 2))
    return min(least, maps[0].size // 2)


def count_of(footprint: str) -> Row:
    return lambda s: sum(row.count for row in plan_of(s).fade.count_table if row.footprint == footprint)


def _backers(scenario: str) -> Any:
    cut = next(cut for cut in plan_of(scenario).saw.boards if "backer" in cut.serves)
    assert cut.plan is not None
    return cut.plan


def backers_per_sheet(scenario: str) -> int:
    most = {panel: (count, proven) for panel, _, count, proven in _backers(scenario).most_per_sheet}
    count, proven = most["backer"]
    assert proven
    return count


ROWS: dict[str, Row] = {
    "relief.blocks": lambda s: plan_of(s).layout.blocks.count,
    "relief.big": count_of("big"),
    "relief.small": count_of("small"),
    "relief.blocks_per_leaf": lambda s: int(np.bincount(plan_of(s).layout.blocks.leaf)[0]),
    "relief.feasible_share": feasible_share,
    "relief.maps_differ": maps_differ,
    **{key: row for name in ("big", "small", "70", "95", "45", "2x4", "58", "2.5") for key, row in _saw(name).items()},
    "saw.45.short_for_one_stick": lambda s: length(plan_of(s), best(s, "45").short_for_one_fewer_nm or 0),
    "saw.45.need_one_spare_fewer": lambda s: one_spare_fewer(s)[0],
    "saw.45.sticks_one_spare_fewer": lambda s: one_spare_fewer(s)[1],
    "saw.2x4.advised": lambda s: len(best(s, "2x4").advised.sticks),
    "check.short_stock": lambda s: verdict(plan_of(s), "short_stock"),
    "check.greedy": lambda s: verdict(plan_of(s), "greedy"),
    "sheet.backers_per_sheet": backers_per_sheet,
    "sheet.sheets": lambda s: len(_backers(s).sheets),
}
