"""What a leaf lies on while its blocks are pressed: the parts on its back, and packing wherever these are not.

The back is made and hung as a trial before blocks are laid, so it is on by then. A caul under a row runs straight below
the highest part of the back; between caul and backer, packing stands everywhere else, or the board bends under it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby, pairwise

from bossage.body import Role
from bossage.press.bench import BackPart, Bench
from bossage.press.records import RowCard
from bossage.press.rest_records import Pack, Rest, RestRows
from bossage.units import NM_PER_MM

LEAST_NM = NM_PER_MM // 2
"""Thinner than this is a sheet of card. Ours."""

SHORTEST_NM = 10 * NM_PER_MM
"""A backer carries its blocks over so much of nothing. Ours."""


def rests_of(bench: Bench, cards: tuple[RowCard, ...]) -> tuple[Rest, ...]:
    """What each leaf of the first copy lies on; none for one with a bare back.

    Args:
        bench: Leaves with the parts on their backs.
        cards: Rows, in the order in which they are pressed.

    Leaves out:
        Which packing a shop has: any scrap of that thickness will do.
    """
    return tuple(_rests(bench, cards))


def back_depth_nm(bench: Bench) -> int:
    """How far the highest part of any leaf stands out behind its backer."""
    return max((part.deep_nm for part in bench.back), default=0)


def _rests(bench: Bench, cards: tuple[RowCard, ...]) -> Iterator[Rest]:
    for number, leaf in enumerate(bench.leaves):
        # edge strips go on last, when everything has been pressed
        parts = [part for part in bench.back if part.leaf == number and part.role is not Role.STRIP]
        deep = max((part.deep_nm for part in parts), default=0)
        if leaf.copy != 1 or deep < LEAST_NM:
            continue
        rows = [(card.row, *_packs(bench, card, parts, deep)) for card in cards if card.leaf == number]
        yield Rest(
            leaf=leaf.name,
            deep_nm=deep,
            highest=_names(part for part in parts if part.deep_nm == deep),
            rows=tuple(
                RestRows(first=same[0][0], last=same[-1][0], on=on, packs=packs)
                for (on, packs), found in groupby(rows, key=lambda row: row[1:])
                if (same := list(found))
            ),
        )


def _packs(
    bench: Bench, card: RowCard, parts: list[BackPart], deep_nm: int
) -> tuple[tuple[str, ...], tuple[Pack, ...]]:
    """What a row lies on by itself, and the packing beside it, from the left of the backer as seen from the front."""
    leaf, blocks = bench.leaves[card.leaf], bench.blocks
    mine = [block.block for batch in card.batches for block in batch.blocks]
    low = min(int(blocks.y_nm[b]) for b in mine)
    high = max(int(blocks.y_nm[b] + blocks.height_nm[b]) for b in mine)
    here = [part for part in parts if part.from_y_nm < high and part.to_y_nm > low]
    start, end = leaf.backer_x_nm, leaf.backer_x_nm + leaf.backer_width_nm
    edges = {start, end} | {x for part in here for x in (part.from_x_nm, part.to_x_nm) if start < x < end}
    stretches = []
    for left, right in pairwise(sorted(edges)):
        reach = max((part.deep_nm for part in here if part.from_x_nm < right and part.to_x_nm > left), default=0)
        stretches.append((deep_nm - reach, left - start, right - start))
    packs = []
    for height, found in groupby(stretches, key=lambda stretch: stretch[0]):
        same = list(found)
        if height >= LEAST_NM and same[-1][2] - same[0][1] >= SHORTEST_NM:
            packs.append(Pack(height_nm=height, from_left_nm=same[0][1], length_nm=same[-1][2] - same[0][1]))
    return _names(part for part in here if deep_nm - part.deep_nm < LEAST_NM), tuple(packs)


def _names(parts: Iterator[BackPart]) -> tuple[str, ...]:
    return tuple(part.name for part in parts)
