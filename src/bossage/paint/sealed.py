"""What of the back is sealed beside the board itself: sides of the parts on it, backs of blocks that reach past it."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from bossage.body import Body, Part, Role
from bossage.layout.records import Layout, Zone

ON_THE_FACE = (Role.BACKER, Role.STRIP)  # what is not held on the back before it is sealed


def part_sides_mm2(body: Body) -> float:
    """Sides, all round, of the parts that are held on the backs before they are sealed, where no other part lies
    against them.

    A part's back stands for the wood that it covers; bevels that stay bare are counted with the rest.
    """
    held = {(step.leaf, name) for step in body.steps if step.kind == "hold" for name in step.parts}
    parts = [part for part in body.parts if part.role not in ON_THE_FACE and (part.leaf, part.name) in held]
    touching = sum(
        _touching_mm2(one, other)
        for one, other in combinations(parts, 2)
        if (one.leaf, one.copy) == (other.leaf, other.copy)
    )
    return sum(_sides_mm2(part) for part in parts) - 2 * touching


def overhang_mm2(layout: Layout) -> float:
    """Backs of the field's blocks past the backer: bare end grain, primed when the glue has cured."""
    blocks = layout.blocks
    field = np.asarray(blocks.zone) != Zone.RING
    low = np.array([(leaf.backer_x_nm, leaf.backer_y_nm) for leaf in layout.leaves])[blocks.leaf]
    size = np.array([(leaf.backer_width_nm, leaf.backer_height_nm) for leaf in layout.leaves])[blocks.leaf]
    covers = np.ones(blocks.count)
    for axis, (start, wide) in enumerate(((blocks.x_nm, blocks.width_nm), (blocks.y_nm, blocks.height_nm))):
        end = np.minimum(start + wide, (low + size)[:, axis])
        covers *= np.maximum(end - np.maximum(start, low[:, axis]), 0) / 1e6
    whole = (blocks.width_nm / 1e6) * (blocks.height_nm / 1e6)
    return float((whole - covers)[field].sum())


def _sides_mm2(part: Part) -> float:
    box = part.box
    return 2 * ((box.x1 - box.x0) + (box.y1 - box.y0)) * (box.z1 - box.z0) / 1e12


def _touching_mm2(one: Part, other: Part) -> float:
    """Where a side of one lies on a side of the other."""
    a, b = one.box, other.box
    across = (min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0))
    deep = min(a.z1, b.z1) - max(a.z0, b.z0)
    if deep <= 0 or sorted(across)[0] != 0 or max(across) <= 0:
        return 0.0
    return max(across) * deep / 1e12
