"""How many blocks of each footprint lie on a leaf of a mosaic, by count or by share."""

from __future__ import annotations

from math import floor, inf

from bossage.brief.face import Footprint


def area_of(footprint: Footprint) -> int:
    """Cells that a block covers."""
    columns, rows = footprint.cells or (1, 1)
    return columns * rows


def mosaic_counts(footprints: tuple[Footprint, ...], cells: int) -> tuple[int, ...] | None:
    """Blocks of each footprint that together cover so many cells.

    Counts are kept; what they leave is shared out, as near to the shares as whole blocks come. None where the counts
    ask for more cells than there are, or no whole blocks make up the rest.
    """
    rest = cells - sum((f.count or 0) * area_of(f) for f in footprints)
    sharing = [f for f in footprints if f.count is None]
    if rest < 0 or (rest and not sharing):
        return None
    if not sharing:
        return tuple(f.count or 0 for f in footprints)
    areas = [area_of(f) for f in sharing]
    shares = [f.share or 1.0 for f in sharing]
    blocks = rest / sum(share * area for share, area in zip(shares, areas, strict=True))
    shared = _nearest([share * blocks for share in shares], areas, rest)
    if shared is None:
        return None
    mine = iter(shared)
    return tuple(next(mine) if f.count is None else f.count for f in footprints)


def _nearest(wanted: list[float], areas: list[int], cells: int) -> list[int] | None:
    """Whole numbers near the wanted ones whose areas add up to the cells."""
    for times in (1, 8, 64):
        low = [max(0, floor(w) - times * (max(areas) // area + 1)) for w, area in zip(wanted, areas, strict=True)]
        found = _made_up(wanted, low, areas, cells)
        if found is not None or not any(low):
            return found
    return None


def _made_up(wanted: list[float], low: list[int], areas: list[int], cells: int) -> list[int] | None:
    """The nearest of those that are not below `low`, by dynamic programming over the cells that are left."""
    left = cells - sum(n * area for n, area in zip(low, areas, strict=True))
    best: list[tuple[float, tuple[int, ...]]] = [(0.0, ()), *((inf, ()) for _ in range(left))]
    for want, least, area in zip(wanted, low, areas, strict=True):
        after: list[tuple[float, tuple[int, ...]]] = [(inf, ())] * (left + 1)
        for have, (cost, chosen) in enumerate(best):
            if cost == inf:
                continue
            for more in range((left - have) // area + 1):
                # Squared, so that what does not fit is spread over all rather than laid on one.
                total = cost + (least + more - want) ** 2
                if total < after[have + more * area][0]:
                    after[have + more * area] = (total, (*chosen, least + more))
        best = after
    return list(best[left][1]) if best[left][0] < inf else None
