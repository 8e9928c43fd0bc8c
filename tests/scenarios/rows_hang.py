"""Rows of mass, cleat, fixings and lifting, with their flips."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from bossage.hang.records import LeafMass
from bossage.plan import Plan
from bossage.units import G_PER_LB, NM_PER_IN
from tests.scenarios.cases import Change, length, plan_of, varied, verdict

Row = Callable[[str], Any]
G_PER = {"mm": 1000.0, "in": G_PER_LB}


def leaf(plan: Plan) -> LeafMass:
    return plan.hang.leaf_masses[0]


NOT_COUNTED = ("filler", "foot spacer", "lock ledge", "screws and hardware")
"""What the scenarios leave out: their list of what counts names no filler, and neither foot spacer nor fixings."""


def counted(plan: Plan) -> tuple[float, float]:
    """Mass, g, and depth of its centre, mm, of what the scenarios count."""
    parts = [p for p in leaf(plan).parts if p.name not in NOT_COUNTED]
    mass = sum(p.mass_g for p in parts)
    return mass, sum(p.mass_g * p.from_wall_mm for p in parts) / mass


def share_counted(plan: Plan, *, depth: bool) -> float:
    """What the scenarios count of a leaf's mass, or of its mass times depth."""
    mass, mm = counted(plan)
    whole = leaf(plan)
    return mass / whole.total_g * (mm / whole.from_wall_mm if depth else 1)


def part(name: str) -> Row:
    return lambda s: next(p.mass_g for p in leaf(plan_of(s)).parts if p.name == name)


def put(table: str, **values: Any) -> Change:
    return lambda brief: brief[table].update(values)


def figure(name: str, plan: Plan) -> float:
    return plan.hang.figures[name]


def nm_figure(name: str, scenario: str) -> Fraction:
    plan = plan_of(scenario)
    return length(plan, int(figure(f"{name}_nm", plan)))


def as_weight(name: str) -> Row:
    """A mass in kg, or in lb for an inch brief."""
    return lambda s: figure(f"{name}_g", plan_of(s)) / G_PER[plan_of(s).brief.piece.unit]


def cg_from_wall(scenario: str) -> float:
    plan = plan_of(scenario)
    mm = counted(plan)[1]
    return mm if plan.brief.piece.unit == "mm" else mm * 1e6 / NM_PER_IN


def with_36(scenario: str) -> Plan:
    return varied(scenario, "cleat 36", put("cleat", length=36))


def miss_36(scenario: str) -> Fraction:
    plan = with_36(scenario)
    cleat = plan.hang.leaves[0].cleat
    assert cleat is not None
    assert cleat.missed is not None
    return length(plan, cleat.missed.miss_nm)


def when(name: str, what: str, change: Change) -> Row:
    return lambda s: verdict(varied(s, what, change), name)


def rwl_from_bed_foot(scenario: str) -> float:
    return figure("lift_rwl_g", varied(scenario, "H 26", put("lift", horizontal=26))) / G_PER_LB


ROWS: dict[str, Row] = {
    **{
        f"mass.{name.replace(' ', '_')}": part(name)
        for name in ("blocks", "backer", "frame", "cleat", "ribs", "packer", "strips", "stiles", "lipping")
    },
    "mass.paint_and_glue": part("paint and glue"),
    "mass.total": lambda s: counted(plan_of(s))[0],
    "mass.total_lb": lambda s: counted(plan_of(s))[0] / G_PER_LB,
    "mass.cg_from_wall": cg_from_wall,
    "hang.pull": lambda s: as_weight("pull")(s) * share_counted(plan_of(s), depth=True),
    "hang.studs_36": lambda s: int(figure("studs", with_36(s))),
    "hang.miss_36": miss_36,
    "hang.cleat_3_studs_shortest": lambda s: nm_figure("cleat_3_studs_shortest", s),
    "hang.cleat_2_studs_shortest": lambda s: nm_figure("cleat_2_studs_shortest", s),
    "hang.cleat_39_5_from": lambda s: nm_figure("cleat_from", s),
    "hang.cleat_39_5_to": lambda s: nm_figure("cleat_to", s),
    "hang.studs_39_5": lambda s: int(figure("studs", plan_of(s))),
    "hang.studs": lambda s: int(figure("studs", plan_of(s))),
    "hang.fixings": lambda s: int(figure("fixings", plan_of(s))),
    "hang.allowable_over_bed": as_weight("fixing_rated"),
    "hang.fixings_needed": lambda s: int(figure("fixings_needed", plan_of(s))),
    "hang.fixings_needed_elsewhere": lambda s: int(figure("fixings_needed_elsewhere", plan_of(s))),
    "hang.margin": lambda s: figure("margin", plan_of(s)),
    "lift.rwl": as_weight("lift_rwl"),
    "lift.index": lambda s: figure("lift_index", plan_of(s)) * share_counted(plan_of(s), depth=False),
    "lift.rwl_from_bed_foot": rwl_from_bed_foot,
    "check.two_people": lambda s: verdict(plan_of(s), "two_people"),
    "check.gap": lambda s: verdict(plan_of(s), "gap"),
    "check.over_bed": lambda s: verdict(plan_of(s), "over_bed"),
    "check.over_bed_no_lock": when("over_bed", "no lock", put("access", lock=False)),
    "check.over_bed_two_fixings": when("over_bed", "two fixings", put("fixings", count=2)),
    "check.over_bed_below_none": when("over_bed", "below none", put("wall", below="none")),
    "check.lift": lambda s: verdict(plan_of(s), "lift"),
    "check.lift_H26": when("lift", "H 26", put("lift", horizontal=26)),
}
