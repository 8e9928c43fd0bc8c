"""A first mosaic, row by row, in one pass over the board: near the wanted counts, with few crosses, drawn at random.

Each free stretch of a row is filled at one go by the draw that suits it best: a random score for each block that might
lie there, higher for kinds that lag behind their count, lower where its end would stand under a joint of the row above
(which makes a cross, whatever comes later). The best sum is found by dynamic programming along the stretch.
"""

from __future__ import annotations

from math import inf, log

import numpy as np

from bossage.layout.chance import uniforms
from bossage.layout.mosaic_board import BARE, OPEN, Board, Laying
from bossage.layout.records import IntArray

CROSS_COST = 6.0  # against random scores that spread by about 1.3
BARE_COST = 40.0
LAG_PULL = 1.2  # how strongly a kind that lags a row's worth behind is preferred


def lay_rows(board: Board, key: IntArray) -> Laying:
    """Blocks over the whole board; cells that no kind fits stay bare."""
    rows, columns = board.rows, board.columns
    kinds = board.kinds
    scores = -np.log(-np.log(uniforms(rows * columns * len(kinds), key))).reshape(rows, columns, len(kinds))
    owner = np.where(board.free, BARE, OPEN).astype(np.int64)
    fits = _fitting(board)
    cells, laid = int(board.free.sum()), 0
    used = [0] * len(kinds)
    blocks: list[tuple[int, int, int]] = []
    for row in range(rows):
        pull = _pulls(board, used, laid / cells if cells else 0.0)
        line, above = owner[row], owner[row - 1] if row else None
        joint = [False] * (columns + 1)
        if above is not None:
            for c in range(1, columns):
                joint[c] = above[c - 1] >= 0 and above[c] >= 0 and above[c - 1] != above[c]
        column = 0
        while column < columns:
            if line[column] != BARE:
                column += 1
                continue
            end = column
            while end < columns and line[end] == BARE:
                end += 1
            for kind, at in _best(board, fits[row], scores[row], pull, joint, column, end):
                wide, tall = kinds[kind]
                owner[row : row + tall, at : at + wide] = len(blocks)
                blocks.append((kind, row, at))
                used[kind] += 1
                laid += wide * tall
            column = end
    return Laying(blocks=tuple(blocks))


def _fitting(board: Board) -> np.ndarray[tuple[int, int, int], np.dtype[np.bool_]]:
    """Whether each kind may lie with its upper left cell at each place, rows × columns × kinds."""
    fits = np.zeros((board.rows, board.columns, len(board.kinds)), dtype=np.bool_)
    for kind, (wide, tall) in enumerate(board.kinds):
        if tall > board.rows or wide > board.columns or not board.wanted[kind]:
            continue
        room = board.free & ~board.single if wide * tall > 1 else board.free
        windows = np.lib.stride_tricks.sliding_window_view(room, (tall, wide))
        fits[: board.rows - tall + 1, : board.columns - wide + 1, kind] = windows.all(axis=(2, 3))
    return fits


def _pulls(board: Board, used: list[int], done: float) -> list[float]:
    """What is added to the score of each kind before a row is laid."""
    pulls = []
    for wanted, have in zip(board.wanted, used, strict=True):
        if wanted <= 0:
            pulls.append(-inf)
            continue
        ahead = (have - wanted * done) / max(1.0, wanted / board.rows)
        last = -8.0 if have >= wanted else 0.0
        pulls.append(log(wanted) - LAG_PULL * ahead + last)
    return pulls


def _best(
    board: Board,
    fits: np.ndarray[tuple[int, int], np.dtype[np.bool_]],
    scores: np.ndarray[tuple[int, int], np.dtype[np.float64]],
    pull: list[float],
    joint: list[bool],
    start: int,
    end: int,
) -> list[tuple[int, int]]:
    """Kind and column of the blocks that fill a stretch with the best sum; gaps where nothing fits."""
    size = end - start
    best = [-inf] * (size + 1)
    best[0] = 0.0
    came: list[tuple[int, int]] = [(0, -1)] * (size + 1)
    options = [(kind, wide) for kind, (wide, _) in enumerate(board.kinds)]
    for here in range(size):
        base = best[here]
        column = start + here
        can, score = fits[column].tolist(), scores[column].tolist()
        if base - BARE_COST > best[here + 1]:
            best[here + 1], came[here + 1] = base - BARE_COST, (here, -1)
        for kind, wide in options:
            stop = here + wide
            if stop > size or not can[kind]:
                continue
            value = base + score[kind] + pull[kind]
            if stop < size and joint[start + stop]:
                value -= CROSS_COST
            if value > best[stop]:
                best[stop], came[stop] = value, (here, kind)
    found = []
    at = size
    while at:
        before, kind = came[at]
        if kind >= 0:
            found.append((kind, start + before))
        at = before
    return found[::-1]
