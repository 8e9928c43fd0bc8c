"""A fastener that is pulled and sheared at once: NDS 2018 section 12.4."""

from __future__ import annotations

import math

from bossage.ranges import within


def combined_allowable_n(withdrawal_n: float, lateral_n: float, angle_deg: float) -> float:
    """Allowable load of a screw at an angle to the surface of the wood, Z'_alpha.

    Args:
        withdrawal_n: Allowable withdrawal over the whole thread, W'p, above 0 N.
        lateral_n: Allowable lateral load, Z', above 0 N.
        angle_deg: Angle of the load from the wood's surface: 0 all shear, 90 all pull.

    Returns:
        Newtons along the load.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Nails, which follow Eq. 12.4-2 instead; the head drawn through, a link of its own.

    Source:
        NDS 2018 Eq. 12.4-1, for wood and lag screws (read in a public transcription). That equation lets a screw be
        pulled beyond its withdrawal where its lateral value is the larger of the two; that neither value is passed by
        its own part of the load is ours.
    """
    Wp = within("Allowable withdrawal", withdrawal_n, 1e-9, 1e9, "N")
    Z = within("Allowable lateral load", lateral_n, 1e-9, 1e9, "N")
    alpha = math.radians(within("Angle of the load", angle_deg, 0, 90, "°"))
    cos, sin = math.cos(alpha), math.sin(alpha)
    curve = Wp * Z / (Wp * cos**2 + Z * sin**2)
    return min(curve, Wp / sin if sin > 0 else math.inf, Z / cos if cos > 0 else math.inf)


def combined_use(pull_n: float, shear_n: float, withdrawal_n: float, lateral_n: float) -> float:
    """Share of the allowable that a pull and a shear together use up; 1 is the limit, 0 no load.

    Args:
        pull_n: Demand along the screw, 0 N or more.
        shear_n: Demand across it, 0 N or more.
        withdrawal_n: Allowable withdrawal, above 0 N.
        lateral_n: Allowable lateral load, above 0 N.

    Returns:
        Resultant over `combined_allowable_n` at its angle; no less than either share by itself.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        As `combined_allowable_n`.

    Source:
        `combined_allowable_n`.
    """
    T = within("Pull", pull_n, 0, 1e15, "N")
    V = within("Shear", shear_n, 0, 1e15, "N")
    if T == 0 and V == 0:
        return 0.0
    angle = math.degrees(math.atan2(T, V))
    return math.hypot(T, V) / combined_allowable_n(withdrawal_n, lateral_n, angle)
