"""Our worked scenarios, as rows to read off a layout and as flips of one input.

`ROWS` gives the layout's part of each scenario's expected values; a `check.*` row that turns an input over is in
`FLIPS`, with the change that turns it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from bossage.brief import records as r
from bossage.layout.records import Cover, Layout
from tests.layout.factory import change, inch, mm

NM = {"mm": 1_000_000, "in": 25_400_000}

Read = Callable[[r.Brief, Layout], float]


def cover(layout: Layout, fixture: int = 0) -> Cover:
    names = list(dict.fromkeys(c.fixture for c in layout.covers))
    return next(c for c in layout.covers if c.fixture == names[fixture])


def in_unit(value: Callable[[Layout], int]) -> Read:
    return lambda brief, layout: value(layout) / NM[brief.piece.unit]


def figure(name: str) -> Read:
    return in_unit(lambda layout: layout.figures_nm[name])


def area_in(name: str) -> Read:
    return lambda brief, layout: layout.areas_nm2[name] / NM[brief.piece.unit] ** 2


def bond(name: str) -> Callable[[Layout], Any]:
    return lambda layout: getattr(layout.ring_bond, name)


def sides(layout: Layout, *names: str) -> int:
    values = {getattr(cover(layout), f"{name}_nm") for name in names}
    assert len(values) == 1, values
    return values.pop()


DEPTH = in_unit(lambda la: la.depth_nm)
STAND_OFF = in_unit(lambda la: la.stand_off.stand_off_nm)
ABOVE = in_unit(lambda la: cover(la).above_nm)
BELOW = in_unit(lambda la: cover(la).below_nm)
ACROSS = in_unit(lambda la: sides(la, "left", "right"))
BARE = in_unit(lambda la: la.stand_off.air_with_bare_cleat_nm)

ROWS: dict[str, dict[str, Read]] = {
    "S1": {
        "relief.blocks": lambda brief, la: la.blocks.count,
        "relief.big": lambda brief, la: int((la.blocks.letter == 0).sum()),
        "relief.small": lambda brief, la: int((la.blocks.letter > 0).sum()),
        "layout.margin_left": in_unit(lambda la: cover(la).left_nm),
        "layout.margin_right": in_unit(lambda la: min(c.right_nm for c in la.covers)),
        "layout.margin_below": BELOW,
        "layout.margin_above": in_unit(lambda la: min(c.above_nm for c in la.covers)),
        "layout.stand_off": STAND_OFF,
        "layout.depth": DEPTH,
        "layout.depth_without_highest": figure("depth_without_highest"),
        "layout.hall_left": figure("hall_left"),
        "vent.above": area_in("vent_above"),
        "vent.below": area_in("vent_below"),
        "vent.wanted": area_in("vent_wanted"),
    },
    "S2": {
        "relief.blocks": lambda brief, la: la.blocks.count,
        "layout.margin_sides": ACROSS,
        "layout.margin_below": BELOW,
        "layout.margin_above": ABOVE,
        "layout.stand_off": STAND_OFF,
        "layout.depth": DEPTH,
        "layout.air_with_bare_cleat": BARE,
        "layout.bench_gap": figure("bench_gap"),
    },
    "S3": {
        "relief.blocks": lambda brief, la: la.blocks.count,
        "relief.blocks_per_leaf": lambda brief, la: int((la.blocks.leaf == 1).sum()),
        "layout.overall": in_unit(lambda la: la.width_nm),
        "layout.margin_sides": ACROSS,
        "layout.margin_below": BELOW,
        "layout.margin_above": ABOVE,
        "layout.stand_off": STAND_OFF,
        "layout.depth": DEPTH,
        "layout.air_with_bare_cleat": BARE,
        "layout.highest_level_allowed": figure("highest_level_allowed"),
    },
    "S4": {
        "relief.blocks": lambda brief, la: la.blocks.count,
        "layout.stand_off": STAND_OFF,
        "layout.depth": DEPTH,
    },
    "S7": {
        "relief.blocks": lambda brief, la: la.blocks.count,
        "layout.width": in_unit(lambda la: la.width_nm),
        "layout.height": in_unit(lambda la: la.height_nm),
        "layout.backer_width": in_unit(lambda la: la.leaves[0].backer_width_nm),
        "layout.backer_height": in_unit(lambda la: la.leaves[0].backer_height_nm),
        "layout.margin_sides": ACROSS,
        "layout.margin_top_bottom": in_unit(lambda la: sides(la, "below", "above")),
        "layout.stand_off": STAND_OFF,
        "layout.depth": DEPTH,
        "edge.ring_extra": in_unit(bond("extra_nm")),
        "edge.bond_backer": in_unit(bond("behind_backer_nm")),
        "edge.bond_ring": in_unit(bond("behind_ring_nm")),
        "edge.bond_corner_area": lambda brief, la: bond("corner_area_nm2")(la) / NM["mm"] ** 2,
        "edge.bond_corner_share": lambda brief, la: bond("corner_share")(la),
        "edge.bond_ring_share": lambda brief, la: bond("ring_share")(la),
        "edge.corner_run_out_that_passes": in_unit(bond("corner_run_out_that_passes_nm")),
        "edge.strip_horizontal": in_unit(lambda la: la.strips[0].length_nm),
        "edge.strip_upright": in_unit(lambda la: la.strips[1].length_nm),
        "space.width": figure("space_width"),
        "space.depth": figure("space_depth"),
        "swing.door_max": lambda brief, la: la.angles_deg["door_max"],
        "swing.leaf_min_for_door_90": lambda brief, la: la.angles_deg["leaf_min_for_door_90"],
    },
    "S8": {
        "relief.blocks": lambda brief, la: la.blocks.count,
        "layout.width": in_unit(lambda la: la.width_nm),
        "layout.height": in_unit(lambda la: la.height_nm),
        "layout.backer_width": in_unit(lambda la: la.leaves[0].backer_width_nm),
        "layout.backer_height": in_unit(lambda la: la.leaves[0].backer_height_nm),
        "layout.margin_below": BELOW,
        "layout.margin_above": ABOVE,
        "layout.margin_sides": ACROSS,
        "layout.headboard_gap": figure("headboard_gap"),
        "layout.lift_room": in_unit(lambda la: la.lift_room_nm),
        "layout.width_over_bed": lambda brief, la: la.ratios["width_over_bed"],
        "layout.stand_off": STAND_OFF,
        "layout.depth": DEPTH,
    },
}


def without_cells(brief: r.Brief, *cells: tuple[int, int]) -> r.Brief:
    """The brief with some open cells filled; the fill that takes the rest takes them."""
    leaves = tuple(
        replace(leaf, open_cells=tuple(c for c in leaf.open_cells if c not in cells)) for leaf in brief.blocks.leaves
    )
    return change(brief, blocks__leaves=leaves)


def with_furniture(brief: r.Brief, kind: str, **changes: int) -> r.Brief:
    """Every piece of one kind of furniture changed."""
    items = tuple(replace(f, **changes) if f.kind == kind else f for f in brief.furniture)
    assert items != brief.furniture
    return change(brief, furniture=items)


def unsquared(brief: r.Brief) -> r.Brief:
    """S1 with its big blocks as bought: 3-1/2 in, and the module with them."""
    prints = tuple(
        replace(f, width_nm=inch(3.5), height_nm=inch(3.5)) if f.width_nm == inch(3) else f
        for f in brief.blocks.footprints
    )
    return change(
        brief,
        blocks__footprints=prints,
        blocks__module_width_nm=inch(3.5),
        blocks__module_height_nm=inch(3.5),
    )


def flue_in_use(brief: r.Brief) -> r.Brief:
    return change(brief, fixtures=tuple(replace(f, flue_in_use=True) for f in brief.fixtures))


def same(brief: r.Brief) -> r.Brief:
    return brief


def turned(**changes: Any) -> Callable[[r.Brief], r.Brief]:
    return lambda brief: change(brief, **changes)


# Scenario, row, name of the check, what its subject must hold, the change.
FLIPS: list[tuple[str, str, str, str, Callable[[r.Brief], r.Brief]]] = [
    ("S1", "check.vent", "vent", "", same),
    ("S1", "check.vent_without_3_5", "vent", "", lambda b: without_cells(b, (3, 4))),
    ("S1", "check.vent_none_below", "vent", "", lambda b: without_cells(b, (6, 4), (6, 5), (6, 6))),
    ("S1", "check.mixed_unsquared", "mixed", "", unsquared),
    ("S1", "check.hall_depth", "hall_depth", "", same),
    ("S2", "check.bare_cleat", "bare_cleat", "", turned(cleat__packer_nm=0)),
    ("S2", "check.bench_gap", "bench_gap", "", same),
    ("S3", "check.protrusion", "protrusion", "", same),
    (
        "S3",
        "check.protrusion_with_63_level",
        "protrusion",
        "",
        lambda b: change(b, blocks__levels_nm=(*b.blocks.levels_nm[:-1], mm(63))),
    ),
    ("S3", "check.bare_cleat", "bare_cleat", "", turned(cleat__packer_nm=0)),
    ("S3", "check.middle_leaf", "middle_leaf", "", same),
    ("S3", "check.escape_route_false", "escape_route", "", same),
    ("S3", "check.escape_route_true", "escape_route", "", turned(wall__escape_route=True)),
    ("S4", "check.room4_lift_off", "lift_off", "copy 4", same),
    ("S4", "check.room1_lift_off", "lift_off", "copy 1", same),
    ("S7", "check.corner_bond", "corner_bond", "", same),
    ("S7", "check.corner_bond_36", "corner_bond", "", turned(edge__strip_run_out_nm=mm(36))),
    ("S7", "check.ready_access_swing", "ready_access", "", same),
    ("S7", "check.ready_access_lift_off", "ready_access", "", turned(access__opens=r.Opens.LIFT_OFF)),
    ("S7", "check.ready_access_tool", "ready_access", "", turned(access__tool=True)),
    ("S7", "check.swing_angle_80", "swing_angle", "", turned(access__angle_deg=80.0)),
    ("S7", "check.space", "space", "", same),
    ("S7", "check.space_table_930", "space", "", lambda b: with_furniture(b, "table", near_nm=mm(930))),
    ("S7", "check.space_cabinet_1461", "space", "", lambda b: with_furniture(b, "cabinet", x_nm=mm(1461))),
    ("S7", "check.door_swing", "door_swing", "", same),
    ("S7", "check.door_swing_leaf_55", "door_swing", "", turned(access__angle_deg=55.0)),
    ("S7", "check.fix_to_enclosure", "fix_to_enclosure", "", turned(access__fixed_to_fixture=True)),
    ("S7", "check.combustible", "combustible", "", same),
    ("S8", "check.width_band", "width_band", "", same),
    ("S8", "check.headboard_gap", "headboard_gap", "", same),
    ("S8", "check.flue", "flue", "", same),
    ("S8", "check.flue_in_use", "flue", "", flue_in_use),
]
