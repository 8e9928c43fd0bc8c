"""How far an unbalanced board bows: a strip of bonded layers that want to change length by different amounts.

S. Timoshenko, 'Analysis of Bi-Metal Thermostats', J. Opt. Soc. Am. 11 (1925) 233, with swelling in place of heat; and
the same balance of forces and moments for any number of layers, ribs and gradients.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from bossage.ranges import within

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]

LEAVES_OUT = (
    "Creep and slow drying: the figure is for the day when the new moisture is reached everywhere.",
    "Bending across the strip: a square board bows into a shallow dish and a little less along each side.",
    "The board's own weight, the wall and the cleat, which hold part of the bow back.",
    "Moduli that fall as wood gets wetter, and glue that gives.",
)
"""What the model does not see; printed beside every figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of the strip, from its lower to its upper surface.

    The two free strains are what each surface would do if it were cut loose: swelling is positive, and a straight line
    joins them. A board with one face sealed swells at its open face only. Ribs are a layer whose `width_mm` is the
    sum of their widths. A layer lies on the one before it, unless `base_mm` says where its lower surface is.
    """

    thickness_mm: float
    width_mm: float
    modulus_mpa: float
    lower_strain: float
    upper_strain: float
    base_mm: float | None = None

    def __post_init__(self) -> None:
        within("Layer thickness", self.thickness_mm, 0.01, 1000, "mm")
        within("Layer width", self.width_mm, 0.01, 1e5, "mm")
        within("Modulus of elasticity", self.modulus_mpa, 1, 1e6, "MPa")
        within("Free strain", self.lower_strain, -0.2, 0.2, "(ratio)")
        within("Free strain", self.upper_strain, -0.2, 0.2, "(ratio)")

    @property
    def area_mm2(self) -> float:
        """Section area."""
        return self.thickness_mm * self.width_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Bow:
    """Bow of one strip; positive bulges towards the upper side of the layers."""

    curvature_per_mm: float
    sagitta_mm: float
    span_mm: float
    stiffness_n_mm2: float
    leaves_out: tuple[str, ...] = LEAVES_OUT


def two_layer_curvature_per_mm(
    strain_difference: float, lower_mm: float, upper_mm: float, lower_mpa: float, upper_mpa: float
) -> float:
    """Curvature of two bonded strips of one width, the upper of which wants to be longer.

    Args:
        strain_difference: Free strain of the upper less that of the lower, -0.2 to 0.2.
        lower_mm: Thickness of the lower strip, above 0 mm.
        upper_mm: Thickness of the upper strip, above 0 mm.
        lower_mpa: Modulus of elasticity of the lower strip along its length, above 0 MPa.
        upper_mpa: The same of the upper strip.

    Returns:
        One over the radius, per mm; positive bulges upward.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        See `LEAVES_OUT`.

    Source:
        Timoshenko (1925), Eq. 4 (from memory); hand-worked in the tests and equal to the layered balance.
    """
    e = within("Strain difference", strain_difference, -0.2, 0.2, "(ratio)")
    t1 = within("Thickness", lower_mm, 0.01, 1000, "mm")
    t2 = within("Thickness", upper_mm, 0.01, 1000, "mm")
    m = t1 / t2
    n = within("Modulus", lower_mpa, 1, 1e6, "MPa") / within("Modulus", upper_mpa, 1, 1e6, "MPa")
    h = t1 + t2
    return 6 * e * (1 + m) ** 2 / (h * (3 * (1 + m) ** 2 + (1 + m * n) * (m**2 + 1 / (m * n))))


def layered_bow(layers: Sequence[Layer], span_mm: float) -> Bow:
    """Bow of any number of bonded layers, lowest first.

    Args:
        layers: At least one layer. All are taken as bonded over their whole length.
        span_mm: Length along the strip over which the bow is measured, above 0 mm.

    Returns:
        Curvature, rise of the middle over the ends, and the bending stiffness of the whole section.

    Raises:
        OutOfRange: A size lies outside its range, or the strip would bend to more than a half circle.

    Leaves out:
        See `LEAVES_OUT`.

    Source:
        Balance of force and moment over the section, as Timoshenko (1925) does for two layers.
    """
    span = within("Span", span_mm, 0.01, 1e5, "mm")
    middles = _middles_mm(layers)
    EA = [layer.modulus_mpa * layer.area_mm2 for layer in layers]
    axis = sum(ea * y for ea, y in zip(EA, middles, strict=True)) / sum(EA)
    EI = 0.0
    moment = 0.0
    for layer, ea, middle in zip(layers, EA, middles, strict=True):
        y = middle - axis
        own = ea * layer.thickness_mm**2 / 12
        gradient = (layer.upper_strain - layer.lower_strain) / layer.thickness_mm
        EI += own + ea * y**2
        moment += own * gradient + ea * y * (layer.lower_strain + layer.upper_strain) / 2
    curvature = moment / EI
    return Bow(
        curvature_per_mm=curvature,
        sagitta_mm=sagitta_mm(curvature, span),
        span_mm=span,
        stiffness_n_mm2=EI,
    )


def sagitta_mm(curvature_per_mm: float, span_mm: float) -> float:
    """Rise of the middle over the two ends of an arc.

    Args:
        curvature_per_mm: One over the radius, per mm, either sign.
        span_mm: Length along the arc, above 0 mm.

    Returns:
        Rise, mm, with the sign of the curvature.

    Raises:
        OutOfRange: The arc would be more than a half circle.

    Leaves out:
        Nothing; it is a circle.

    Source:
        Geometry: (1 - cos(L/2R)) R, written with the half angle's sine so that flat arcs keep their digits.
    """
    half = within("Half angle of the bow", curvature_per_mm * span_mm / 2, -math.pi / 2, math.pi / 2, "rad")
    return 0.0 if half == 0 else 2 * math.sin(half / 2) ** 2 / curvature_per_mm


def strip_rise_mm(lengths_mm: Floats, curvatures_per_mm: Floats) -> Floats:
    """Rise of strips that bend differently from part to part, over the straight line between their ends.

    Args:
        lengths_mm: Lengths of the parts, one after another along the last axis, none below 0 mm, not all 0.
        curvatures_per_mm: Curvature of each. Broadcast against `lengths_mm`.

    Returns:
        The largest distance from the line, mm, with its sign: positive on the side towards which the parts bulge.
        Broadcast shape of the inputs less the last axis.

    Raises:
        Nothing.

    Leaves out:
        Slopes that are no longer small: under a tenth of the span the error is under 3 %.

    Source:
        Slope is the sum of curvature times length, height the sum of slope times length.
    """
    import numpy as np

    # every part as two halves, so that the middle of each is looked at as well
    steps = np.repeat(lengths_mm / 2, 2, axis=-1)
    turns = np.repeat(curvatures_per_mm, 2, axis=-1) * steps
    slopes = turns - np.cumsum(turns, axis=-1)  # where a half begins
    heights = np.cumsum(slopes * steps - turns * steps / 2, axis=-1)
    at = np.cumsum(steps, axis=-1)
    off = heights - heights[..., -1:] * (at / at[..., -1:])
    furthest = np.abs(off).argmax(axis=-1)
    found: Floats = np.take_along_axis(off, furthest[..., None], axis=-1)[..., 0]
    return found


def board_on_ribs(
    *,
    board_mm: float,
    board_mpa: float,
    open_face_strain: float,
    sealed_share: float,
    strip_width_mm: float,
    rib_depth_mm: float = 0.0,
    rib_width_mm: float = 0.0,
    rib_mpa: float = 1.0,
) -> tuple[Layer, ...]:
    """Layers of a board whose front takes up moisture and whose back does so in part, with ribs behind or without.

    Args:
        board_mm: Thickness of the board, above 0 mm.
        board_mpa: Its modulus of elasticity along the strip, above 0 MPa.
        open_face_strain: Free strain at the open front face: expansion per % times change of moisture.
        sealed_share: How much the back is held dry: 1 sealed, 0 as open as the front.
        strip_width_mm: Width of board that one rib serves (rib spacing), above 0 mm.
        rib_depth_mm: Depth of a rib from the back of the board; 0 for no ribs.
        rib_width_mm: Width of one rib.
        rib_mpa: Modulus of elasticity along the rib, above 0 MPa.

    Returns:
        Layers for `layered_bow`, the back lowest, so that a positive bow bulges into the room.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Movement of a rib along its grain, which is about a tenth of a board's or less.

    Source:
        Ours: a straight moisture gradient through the thickness, the steepest that steady air can hold.
    """
    share = within("Sealed share", sealed_share, 0, 1, "(ratio)")
    board = Layer(
        thickness_mm=board_mm,
        width_mm=strip_width_mm,
        modulus_mpa=board_mpa,
        lower_strain=open_face_strain * (1 - share),
        upper_strain=open_face_strain,
    )
    if rib_depth_mm == 0:
        return (board,)
    rib = Layer(
        thickness_mm=rib_depth_mm,
        width_mm=rib_width_mm,
        modulus_mpa=rib_mpa,
        lower_strain=0.0,
        upper_strain=0.0,
    )
    return (rib, board)


def _middles_mm(layers: Sequence[Layer]) -> list[float]:
    middles, base = [], 0.0
    for layer in layers:
        base = base if layer.base_mm is None else layer.base_mm
        middles.append(base + layer.thickness_mm / 2)
        base += layer.thickness_mm
    return middles
