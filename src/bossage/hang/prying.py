"""How hard the wall half of a cleat pulls at its fixings, and what each of them carries.

The wall half is a stiff strip that bears on the wall along its lower edge. The bevel pushes it outwards at the bevel's
middle, and the weight hangs before the wall by half its thickness and by any packer behind it. Both turn it about that
edge, and the fixings hold it back. As they sit below the bevel they are pulled by more than the push.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from bossage.hang.case import Case
from bossage.hang.records import Load
from bossage.hang.spread import Tape
from bossage.layout.grid import bevel_rise_nm
from bossage.units import NM_PER_MM

LEAST_LEVER_MM = 1.0
"""Below, a fixing sits at the very edge that the half turns about: it is reckoned with no less, which holds nothing."""


def straight_mm(case: Case) -> float:
    """Height of the straight part of the wall half, below the bevel, over which fixings stand."""
    return max(1, case.brief.cleat.strip_nm - bevel_rise_nm(case.brief)) / NM_PER_MM


def rows_mm(case: Case, rows: int) -> list[float]:
    """Heights of fixings one over the other, above the lower edge of the wall half, highest first.

    They stand evenly over its straight part, below the bevel, at heights over the floor that a rule reads.
    """
    brief = case.brief
    foot, tape = foot_of_half_nm(case), Tape(brief.piece.unit)
    high = max(1, brief.cleat.strip_nm - bevel_rise_nm(brief))
    low, top = tape.within(foot, foot + high)
    even = (foot + high - high * (2 * number + 1) // (2 * rows) for number in range(rows))
    return [(min(max(tape.nearest(up), low), top) - foot) / NM_PER_MM for up in even]


def foot_of_half_nm(case: Case) -> int:
    """Lower edge of the wall half over the floor."""
    return case.cleat.line_nm + bevel_rise_nm(case.brief) // 2 - case.brief.cleat.strip_nm


def turning_nmm(case: Case, weight_n: float, thrust_n: float) -> float:
    """Moment of the wall half about its lower edge, where it bears on the wall.

    Args:
        case: The leaf: height and thickness of the half, packers behind it.
        weight_n: What hangs on the bevel.
        thrust_n: What pushes or pulls the half off the wall, at the middle of the bevel.

    Returns:
        Newton millimetres: thrust × height of the bevel's middle + weight × its distance from the wall.

    Source:
        Moments about the lower edge, our calculation; a stiff half that bears on an edge has the longest lever that it
        can have, so a soft wall lets the fixings be pulled somewhat harder.
    """
    brief = case.brief
    lever_mm = (brief.cleat.strip_nm - bevel_rise_nm(brief) / 2) / NM_PER_MM
    before_mm = (brief.cleat.thickness_nm / 2 + case.choice.back_nm) / NM_PER_MM
    return thrust_n * lever_mm + weight_n * before_mm


def loads_on(
    case: Case,
    places_nm: Sequence[int],
    shares: Sequence[float],
    *,
    weight_n: float | None = None,
    thrust_n: float | None = None,
) -> tuple[Load, ...]:
    """Pull and shear of each fixing, in the order given.

    Args:
        case: The leaf.
        places_nm: Where each stands along the wall; several at one place stand over one another, highest first.
        shares: Part of the leaf on each.
        weight_n: Another weight than the leaf's own.
        thrust_n: Another push off the wall than the leaf's own.

    Returns:
        One load each. Of those over one another each is pulled by its height over the lower edge.
    """
    weight = case.weight_n if weight_n is None else weight_n
    moment = turning_nmm(case, weight, case.thrust_n if thrust_n is None else thrust_n)
    columns: dict[int, list[int]] = defaultdict(list)
    for number, x in enumerate(places_nm):
        columns[x].append(number)
    pulls = [0.0] * len(places_nm)
    for mine in columns.values():
        heights = [max(LEAST_LEVER_MM, height) for height in rows_mm(case, len(mine))]
        share = sum(shares[number] for number in mine)
        square = sum(height**2 for height in heights)
        for number, height in zip(mine, heights, strict=True):
            pulls[number] = share * moment * height / square
    return tuple(Load(pull_n=pull, shear_n=share * weight) for pull, share in zip(pulls, shares, strict=True))
