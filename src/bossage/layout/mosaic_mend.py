"""Fewer crosses without changing a count: small rectangles of whole blocks are turned over, or change places.

A mosaic is known by its joints: whether one stands left of each cell, and above each. A point is a cross where all
four joints that may meet there do. A rectangle round which joints run all the way holds whole blocks; mirrored, or put
where an equal rectangle was, they fill it as before. Many rectangles that do not touch are tried at one go; a change
that adds crosses is kept with a chance that falls to nothing towards the end (annealing after Metropolis, 1953).
Each move may be undone by one that is as likely, so what comes out is a draw among mosaics with few crosses.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.layout.chance import shuffled, uniforms
from bossage.layout.mosaic_board import Board, Laying
from bossage.layout.records import IntArray

SIZES = tuple((h, w) for h in range(1, 5) for w in range(1, 5) if 2 <= h * w <= 12)  # rows, columns of rectangles
WARM = 0.45  # the temperature that annealing begins with, in crosses
SWAPS = 0.5  # share of sweeps that let rectangles change places

BoolArray = NDArray[np.bool_]


@dataclass(slots=True)
class Joints:
    """Joints of a mosaic. `left[r + 1, c]` stands left of cell (r, c), `above[r, c + 1]` above it; a rim of none."""

    left: BoolArray  # rows + 2 × columns + 1
    above: BoolArray  # rows + 1 × columns + 2
    points: BoolArray  # rows + 1 × columns + 1: where four blocks might meet

    def crosses(self) -> int:
        """How many points are crosses."""
        meet = self.left[:-1] & self.left[1:] & self.above[:, :-1] & self.above[:, 1:]
        return int((meet & self.points).sum())


def mend(board: Board, laying: Laying, *, sweeps: int, least: int, key: IntArray) -> Laying:
    """The best mosaic on a walk of so many sweeps, ended early where `least` crosses are reached."""
    joints = joints_of(board, laying)
    held = board.free & ~board.single
    sizes = [(h, w) for h, w in SIZES if h <= board.rows and w <= board.columns]
    best, fewest = laying, joints.crosses()
    if not sizes or fewest <= least:
        return best
    draws = uniforms(sweeps * 4, key).reshape(sweeps, 4)
    for sweep, draw in enumerate(draws):
        h, w = sizes[int(draw[0] * len(sizes))]
        warm = WARM * max(0.0, 1.0 - 1.25 * sweep / sweeps)
        found = _whole_rectangles(joints, held, (h, w), int(draw[1] * (h + 1)), int(draw[2] * (w + 1)))
        if found[0].size and _try(joints, found, (h, w), warm, float(draw[3]), np.array([*key, sweep])):
            now = joints.crosses()
            if now < fewest:
                best, fewest = _blocks_of(board, joints), now
                if fewest <= least:
                    break
    return best


def stir(board: Board, laying: Laying, *, sweeps: int, key: IntArray) -> Laying:
    """Where a walk of so many sweeps ends that never adds a cross: another mosaic as good, drawn at random."""
    joints = joints_of(board, laying)
    held = board.free & ~board.single
    sizes = [(h, w) for h, w in SIZES if h <= board.rows and w <= board.columns]
    for sweep, draw in enumerate(uniforms(sweeps * 4, key).reshape(sweeps, 4) if sizes else ()):
        h, w = sizes[int(draw[0] * len(sizes))]
        found = _whole_rectangles(joints, held, (h, w), int(draw[1] * (h + 1)), int(draw[2] * (w + 1)))
        if found[0].size:
            _try(joints, found, (h, w), 0.0, float(draw[3]), np.array([*key, sweep]))
    return _blocks_of(board, joints)


def joints_of(board: Board, laying: Laying) -> Joints:
    """The joints of a mosaic."""
    owner = laying.owners(board)
    rows, columns = owner.shape
    left = np.zeros((rows + 2, columns + 1), dtype=np.bool_)
    above = np.zeros((rows + 1, columns + 2), dtype=np.bool_)
    left[1:-1, 1:-1] = owner[:, 1:] != owner[:, :-1]
    left[1:-1, 0] = left[1:-1, -1] = True
    above[1:-1, 1:-1] = owner[1:] != owner[:-1]
    above[0, 1:-1] = above[-1, 1:-1] = True
    points = np.zeros((rows + 1, columns + 1), dtype=np.bool_)
    free = board.free
    points[1:-1, 1:-1] = free[:-1, :-1] & free[:-1, 1:] & free[1:, :-1] & free[1:, 1:]
    return Joints(left=left, above=above, points=points)


def _whole_rectangles(
    joints: Joints, held: BoolArray, size: tuple[int, int], from_row: int, from_column: int
) -> tuple[IntArray, IntArray]:
    """Upper left cells of rectangles that hold whole blocks, on a lattice on which they do not touch."""
    h, w = size
    rows, columns = held.shape
    good = np.ones((rows - h + 1, columns - w + 1), dtype=np.bool_)[from_row :: h + 1, from_column :: w + 1]
    high, wide = good.shape

    def seen(field: BoolArray, i: int, j: int) -> BoolArray:
        """The field where each rectangle's upper left cell is moved by (i, j)."""
        return field[from_row + i :: h + 1, from_column + j :: w + 1][:high, :wide]

    for i in range(h):
        good &= seen(joints.left, i + 1, 0) & seen(joints.left, i + 1, w)
        for j in range(w):
            good &= seen(held, i, j)
    for j in range(w):
        good &= seen(joints.above, 0, j + 1) & seen(joints.above, h, j + 1)
    r, c = np.nonzero(good)
    return r * (h + 1) + from_row, c * (w + 1) + from_column


