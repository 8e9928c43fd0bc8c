"""Plain grids of blocks for tests of the fade."""

from __future__ import annotations

import numpy as np


def grid(columns: int, rows: int, pitch_mm: float = 60.0) -> np.ndarray:
    """Centres row by row from below."""
    x, y = np.meshgrid(np.arange(columns), np.arange(rows))
    return np.stack([x.ravel(), y.ravel()], axis=1) * pitch_mm


def grid_edges(columns: int, rows: int) -> np.ndarray:
    """Neighbours that share a side."""
    i = np.arange(columns * rows).reshape(rows, columns)
    across = np.stack([i[:, :-1].ravel(), i[:, 1:].ravel()], axis=1)
    up = np.stack([i[:-1].ravel(), i[1:].ravel()], axis=1)
    return np.concatenate([across, up])
