"""The anti-lift lock: a wooden turn button on the wall, over a ledge on the back of the leaf.

The button hangs down from its one screw, and its lower end stands over the ledge. A push from below goes through it
straight up to the screw, so it cannot turn itself away. Turned out to the side it lets the ledge pass.
"""

from __future__ import annotations

from dataclasses import dataclass

from bossage.body.records import Part
from bossage.units import NM_PER_MM

WIDE_NM = 20 * NM_PER_MM
LEDGE_NM = 10 * NM_PER_MM
PLAY_NM = NM_PER_MM
PASS_NM = 3 * NM_PER_MM
"""Width of button and ledge, height of the ledge, room between both, room by which the ledge passes: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnButton:
    """Sizes and places, in wall coordinates. Button and ledge are `WIDE_NM` wide; both lie behind the backer."""

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


def turn_button(part: Part) -> TurnButton:
    """The button and its ledge in the room of the lock, which is as deep as the leaf stands off the wall."""
    box = part.box
    screw_y = box.y1 - WIDE_NM // 2
    end = box.y0 + LEDGE_NM + PLAY_NM
    return TurnButton(
        x_nm=(part.from_x_nm + part.to_x_nm) // 2,
        screw_y_nm=screw_y,
        length_nm=box.y1 - end,
        thick_nm=2 * (box.z1 - box.z0) // 3,
        from_screw_nm=screw_y - end,
        ledge_y_nm=box.y0,
        ledge_deep_nm=box.z1 - box.z0 - PASS_NM,
    )
