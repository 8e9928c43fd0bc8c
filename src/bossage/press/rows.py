"""Row by row, face up: which blocks in which order, with which shim, and in which batches."""

from __future__ import annotations

import numpy as np

from bossage.brief.records import Brief
from bossage.layout.records import Zone
from bossage.press.bench import Bench
from bossage.press.records import Batch, CardBlock, RowCard
from bossage.relief import Relief

CLAMP_SPACING_NM = 250_000_000  # one clamp each so far along a caul; common practice, no source


def row_cards(brief: Brief, bench: Bench, relief: Relief) -> tuple[RowCard, ...]:
    """One card for each row of modules of each leaf, the edge ring left out (it is set on its strips by itself).

    Every block gets a shim that brings it level with the highest level of the piece, so shim + block is one constant
    and one set of shims serves every row.
    """
    blocks = bench.blocks
    field = blocks.zone == Zone.FIELD
    cards = []
    for leaf, row in sorted({(int(a), int(b)) for a, b in zip(blocks.leaf[field], blocks.row[field], strict=True)}):
        mine = np.flatnonzero(field & (blocks.leaf == leaf) & (blocks.row == row))
        order = mine[np.lexsort((-blocks.y_nm[mine], blocks.x_nm[mine]))]
        cards.append(_card(brief, bench, relief, leaf, row, [int(block) for block in order]))
    return tuple(cards)


def batch_most(brief: Brief) -> int:
    """Blocks that can be laid before the first one's glue must be under pressure, at least 1."""
    usable_s = (brief.glue.open_min - brief.glue.close_min) * 60
    return max(1, int(usable_s // brief.rates.lay_s))


def even_parts(order: list[int], most: int) -> list[list[int]]:
    """As few parts as `most` a part allows, and as even as can be: 20 blocks at 18 a part go as 10 and 10."""
    parts = -(-len(order) // most)
    return [order[len(order) * k // parts : len(order) * (k + 1) // parts] for k in range(parts)]


def glue_g(brief: Brief, bench: Bench, blocks: list[int]) -> float:
    """Wet glue for these blocks, on their whole footprints."""
    area_nm2 = sum(int(bench.blocks.width_nm[b]) * int(bench.blocks.height_nm[b]) for b in blocks)
    return area_nm2 / 1e18 * brief.glue.spread_g_per_m2


def _card(brief: Brief, bench: Bench, relief: Relief, leaf: int, row: int, order: list[int]) -> RowCard:
    top_nm = max(relief.levels_nm)
    batches = tuple(_batch(brief, bench, relief, part, top_nm) for part in even_parts(order, batch_most(brief)))
    left = min(int(bench.blocks.x_nm[b]) for b in order)
    right = max(int(bench.blocks.x_nm[b] + bench.blocks.width_nm[b]) for b in order)
    length_nm = right - left
    return RowCard(
        leaf=leaf,
        row=row,
        constant_nm=top_nm,
        caul_length_nm=length_nm,
        caul_width_nm=brief.blocks.module_height_nm,
        clamps=max(2, -(-length_nm // CLAMP_SPACING_NM)),
        glue_g=glue_g(brief, bench, order),
        batches=batches,
    )


def _batch(brief: Brief, bench: Bench, relief: Relief, order: list[int], top_nm: int) -> Batch:
    return Batch(
        blocks=tuple(CardBlock(block=b, shim_nm=top_nm - relief.levels_nm[int(relief.level[b])]) for b in order),
        glue_g=glue_g(brief, bench, order),
        lay_s=len(order) * brief.rates.lay_s,
    )
