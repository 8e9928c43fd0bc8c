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
from bossage.units import NM_PER_MM

WIDE_NM = 20 * NM_PER_MM
LEDGE_NM = 10 * NM_PER_MM
PLAY_NM = NM_PER_MM
PASS_NM = 3 * NM_PER_MM
"""Width of button and ledge, height of the ledge, room between both, room by which the ledge passes: ours."""

WOOD = "european_beech"
"""Stands for the hardwood offcut that both are made of: hardwoods of a shop weigh within a fifth of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnButton:
    """Sizes and places, in wall coordinates. Button and ledge are `WIDE_NM` wide; both lie behind the backer."""

    button: Part
    ledge: Part
    x_nm: int  # middle of the button, its screw and its ledge
    screw_y_nm: int
    length_nm: int
    thick_nm: int  # away from the wall
    from_screw_nm: int  # from the screw to the lower end
    ledge_y_nm: int  # lower edge
    ledge_deep_nm: int  # from the backer towards the wall


def lock_size_nm(lift_nm: int) -> tuple[int, int]:
    """Width and height of the room that button and ledge need.

    Args:
        lift_nm: How far the leaf is lifted until it comes off.
    """
    return WIDE_NM, LEDGE_NM + PLAY_NM + lift_nm + PASS_NM + 2 * (WIDE_NM // 2)


def lock_parts(site: Site, x0: int, y0: int) -> tuple[Part, Part]:
    """Button and ledge in the room of the lock, from its lower left corner; as deep as the leaf stands off the wall."""
    _, high = lock_size_nm(site.lift_nm)
    x1, back = x0 + WIDE_NM, site.stand_off_nm
    button = Cuboid(x0, x1, y0 + LEDGE_NM + PLAY_NM, y0 + high, 0, 2 * back // 3)
    ledge = Cuboid(x0, x1, y0, y0 + LEDGE_NM, PASS_NM, back)
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
    screw_y = box.y1 - WIDE_NM // 2
    return TurnButton(
        button=button,
        ledge=ledge,
        x_nm=(box.x0 + box.x1) // 2,
        screw_y_nm=screw_y,
        length_nm=box.y1 - box.y0,
        thick_nm=box.z1,
        from_screw_nm=screw_y - box.y0,
        ledge_y_nm=ledge.box.y0,
        ledge_deep_nm=ledge.box.z1 - ledge.box.z0,
    )
