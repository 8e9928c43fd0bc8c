"""A leaf that swings, at each angle that counts: where its weight hangs, or what its hinges on a level axis take."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bossage.body import Part, Role
from bossage.brief.records import Side
from bossage.fasteners.hinged import flap_forces_n
from bossage.hang.case import Case
from bossage.units import NM_PER_MM

STEP_DEG = 5
"""Between the angles that are tried. The worst is missed by less than three degrees, a thousandth of the load. Ours."""

STAY_SHARE = 0.5
"""Where the body has no stays they hold a leaf by its middle, and the wall as far from the axis: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """A leaf on an upright axis, opened to an angle: from the pins to its centre of gravity."""

    angle_deg: float
    along_mm: float  # along the wall, inward plus
    out_mm: float  # into the room plus


@dataclass(frozen=True, slots=True, kw_only=True)
class Flapped:
    """A leaf on a level axis, opened to an angle: what stays and hinges take together."""

    angle_deg: float
    stay_n: float
    level_n: float  # what the hinges are drawn off the wall with; minus: pushed to the wall
    up_n: float  # what the hinges carry; minus: the stays carry more than the weight


def arm_nm(case: Case) -> float:
    """Distance along the leaf from the axis to the centre of gravity."""
    mass, leaf, swing = case.mass, case.leaf, case.swing
    at = leaf.x_nm + mass.from_left_mm * NM_PER_MM if swing.upright else leaf.y_nm + mass.from_foot_mm * NM_PER_MM
    return abs(at - swing.axis_nm)


def before_mm(case: Case) -> float:
    """How far the centre of gravity of the closed leaf lies before the pins."""
    return case.mass.from_wall_mm - case.swing.axis_z_nm / NM_PER_MM


def turned(case: Case) -> tuple[Turned, ...]:
    """Closed, open as far as it goes, and the angles between."""
    along, out = arm_nm(case) / NM_PER_MM, before_mm(case)
    opens = case.brief.access.angle_deg
    angles = sorted({0.0, *(float(deg) for deg in range(0, math.ceil(opens), STEP_DEG)), float(opens)})
    found = []
    for angle in angles:
        sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
        found.append(Turned(angle_deg=angle, along_mm=along * cosine - out * sine, out_mm=along * sine + out * cosine))
    return tuple(found)


def blocks_of(case: Case, *, moves: bool) -> list[Part]:
    """The blocks of the stays, on the leaf or on the wall, left to right."""
    found = [part for part in case.parts if part.role is Role.STAY_BLOCK and part.moves is moves]
    return sorted(found, key=lambda part: part.from_x_nm)


def feet_nm(case: Case) -> tuple[int, int]:
    """From the axis to the middles of the feet, on the leaf and on the wall."""
    leaf, wall = blocks_of(case, moves=True), blocks_of(case, moves=False)
    if not leaf or not wall:
        return (round(case.leaf.height_nm * STAY_SHARE),) * 2
    return _from_axis_nm(case, leaf[0]), _from_axis_nm(case, wall[0])


def stay_run_mm(case: Case) -> tuple[float, float]:
    """From a stay's foot on the wall to that on the open leaf: out of the wall, and along it away from the axis."""
    angle = math.radians(case.brief.access.angle_deg)
    on_leaf, on_wall = (nm / NM_PER_MM for nm in feet_nm(case))
    return on_leaf * math.sin(angle), on_leaf * math.cos(angle) - on_wall


def _from_axis_nm(case: Case, block: Part) -> int:
    return abs((block.box.y0 + block.box.y1) // 2 - case.swing.axis_nm)


def flapped(case: Case) -> tuple[Flapped, ...]:
    """Closed, its far edge on the wall or on its catch; and held open by its stays, where it opens.

    A leaf hung by its foot pushes its hinges to the wall where one hung by its top draws at them.
    """
    on_leaf, on_wall = (nm / NM_PER_MM for nm in feet_nm(case))
    access, off = case.brief.access, 1 if case.swing.side is Side.TOP else -1
    shut = case.weight_n * before_mm(case) / (case.leaf.height_nm / NM_PER_MM)
    found = [Flapped(angle_deg=0.0, stay_n=0.0, level_n=off * shut, up_n=case.weight_n)]
    if access.angle_deg > 0:
        stay, level, up = flap_forces_n(
            case.weight_n,
            along_mm=arm_nm(case) / NM_PER_MM,
            depth_mm=before_mm(case),
            angle_deg=access.angle_deg,
            on_leaf_mm=on_leaf,
            on_wall_mm=on_wall,
        )
        found.append(Flapped(angle_deg=access.angle_deg, stay_n=stay, level_n=off * level, up_n=up))
    return tuple(found)
