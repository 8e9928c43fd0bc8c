"""How far wood swells or shrinks across the grain: Wood Handbook FPL-GTR-190 (2010), Eq. 13-2 and 13-3."""

from __future__ import annotations

from itertools import pairwise

from bossage.ranges import within

LOW_PCT, HIGH_PCT = 6.0, 14.0
"""Between these moisture contents the linear Eq. 13-2 holds."""

DEFAULT_FSP_PCT = 30.0
"""Fibre saturation of most species; western redcedar, northern white-cedar and redwood only agree with 22."""

LONGITUDINAL_SHRINKAGE_PCT = 0.2
"""Green to oven-dry along the grain, upper figure for normal wood (Wood Handbook ch. 4, from memory)."""


def coefficient_per_pct(shrinkage_pct: float, fsp_pct: float = DEFAULT_FSP_PCT) -> float:
    """Dimensional change coefficient that a green-to-oven-dry shrinkage implies, taken at 10 % moisture.

    Args:
        shrinkage_pct: Radial or tangential shrinkage from green to oven-dry, 0 to 20 %.
        fsp_pct: Fibre saturation point, 15 to 35 %.

    Returns:
        Change of size per size and per 1 % of moisture.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        The curve of real shrinkage near fibre saturation: shrinkage is taken as linear in moisture.

    Source:
        Recomputed: the rule that reproduces every single-species row of Wood Handbook Table 13-5 within its last
        digit.
    """
    S = within("Shrinkage", shrinkage_pct, 0, 20, "%")
    F = within("Fibre saturation point", fsp_pct, 15, 35, "%")
    return (S / F) / (100 - S * (F - 10) / F)


def shrinkage_pct(coefficient: float, fsp_pct: float = DEFAULT_FSP_PCT) -> float:
    """Green-to-oven-dry shrinkage in %, the inverse of `coefficient_per_pct`."""
    C = within("Coefficient", coefficient, 0, 0.01, "per %")
    F = within("Fibre saturation point", fsp_pct, 15, 35, "%")
    return 100 * C * F / (1 + C * (F - 10))


def movement_from_shrinkage_mm(
    size_mm: float, shrinkage: float, from_pct: float, to_pct: float, fsp_pct: float = DEFAULT_FSP_PCT
) -> float:
    """Change of a size by Eq. 13-3; swelling is positive.

    Args:
        size_mm: Size at `from_pct`, mm, not negative.
        shrinkage: Shrinkage from green to oven-dry in that direction, 0 to 20 %.
        from_pct: Moisture content at the start, 0 to `fsp_pct` %.
        to_pct: Moisture content at the end, 0 to `fsp_pct` %.
        fsp_pct: Fibre saturation point, 15 to 35 %.

    Returns:
        Size at the end less size at the start, mm.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Restraint by glue or neighbours, cupping, and the ring angle: `shrinkage` must be that of the direction.

    Source:
        Wood Handbook FPL-GTR-190 (2010) Eq. 13-3. Its form with a free fibre saturation point was read in a page that
        quotes the ICC 400 log standard; the 30 % of the handbook is from memory.
    """
    D_I = within("Size", size_mm, 0, 1e6, "mm")
    S = within("Shrinkage", shrinkage, 0, 20, "%")
    F = within("Fibre saturation point", fsp_pct, 15, 35, "%")
    M_I, M_F = _moistures(from_pct, to_pct, F)
    return D_I * (M_F - M_I) / (F * 100 / S - F + M_I) if S else 0.0


def movement_mm(
    size_mm: float,
    coefficient: float,
    from_pct: float,
    to_pct: float,
    fsp_pct: float = DEFAULT_FSP_PCT,
) -> float:
    """Change of a size across the grain between two moisture contents; swelling is positive.

    From 6 to 14 % the way is by Eq. 13-2; any part of the way outside is by Eq. 13-3 with the shrinkage that the
    coefficient implies. Going in parts keeps the result free of a jump at 6 and 14 %, so a drier room never shrinks
    less; against Eq. 13-3 for the whole way it differs by 2 % of the movement at most, 1 % for most softwoods.

    Args:
        size_mm: Size at `from_pct`, mm, not negative.
        coefficient: Dimensional change coefficient, 0 to 0.01 per %. Ring angle unknown: the tangential one.
        from_pct: Moisture content at the start, 0 to `fsp_pct` %.
        to_pct: Moisture content at the end, 0 to `fsp_pct` %.
        fsp_pct: Fibre saturation point, 15 to 35 %.

    Returns:
        Size at the end less size at the start, mm.

    Raises:
        OutOfRange: An argument lies outside its range. Above fibre saturation wood swells no further.

    Leaves out:
        Restraint by glue or neighbours, cupping, and movement along the grain.

    Source:
        Wood Handbook FPL-GTR-190 (2010) Eq. 13-2 (read) and 13-3 (see `movement_from_shrinkage_mm`).
    """
    start_mm = within("Size", size_mm, 0, 1e6, "mm")
    C = within("Coefficient", coefficient, 0, 0.01, "per %")
    S = shrinkage_pct(C, fsp_pct)
    M_I, M_F = _moistures(from_pct, to_pct, fsp_pct)
    moved_mm = 0.0
    stops = [M_I, *_crossings(M_I, M_F), M_F]
    for here, there in pairwise(stops):
        if min(here, there) >= LOW_PCT and max(here, there) <= HIGH_PCT:
            moved_mm += (start_mm + moved_mm) * C * (there - here)
        else:
            moved_mm += movement_from_shrinkage_mm(start_mm + moved_mm, S, here, there, fsp_pct)
    return moved_mm


def _crossings(start: float, end: float) -> list[float]:
    inside = [bound for bound in (LOW_PCT, HIGH_PCT) if min(start, end) < bound < max(start, end)]
    return inside if start < end else inside[::-1]


def _moistures(from_pct: float, to_pct: float, fsp_pct: float) -> tuple[float, float]:
    hint = f"Above fibre saturation wood swells no further: enter {fsp_pct:g}."
    return (
        within("Moisture content at the start", from_pct, 0, fsp_pct, "%", hint),
        within("Moisture content at the end", to_pct, 0, fsp_pct, "%", hint),
    )
