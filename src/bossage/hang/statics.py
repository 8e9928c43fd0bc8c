"""Forces on a piece that hangs: its weight, the pull at the cleat, the wedge of the bevel, who carries which share."""

from __future__ import annotations

import math
from collections.abc import Sequence

GRAVITY_M_S2 = 9.80665
"""Standard gravity (3rd General Conference on Weights and Measures, 1901; exact by definition)."""

BEVEL_FRICTION = 0.2
"""Wood on wood, low on purpose: handbooks give about 0.25 to 0.5 for dry wood (from memory). Ours."""


def weight_n(mass_g: float) -> float:
    """Weight in newtons of a mass in grams."""
    return mass_g / 1000 * GRAVITY_M_S2


def mass_of_g(force_n: float) -> float:
    """The mass in grams that weighs as much as a force; how scales would show it."""
    return force_n / GRAVITY_M_S2 * 1000


def pull_n(weight: float, from_wall_mm: float, arm_mm: float) -> float:
    """Outward pull at the cleat of a leaf that leans on a spacer at its foot.

    Args:
        weight: Weight of the leaf, N.
        from_wall_mm: Depth of its centre of gravity, from the wall.
        arm_mm: From the cleat line down to the middle of the foot spacer, above 0.

    Returns:
        Newtons: weight × depth ÷ arm. The weight is taken to hang at the wall itself, which is on the high side: it
        hangs in the middle of the cleat.

    Source:
        Moments about the foot spacer; trade practice counts it the same way.
    """
    return weight * from_wall_mm / arm_mm


def prying_n(weight: float, pull: float, *, before_mm: float, line_to_edge_mm: float, screw_to_edge_mm: float) -> float:
    """Pull at all screws of a panel half together, once a face between it and the leaf is held by them alone.

    Args:
        weight: Of the leaf, N; the bevel carries it.
        pull: Outward pull at the bevel, N.
        before_mm: From the middle of the bevel to that face, towards the room.
        line_to_edge_mm: From the middle of the bevel up to the far edge of the panel half.
        screw_to_edge_mm: From the screws up to the same edge, above 0.

    Returns:
        Newtons: (pull × line to edge + weight × before) ÷ screw to edge.

    Leaves out:
        What the bevel pushes more than the pull: the wall takes that back at the lower edge, where the panel half is
        pressed on it, and it only turns the panel half the other way.

    Source:
        Moments about the far edge, on which a stiff panel half turns.
    """
    return (pull * line_to_edge_mm + weight * max(0.0, before_mm)) / screw_to_edge_mm


def wedge_n(weight: float, bevel_deg: float, friction: float = BEVEL_FRICTION) -> float:
    """Horizontal push between the two halves of a bevelled cleat: it presses the panel half in, the wall half out.

    Args:
        weight: What hangs on the bevel, N.
        bevel_deg: Slope of the bevel from level, under 90.
        friction: Coefficient between the halves, 0 or more.

    Returns:
        Newtons, 0 where friction alone holds the slope.

    Source:
        Block on an inclined plane: weight × tan(slope − angle of friction).
    """
    return weight * math.tan(max(0.0, math.radians(bevel_deg) - math.atan(friction)))


def carried_shares(x: Sequence[float], at: float) -> tuple[float, ...] | None:
    """How supports in a row share a load, so that the hardest-worked one has as little as may be.

    No support pulls down. Screws in wood give before they break, so the load finds this sharing at the latest when
    the first of them has begun to yield.

    Args:
        x: Places of the supports along the row, several may share one; any unit.
        at: Place of the load, same unit.

    Returns:
        Share of each, in the order given, sum 1; None where the load lies outside the outermost supports.

    Source:
        Lower bound theorem of plasticity with equilibrium of forces and moments. For two supports it is the lever
        rule. The worst share is the greatest of 1/n and, over each support k and each side of it, the load's lever
        about k over the sum of the levers of the supports on that side (dual of the linear program).
    """
    if not x or not min(x) <= at <= max(x):
        return None
    worst, fixed = 1 / len(x), [1.0] * len(x)
    for pivot in dict.fromkeys(x):
        for side in (1, -1):
            levers = [max(0.0, side * (place - pivot)) for place in x]
            lever = side * (at - pivot)
            if lever > 0 and lever / sum(levers) > worst + 1e-12:
                worst = lever / sum(levers)
                fixed = [math.copysign(1, side * (place - pivot)) if place != pivot else 0.0 for place in x]
    full = [worst if mark > 0 else 0.0 for mark in fixed]
    pivots = [number for number, mark in enumerate(fixed) if mark == 0]
    rest = max(0.0, 1 - sum(full)) / len(pivots) if pivots else 0.0  # no hair below nothing by rounding
    return tuple(rest if number in pivots else share for number, share in enumerate(full))


def flap_forces_n(
    weight: float, *, along_mm: float, depth_mm: float, angle_deg: float, on_leaf_mm: float, on_wall_mm: float
) -> tuple[float, float, float]:
    """What a flap that turns about a level axis does to its stays and hinges, held open at an angle.

    Args:
        weight: Of the leaf, N.
        along_mm: Centre of gravity from the axis, along the leaf.
        depth_mm: Centre of gravity off the plane of the axis, towards the room when closed.
        angle_deg: From hanging closed at 0 to level at 90 and on, above 0.
        on_leaf_mm: From the axis to where the stays hold the leaf, above 0.
        on_wall_mm: From the axis to where they hold the wall, above 0.

    Returns:
        Force in the stays together; level force at the hinges; upright force at the hinges; N. Hung by its top the leaf
        is propped and pulls at its hinges, hung by its foot it hangs on chains and pushes them, equally hard.

    Source:
        Moments about the axis, then both sums of forces.
    """
    angle = math.radians(angle_deg)
    across, up = on_leaf_mm * math.sin(angle), on_wall_mm - on_leaf_mm * math.cos(angle)
    stay = math.hypot(across, up)
    lever = on_wall_mm * across / stay  # of the stay's line about the axis
    force = weight * (along_mm * math.sin(angle) + depth_mm * math.cos(angle)) / lever
    return force, force * across / stay, weight - force * up / stay


def hinge_pull_n(weight: float, lever_mm: float, spacing_mm: float) -> float:
    """Sideways force on each of two hinges: pulled at the upper, pushed at the lower one.

    Args:
        weight: Weight of the leaf, N.
        lever_mm: Level distance from the axis to the centre of gravity.
        spacing_mm: Between the middles of the hinges, above 0.

    Returns:
        Newtons: weight × lever ÷ spacing, whatever the angle to which the leaf is opened.

    Source:
        Moments about the lower hinge.
    """
    return weight * lever_mm / spacing_mm
