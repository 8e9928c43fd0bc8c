"""Which remedies truly heal: each is tried, and given only if the check is content after it and no other says stop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import islice

from bossage.checks import Check, Edit, Verdict
from bossage.plan import NoPlan, Plan
from bossage.remedies import colours, hanging, making, places
from bossage.remedies.way import Finder, Way, Ways, deed

Planned = Callable[[tuple[Edit, ...]], Plan | NoPlan | None]

TRIES_EACH = 7  # ways for one check
TRIES_ALL = 60  # together: a second or two for a piece of some hundred blocks

#: Where to look for a remedy, by the name of the check.
FINDERS: dict[str, Finder] = {
    "banding": colours.other_grain,
    "bare_cleat": hanging.packed_out,
    "board_too_small": places.lighter,
    "bow": making.flatter_backer,
    "caul": making.more_clamps,
    "ceiling": places.sound_place,
    "clamps": making.more_clamps,
    "corner_bond": making.corner_run_out,
    "cover_margin": places.wider_cover,
    "drift": making.wider_gap,
    "edge_strips": making.narrower_strips,
    "eye_level": places.eye_level,
    "forced_order": making.drawn_again,
    "furniture_clash": places.sound_place,
    "gap": making.wider_gap,
    "hall_depth": making.without_top_level,
    "keep_clear": places.sound_place,
    "lift": places.lighter,
    "lift_off": hanging.swung,
    "lift_room": places.sound_place,
    "load_path": hanging.stronger,
    "mass_cap": places.lighter,
    "meeting": colours.nearer_meeting,
    "open_time": making.slower_glue,
    "outer_bond": making.smaller_overhang,
    "over_bed": hanging.over_head,
    "over_seat": hanging.over_head,
    "panel_screw": hanging.shorter_screws,
    "pressure": making.more_clamps,
    "protrusion": making.without_top_level,
    "ring_bond": making.wider_strips,
    "screw_spacing": hanging.higher_strip,
    "short_stock": making.fewer_spares,
    "side_view": places.wider_cover,
    "sightline": making.larger_overhang,
    "studs": hanging.met_studs,
    "two_people": places.lighter,
    "unmeasurable": colours.measurable,
    "wall_edge": places.sound_place,
    "width_band": places.suited_width,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Heals:
    """A remedy that was tried and heals. `number` is the place of its check in the plan."""

    number: int
    words: str
    edits: tuple[Edit, ...]


def healing(plan: Plan, planned: Planned, *, tries_each: int = TRIES_EACH, tries_all: int = TRIES_ALL) -> list[Heals]:
    """For each check that is not content, the first remedy that heals it.

    Args:
        plan: The plan to be mended.
        planned: What a brief becomes with some changes; None if it is faulty then.
        tries_each: How many remedies are tried for one check.
        tries_all: How many together; remedies that several checks share count once.

    Returns:
        Remedies in the order of the checks. One heals when its check is fine or gone, and no check says stop that did
        not say so before.
    """
    tried: dict[tuple[str, ...], Plan | NoPlan | None] = {}
    found = []
    for number, check in enumerate(plan.checks):
        if check.verdict is Verdict.FINE:
            continue
        for way in islice(_ways(plan, check), tries_each):
            key = tuple(map(repr, way.edits))
            if key not in tried:
                if len(tried) >= tries_all:
                    break
                tried[key] = planned(way.edits)
            after = tried[key]
            if isinstance(after, Plan) and _heals(plan, after, check):
                found.append(Heals(number=number, words=way.words, edits=way.edits))
                break
    return found


def _ways(plan: Plan, check: Check) -> Ways:
    if check.edits:
        yield Way(words=deed(check.remedy), edits=check.edits)
    finder = FINDERS.get(check.name)
    if finder is None and check.stage == "layout" and check.name.endswith("_gap"):
        finder = places.furniture_gap
    if finder is not None:
        yield from (way for way in finder(plan, check) if way.edits)


def _heals(before: Plan, after: Plan, check: Check) -> bool:
    still = {_key(one) for one in after.checks if one.verdict is not Verdict.FINE}
    stops = {_key(one) for one in before.checks if one.verdict is Verdict.STOP}
    softer = check.verdict is Verdict.STOP and _key(check) not in _stops(after)
    return (softer or _key(check) not in still) and _stops(after) <= stops


def _stops(plan: Plan) -> set[tuple[str, str, str]]:
    return {_key(one) for one in plan.checks if one.verdict is Verdict.STOP}


def _key(check: Check) -> tuple[str, str, str]:
    return check.stage, check.name, check.subject
