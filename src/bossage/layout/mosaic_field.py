"""From a brief to the blocks of its mosaics: boards, their laying, and rectangles on the wall."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.brief.mosaic import area_of, mosaic_counts
from bossage.brief.records import Brief, EdgeStyle
from bossage.layout.mosaic import Laid, NoMosaic, lay_mosaic
from bossage.layout.mosaic_board import Board
from bossage.layout.records import Leaf, Mosaic, NoLayout, OpenCell, Zone

BLOCKS_MOST = 1_000_000


def mosaic_table(
    brief: Brief, leaves: tuple[Leaf, ...], open_cells: tuple[OpenCell, ...], draw: int
) -> tuple[NDArray[np.int64], tuple[Mosaic, ...]] | NoLayout:
    """Blocks of every leaf as rows of leaf, row, column, letter, x, y, width, height, footprint, zone and four claims.

    A claim is what a block has of the grid: all its cells with the gaps between them, whatever it measures.
    """
    parts, mosaics = [], []
    for number, leaf in enumerate(leaves):
        board = _board(brief, leaf, number, open_cells)
        if isinstance(board, NoLayout):
            return board
        laid = lay_mosaic(board, np.array([brief.piece.seed, draw, number], dtype=np.int64))
        if isinstance(laid, NoMosaic):
            return _no_layout(brief, leaf, board, laid)
        parts.append(_table(brief, leaf, number, board, laid))
        mosaics.append(
            Mosaic(
                leaf=number,
                asked=board.wanted,
                counts=laid.counts,
                crosses=laid.crosses,
                least_crosses=laid.least,
                through_joints=laid.through,
                through_proven=laid.through_proven,
            )
        )
    return np.concatenate(parts, axis=1), tuple(mosaics)


def open_mask(leaf: Leaf, number: int, open_cells: tuple[OpenCell, ...]) -> NDArray[np.bool_]:
    """The cells of a leaf that are left open, rows from the top × columns."""
    mask = np.zeros((leaf.rows, leaf.columns), dtype=np.bool_)
    for cell in open_cells:
        if cell.leaf == number:
            mask[cell.row - 1, cell.column - 1] = True
    return mask


def ring_mask(brief: Brief, leaf: Leaf) -> NDArray[np.bool_]:
    """The outermost cells of a leaf where an outrigger edge makes a ring of them, else none."""
    mask = np.zeros((leaf.rows, leaf.columns), dtype=np.bool_)
    if brief.edge.style is EdgeStyle.OUTRIGGER:
        mask[[0, -1], :] = True
        mask[:, [0, -1]] = True
    return mask


def _board(brief: Brief, leaf: Leaf, number: int, open_cells: tuple[OpenCell, ...]) -> Board | NoLayout:
    footprints = brief.blocks.footprints
    free = ~open_mask(leaf, number, open_cells)
    cells = int(free.sum())
    if free.size > BLOCKS_MOST:
        return NoLayout(
            reason=f"{leaf.columns} × {leaf.rows} cells are more than {BLOCKS_MOST:,}",
            remedy="use larger cells or fewer columns and rows",
        )
    counts = mosaic_counts(footprints, cells)
    if counts is None:
        given = sum((f.count or 0) * area_of(f) for f in footprints)
        return NoLayout(
            reason=f"the counts ask for {given} cells on leaf {leaf.name}, and no blocks make up the other "
            f"{cells - given} of {cells}"
            if given <= cells
            else f"the counts ask for {given} cells on leaf {leaf.name}, which has {cells}",
            remedy="change the counts so that they come to the grid, or leave one out: it takes the rest",
        )
    return Board(
        free=free,
        single=ring_mask(brief, leaf),
        kinds=tuple(f.cells or (1, 1) for f in footprints),
        wanted=counts,
        firm=tuple(f.count is not None or f.quotas is not None for f in footprints),
        through=brief.blocks.through_joints,
    )


def _table(brief: Brief, leaf: Leaf, number: int, board: Board, laid: Laid) -> NDArray[np.int64]:
    blocks = brief.blocks
    kind, row, column = np.array(laid.laying.blocks, dtype=np.int64).reshape(-1, 3).T
    wide, tall = np.array(board.kinds, dtype=np.int64)[kind].T
    size = np.array([(f.width_nm, f.height_nm) for f in blocks.footprints], dtype=np.int64)
    width, height = size[kind].T
    left = leaf.x_nm + column * (blocks.module_width_nm + blocks.gap_nm)
    top = leaf.y_nm + leaf.height_nm - row * (blocks.module_height_nm + blocks.gap_nm)
    claim_w = wide * (blocks.module_width_nm + blocks.gap_nm) - blocks.gap_nm
    claim_h = tall * (blocks.module_height_nm + blocks.gap_nm) - blocks.gap_nm
    zone = np.where(board.single[row, column], int(Zone.RING), int(Zone.FIELD)).astype(np.int64)
    none = np.zeros_like(kind)
    return np.stack(
        [
            none + number,
            row + 1,
            column + 1,
            none,
            left,
            top - height,
            width,
            height,
            kind,
            zone,
            left,
            top - claim_h,
            claim_w,
            claim_h,
        ]
    )


def _no_layout(brief: Brief, leaf: Leaf, board: Board, found: NoMosaic) -> NoLayout:
    """Why there is no mosaic with these counts, and which would do."""
    footprints = brief.blocks.footprints
    if found.kind is not None:
        footprint = footprints[found.kind]
        columns, rows = board.kinds[found.kind]
        return NoLayout(
            reason=f"{footprint.name} is asked for {board.wanted[found.kind]} times on leaf {leaf.name}, but at most "
            f"{found.most} of {columns} × {rows} cells fit on {board.columns} × {board.rows}, open cells left out",
            remedy=f"ask for at most {found.most}, or make the grid larger",
        )
    asked = ", ".join(f"{n} {f.name}" for n, f in zip(board.wanted, footprints, strict=True))
    how = "it is proven that none lies so" if found.proven else "none was found that lies so; that is not proven"
    if found.nearest is None:
        return NoLayout(
            reason=f"no filling of leaf {leaf.name} with {asked} and no cell left bare was found"
            + (": it is proven that there is none" if found.proven else "; that there is none is not proven"),
            remedy="add a footprint of one cell, or change columns and rows",
            proven=found.proven,
        )
    nearest = ", ".join(f"{n} {f.name}" for n, f in zip(found.nearest, footprints, strict=True))
    return NoLayout(
        reason=f"leaf {leaf.name} cannot be filled with {asked}: {how}",
        remedy=f"take {nearest}" + (", the nearest counts that do" if found.nearest_proven else ", which can be laid"),
        proven=found.proven,
    )
