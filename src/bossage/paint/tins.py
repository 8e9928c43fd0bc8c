"""Amounts rounded up to tins that are sold: the brief's own, or usual sizes."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bossage.brief.records import Brief, LengthUnit, Tin
from bossage.paint.way_records import Tins

# Common practice, no source. Fluid measures are of the United States.
USUAL_ML = {LengthUnit.MM: (125.0, 375.0, 750.0, 2500.0, 5000.0), LengthUnit.IN: (236.588, 946.353, 3785.412)}
TINTER_ML = {LengthUnit.MM: (20.0, 50.0, 100.0, 250.0, 500.0), LengthUnit.IN: (29.574, 59.147, 118.294, 236.588)}
_ALIKE = 1e-3  # sizes nearer than this to a multiple are one


def tins_for(brief: Brief, kind: str, what: str, need_ml: float, *, note: str = "") -> Tins:
    """Whole tins that hold what is needed.

    Args:
        brief: Tins as the maker can buy them, and the unit that usual sizes go by.
        kind: What the maker's tins call it: `primer`, `base`, `paint`, `ground`, `topcoat`, or a tinter's name.
        what: The name on the shopping list.
        need_ml: With all coats and reserves.
        note: Printed beside it.

    Returns:
        The cheapest tins where all the maker's tins of the kind are priced. Else the least left over by the fewest.
    """
    own = [tin for tin in brief.paint.tins if tin.what.casefold() in (kind.casefold(), what.casefold())]
    if not own:
        usual = TINTER_ML if kind == "tinter" else USUAL_ML
        own = [Tin(what=kind, size_ml=size, cents=None) for size in usual[brief.piece.unit]]
    priced = all(tin.cents is not None for tin in own)
    counts = _cheapest(own, need_ml, [tin.cents or 0 for tin in own] if priced else None)
    taken = sorted(((tin, n) for tin, n in zip(own, counts, strict=True) if n), key=lambda one: -one[0].size_ml)
    return Tins(
        what=what,
        need_ml=need_ml,
        tins=tuple((tin.size_ml, n) for tin, n in taken),
        cents=sum((tin.cents or 0) * n for tin, n in taken) if priced else None,
        note=note,
    )


def _cheapest(tins: Sequence[Tin], need_ml: float, cents: Sequence[int] | None) -> list[int]:
    """How many of each tin: least money and then least volume, or, without prices, least volume and then fewest tins.

    Worked out step by step of what all sizes are multiples of, or of a millilitre where they have nothing in common.
    """
    if need_ml <= 0:
        return [0] * len(tins)
    unit = _shared_unit([tin.size_ml for tin in tins])
    need = math.ceil(need_ml / unit - 1e-9)
    size = [max(1, math.floor(tin.size_ml / unit * (1 + _ALIKE))) for tin in tins]
    best: list[tuple[tuple[int, int, int], int]] = [((0, 0, 0), -1)]
    for left in range(1, need + 1):
        options = []
        for which, step in enumerate(size):
            (money, volume, count), _ = best[max(0, left - step)]
            options.append(((money + (cents[which] if cents else 0), volume + step, count + 1), which))
        best.append(min(options, key=lambda option: (option[0], option[1])))
    counts, left = [0] * len(tins), need
    while left > 0:
        which = best[left][1]
        counts[which] += 1
        left = max(0, left - size[which])
    return counts


def _shared_unit(sizes_ml: Sequence[float]) -> float:
    """The largest part of the smallest size, down to a twelfth, of which all sizes are multiples; else a millilitre."""
    least = min(sizes_ml)
    for parts in range(1, 13):
        unit = least / parts
        if all(abs(size / unit - round(size / unit)) <= _ALIKE * size / unit for size in sizes_ml):
            return unit
    return 1.0
