"""What it takes to draw a fastener straight out of wood: NDS 2018 section 12.2. Allowable-stress reference values.

Multiply by the factors of `factors.py`; a relief that hangs for years is a permanent load.
"""

from __future__ import annotations

import math

from bossage.fasteners.units import INCH_MM, LB_PER_INCH_N_PER_MM, LBF_N
from bossage.ranges import within

G_LOW, G_HIGH = 0.31, 0.73
"""Range of specific gravity of NDS Tables 12.2A to C."""


def wood_screw_withdrawal_n_per_mm(gravity: float, diameter_mm: float) -> float:
    """Reference withdrawal value of a wood screw in side grain, W.

    Args:
        gravity: Oven-dry specific gravity of the wood that holds the thread, 0.31 to 0.73.
        diameter_mm: Shank diameter D, 2 to 10 mm.

    Returns:
        Newtons per mm of thread in that wood.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        End grain, where the NDS permits no wood screw in withdrawal; the tension strength of the screw; lead holes.

    Source:
        NDS 2018 Eq. 12.2-2, W = 2850 G² D in lb per inch (read).
    """
    G = _gravity(gravity)
    D = within("Screw diameter", diameter_mm, 2, 10, "mm") / INCH_MM
    return 2850 * G**2 * D * LB_PER_INCH_N_PER_MM


def lag_screw_withdrawal_n_per_mm(gravity: float, diameter_mm: float) -> float:
    """Reference withdrawal value of a lag screw in side grain, W, per mm of thread without the tapered tip.

    Args:
        gravity: Oven-dry specific gravity of the wood that holds the thread, 0.31 to 0.73.
        diameter_mm: Nominal diameter D, 6 to 32 mm.

    Returns:
        Newtons per mm of full thread; in end grain take 0.75 of it (`factors.END_GRAIN_LAG_WITHDRAWAL`).

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        The tension strength of the screw; lead holes.

    Source:
        NDS 2018 Eq. 12.2-1 and Table 12.2A, W = 1800 G^1.5 D^0.75 in lb per inch (read).
    """
    G = _gravity(gravity)
    D = within("Lag screw diameter", diameter_mm, 6, 32, "mm") / INCH_MM
    return float(1800 * G**1.5 * D**0.75 * LB_PER_INCH_N_PER_MM)


def nail_withdrawal_n_per_mm(gravity: float, diameter_mm: float) -> float:
    """Reference withdrawal value of a plain-shank nail in side grain, W.

    Args:
        gravity: Oven-dry specific gravity of the wood that holds the point, 0.31 to 0.73.
        diameter_mm: Nail diameter D, 1 to 10 mm.

    Returns:
        Newtons per mm of penetration.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        End grain, where none is permitted, and ring-shank nails, which hold more.

    Source:
        NDS 2018 Eq. 12.2-3, W = 1380 G^2.5 D in lb per inch (read).
    """
    G = _gravity(gravity)
    D = within("Nail diameter", diameter_mm, 1, 10, "mm") / INCH_MM
    return float(1380 * G**2.5 * D * LB_PER_INCH_N_PER_MM)


def wood_screw_ultimate_n(gravity: float, diameter_mm: float, thread_mm: float) -> float:
    """Average load at which a wood screw does come out of side grain; for tests and stories, never for design.

    Args:
        gravity: Oven-dry specific gravity, 0.31 to 0.73.
        diameter_mm: Shank diameter, 2 to 10 mm.
        thread_mm: Thread in the wood, 0 to 200 mm.

    Returns:
        Newtons, about 5.5 times the allowable reference value.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Scatter, duration, and the screw breaking first.

    Source:
        Wood Handbook FPL-GTR-190 (2010) ch. 8: 15700 G² D L lb (read); the metric constant 108.25 is from memory.
    """
    G = _gravity(gravity)
    D = within("Screw diameter", diameter_mm, 2, 10, "mm") / INCH_MM
    L = within("Thread in the wood", thread_mm, 0, 200, "mm") / INCH_MM
    return 15700 * G**2 * D * L * LBF_N


def head_pull_through_n(gravity: float, head_mm: float, board_mm: float) -> float:
    """Reference value of a head drawn through the board under it, W_H.

    Args:
        gravity: Specific gravity of the board under the head, 0.31 to 0.73.
        head_mm: Head diameter D_H, 2 to 40 mm.
        board_mm: Net thickness under the head, 1 to 100 mm: less what a countersink takes away.

    Returns:
        Newtons. Linear in the thickness up to 2.5 heads, constant above.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Countersunk heads as such: the equation is for round heads with a flat underside. Counting only the thickness
        below a countersink is ours.

    Source:
        NDS 2018 Eq. 12.2-6a and 12.2-6b, read in a public transcription: 690 pi D_H G² t and 1725 pi D_H² G², lb.
    """
    G = _gravity(gravity)
    D_H = within("Head diameter", head_mm, 2, 40, "mm") / INCH_MM
    t_ns = within("Thickness under the head", board_mm, 1, 100, "mm") / INCH_MM
    return 690 * math.pi * D_H * G**2 * min(t_ns, 2.5 * D_H) * LBF_N


def lead_hole_withdrawal_mm(gravity: float, root_mm: float) -> float:
    """Lead hole for a wood screw that is drawn out: 90 % of the root above G 0.6, 70 % above 0.5, else 0 (may omit).

    NDS 2018 12.1.5.2 (read).
    """
    if gravity > 0.6:
        return 0.9 * root_mm
    return 0.7 * root_mm if gravity > 0.5 else 0.0


def lead_hole_lateral_mm(gravity: float, shank_mm: float, root_mm: float) -> tuple[float, float]:
    """Lead holes for shank and thread of a wood screw loaded sideways: full sizes above G 0.6, else seven eighths.

    NDS 2018 12.1.5.3 (read).
    """
    share = 1.0 if gravity > 0.6 else 7 / 8
    return share * shank_mm, share * root_mm


def _gravity(value: float) -> float:
    return within("Specific gravity", value, G_LOW, G_HIGH, "(ratio)", "Use the oven-dry value of the NDS group.")
