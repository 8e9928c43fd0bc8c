"""Where ribs stand behind the backer: those of the brief, else as many as the rule asks for, clear of every fixture."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.layout.records import Layout
from bossage.press.wood_records import RibPlace
from bossage.units import NM_PER_MM

RIB_SPACING_NM = 400_000_000
"""A rib each so far, ours; ribs from about 750 mm (30 in) of backer on are a rule of thumb without source."""

RIB_FROM_NM = 750 * NM_PER_MM

RIB_WIDTH_NM, RIB_DEPTH_NM = 20_000_000, 40_000_000
RIB_MPA = 9_000.0
"""A rib to try: a softwood batten on edge, with a usual modulus along its grain."""


def ribs_wanted(across_nm: int) -> int:
    """How many ribs stand side by side over so much of the backer."""
    return max(2, -(-across_nm // RIB_SPACING_NM))


def rib_places(brief: Brief, layout: Layout, way: str) -> tuple[RibPlace, ...]:
    """The middle of every rib, each in the middle of an equal strip.

    A rib deeper than the air behind the backer is moved off every fixture, to the nearer side.
    """
    out = []
    for number, leaf in enumerate(layout.leaves):
        parts = [(p.upright, p.count, p.width_nm, p.depth_nm) for p in brief.behind if p.role == "rib"]
        longest = max(leaf.backer_width_nm, leaf.backer_height_nm)
        if not parts and longest >= RIB_FROM_NM:
            across = way == "up"
            size = leaf.backer_width_nm if across else leaf.backer_height_nm
            parts = [(across, ribs_wanted(size), RIB_WIDTH_NM, RIB_DEPTH_NM)]
        for upright, count, width, depth in parts:
            start = leaf.backer_x_nm if upright else leaf.backer_y_nm
            size = leaf.backer_width_nm if upright else leaf.backer_height_nm
            for k in range(count):
                middle = start + size * (2 * k + 1) // (2 * count)
                clear = _off_fixtures(brief, layout, leaf.copy, upright, middle, width, depth)
                out.append(RibPlace(leaf=number, upright=upright, middle_nm=clear, moved_nm=clear - middle))
    return tuple(out)


def _off_fixtures(brief: Brief, layout: Layout, copy: int, upright: bool, middle: int, width: int, depth: int) -> int:
    room = layout.stand_off.stand_off_nm - depth
    for fixture in brief.fixtures:
        if fixture.proud_nm + brief.access.air_nm <= room or (fixture.copies and copy not in fixture.copies):
            continue
        low, high = (fixture.x_nm, fixture.right_nm) if upright else (fixture.y_nm, fixture.top_nm)
        if low - width // 2 < middle < high + width // 2:
            middle = low - width // 2 if middle - low <= high - middle else high + width // 2
    return middle
