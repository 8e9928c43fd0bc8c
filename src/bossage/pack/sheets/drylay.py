"""At the table where blocks are laid dry: the map in big type, and every row as a strip at true scale."""

from __future__ import annotations

import numpy as np

from bossage.pack.drawings.fit import at_one_scale, scale_words
from bossage.pack.drawings.leafmap import Letters, Rows, map_drawing, tiles_of
from bossage.pack.drawings.strip import OVERLAP_MM, strip_drawings
from bossage.pack.sheet import Drawn, Heading, NewPage, Para, Part, Sheet
from bossage.pack.sheets.common import room, words_of
from bossage.plan import Plan

BIG_BLOCK_MM = 15.0  # least side of a block on paper, so that its level is set in 18 pt
BIG = Letters(level_mm=9.0, shade_mm=3.9)
NUMBERS_MM = 14.0  # row and column numbers round a map, both sides together


def drylay_sheets(plan: Plan) -> list[Sheet]:
    """The map of each leaf in big type, over as many pages as that needs."""
    return [_big_map(plan, leaf) for leaf in range(len(plan.layout.leaves))]


def strip_sheets(plan: Plan) -> list[Sheet]:
    """Every row of each leaf at true scale, in parts to tape together."""
    return [_strips(plan, leaf) for leaf in range(len(plan.layout.leaves))]


def leaf_words(plan: Plan, leaf: int) -> str:
    """`, leaf left of piece 2` where there are several; nothing for the only one."""
    place = plan.layout.leaves[leaf]
    several = sum(other.copy == place.copy for other in plan.layout.leaves) > 1
    copy = f" of piece {place.copy}" if plan.brief.piece.copies > 1 else ""
    return (f", leaf {place.name}" if several else "," * bool(copy)) + copy


def _big_map(plan: Plan, leaf: int) -> Sheet:
    words, space = words_of(plan), room(plan)
    tiles = _tiles(plan, leaf)
    parts: list[Part] = []
    drawings = at_one_scale(
        [map_drawing(plan, leaf, words, rows=tile, letters=BIG) for tile in tiles],
        width_mm=space.width_mm,
        height_mm=space.height_mm - 14.0,
    )
    for tile, drawing in zip(tiles, drawings, strict=True):
        if parts:
            parts.append(NewPage())
        if len(tiles) > 1:
            parts.append(Heading(text=tile.words.capitalize()))
        parts.append(Drawn(drawing=drawing))
    return Sheet(
        name="drylay",
        title=f"Dry lay{leaf_words(plan, leaf)}",
        todo=(
            f"Lay the leaf dry from the upper left, row by row. Large: level in {words.unit_name}; under it the shade. "
            "Photograph it from straight above before a block is lifted. Young paint clings: slip paper between sides "
            "that "
            "touch, or lift the blocks before night."
        ),
        wrong="Bumped it? The address is row and column: lay that row again from its left end, then the next.",
        parts=tuple(parts),
        scale=scale_words(drawings[0].scale_n),
    )


def _tiles(plan: Plan, leaf: int) -> list[Rows]:
    """Rows and columns cut into the fewest equal parts with which every block is large enough."""
    blocks, space = plan.layout.blocks, room(plan)
    mine = blocks.leaf == leaf
    place = plan.layout.leaves[leaf]
    side_mm = int(min(blocks.width_nm[mine].min(), blocks.height_nm[mine].min())) / 1e6
    times = BIG_BLOCK_MM / side_mm
    across = max(1, int(np.ceil(times * place.width_nm / 1e6 / (space.width_mm - NUMBERS_MM))))
    down = max(1, int(np.ceil(times * place.height_nm / 1e6 / (space.height_mm - 14.0 - NUMBERS_MM))))
    return tiles_of(plan, leaf, across=across, down=down)


def _strips(plan: Plan, leaf: int) -> Sheet:
    words, space = words_of(plan), room(plan)
    blocks = plan.layout.blocks
    rows = sorted(set(blocks.row[blocks.leaf == leaf].tolist()))
    parts: list[Part] = []
    most = 1
    for row in rows:
        drawings = strip_drawings(plan, leaf, row, words, width_mm=space.width_mm - 1.0)
        most = max(most, len(drawings))
        parts += [Drawn(drawing=drawing, caption=drawing.title) for drawing in drawings]
    join = (
        f"Cut the parts out, lay mark on mark ({words.of_mm(OVERLAP_MM)} {words.unit} overlap), tape them. "
        if most > 1
        else ""
    )
    note = Para(text=f"{len(rows)} rows, {most} to a strip.", small=True) if most > 1 else None
    return Sheet(
        name="strips",
        title=f"Row strips{leaf_words(plan, leaf)}",
        todo=(
            f"Measure the bar below first. {join}Lay each strip beside the fence and its blocks on it, address to "
            "address."
        ),
        wrong="The bar is not as long as it says? The printer has shrunk the page: print again at 100 %, not 'fit'.",
        parts=(*([note] if note else []), *parts),
        scale="1 : 1",
    )