def _try(
    joints: Joints, found: tuple[IntArray, IntArray], size: tuple[int, int], warm: float, how: float, key: IntArray
) -> bool:
    """Turn rectangles over, or let pairs of them change places; whether anything got better."""
    (r, c), (h, w) = found, size
    swap, half = how < SWAPS, r.size // 2
    if swap:
        if not half:
            return False
        order = shuffled(r.size, key)[: 2 * half]
        r, c = r[order], c[order]
    i, j = np.arange(h + 2), np.arange(w + 2)
    left_at = (r[:, None, None] + i[None, :, None], c[:, None, None] + j[None, None, :-1])
    above_at = (r[:, None, None] + i[None, :-1, None], c[:, None, None] + j[None, None, :])
    left, above = joints.left[left_at], joints.above[above_at]
    points = joints.points[r[:, None, None] + i[None, :-1, None], c[:, None, None] + j[None, None, :-1]]
    new_left, new_above = left.copy(), above.copy()
    other = np.concatenate([np.arange(half, 2 * half), np.arange(half)]) if swap else slice(None)
    turn = (how - SWAPS) / (1 - SWAPS)  # below 0 for a change of places
    down, across = (-1 if turn >= 1 / 3 else 1), (-1 if 0 <= turn < 2 / 3 else 1)
    new_left[:, 1:-1, 1:-1] = left[other, 1:-1, 1:-1][:, ::down, ::across]
    new_above[:, 1:-1, 1:-1] = above[other, 1:-1, 1:-1][:, ::down, ::across]
    more = _crossed(new_left, new_above, points) - _crossed(left, above, points)
    chance = uniforms(r.size, np.array([*key, 1], dtype=np.int64))
    if swap:
        both = more[:half] + more[half:]
        more, chance = np.concatenate([both, both]), np.concatenate([chance[:half], chance[:half]])
    keep = more <= 0 if warm <= 0 else chance < np.exp(-np.maximum(more, 0) / warm)
    joints.left[left_at[0][keep], left_at[1][keep]] = new_left[keep]
    joints.above[above_at[0][keep], above_at[1][keep]] = new_above[keep]
    return bool((more[keep] < 0).any())


def _crossed(left: BoolArray, above: BoolArray, points: BoolArray) -> IntArray:
    meet = left[:, :-1] & left[:, 1:] & above[:, :, :-1] & above[:, :, 1:] & points
    crossed: IntArray = meet.sum(axis=(1, 2)).astype(np.int64)
    return crossed


def _blocks_of(board: Board, joints: Joints) -> Laying:
    """The blocks between the joints."""
    number = {kind: n for n, kind in enumerate(board.kinds)}
    begins = board.free & joints.left[1:-1, :-1] & joints.above[:-1, 1:-1]
    left, above = joints.left[1:-1].tolist(), joints.above[:, 1:-1].tolist()
    blocks = []
    for r, c in np.argwhere(begins).tolist():
        wide = tall = 1
        while not left[r][c + wide]:
            wide += 1
        while not above[r + tall][c]:
            tall += 1
        blocks.append((number[wide, tall], r, c))
    return Laying(blocks=tuple(blocks))
