"""The chain that stops a swing: the screw eyes that it hangs between, where they go in, and how long it is."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bossage.body import Part, Role, Swing, wood_of
from bossage.brief.hinges import USUAL_EYE
from bossage.brief.records import Brief, Side
from bossage.fasteners import wood_holes
from bossage.fasteners.metric import CORE_SHARE
from bossage.hang.case import gravity_of
from bossage.hang.hinge_records import EyePlan
from bossage.units import NM_PER_IN, NM_PER_MM


def plan_eyes(brief: Brief, parts: Sequence[Part], swing: Swing) -> EyePlan | None:
    """Both eyes, one over the other at the inner edges of post and stile, in the middle of the chain's place.

    Args:
        brief: Unit, wood.
        parts: Of one leaf, the chain and the stile of the hinges among them.
        swing: The axis of that leaf.

    Returns:
        One plan for both: they go in alike. None where the body has no such chain: the axis lies level.
    """
    chain = next((part for part in parts if part.role is Role.STAY), None)
    stile = next((part for part in parts if part.role is Role.HINGE_STILE), None)
    if chain is None or stile is None or not swing.upright:
        return None
    eye, unit = USUAL_EYE[brief.piece.unit], brief.piece.unit
    inner = stile.box.x1 if swing.side is Side.LEFT else stile.box.x0
    return EyePlan(
        at_nm=(chain.box.y0 + chain.box.y1) // 2,
        inner_nm=inner,
        tip_nm=inner - swing.sign * eye.deep_nm,
        out_nm=eye.out_nm,
        wire_mm=eye.wire_mm,
        lead_hole_mm=wood_holes(eye.wire_mm, CORE_SHARE * eye.wire_mm, gravity_of(wood_of(brief)), unit).pilot_mm,
    )


def eye_spots(eye: EyePlan) -> list[tuple[int, int]]:
    """Where the eye in the stile runs behind the backer, a place for each millimetre of it, on the wall."""
    low, high = sorted((eye.inner_nm, eye.tip_nm))
    return [(x, eye.at_nm) for x in range(low, high + 1, NM_PER_MM)]


def chain_nm(swing: Swing, inner: int, unit: str, angle_deg: float) -> int:
    """Between the middles of the rings of two eyes, in the middles of the inner edges, opened to an angle.

    Args:
        swing: Axis, post and stile.
        inner: Inner edge of both, along the leaf.
        unit: Of the shop: its usual eye, and the mark of a rule that the length is rounded to.
        angle_deg: As far as the leaf opens.

    Source:
        Distance between two points, one of them turned about the axis.
    """
    across, mark = abs(inner - swing.axis_nm) + USUAL_EYE[unit].out_nm, NM_PER_MM if unit == "mm" else NM_PER_IN // 16
    on_post, on_leaf = swing.post_nm // 2 - swing.axis_z_nm, swing.stand_off_nm - swing.stile_nm // 2 - swing.axis_z_nm
    angle = math.radians(angle_deg)
    there = across * math.cos(angle) - on_leaf * math.sin(angle), across * math.sin(angle) + on_leaf * math.cos(angle)
    return round(math.hypot(there[0] - across, there[1] - on_post) / mark) * mark
