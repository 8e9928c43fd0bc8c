"""Edge strips and the ring on them: what of a strip's front is seen between ring blocks, and which backs stay bare.

Strips are glued on last. Where the ring's blocks stand apart, the strip is seen between them and has to be as dark as
the ground; behind, the ring's backs reach past the strips, bare end grain that is seen when the piece opens.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bossage.body import Body, Role
from bossage.layout.records import Layout, Zone

Box = tuple[int, int, int, int]  # x0, x1, y0, y1


@dataclass(frozen=True, slots=True, kw_only=True)
class StripFaces:
    """Areas over all leaves and copies; nil without an edge ring."""

    beyond_mm2: float = 0.0  # of the strips' fronts, past the backer: the ring stands on it
    seen_mm2: float = 0.0  # of that, between ring blocks
    ring_backs_mm2: float = 0.0  # of the ring's backs, past the strips


def strip_faces(layout: Layout, body: Body) -> StripFaces:
    """The faces of the edge strips of all leaves."""
    beyond = seen = backs = 0.0
    blocks = layout.blocks
    ends = (blocks.x_nm, blocks.x_nm + blocks.width_nm, blocks.y_nm, blocks.y_nm + blocks.height_nm)
    boxes: list[Box] = list(zip(*(end.tolist() for end in ends), strict=True))
    for number, leaf in enumerate(layout.leaves):
        strips, hinge_stiles = (
            [
                (box.x0, box.x1, box.y0, box.y1)
                for part in body.parts
                if part.role is role and (part.leaf, part.copy) == (leaf.name, leaf.copy)
                for box in (part.box,)
            ]
            for role in (Role.STRIP, Role.HINGE_STILE)
        )
        if not strips:
            continue
        x, y = leaf.backer_x_nm, leaf.backer_y_nm
        backer = (x, x + leaf.backer_width_nm, y, y + leaf.backer_height_nm)
        ring = [
            box
            for box, zone, on in zip(boxes, blocks.zone, blocks.leaf, strict=True)
            if zone == Zone.RING and on == number
        ]
        past = sum(_mm2(strip) for strip in strips) - _shared_mm2(strips, [backer])
        under = _shared_mm2(strips, ring)
        beyond += past
        seen += past - under
        backs += sum(_mm2(box) for box in ring) - under - _shared_mm2(hinge_stiles, ring)
    return StripFaces(beyond_mm2=beyond, seen_mm2=max(seen, 0.0), ring_backs_mm2=backs)


def _mm2(box: Box) -> float:
    return (box[1] - box[0]) * (box[3] - box[2]) / 1e12


def _shared_mm2(ones: Sequence[Box], others: Sequence[Box]) -> float:
    """What boxes that do not lie on one another share with others of the kind."""
    total = 0
    for a in ones:
        for b in others:
            total += max(0, min(a[1], b[1]) - max(a[0], b[0])) * max(0, min(a[3], b[3]) - max(a[2], b[2]))
    return total / 1e12
