"""Cards of the ways that are not row by row: the face-down bed of a leaf, and bags over a row."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np

from bossage.brief.records import Brief
from bossage.layout.records import Zone
from bossage.press.bed_records import BagCard, BedBlock, BedCard
from bossage.press.bench import Bench
from bossage.press.records import RowCard
from bossage.press.rows import glue_g
from bossage.relief import Relief

SPREAD_M2_PER_MIN = 0.15
"""Glue rolled over level backs by one pair of hands, twice over. Ours."""

BED_CAUL_NM = 250_000_000
"""A pair of cauls across the whole back each so far. Common practice, no source."""

BAG_G_PER_M2 = 100_000.0
"""Sand over a row, about six centimetres of it, common practice, no source; it presses with one kilopascal."""

BAG_G = 5_000.0


def bed_cards(brief: Brief, bench: Bench, relief: Relief) -> tuple[BedCard, ...]:
    """The bed of every leaf; the edge ring is left out, it is set on its strips by itself."""
    return tuple(_bed_card(brief, bench, relief, leaf) for leaf in range(len(bench.leaves)))


def bag_cards(brief: Brief, cards: tuple[RowCard, ...]) -> tuple[BagCard, ...]:
    """Every batch of every row with its bags."""
    return tuple(
        BagCard(
            leaf=card.leaf,
            row=card.row,
            part=part,
            of=len(card.batches),
            blocks=len(batch.blocks),
            bags=bags_over(batch.glue_g / brief.glue.spread_g_per_m2),
            glue_g=batch.glue_g,
            lay_s=batch.lay_s,
        )
        for card in cards
        for part, batch in enumerate(card.batches, 1)
    )


def bags_over(area_m2: float) -> int:
    """Bags that lie over so much face."""
    return math.ceil(area_m2 * BAG_G_PER_M2 / BAG_G - 1e-9)


def _bed_card(brief: Brief, bench: Bench, relief: Relief, leaf: int) -> BedCard:
    blocks, place, glue = bench.blocks, bench.leaves[leaf], brief.glue
    mine = np.flatnonzero((blocks.leaf == leaf) & (blocks.zone == Zone.FIELD))
    top_nm = max(relief.levels_nm)
    lain = []
    for b in mine.tolist():
        width = int(blocks.width_nm[b])
        lain.append(
            BedBlock(
                block=b,
                x_nm=place.x_nm + place.width_nm - int(blocks.x_nm[b]) - width,
                y_nm=int(blocks.y_nm[b]) - place.y_nm,
                width_nm=width,
                height_nm=int(blocks.height_nm[b]),
                shim_nm=top_nm - relief.levels_nm[int(relief.level[b])],
            )
        )
    lain.sort(key=lambda one: (int(blocks.row[one.block]), one.x_nm, -one.y_nm))
    area_mm2 = float((blocks.width_nm[mine].astype(np.float64) * blocks.height_nm[mine]).sum()) / 1e12
    spread_min = area_mm2 / 1e6 / SPREAD_M2_PER_MIN
    cauls = max(2, -(-max(place.backer_width_nm, place.backer_height_nm) // BED_CAUL_NM))
    shims = Counter(one.shim_nm for one in lain if one.shim_nm)
    return BedCard(
        leaf=leaf,
        constant_nm=top_nm,
        blocks=tuple(lain),
        shims=tuple(sorted(shims.items(), reverse=True)),
        glue_g=glue_g(brief, bench, mine.tolist()),
        area_mm2=area_mm2,
        lay_min=len(lain) * brief.rates.lay_s / 60,
        spread_min=spread_min,
        hands=max(1, math.ceil(spread_min / max(1e-9, glue.open_min - glue.close_min) - 1e-9)),
        clamps=2 * cauls,
        cauls=cauls,
    )
