"""Forces on a piece that hangs: its weight, the pull at the cleat, the wedge of the bevel, who carries which share."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bossage.units import GRAVITY_M_S2

LASTING_FRICTION = 0.0
"""Between the bevels, for a load that never leaves: none is counted on. Wood on wood has 0.25 to 0.5 when dry (from
memory), but it creeps as damp comes and goes, and a bevel may be painted or waxed. Ours."""

GREATEST_FRICTION = 0.5
"""Between the bevels where friction does harm, because it keeps a leaf on its bevel that is drawn off (from memory)."""


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
        Where the wall takes back what the bevel pushes more than the pull of the leaf. At the lower edge of the panel
        half it only turns the half the other way, and `pull` is the leaf's; at the upper edge `pull` is the whole push
        of the bevel, as what the wall gives back there has no lever.

    Source:
        Moments about the far edge, on which a stiff panel half turns.
    """
    return (pull * line_to_edge_mm + weight * max(0.0, before_mm)) / screw_to_edge_mm


def wedge_n(weight: float, bevel_deg: float, friction: float = LASTING_FRICTION) -> float:
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


def ride_up_n(weight: float, bevel_deg: float, friction: float = GREATEST_FRICTION) -> float:
    """The most that a bevel can be pushed level before its halves slide off one another upwards.

    Args:
        weight: What hangs on the bevel, N.
        bevel_deg: Slope of the bevel from level, under 90.
        friction: Coefficient between the halves, 0 or more.

    Returns:
        Newtons, without end where friction holds whatever the push.

    Source:
        Block on an inclined plane: weight × tan(slope + angle of friction).
    """
    angle = math.radians(bevel_deg) + math.atan(friction)
    return weight * math.tan(angle) if angle < math.pi / 2 else math.inf


def carried_shares(x: Sequence[float], at: float) -> tuple[float, ...] | None:
    """How supports in a row share a load: a stiff bar on springs that are all alike.

    No support pulls down: the bar lifts off one that would. Withdrawal is brittle, so that no support may be counted
    on to give until the others have taken up their part.

    Args:
        x: Places of the supports along the row, several may share one; any unit.
        at: Place of the load, same unit.

    Returns:
        Share of each, in the order given, sum 1; None where the load lies outside the outermost supports.

    Source:
        Sums of forces and of moments, and a straight line of deflections: 1/n + (load's lever about the middle) × (own
        lever) / (sum of squares of levers). For two supports it is the lever rule.
    """
    if not x or not min(x) <= at <= max(x):
        return None
    held = list(range(len(x)))
    while True:
        middle = sum(x[k] for k in held) / len(held)
        square = sum((x[k] - middle) ** 2 for k in held)
        turn = (at - middle) / square if square else 0.0
        shares = {k: 1 / len(held) + turn * (x[k] - middle) for k in held}
        lifted = [k for k in held if shares[k] < -1e-12]
        if not lifted:
            return tuple(max(0.0, shares.get(k, 0.0)) for k in range(len(x)))
        held = [k for k in held if k not in lifted]


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
