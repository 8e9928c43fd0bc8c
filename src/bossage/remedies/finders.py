"""Where to look for a remedy, by the name of the check."""

from __future__ import annotations

from bossage.checks import Check
from bossage.hang.post import NO_STUD
from bossage.plan import Plan
from bossage.remedies import colours, hanging, lifted, making, places, solid, stock
from bossage.remedies.way import Finder, Way, Ways, deed

#: Where to look for a remedy, by the name of the check.
FINDERS: dict[str, Finder] = {
    "banding": colours.other_grain,
    "bare_cleat": solid.held_off,
    "board_too_small": places.lighter,
    "body_air": solid.aired,
    "body_clash": solid.apart,
    "body_part": solid.left_out,
    "body_path": solid.way_off,
    "body_wish": solid.place_found,
    "body_place": solid.place_found,
    "bow": making.flatter_backer,
    "caul": making.more_clamps,
    "ceiling": places.sound_place,
    "clamps": making.more_clamps,
    "corner_bond": making.corner_run_out,
    "cover_margin": places.wider_cover,
    "drift": making.wider_gap,
    "drill_zones": hanging.out_of_zones,
    "edge_strips": making.narrower_strips,
    "eye_level": places.eye_level,
    "figure": making.drawn_again,
    "forced_order": making.drawn_again,
    "furniture_clash": places.sound_place,
    "gap": making.wider_gap,
    "hall_depth": making.without_top_level,
    "height_and_shade": making.drawn_again,
    "hinge_post": hanging.post_to_a_stud,
    "keep_clear": places.sound_place,
    "lift": lifted.easier_lift,
    "lift_off": hanging.swung,
    "lift_room": solid.lowered,
    "load_path": hanging.stronger,
    "looks_random": making.drawn_again,
    "mass_cap": places.lighter,
    "meeting": colours.nearer_meeting,
    "open_space": hanging.out_of_the_space,
    "open_time": making.slower_glue,
    "outer_bond": making.smaller_overhang,
    "over_bed": hanging.over_head,
    "over_seat": hanging.over_head,
    "panel_screw": hanging.shorter_screws,
    "pressure": making.more_clamps,
    "protrusion": making.without_top_level,
    "ready_access": hanging.opened_by_hand,
    "meter_reach": hanging.opened_by_hand,
    "gas_reach": hanging.opened_by_hand,
    "pipes_reach": hanging.opened_by_hand,
    "refusal": places.left_free,
    "ring_bond": making.wider_strips,
    "screw_depth": hanging.less_deep,
    "screw_spacing": hanging.higher_strip,
    "short_stock": making.fewer_spares,
    "side_view": places.wider_cover,
    "shim_stock": stock.more_sticks,
    "sightline": making.larger_overhang,
    "stock_missing": stock.more_sticks,
    "studs": hanging.met_studs,
    "swing_angle": hanging.opened_further,
    "thin_slice": stock.thicker_lowest,
    "tug": hanging.locked,
    "two_people": places.lighter,
    "unmeasurable": colours.measurable,
    "wall_edge": places.sound_place,
    "width_band": places.suited_width,
}


def ways(plan: Plan, check: Check) -> Ways:
    """Changes that may heal a check, the likeliest first: what its stage thinks of, then what is known of its kind."""
    if check.edits:
        yield Way(words=deed(check.remedy), edits=check.edits)
    finder = hanging.post_to_a_stud if NO_STUD in check.found else FINDERS.get(check.name)
    if finder is None and check.stage == "layout" and check.name.endswith("_gap"):
        finder = places.furniture_gap
    if finder is not None:
        yield from (way for way in finder(plan, check) if way.edits)
