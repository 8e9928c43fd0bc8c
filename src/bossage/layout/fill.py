"""Every block of the field: which fill each module takes, and the rectangles that follow."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief, Fill, Footprint
from bossage.layout.adjacency import touching_pairs
from bossage.layout.chance import shuffled
from bossage.layout.mosaic_field import mosaic_table, open_mask, ring_mask
from bossage.layout.records import BlockField, IntArray, Leaf, Mosaic, NoLayout, OpenCell, Zone

BLOCKS_MOST = 4_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A fill's blocks inside one module: offsets from its upper left corner, right and down.

    `claim_*` are the same blocks stretched to share out the module whole, so that a set that does not tile still has
    neighbours. `left_over_nm` are the rows' and the stack's differences from the module; negative is too much.
    """

    footprint: IntArray
    x: IntArray
    down: IntArray
    width: IntArray
    height: IntArray
    claim_x: IntArray
    claim_down: IntArray
    claim_width: IntArray
    claim_height: IntArray
    left_over_nm: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """All blocks, and how each leaf's mosaic came out where there is one."""

    field: BlockField
    mosaics: tuple[Mosaic, ...]


def fills_of(brief: Brief) -> tuple[Fill, ...]:
    """The fills as given; without any, each module holds one block of the first footprint."""
    return brief.blocks.fills or (Fill(rows=((brief.blocks.footprints[0].name,),), count=None),)


def template_of(brief: Brief, fill: Fill) -> Template:
    """Where a fill's blocks lie in its module, row by row from the top, left to right."""
    blocks = brief.blocks
    names = {f.name: number for number, f in enumerate(blocks.footprints)}
    module_w, module_h, gap = blocks.module_width_nm, blocks.module_height_nm, blocks.gap_nm
    real: list[tuple[int, int, int, int, int]] = []
    claims: list[tuple[int, int, int, int]] = []
    left_over: list[int] = []
    down = 0
    for number, row in enumerate(fill.rows):
        prints: list[Footprint] = [blocks.footprints[names[name]] for name in row]
        tall = max(p.height_nm for p in prints)
        last_row = number == len(fill.rows) - 1
        claim_top = min(down, module_h)
        claim_h = max(0, (module_h if last_row else min(down + tall, module_h)) - claim_top)
        across = 0
        for place, (name, p) in enumerate(zip(row, prints, strict=True)):
            real.append((names[name], across, down, p.width_nm, p.height_nm))
            claim_x = min(across, module_w)
            end = module_w if place == len(row) - 1 else min(across + p.width_nm, module_w)
            claims.append((claim_x, claim_top, max(0, end - claim_x), claim_h))
            across += p.width_nm + gap
            if p.height_nm != tall:
                left_over.append(tall - p.height_nm)
        left_over.append(module_w - (across - gap))
        down += tall + gap
    left_over.append(module_h - (down - gap))
    r, c = np.array(real, dtype=np.int64).T, np.array(claims, dtype=np.int64).T
    return Template(
        footprint=r[0],
        x=r[1],
        down=r[2],
        width=r[3],
        height=r[4],
        claim_x=c[0],
        claim_down=c[1],
        claim_width=c[2],
        claim_height=c[3],
        left_over_nm=tuple(left_over),
    )


def fill_leaves(
    brief: Brief, leaves: tuple[Leaf, ...], open_cells: tuple[OpenCell, ...], draw: int
) -> Filled | NoLayout:
    """All blocks of all leaves, ordered by leaf, row, column, letter.

    Which module takes which fill is drawn by seed, draw and leaf; counts are exact. Modules of an outrigger's ring
    take the fill that takes the rest, when there is one, so that the ring stays regular.
    """
    if brief.blocks.mosaic:
        laid = mosaic_table(brief, leaves, open_cells, draw)
        return laid if isinstance(laid, NoLayout) else Filled(field=_field(brief, laid[0]), mosaics=laid[1])
    fills = fills_of(brief)
    templates = [template_of(brief, fill) for fill in fills]
    parts: list[NDArray[np.int64]] = []
    for number, leaf in enumerate(leaves):
        modules = leaf.columns * leaf.rows
        if modules * max(t.x.size for t in templates) * len(leaves) > BLOCKS_MOST:
            return NoLayout(
                reason=f"{leaf.columns} × {leaf.rows} modules on {len(leaves)} leaves are more than "
                f"{BLOCKS_MOST:,} blocks",
                remedy="use larger blocks or fewer columns and rows",
            )
        used = ~open_mask(leaf, number, open_cells).ravel()
        ring = ring_mask(brief, leaf).ravel()
        key = np.array([brief.piece.seed, draw, number], dtype=np.int64)
        chosen = _choose(fills, used, ring, key)
        if isinstance(chosen, NoLayout):
            return chosen
        for kind, template in enumerate(templates):
            parts.append(_blocks_of(brief, leaf, number, template, np.flatnonzero(chosen == kind), ring))
    return Filled(field=_field(brief, np.concatenate(parts, axis=1)), mosaics=())


