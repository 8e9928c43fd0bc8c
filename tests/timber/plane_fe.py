"""A reference for bending cells: finite elements, nine-node rectangles in plane stress. It shares no code with ours.

Half a cell of board with a block on it. At its middle nothing moves along; at its end the board's section stays plane,
as between two cells that are alike, and is free to slide and turn.
"""

from __future__ import annotations

import numpy as np
import scipy.sparse as sp
from scipy.sparse.linalg import spsolve

POINTS = np.array([-np.sqrt(0.6), 0.0, np.sqrt(0.6)])
WEIGHTS = np.array([5.0, 8.0, 5.0]) / 9


def shapes(s):
    return np.stack([s * (s - 1) / 2, 1 - s * s, s * (s + 1) / 2])


def slopes(s):
    return np.stack([s - 0.5, -2 * s, s + 0.5])


def element(dx, dy, along, through, shear, strains):
    """Stiffness and load of one rectangle; `strains`: free strain along at its 3 × 3 points."""
    N, D = shapes(POINTS), slopes(POINTS)
    stiffness, load = np.zeros((18, 18)), np.zeros(18)
    law = np.diag([along, through, shear])
    for i in range(3):
        for j in range(3):
            B = np.zeros((3, 18))
            by_x = np.outer(D[:, i], N[:, j]).ravel() * 2 / dx
            by_y = np.outer(N[:, i], D[:, j]).ravel() * 2 / dy
            B[0, 0::2], B[1, 1::2], B[2, 0::2], B[2, 1::2] = by_x, by_y, by_y, by_x
            w = WEIGHTS[i] * WEIGHTS[j] * dx * dy / 4
            stiffness += w * B.T @ law @ B
            load += w * B[0] * along * strains[j]
    return stiffness, load


def mesh(block_mm, pitch_mm, height_mm, board_mm, fine):
    """Corners of the rectangles, closer together at the edge of the joint."""
    x = block_mm / 2 * (1 - (1 - np.linspace(0, 1, 5 * fine + 1)) ** 1.8)
    if pitch_mm > block_mm:
        x = np.append(x, np.linspace(block_mm / 2, pitch_mm / 2, 4)[1:])
    down = board_mm * np.linspace(-1, 0, 3 * fine + 1)
    up = height_mm * np.linspace(0, 1, 6 * fine + 1)[1:] ** 1.6
    return x, np.append(down, up), 5 * fine, 3 * fine


def curvature_per_mm(
    block_mm: float,
    pitch_mm: float,
    height_mm: float,
    board_mm: float,
    block: tuple[float, float, float],
    board: tuple[float, float, float],
    *,
    block_strain: float,
    back: float = 0.0,
    front: float = 0.0,
    fine: int = 2,
) -> float:
    """Turn of the cell's end over half its length; `block`, `board`: moduli along, through, in shear, MPa."""
    x, y, blocks_x, boards_y = mesh(block_mm, pitch_mm, height_mm, board_mm, fine)
    nx, ny = 2 * len(x) - 1, 2 * len(y) - 1
    rows, columns, values, load = [], [], [], np.zeros(2 * nx * ny)
    used = set()
    for i in range(len(x) - 1):
        for j in range(len(y) - 1):
            above = j >= boards_y
            if above and i >= blocks_x:
                continue
            dx, dy = x[i + 1] - x[i], y[j + 1] - y[j]
            at = (y[j] + y[j + 1]) / 2 + POINTS * dy / 2
            strains = np.full(3, block_strain) if above else back + (front - back) * (at + board_mm) / board_mm
            stiffness, own = element(dx, dy, *(block if above else board), strains)
            nodes = [(2 * i + a) * ny + 2 * j + b for a in range(3) for b in range(3)]
            used.update(nodes)
            freedoms = np.array([[2 * n, 2 * n + 1] for n in nodes]).ravel()
            rows.append(np.repeat(freedoms, 18))
            columns.append(np.tile(freedoms, 18))
            values.append(stiffness.ravel())
            np.add.at(load, freedoms, own)
    K = sp.csr_matrix(
        (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), shape=(2 * nx * ny,) * 2
    )
    heights = np.empty(ny)
    heights[::2], heights[1::2] = y, (y[:-1] + y[1:]) / 2
    plane = [(nx - 1) * ny + j for j in range(ny) if j <= 2 * boards_y]
    held = {2 * j for j in range(ny)} | {1} | {2 * n for n in plane}
    kept = [d for n in sorted(used) for d in (2 * n, 2 * n + 1) if d not in held]
    T = sp.lil_matrix((2 * nx * ny, len(kept) + 2))
    for k, freedom in enumerate(kept):
        T[freedom, k] = 1
    for n in plane:
        T[2 * n, len(kept)] = 1
        T[2 * n, len(kept) + 1] = heights[n % ny]
    T = T.tocsr()
    return float(spsolve((T.T @ K @ T).tocsc(), T.T @ load)[-1] / (pitch_mm / 2))
