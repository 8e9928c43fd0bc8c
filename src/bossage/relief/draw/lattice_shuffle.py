"""Kawasaki dynamics in parallel: swaps within whole classes of a lattice, until its filling is forgotten."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from bossage.relief.draw.lattice import Lattice, legal_levels


def shuffle_cells(lat: Lattice, rng: np.random.Generator, *, passes: int) -> int:
    """In each pass every free cell tries one swap with another of its class and group; returns how many pairs swapped.

    The field has to be valid. A swap depends on the walls of the other classes alone, so all swaps of a class are as
    good as one after another, and each is as likely as the swap back.
    """
    swapped = 0
    one = lat.wall.dtype.type(1)
    alike = bool((lat.bars == one << np.arange(lat.graph.L, dtype=lat.bars.dtype)).all())  # a wall is its own level
    for turn in range(passes):
        for cells in lat.classes[turn & 1]:
            if len(cells) < 2:
                continue
            pivot = int(rng.integers(len(cells)))
            legal = legal_levels(lat, cells)
            wall = lat.wall.take(cells)
            level = None if alike else lat.level.take(cells)
            bit = wall if level is None else one << level.astype(legal.dtype)
            other = _mirror(bit, pivot)
            fits = (legal & other) != 0
            fits &= _mirror(fits, pivot)
            fits &= other != bit
            lat.wall[cells] = np.where(fits, other if alike else _mirror(wall, pivot), wall)
            if level is not None:
                lat.level[cells] = np.where(fits, _mirror(level, pivot), level)
            swapped += int(np.count_nonzero(fits)) // 2
    if alike:
        lat.level[lat.place] = np.frexp(lat.wall[lat.place].astype(np.float64))[1] - 1
    return swapped


def _mirror(x: NDArray[Any], pivot: int) -> NDArray[Any]:
    """x[(pivot - i) mod n]: pairs every entry with another, the other way round too."""
    return np.concatenate([x[pivot::-1], x[:pivot:-1]])
