"""The body with its screws: where each goes through which joint is known once the mass is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bossage.body import WALL, Body, FixingPlace, How, Joint, Part, Role
from bossage.hang.records import Hang, LeafHang
from bossage.layout.records import Layout

BEHIND_A_PANEL = (Role.BACKER, Role.PACKER, Role.FILLER)


def fasten(layout: Layout, body: Body, hang: Hang) -> Body:
    """The same body, with the places of screws in the joints of cleat halves, of the back, and of the post of hinges.

    Args:
        layout: Leaves, by which screws of a panel half are measured.
        body: As it was built, without screws.
        hang: Fixings of the wall halves and screws of the panel halves, by leaf and copy.

    Returns:
        A body of which only `joints` differ. Screws of a joint with the backer hold while its glue sets.
    """
    hung = {(one.leaf, one.copy): one for one in hang.leaves}
    corner = {(leaf.name, leaf.copy): (leaf.x_nm, leaf.y_nm) for leaf in layout.leaves}
    parts = {(part.leaf, part.copy, part.name): part for part in body.parts}

    def screwed(joint: Joint) -> Joint:
        key = joint.leaf, joint.copy
        one = parts[*key, joint.a]
        other = parts.get((*key, joint.b))
        places = tuple(_places(hung[key], corner[key], joint, one, other))
        return replace(joint, fixings=places) if places else joint

    return replace(body, joints=tuple(screwed(joint) for joint in body.joints))


def _places(
    hung: LeafHang, corner: tuple[int, int], joint: Joint, one: Part, other: Part | None
) -> Iterator[FixingPlace]:
    """Screws of this joint: those of its own half of the cleat that lie on it; those that hold it while glue sets."""
    if other is not None and other.role is Role.BACKER and joint.how is How.GLUE_AND_SCREWS:
        for screws in (one for one in hung.glue_screws if one.part == joint.a):
            for spot in screws.spots:
                yield FixingPlace(x_nm=spot.x_nm, y_nm=spot.y_nm, gauge=screws.gauge, length_nm=screws.length_nm)
    if hung.hinges is not None and one.role is Role.POST and joint.b == WALL:
        for fixing in hung.hinges.post.fixings:
            own = hung.hinges.post.screw
            yield FixingPlace(x_nm=fixing.x_nm, y_nm=fixing.y_nm, gauge=own.gauge, length_nm=own.length_nm)
    if hung.cleat is None or joint.how not in (How.SCREWS, How.GLUE_AND_SCREWS):
        return
    if one.role is Role.WALL_HALF and (joint.b == WALL or (other and other.role is Role.WALL_PACKER)):
        for fixing in hung.cleat.fixings:
            if one.from_x_nm <= fixing.x_nm <= one.to_x_nm and _meets(fixing.x_nm, other):
                yield FixingPlace(
                    x_nm=fixing.x_nm,
                    y_nm=fixing.y_nm,
                    gauge=hung.cleat.screw.gauge,
                    length_nm=hung.cleat.screw.length_nm,
                )
    elif one.role is Role.PANEL_HALF and other is not None and other.role in BEHIND_A_PANEL:
        panel = hung.cleat.panel
        for screw in panel.screws:
            x = corner[0] + screw.from_leaf_left_nm
            if one.from_x_nm <= x <= one.to_x_nm and _meets(x, other):
                yield FixingPlace(
                    x_nm=x, y_nm=corner[1] + screw.from_leaf_foot_nm, gauge=panel.gauge, length_nm=panel.length_nm
                )


def _meets(x_nm: int, other: Part | None) -> bool:
    return other is None or other.from_x_nm <= x_nm <= other.to_x_nm
