"""What the back of a leaf shows: its parts as boxes seen from behind, and which of them lies over which."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.body import Part, Role
from bossage.drawing.box import Box
from bossage.layout.records import Leaf
from bossage.plan import Plan

NM = 1e6
ON_THE_WALL = (Role.WALL_HALF, Role.WALL_PACKER, Role.POST, Role.KEEPER, Role.BUTTON)


@dataclass(frozen=True, slots=True, kw_only=True)
class BackView:
    """The leaf's parts as boxes seen from behind, from the datum corner: the backer's lower left one seen so."""

    backer: Part
    parts: tuple[Part, ...]
    screws: tuple[tuple[float, float], ...]  # of the panel half
    from_front: bool  # these are driven from the backer's face
    pins: dict[str, tuple[tuple[float, float], ...]]  # screws that hold while glue dries, by part

    def box(self, part: Part) -> Box:
        """A part's outline."""
        around = part.box
        return self.of(around.x0, around.y0, around.x1, around.y1)

    def of(self, x0: int, y0: int, x1: int, y1: int) -> Box:
        """A rectangle of the wall, nm."""
        right, foot = self.backer.to_x_nm, self.backer.box.y0
        return Box(
            left_mm=(right - x1) / NM,
            bottom_mm=(y0 - foot) / NM,
            right_mm=(right - x0) / NM,
            top_mm=(y1 - foot) / NM,
        )

    def slots(self, part: Part) -> list[Box]:
        """Openings of a part in the saw's order (from the top down, left to right from the front); its notches."""
        box = part.box
        return [
            *(self.of(*opening) for opening in sorted(part.openings_nm, key=lambda r: (-r[1], r[0]))),
            *(self.of(x0, box.y0, x1, box.y1) for x0, x1, _, _ in part.notches_nm),
        ]


def back_view(plan: Plan, leaf: Leaf) -> BackView:
    """What the back of a leaf shows, the parts nearest to whoever looks last."""
    parts = plan.body.of(leaf.name, leaf.copy)
    backer = next(part for part in parts if part.role is Role.BACKER)
    hung = next(one for one in plan.hang.leaves if one.leaf == leaf.name and one.copy == leaf.copy)
    screws = hung.cleat.panel.screws if hung.cleat is not None else ()
    right, foot = backer.to_x_nm - leaf.x_nm, backer.box.y0 - leaf.y_nm
    return BackView(
        backer=backer,
        parts=tuple(sorted(parts, key=lambda part: -part.box.z0)),
        screws=tuple(
            ((right - screw.from_leaf_left_nm) / NM, (screw.from_leaf_foot_nm - foot) / NM) for screw in screws
        ),
        from_front=hung.cleat is not None and hung.cleat.panel.from_front,
        pins={
            one.part: tuple(((backer.to_x_nm - spot.x_nm) / NM, (spot.y_nm - backer.box.y0) / NM) for spot in one.spots)
            for one in hung.glue_screws
        },
    )


def half_hidden(view: BackView, part: Part) -> bool:
    """Whether a nearer part hides some of its edges."""
    if part.role in ON_THE_WALL:
        return False
    near = [one for one in view.parts if one.box.z0 < part.box.z0 and one.role not in ON_THE_WALL]
    box = view.box(part)
    return any(view.box(one).meets(box) and not box.grown(-1e-3).holds(view.box(one)) for one in near)


def hides(view: BackView, near: Part, part: Part) -> bool:
    """Whether a nearer part hides all of another."""
    if near is part or near.box.z0 >= part.box.z0 or near.role in ON_THE_WALL:
        return False
    return view.box(near).holds(view.box(part))
