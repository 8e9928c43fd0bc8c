"""The parts behind the blocks and on the wall, as boxes and bevelled boxes for the piece in 3D."""

from __future__ import annotations

from typing import Any

from bossage.body import Part, Role
from bossage.plan import Plan

NM = 1e6
Json = dict[str, Any]


def solids_of_leaf(plan: Plan, number: int) -> list[Json]:
    """The boxes of one leaf's parts, in the order in which they stand off the wall; the backer goes by itself."""
    leaf = plan.layout.leaves[number]
    parts = [part for part in plan.body.of(leaf.name, leaf.copy) if part.role is not Role.BACKER]
    return [
        {
            "kind": part.role.value,
            "name": part.name,
            "number": part.number,
            "moves": part.moves,
            "leaf": number,
            "x_mm": part.from_x_nm / NM,
            "y_mm": part.box.y0 / NM,
            "width_mm": part.length_nm / NM,
            "height_mm": (part.box.y1 - part.box.y0) / NM,
            "back_mm": part.box.z0 / NM,
            "front_mm": part.box.z1 / NM,
            "edges_mm": [*_edges_mm(part, part.box.z0), *_edges_mm(part, part.box.z1)],
        }
        for part in sorted(parts, key=lambda part: part.box.z0)
    ]


def _edges_mm(part: Part, z_nm: int) -> tuple[float, float]:
    """The lower and the upper edge of a part's back or front."""
    heights = [y for y, z in part.outline_nm if z == z_nm]
    return min(heights) / NM, max(heights) / NM
