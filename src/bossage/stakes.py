"""What is at stake with each check: somebody, the piece or the wall or money, or taste. The one home of the kinds.

A check's kind goes by its name alone. Which kind a check has is this project's own judgement.
"""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """What a check is there to keep; the order is the order of weight."""

    HARM = "harm"  # somebody can be hurt
    SPOIL = "spoil"  # the piece or the wall is spoilt, or money is lost
    TASTE = "taste"  # neither: it never stops anything


AT_STAKE = {
    Kind.HARM: "people",
    Kind.SPOIL: "piece, wall or money",
    Kind.TASTE: "taste",
}
"""What is at stake, in a maker's words."""

TASTE_ALONE = "Taste, which stops nothing"
"""What stands over the block of taste on paper, on the command line and on the page."""

_NAMES = {
    Kind.HARM: (
        # behind it: what must not be covered, or must be reached, aired, heard
        "refusal flue combustible ready_access meter_reach gas_reach pipes_reach",
        "fix_to_enclosure space open_space handle reach swing_angle door_swing lift_off "
        "vent body_air sound keep_clear drill_zones screw_depth",
        # over people, beside people, on their way out
        "over_bed over_seat who_is_below protrusion hall_depth escape_route escape_width "
        "child_reach earthquake heat_near",
        # what holds it up, and who lifts it
        "load_path cleat_bow studs screw_spacing fixing_rating hinge_post held_shut tug body_joint mass_cap",
        "two_people lift post_fixings lighter",
        # at the saw
        "saw_capacity short_parts short_slices",
    ),
    Kind.SPOIL: (
        # place and body
        "place wall_edge ceiling lift_room furniture_clash bare_cleat fixtures_apart cover_margin sight radio "
        "middle_leaf leaf_split body_place body_part body_clash body_path body_wish panel_screw",
        # blocks and their edge
        "mixed drift mass_target outer_bond corner_bond ring_bond edge_strips",
        # stock and money
        "stock_missing board_too_small section_differs short_stock greedy thin_slice budget priced_twice",
        # glue and paint
        "glue_on_wood pressure caul clamp_reach clamp_opening clamp_time clamps open_time shim_stock gap bow "
        "ring_strip unmeasurable pot_unmeasurable tinter_share paint_means paint_build drying_room drawn_in sunlight",
    ),
    Kind.TASTE: (
        "bench_gap sofa_gap headboard_gap width_band eye_level side_view sightline",
        "crosses through_joints shares looks_random forced_order",
        "steps meeting cross_mix alike banding neighbours_alike figure height_and_shade effect_paint",
    ),
}

KINDS: dict[str, Kind] = {name: kind for kind, rows in _NAMES.items() for row in rows for name in row.split()}
"""Kind by the name of a check. Tests walk every check of the product and find each of them here, and no other."""


def kind_of(name: str) -> Kind:
    """The kind of a check; the gravest for a name that stands in no list."""
    return KINDS.get(name, Kind.HARM)
