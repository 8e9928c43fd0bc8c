"""Counts that no stripes of bands have, or that fill whole lines where these are not allowed.

On a whole grid with even sides, part the blocks into fours of 2 x 2 from a corner on. Each four holds one block of
each band. In a four the higher bands stand at their upper levels first. So if the lowest and the highest band are
asked for equally often at their upper levels, each four is wholly high or wholly low. A high four may lie beside a low
four only where the two upper bands are on the high side of the seam, and the two lower bands on the low side. So the
high fours fill lines from one side on.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.order.bands import Laying, four_bands, layings_of
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import IntArray, NoField, Proof
from bossage.relief.problem.verdict import Finding, count_of, level_list, names_of


def bands(graph: Graph) -> Finding | None:
    """Quotas or choices that no stripes of bands have, on whole grids whose bands have more than one level."""
    found = four_bands(graph)
    grid = graph.problem.grid
    if not found or len(found[0]) < 2 or not graph.row_major or grid is None or min(grid.block.shape) < 2:
        return None
    total = graph.problem.quotas[0]
    asked = [int(total[band].sum()) for band in found]
    kinds = level_list([" or ".join(graph.problem.level_name(x) for x in band) for band in found])
    if sum(asked) != graph.n:  # levels of no band, which the tiles forbid
        return None
    layings = layings_of(graph, found)
    if not layings:
        text = (
            f"With corners that must differ every 2 × 2 blocks hold four levels, {kinds}, one of each, so every row or "
            f"every column alternates between two of these. On {grid.rows} × {grid.columns} blocks no such stripes "
            f"have {level_list([f'{n:,}' for n in asked])} of them where they are allowed."
        )
        return Finding(no=NoField(reasons=(text,), proof=Proof.STRIPES, proven=True))
    for t in range(1, len(found[0])):
        upper = [int(total[band[t:]].sum()) for band in found]
        even = not any(side % 2 for side in grid.block.shape)
        if not even or upper[0] != upper[3] or not 0 < upper[0] < graph.n // 4:
            continue
        if len(set(upper)) == 1 and any(_fills_lines(graph, found, laying, t, upper[0]) for laying in layings):
            continue
        high = names_of(graph, [level for band in found for level in band[t:]])
        text = (
            f"With corners that must differ every 2 × 2 blocks hold four levels, {kinds}, one of each. The quotas ask "
            f"for {high} in such shares that these can only fill whole rows, or whole columns, from one side on; but "
            f"no rows or columns hold {count_of(sum(upper), 'block')} of them where they are allowed. Ask for more of "
            f"{names_of(graph, found[3][t:])} or for fewer of {names_of(graph, found[0][t:])}."
        )
        return Finding(no=NoField(reasons=(text,), proof=Proof.STRIPES, proven=True))
    return None


def _fills_lines(graph: Graph, found: list[list[int]], laying: Laying, t: int, upper: int) -> bool:
    """Whether so many blocks of each band can stand at upper levels by filling lines of this laying from one side."""
    half = len(laying.lines[0].blocks) // 2
    deep = 2 * (upper // half)
    if upper % half:
        return False
    edge = {2, 3}
    if set(laying.pairs[1]) == edge:
        return _may(graph, found, laying, t, range(deep))
    if set(laying.pairs[0]) == edge:
        return _may(graph, found, laying, t, range(len(laying.lines) - deep, len(laying.lines)))
    return False


def _may(graph: Graph, found: list[list[int]], laying: Laying, t: int, high: range) -> bool:
    """Whether every line can stand high or low as these ask, begun one way or the other."""
    firsts = iter([line for line in laying.lines if not line.odd])
    seconds = iter([line for line in laying.lines if line.odd])
    for number in range(len(laying.lines)):
        line = next(seconds if number % 2 else firsts)
        one, other = (found[band][t:] if number in high else found[band][:t] for band in laying.pairs[number % 2])
        ways = ((line.blocks[::2], line.blocks[1::2]), (line.blocks[1::2], line.blocks[::2]))
        if not any(_all_may(graph, a, one) and _all_may(graph, b, other) for a, b in ways):
            return False
    return True


def _all_may(graph: Graph, blocks: IntArray, levels: list[int]) -> bool:
    return bool(np.asarray(graph.choice[np.ix_(blocks, np.array(levels))]).any(axis=1).all())