def _field(brief: Brief, table: NDArray[np.int64]) -> BlockField:
    """The blocks in order, with their neighbours."""
    table = table[:, np.lexsort((table[3], table[2], table[1], table[0]))]
    edges, corners = touching_pairs(table[0], table[10], table[11], table[12], table[13], brief.blocks.gap_nm)
    columns = [np.ascontiguousarray(row) for row in table[:10]]
    for array in (*columns, edges, corners):
        array.flags.writeable = False
    leaf_, row, column, letter, x, y, width, height, footprint, zone = columns
    return BlockField(
        leaf=leaf_,
        row=row,
        column=column,
        letter=letter,
        x_nm=x,
        y_nm=y,
        width_nm=width,
        height_nm=height,
        footprint=footprint,
        zone=zone,
        edges=edges,
        corner_edges=corners,
    )


def _choose(
    fills: tuple[Fill, ...], used: NDArray[np.bool_], ring: NDArray[np.bool_], key: NDArray[np.int64]
) -> IntArray | NoLayout:
    """Which fill each module takes, -1 where it stays open."""
    chosen = np.full(used.size, -1, dtype=np.int64)
    rest = next((k for k, fill in enumerate(fills) if fill.count is None), None)
    free = np.flatnonzero(used & ~ring) if rest is not None else np.flatnonzero(used)
    if rest is not None:
        chosen[used & ring] = rest
    asked = sum(fill.count or 0 for fill in fills)
    if asked > free.size or (rest is None and asked != free.size):
        return NoLayout(
            reason=f"the fills ask for {asked} modules on each leaf, but {free.size} are there to be filled",
            remedy="change the counts so that they add up, or leave the count of one fill open: it takes the rest",
        )
    order = free[shuffled(free.size, key)]
    at = 0
    for kind, fill in enumerate(fills):
        if fill.count is not None:
            chosen[order[at : at + fill.count]] = kind
            at += fill.count
    if rest is not None:
        chosen[order[at:]] = rest
    return chosen


def _blocks_of(
    brief: Brief, leaf: Leaf, number: int, template: Template, modules: IntArray, ring: NDArray[np.bool_]
) -> NDArray[np.int64]:
    """Rows of leaf, row, column, letter, x, y, width, height, footprint, zone, then the four claims."""
    blocks = brief.blocks
    row, column = np.divmod(modules, leaf.columns)
    left = leaf.x_nm + column * (blocks.module_width_nm + blocks.gap_nm)
    top = leaf.y_nm + leaf.height_nm - row * (blocks.module_height_nm + blocks.gap_nm)
    each, count = template.x.size, modules.size
    letters = np.arange(1, each + 1) if each > 1 else np.zeros(1, dtype=np.int64)

    def per_module(values: NDArray[np.int64]) -> NDArray[np.int64]:
        return np.repeat(values, each)

    def per_block(values: NDArray[np.int64]) -> NDArray[np.int64]:
        return np.tile(values, count)

    zone = np.where(ring[modules], int(Zone.RING), int(Zone.FIELD)).astype(np.int64)
    left, top = per_module(left), per_module(top)
    width, height = per_block(template.width), per_block(template.height)
    claim_h = per_block(template.claim_height)
    return np.stack(
        [
            np.full(each * count, number, dtype=np.int64),
            per_module(row + 1),
            per_module(column + 1),
            per_block(letters),
            left + per_block(template.x),
            top - per_block(template.down) - height,
            width,
            height,
            per_block(template.footprint),
            per_module(zone),
            left + per_block(template.claim_x),
            top - per_block(template.claim_down) - claim_h,
            per_block(template.claim_width),
            claim_h,
        ]
    )
