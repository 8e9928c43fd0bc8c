"""A leaf on hinges: what they do to it, and to the glue of the stile that they are screwed to.

That glue is sheared by the weight. The pins lie behind it, so that screws are asked for that keep it from peeling.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import solveh_banded

from bossage.ranges import within

TWIST_STEPS = 400
"""Steps along a stile that is reckoned by finite differences."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeForce:
    """What one hinge does to the stile, as the stile lies: at right angles to the axis, and off the wall."""

    at_mm: float  # along the axis, from the middle of the glue
    along_n: float  # along the leaf, inward plus
    off_n: float  # minus: towards the wall, which draws the stile off the backer


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


def upright_forces(
    weight_n: float, *, arm_mm: float, before_mm: float, places_mm: Sequence[float]
) -> tuple[HingeForce, ...]:
    """Hinges over one another: the upper draws the leaf to the axis and to the wall, the lower pushes as hard.

    Args:
        weight_n: Of the leaf.
        arm_mm: Centre of gravity from the pins, along the leaf.
        before_mm: The same, before the pins.
        places_mm: Both hinges along the axis, from the middle of the glue, the upper first.

    Source:
        Moments about the lower hinge. As seen from the leaf both are alike at any angle of opening.
    """
    apart = max(1.0, abs(places_mm[0] - places_mm[1]))
    return tuple(
        HingeForce(at_mm=at, along_n=-sign * weight_n * arm_mm / apart, off_n=-sign * weight_n * before_mm / apart)
        for at, sign in zip(places_mm, (1, -1), strict=True)
    )


def level_forces(
    level_n: float, up_n: float, *, angle_deg: float, top: bool, shares: Sequence[float], places_mm: Sequence[float]
) -> tuple[HingeForce, ...]:
    """Hinges side by side, as seen from the leaf, which has turned by an angle.

    Args:
        level_n: What they draw the leaf to the wall with; minus: they push it off.
        up_n: What they carry.
        angle_deg: From hanging closed at 0.
        top: Whether the leaf hangs by its top; else it stands on its foot.
        shares: Of each hinge.
        places_mm: Of each along the axis, from the middle of the glue.

    Source:
        Both forces, put together anew along the leaf and square to it.
    """
    sine, cosine, way = math.sin(math.radians(angle_deg)), math.cos(math.radians(angle_deg)), 1 if top else -1
    along, off = -level_n * sine - way * up_n * cosine, -level_n * cosine + way * up_n * sine
    return tuple(
        HingeForce(at_mm=at, along_n=share * along, off_n=share * off)
        for at, share in zip(places_mm, shares, strict=True)
    )


def line_twist_nmm_per_mm(forces: Sequence[HingeForce], *, long_mm: float, behind_mm: float, aside_mm: float) -> float:
    """Most that the hinges twist a stile off what it lies on, by length, at an end of its glue.

    Args:
        forces: Of the hinges.
        long_mm: Glue along the axis, above 0 mm.
        behind_mm: The pins behind the glue, or behind whatever the twist is wanted of.
        aside_mm: The pins from the middle of the glue, along the leaf.

    Returns:
        N·mm/mm: the twists together, and their lever along the axis, as a straight line over the length.

    Leaves out:
        What the stile takes by its own stiffness against twist, which is on the safe side. What a straight pull takes
        off the twist of the push along the leaf is not counted on.

    Source:
        Our calculation: a stile that twists as a straight line along its length, each slice of its glue held alike.
    """
    long = within("Length of the glue", long_mm, 1e-6, 1e6, "mm")
    found = []
    for counted in (0.0, 1.0):
        twists = [(one.at_mm, one.along_n * behind_mm - counted * one.off_n * aside_mm) for one in forces]
        together, lever = sum(twist for _, twist in twists), sum(twist * at for at, twist in twists)
        found.append(abs(together) / long + 6 * abs(lever) / long**2)
    return max(found)


