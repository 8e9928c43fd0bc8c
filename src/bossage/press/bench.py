"""The leaves as they lie on the bench: each by itself, and what is on its back.

Places count from the leaf's own lower left corner as seen from the front, in whole nanometres. So nothing that is done
on the bench hangs on where the leaf goes on the wall.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bossage.body import Body, How, Joint, Part, Role
from bossage.layout.records import BlockField, Layout, Leaf

ON_THE_BACK = (
    Role.STRIP, Role.RIB, Role.FRAME, Role.STILE, Role.HINGE_STILE, Role.STOP, Role.STAY_BLOCK, Role.PACKER,
    Role.FILLER, Role.PANEL_HALF, Role.FOOT, Role.LEDGE,
)  # fmt: skip

GLUED = (How.GLUE, How.GLUE_AND_SCREWS)


@dataclass(frozen=True, slots=True, kw_only=True)
class BackPart:
    """A part on the back of a leaf. Depths count from the backer's back: to its nearer and to its farther face.

    `glued`: on the backer, or on what is glued there. `number` is that on its sheets.
    """

    leaf: int  # in `Bench.leaves`
    name: str
    number: int
    role: Role
    material: str
    from_x_nm: int
    to_x_nm: int
    from_y_nm: int
    to_y_nm: int
    near_nm: int
    deep_nm: int
    glued: bool

    @property
    def upright(self) -> bool:
        """Whether it is higher than it is wide."""
        return self.to_y_nm - self.from_y_nm > self.to_x_nm - self.from_x_nm

    @property
    def length_nm(self) -> int:
        """Its larger size seen from the front."""
        return max(self.to_x_nm - self.from_x_nm, self.to_y_nm - self.from_y_nm)

    @property
    def width_nm(self) -> int:
        """Its smaller size seen from the front."""
        return min(self.to_x_nm - self.from_x_nm, self.to_y_nm - self.from_y_nm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """Leaves, blocks and backs, in the order of the layout's leaves."""

    leaves: tuple[Leaf, ...]
    blocks: BlockField
    back: tuple[BackPart, ...]
    stand_off_nm: int  # from the wall to the backer


def bench_of(layout: Layout, body: Body) -> Bench:
    """What of layout and body lies on the bench."""
    blocks, leaves = layout.blocks, layout.leaves
    x_nm, y_nm = (np.array([getattr(leaf, way) for leaf in leaves], dtype=np.int64) for way in ("x_nm", "y_nm"))
    return Bench(
        leaves=tuple(
            replace(
                leaf,
                x_nm=0,
                y_nm=0,
                backer_x_nm=leaf.backer_x_nm - leaf.x_nm,
                backer_y_nm=leaf.backer_y_nm - leaf.y_nm,
            )
            for leaf in leaves
        ),
        blocks=replace(blocks, x_nm=blocks.x_nm - x_nm[blocks.leaf], y_nm=blocks.y_nm - y_nm[blocks.leaf]),
        back=tuple(part for number, leaf in enumerate(leaves) for part in _back_of(number, leaf, body)),
        stand_off_nm=layout.stand_off.stand_off_nm,
    )


def _back_of(number: int, leaf: Leaf, body: Body) -> list[BackPart]:
    parts = body.of(leaf.name, leaf.copy)
    backer = next(part for part in parts if part.role is Role.BACKER)
    glued = _glued_on(backer.name, [j for j in body.joints if (j.leaf, j.copy) == (leaf.name, leaf.copy)])
    return [
        _on_the_bench(number, leaf, part, backer.box.z0, part.name in glued)
        for part in parts
        if part.moves and part.role in ON_THE_BACK
    ]


def _on_the_bench(number: int, leaf: Leaf, part: Part, back_z: int, glued: bool) -> BackPart:
    box = part.box
    return BackPart(
        leaf=number,
        name=part.name,
        number=part.number,
        role=part.role,
        material=part.material,
        from_x_nm=box.x0 - leaf.x_nm,
        to_x_nm=box.x1 - leaf.x_nm,
        from_y_nm=box.y0 - leaf.y_nm,
        to_y_nm=box.y1 - leaf.y_nm,
        near_nm=back_z - box.z1,
        deep_nm=back_z - box.z0,
        glued=glued,
    )


def _glued_on(start: str, joints: list[Joint]) -> set[str]:
    """Names of all parts with a way over glue to that one."""
    found, edge = {start}, [start]
    while edge:
        here = edge.pop()
        for joint in joints:
            if joint.how in GLUED and here in (joint.a, joint.b):
                other = joint.b if joint.a == here else joint.a
                if other not in found:
                    found.add(other)
                    edge.append(other)
    return found
