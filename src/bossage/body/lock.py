"""The anti-lift lock: a wooden turn button on the wall, over a ledge on the back of the leaf.

The button hangs down from its one screw, and its lower end stands over the ledge. A push from below goes through it
straight up to the screw, so it cannot turn itself away. Turned out to the side it lets the ledge pass.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bossage.body.build import boxed
from bossage.body.records import MadeAt, Part, Role
from bossage.body.site import Site
from bossage.body.solids import Cuboid
from bossage.brief.records import LengthUnit
from bossage.units import NM_PER_IN, NM_PER_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class LockSizes:
    """Of button and ledge, as rules of one unit show them."""

    wide_nm: int  # the button
    ledge_wide_nm: int
    ledge_high_nm: int
    play_nm: int  # between the button's lower end and the ledge
    over_nm: int  # by which a leaf may be lifted further than it must, before its ledge meets the button
    pass_nm: int  # by which the ledge passes the wall
    mark_nm: int  # the least that a rule reads


SIZES = {
    LengthUnit.MM: LockSizes(
        wide_nm=20 * NM_PER_MM,
        ledge_wide_nm=40 * NM_PER_MM,
        ledge_high_nm=20 * NM_PER_MM,
        play_nm=NM_PER_MM,
        over_nm=10 * NM_PER_MM,
        pass_nm=3 * NM_PER_MM,
        mark_nm=NM_PER_MM,
    ),
    LengthUnit.IN: LockSizes(
        wide_nm=3 * NM_PER_IN // 4,
        ledge_wide_nm=3 * NM_PER_IN // 2,
        ledge_high_nm=3 * NM_PER_IN // 4,
        play_nm=NM_PER_IN // 16,
        over_nm=3 * NM_PER_IN // 8,
        pass_nm=NM_PER_IN // 8,
        mark_nm=NM_PER_IN // 16,
    ),
}
"""Ours. The ledge is wide and high enough for glue on side grain and two screws."""

WOOD = "european_beech"
"""Stands for the hardwood offcut that both are made of: hardwoods of a shop weigh within a fifth of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnButton:
    """Sizes and places, in wall coordinates. Both parts lie behind the backer."""

    button: Part
    ledge: Part
    x_nm: int  # middle of the button, its screw and its ledge
    screw_y_nm: int
    length_nm: int
    wide_nm: int
    thick_nm: int  # away from the wall
    from_screw_nm: int  # from the screw to the lower end
    play_nm: int  # between the lower end and the ledge
    lift_nm: int  # of the leaf, until its ledge meets the button that is turned out


def lock_size_nm(sizes: LockSizes, lift_nm: int) -> tuple[int, int]:
    """Width and height of the room that button and ledge need.

    Args:
        sizes: Those of the brief's unit.
        lift_nm: How far the leaf is lifted until it comes off.
    """
    high = sizes.ledge_high_nm + sizes.play_nm + lift_nm + sizes.over_nm + 2 * (sizes.wide_nm // 2)
    return sizes.ledge_wide_nm, high


def lock_parts(site: Site, x0: int, y0: int) -> tuple[Part, Part]:
    """Button and ledge in the room of the lock, from its lower left corner; as deep as the leaf stands off the wall."""
    sizes = SIZES[site.brief.piece.unit]
    (wide, high), back = lock_size_nm(sizes, site.lift_nm), site.stand_off_nm
    left = x0 + (wide - sizes.wide_nm) // 2
    thick = 2 * back // 3 // sizes.mark_nm * sizes.mark_nm
    end = y0 + sizes.ledge_high_nm + sizes.play_nm
    button = Cuboid(left, left + sizes.wide_nm, end, y0 + high, 0, thick)
    ledge = Cuboid(x0, x0 + wide, y0, y0 + sizes.ledge_high_nm, sizes.pass_nm, back)
    return (
        boxed(site, Role.BUTTON, button, material=WOOD, made_at=MadeAt.BOUGHT, grain="y", moves=False),
        boxed(site, Role.LEDGE, ledge, material=WOOD, made_at=MadeAt.BOUGHT, grain="x"),
    )


def turn_button(parts: Iterable[Part]) -> TurnButton | None:
    """The lock among the parts of one leaf; None where the leaf has none."""
    found = {part.role: part for part in parts if part.role in (Role.BUTTON, Role.LEDGE)}
    if not found:
        return None
    button, ledge = found[Role.BUTTON], found[Role.LEDGE]
    box = button.box
    wide = box.x1 - box.x0
    screw_y = box.y1 - wide // 2
    return TurnButton(
        button=button,
        ledge=ledge,
        x_nm=(box.x0 + box.x1) // 2,
        screw_y_nm=screw_y,
        length_nm=box.y1 - box.y0,
        wide_nm=wide,
        thick_nm=box.z1,
        from_screw_nm=screw_y - box.y0,
        play_nm=box.y0 - ledge.box.y1,
        lift_nm=screw_y - wide // 2 - ledge.box.y1,
    )