def elastic_twist_nmm_per_mm(
    twists: Sequence[tuple[float, float]], *, long_mm: float, over_mm: float, bar_nmm2: float, spring_n: float
) -> float:
    """Most that a stile, which twists under its hinges, gives to what holds it along its length.

    Args:
        twists: Of each hinge: where along the axis from the middle of the stile, mm, and N·mm.
        long_mm: Length of the stile, above 0 mm.
        over_mm: Length of a hinge, over which its twist is put in.
        bar_nmm2: Stiffness of the stile against twist, G times J, above 0 N·mm².
        spring_n: What holds it, N·mm for a radian and a millimetre of length, above 0.

    Returns:
        N·mm/mm, at the hardest-worked place.

    Source:
        A bar on springs against turning, by finite differences.
    """
    long = within("Length of the stile", long_mm, 1e-3, 1e6, "mm")
    places = np.linspace(-long / 2, long / 2, TWIST_STEPS + 1)
    step = long / TWIST_STEPS
    load = np.zeros(places.size)
    for at, twist in twists:
        near = np.abs(places - at) <= max(over_mm, 2 * step) / 2
        load[near] += twist / near.sum()
    diagonal = np.full(places.size, 2 * bar_nmm2 / step + spring_n * step)
    diagonal[[0, -1]] -= bar_nmm2 / step
    beside = np.full(places.size, -bar_nmm2 / step)
    turned = solveh_banded(np.vstack([beside, diagonal]), load)
    return float(np.abs(turned).max() * spring_n)


def row_pull_n(
    *, along_n: float, off_n: float, lap_mm: float, row_mm: float, behind_mm: float, beside_mm: float
) -> float:
    """Pull at a row of screws that hold a stile, along its axis, against the pin of one hinge behind them.

    Args:
        along_n: What the pin does to the stile along the leaf, inward plus.
        off_n: The same off the wall; minus draws the stile off.
        lap_mm: Lap of the stile on what it lies on, above 0 mm.
        row_mm: Row of screws from the outer edge of the lap, inside the lap.
        behind_mm: The pin behind the face of the lap.
        beside_mm: The pin from the outer edge of the lap, outward plus.

    Returns:
        Newtons, all screws of the row together: the most that either edge of the lap, as the one that stays shut, or
        the straight pull asks for.

    Raises:
        OutOfRange: The row lies outside the lap.

    Source:
        Moments about each edge of the lap, our calculation: a stiff stile that bears on an edge.
    """
    lap = within("Lap of the stile", lap_mm, 1e-6, 1e6, "mm")
    row = within("Row of screws from the lap's edge", row_mm, 1e-6, lap - 1e-9, "mm")
    outward, drawn = -along_n, -off_n
    opens_inner = (outward * behind_mm - drawn * beside_mm) / row
    opens_outer = (drawn * (beside_mm + lap) - outward * behind_mm) / (lap - row)
    return max(0.0, drawn, opens_inner, opens_outer)


def corner_shear_mpa(force_n: float, moment_nmm: float, *, lap_mm: float, long_mm: float, along_axis: bool) -> float:
    """Shear at the corner of a stile's glue that the weight works hardest: straight, and by its couple.

    Args:
        force_n: On the whole glue.
        moment_nmm: In the plane of the glue, about its middle.
        lap_mm: Glue along the leaf, above 0 mm.
        long_mm: Glue along the axis, above 0 mm.
        along_axis: Whether the force points along the axis; else it points along the leaf.

    Source:
        Elastic method for eccentrically loaded joints: the couple over the polar moment of the rectangle.
    """
    lap, long = (within("Side of the glue", size, 1e-6, 1e6, "mm") for size in (lap_mm, long_mm))
    per_mm = moment_nmm / (lap * long * (lap**2 + long**2) / 12)
    with_force, beside = (lap, long) if along_axis else (long, lap)
    return math.hypot(per_mm * beside / 2, per_mm * with_force / 2 + force_n / (lap * long))
