"""Rows of the layout, the edge, the wall's rules, access and working space, with their flips."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from bossage.layout import Layout
from tests.scenarios.cases import Change, Toml, area, length, plan_of, varied, verdict

Row = Callable[[str], Any]


def nm(read: Callable[[Layout], int]) -> Row:
    return lambda s: length(plan_of(s), read(plan_of(s).layout))


def figure(name: str) -> Row:
    return nm(lambda layout: layout.figures_nm[name])


def least(side: str) -> Row:
    """The least margin on a side over all fixtures."""
    return nm(lambda layout: min(getattr(cover, f"{side}_nm") for cover in layout.covers))


def both(one: str, other: str) -> Row:
    def row(scenario: str) -> Fraction:
        first, second = least(one)(scenario), least(other)(scenario)
        assert first == second
        return Fraction(first)

    return row


def strip(side: str) -> Row:
    def read(layout: Layout) -> int:
        found = next(s for s in layout.strips if s.side == side)
        assert found.count == 2
        return found.length_nm

    return nm(read)


def bond(field: str) -> Row:
    return nm(lambda layout: getattr(layout.ring_bond, f"{field}_nm"))


def is_(name: str, subject: str | None = None) -> Row:
    return lambda s: verdict(plan_of(s), name, subject)


def when(name: str, what: str, change: Change, subject: str | None = None) -> Row:
    """The verdict after one change of the brief."""
    return lambda s: verdict(varied(s, what, change), name, subject)


def put(table: str, **values: Any) -> Change:
    return lambda brief: brief[table].update(values)


def named(brief: Toml, table: str, name: str) -> Toml:
    return next(entry for entry in brief[table] if name in entry.get("name", "") or name == entry.get("kind"))


def fill_cells(*cells: list[int]) -> Change:
    """Close open cells with big blocks of the lowest level."""

    def change(brief: Toml) -> None:
        leaf = brief["leaf"][0]
        leaf["open"] = [cell for cell in leaf["open"] if cell not in cells]
        quotas = named(brief, "footprint", "big")["quotas"]
        first = next(iter(quotas)) if isinstance(quotas, dict) else 0
        quotas[first] += len(cells)

    return change


def unsquared(brief: Toml) -> None:
    big = named(brief, "footprint", "big")
    stick = named(brief, "stick", big["section"])
    for entry in (big, stick):
        entry["width"] = entry["height"] = 3.5
    if "module" in brief["blocks"]:
        brief["blocks"]["module"] = [3.5, 3.5]


def higher_level(brief: Toml) -> None:
    levels = brief["blocks"]["levels"]
    levels[levels.index(50)] = 63
    for footprint in brief["footprint"]:
        if isinstance(footprint.get("quotas"), dict):
            footprint["quotas"]["63"] = footprint["quotas"].pop("50")


def mismatch(scenario: str) -> Fraction:
    plan = varied(scenario, "unsquared", unsquared)
    return length(plan, plan.layout.figures_nm["mismatch"])


def with_bare_cleat(scenario: str) -> Fraction:
    return length(plan_of(scenario), plan_of(scenario).layout.stand_off.air_with_bare_cleat_nm)


def ratio_over_bed(scenario: str) -> float:
    plan = plan_of(scenario)
    bed = next(f for f in plan.brief.furniture if f.kind == "bed")
    return plan.layout.width_nm / bed.width_nm


def furniture(name: str, **values: Any) -> Change:
    return lambda brief: named(brief, "furniture", name).update(values)


FLIPS: dict[str, Row] = {
    "check.vent_without_3_5": when("vent", "cell (3,5) filled", fill_cells([3, 4])),
    "check.vent_none_below": when("vent", "none below", fill_cells([6, 4], [6, 5], [6, 6])),
    "check.mixed_unsquared": when("mixed", "unsquared", unsquared),
    "check.protrusion_with_63_level": when("protrusion", "level 63", higher_level),
    "check.escape_route_true": when("escape_route", "escape route", put("wall", escape_route=True)),
    "check.bare_cleat": when("bare_cleat", "packer 0", put("cleat", packer=0)),
    "check.corner_bond_36": when("corner_bond", "run-out 36", put("edge", run_out=36)),
    "check.ready_access_lift_off": when("ready_access", "lift-off", put("access", opens="lift-off")),
    "check.ready_access_tool": when("ready_access", "a tool", put("access", tool=True)),
    "check.swing_angle_80": when("swing_angle", "80 degrees", put("access", angle=80)),
    "check.space_table_930": when("space", "table 930", furniture("table", near=930)),
    "check.space_cabinet_1461": when("space", "cabinet 1461", furniture("cabinet", x=1461)),
    "check.door_swing_leaf_55": when("door_swing", "leaf 55", put("access", angle=55)),
    "check.fix_to_enclosure": when("fix_to_enclosure", "fixed to it", put("access", fixed_to_fixture=True)),
    "check.flue_in_use": when("flue", "flue in use", lambda b: b["fixture"][0].update(flue_in_use=True)),
}

ROWS: dict[str, Row] = {
    "layout.margin_left": least("left"),
    "layout.margin_right": least("right"),
    "layout.margin_below": least("below"),
    "layout.margin_above": least("above"),
    "layout.margin_sides": both("left", "right"),
    "layout.margin_top_bottom": both("above", "below"),
    "layout.stand_off": nm(lambda layout: layout.stand_off.stand_off_nm),
    "layout.depth": nm(lambda layout: layout.depth_nm),
    "layout.depth_without_highest": figure("depth_without_highest"),
    "layout.hall_left": figure("hall_left"),
    "layout.mismatch_unsquared": mismatch,
    "layout.air_with_bare_cleat": with_bare_cleat,
    "layout.bench_gap": figure("bench_gap"),
    "layout.headboard_gap": figure("headboard_gap"),
    "layout.highest_level_allowed": figure("highest_level_allowed"),
    "layout.overall": nm(lambda layout: layout.width_nm),
    "layout.width": nm(lambda layout: layout.width_nm),
    "layout.height": nm(lambda layout: layout.height_nm),
    "layout.backer_width": nm(lambda layout: layout.leaves[0].backer_width_nm),
    "layout.backer_height": nm(lambda layout: layout.leaves[0].backer_height_nm),
    "layout.lift_room": nm(lambda layout: layout.lift_room_nm),
    "layout.width_over_bed": ratio_over_bed,
    "vent.above": lambda s: area(plan_of(s), plan_of(s).layout.areas_nm2["vent_above"]),
    "vent.below": lambda s: area(plan_of(s), plan_of(s).layout.areas_nm2["vent_below"]),
    "vent.wanted": lambda s: area(plan_of(s), plan_of(s).layout.areas_nm2["vent_wanted"]),
    "edge.ring_extra": bond("extra"),
    "edge.bond_backer": bond("behind_backer"),
    "edge.bond_ring": bond("behind_ring"),
    "edge.bond_corner_area": lambda s: area(plan_of(s), plan_of(s).layout.ring_bond.corner_area_nm2),
    "edge.bond_corner_share": lambda s: plan_of(s).layout.ring_bond.corner_share,
    "edge.bond_ring_share": lambda s: plan_of(s).layout.ring_bond.ring_share,
    "edge.corner_run_out_that_passes": bond("corner_run_out_that_passes"),
    "edge.strip_horizontal": strip("horizontal"),
    "edge.strip_upright": strip("upright"),
    "space.width": figure("space_width"),
    "space.depth": figure("space_depth"),
    "swing.door_max": lambda s: plan_of(s).layout.angles_deg["door_max"],
    "swing.leaf_min_for_door_90": lambda s: plan_of(s).layout.angles_deg["leaf_min_for_door_90"],
    "check.vent": is_("vent"),
    "check.hall_depth": is_("hall_depth"),
    "check.bench_gap": is_("bench_gap"),
    "check.headboard_gap": is_("headboard_gap"),
    "check.width_band": is_("width_band"),
    "check.protrusion": is_("protrusion"),
    "check.middle_leaf": is_("middle_leaf"),
    "check.escape_route_false": is_("escape_route"),
    "check.corner_bond": is_("corner_bond"),
    "check.ready_access_swing": is_("ready_access"),
    "check.space": is_("space"),
    "check.door_swing": is_("door_swing"),
    "check.combustible": is_("combustible"),
    "check.flue": is_("flue"),
    "check.room4_lift_off": is_("lift_off", "4"),
    "check.room1_lift_off": is_("lift_off", "1"),
    **FLIPS,
}
