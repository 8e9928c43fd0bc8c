"""The wood behind the blocks, as boxes: edge strips or lipping, cleat halves, foot spacer."""

from __future__ import annotations

from typing import Any

from bossage.brief.records import EdgeStyle
from bossage.hang.places import FOOT_HEIGHT_NM
from bossage.layout.records import EdgeStrip, Leaf
from bossage.plan import Plan

NM = 1e6
Json = dict[str, Any]


def solids_of_leaf(plan: Plan, number: int) -> list[Json]:
    """The boxes of one leaf, in the order in which they stand off the wall."""
    return [*_hanging(plan, number), *_edge(plan, number)]


def _edge(plan: Plan, number: int) -> list[Json]:
    edge, leaf = plan.brief.edge, plan.layout.leaves[number]
    stand_off, front = plan.layout.stand_off.stand_off_nm, plan.layout.stand_off.stand_off_nm + plan.layout.backer_nm
    parts = []
    for strip in plan.layout.strips:
        if edge.style is EdgeStyle.BANDED:
            past, kind, back, to = strip.width_nm, "lipping", front - strip.thickness_nm, front
        else:
            past = edge.strip_width_nm - edge.strip_behind_nm
            kind, back, to = "strip", stand_off - strip.thickness_nm, stand_off
        for low in (True, False):
            x, y, width, height = _along(strip, leaf, past, low)
            parts.append(_solid(kind, number, (x, y, width, height), back, to))
    return parts


def _along(strip: EdgeStrip, leaf: Leaf, past: int, low: bool) -> tuple[int, int, int, int]:
    """Where a strip lies that reaches `past` the backer's edge: one below or left of it, one above or right."""
    x, y, width, height = leaf.backer_x_nm, leaf.backer_y_nm, leaf.backer_width_nm, leaf.backer_height_nm
    if strip.side == "horizontal":
        start = y - past if low else y + height + past - strip.width_nm
        return x + (width - strip.length_nm) // 2, start, strip.length_nm, strip.width_nm
    start = x - past if low else x + width + past - strip.width_nm
    return start, y + (height - strip.length_nm) // 2, strip.width_nm, strip.length_nm


def _hanging(plan: Plan, number: int) -> list[Json]:
    leaf = plan.layout.leaves[number]
    hang = next((h for h in plan.hang.leaves if (h.leaf, h.copy) == (leaf.name, leaf.copy)), None)
    if hang is None:
        return []
    parts, cleat, brief = [], hang.cleat, plan.brief.cleat
    if cleat is not None:
        half = (cleat.from_nm, cleat.wall_half_bottom_nm, cleat.length_nm, brief.strip_nm)
        parts.append(_solid("wall cleat", number, half, 0, brief.thickness_nm))
        # the panel half grips over the wall half from above, as deep as the bevel is high
        low = cleat.line_nm - cleat.engagement_nm // 2
        half = (cleat.from_nm, low, cleat.length_nm, brief.strip_nm)
        parts.append(_solid("panel cleat", number, half, 0, plan.layout.stand_off.stand_off_nm))
    foot = hang.foot
    if foot is not None:
        tall = FOOT_HEIGHT_NM
        bar = (foot.from_nm, foot.y_nm - tall // 2, foot.to_nm - foot.from_nm, tall)
        parts.append(_solid("spacer", number, bar, 0, foot.thickness_nm))
    return parts


def _solid(kind: str, leaf: int, place: tuple[int, int, int, int], back_nm: int, front_nm: int) -> Json:
    x, y, width, height = place
    return {
        "kind": kind,
        "leaf": leaf,
        "x_mm": x / NM,
        "y_mm": y / NM,
        "width_mm": width / NM,
        "height_mm": height / NM,
        "back_mm": back_nm / NM,
        "front_mm": front_nm / NM,
    }
