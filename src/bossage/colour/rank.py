"""A blue-noise rank for points anywhere: whatever share of the lowest ranks is taken, they lie evenly spread.

Up to VOID_CLUSTER_MOST points by void-and-cluster (Ulichney 1993 [from memory]), weighed so that rims and mixed
footprints are not favoured; above, by sharpening a random rank against its nearest neighbours, which is as good for
middling cuts and little better than chance for the first twentieth. Energies are whole numbers, so that every
machine ranks alike.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bossage.colour.spaces import FloatArray

IntArray = NDArray[np.int64]

VOID_CLUSTER_MOST: Final = 4096
_SIGMA_SPACINGS: Final = 1.5  # Ulichney's value for a square lattice
_REACH_SIGMAS: Final = 3.0
_START_SHARE: Final = 0.1
_RIM_STEPS: Final = 8  # classes of how much of the usual neighbourhood a block has: corner, outermost row, next row...
_SHARPEN_ROUNDS: Final = 8
_SHARPEN_REACH_SPACINGS: Final = 2.05
_HALF: Final = 32  # bits: two numbers of points in one whole number
_UNIT: Final = 1 << 20  # kernel 1.0 as a whole number
_SHARPEN_UNIT: Final = 1 << 10


def blue_noise_rank(points_mm: FloatArray, seed: int) -> IntArray:
    """Rank 0..n-1 of every point, spread as evenly as can be at every cut.

    Args:
        points_mm: n x 2 centres; only their relative distances matter.
        seed: Chooses one of many equally good ranks.
    """
    return blue_noise_ranks(points_mm, (seed,))[0]


def blue_noise_ranks(points_mm: FloatArray, seeds: Sequence[int]) -> tuple[IntArray, ...]:
    """Several ranks of the same points, one a seed; neighbours are looked for once only."""
    n = len(points_mm)
    span = np.ptp(points_mm, axis=0) if n else np.zeros(2)
    least = span.max() / max(n, 1)
    spacing = float(np.sqrt(max(span[0], least) * max(span[1], least) / max(n, 1)))
    draws = [np.random.Generator(np.random.PCG64(seed)) for seed in seeds]
    if n < 3 or spacing == 0:
        return tuple(rng.permutation(n).astype(np.int64) for rng in draws)
    near = _nearness(points_mm, spacing, small=n <= VOID_CLUSTER_MOST)
    ranks = [_void_and_cluster(near, rng) for rng in draws] if n <= VOID_CLUSTER_MOST else _sharpened(near, draws)
    return tuple(_rims_levelled(rank, near) for rank in ranks)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Nearness:
    start: IntArray
    other: IntArray
    push: IntArray  # kernel, whole numbers


def _nearness(points: FloatArray, spacing: float, *, small: bool) -> _Nearness:
    sigma = (_SIGMA_SPACINGS if small else 1.0) * spacing
    reach = _REACH_SIGMAS * sigma if small else _SHARPEN_REACH_SPACINGS * spacing
    start, other, distance = neighbours_within(points, reach)
    unit = _UNIT if small else _SHARPEN_UNIT
    push = np.rint(unit * np.exp(-0.5 * (distance / sigma) ** 2)).astype(np.int64)
    return _Nearness(start=start, other=other, push=push)


def neighbours_within(points_mm: FloatArray, radius_mm: float) -> tuple[IntArray, IntArray, FloatArray]:
    """Every other point within a radius of each point, by hashing points into square cells of that size.

    Returns:
        `start` (n + 1), `other` and `distance_mm`: the neighbours of point i are `other[start[i]:start[i + 1]]`.
    """
    n = len(points_mm)
    cell = np.floor((points_mm - points_mm.min(axis=0)) / radius_mm).astype(np.int64) + 1
    width = int(cell[:, 1].max()) + 2
    key = cell[:, 0] * width + cell[:, 1]
    order = np.argsort(key, kind="stable")
    key = key[order]
    x, y = np.ascontiguousarray(points_mm[order].T)
    found = []
    # Each pair once: further on in the same three cells above one another, or in the three cells to the right. Those
    # three are neighbours in the key, so one range covers them.
    for dx in (0, 1):
        low = np.searchsorted(key, key + width - 1, side="left") if dx else np.arange(1, n + 1)
        size = np.searchsorted(key, key + dx * width + 1, side="right") - low
        i = np.repeat(np.arange(n), size)
        j = np.arange(len(i)) + np.repeat(low - (np.cumsum(size) - size), size)
        near = (x[i] - x[j]) ** 2 + (y[i] - y[j]) ** 2 <= radius_mm * radius_mm
        one, other = order[i[near]], order[j[near]]
        found += [one << _HALF | other, other << _HALF | one]
    both = np.sort(np.concatenate(found))
    i, j = both >> _HALF, both & ((1 << _HALF) - 1)
    start = np.concatenate([[0], np.cumsum(np.bincount(i, minlength=n))]).astype(np.int64)
    gap_x, gap_y = (points_mm[i, axis] - points_mm[j, axis] for axis in (0, 1))
    return start, j, np.sqrt(gap_x * gap_x + gap_y * gap_y)


def _void_and_cluster(near: _Nearness, rng: np.random.Generator) -> IntArray:
    start, other, kernel = near.start, near.other, near.push
    n = len(start) - 1
    ends = list(itertools.pairwise(start.tolist()))
    neighbour, push = [other[a:b] for a, b in ends], [kernel[a:b] for a, b in ends]
    most = np.array([_UNIT + part.sum() for part in push], dtype=np.float64)
    # What counts is energy beyond what a mean filling would give, in units of its own scatter: at a rim, and among
    # small blocks, there are fewer or more neighbours, and neither may look like a void or a cluster for that.
    scatter = np.array([np.sqrt(float(_UNIT) ** 2 + (part.astype(np.float64) ** 2).sum()) for part in push])
    energy = np.zeros(n, dtype=np.int64)
    on = np.zeros(n, dtype=bool)
    only_on, only_off = np.full(n, -np.inf), np.zeros(n)

    def put(i: int, sign: int) -> None:
        on[i] = sign > 0
        only_on[i], only_off[i] = (0.0, np.inf) if sign > 0 else (-np.inf, 0.0)
        energy[neighbour[i]] += sign * push[i]
        energy[i] += sign * _UNIT

    def tightest(filled: int) -> int:
        return int(np.argmax((energy - most * (filled / n)) / scatter + only_on))

    def emptiest(filled: int) -> int:
        return int(np.argmin((energy - most * (filled / n)) / scatter + only_off))

    first = max(1, int(_START_SHARE * n))
    for i in rng.permutation(n)[:first]:
        put(int(i), 1)
    for _ in range(4 * n):
        i = tightest(first)
        put(i, -1)
        j = emptiest(first)
        put(j, 1)
        if i == j:
            break
    rank = np.empty(n, dtype=np.int64)
    chosen = np.flatnonzero(on)
    for place in range(first - 1, -1, -1):
        i = tightest(place + 1)
        rank[i] = place
        put(i, -1)
    for i in chosen:
        put(int(i), 1)
    for place in range(first, n):
        i = emptiest(place)
        rank[i] = place
        put(i, 1)
    return rank


def _rims_levelled(rank: IntArray, near: _Nearness) -> IntArray:
    """Deal ranks out so that blocks at a rim get no lower ones than the rest.

    Evenly spread points crowd a rim, where nothing pushes back; left alone a rim would come out a tenth of a shade off.
    """
    n = len(rank)
    around = np.diff(np.concatenate([[0], np.cumsum(near.push)])[near.start])
    median = max(int(np.median(around)), 1)
    row = np.minimum(_RIM_STEPS * around // median, _RIM_STEPS)
    place = np.empty(n)
    for kind in np.flatnonzero(np.bincount(row)):
        members = np.flatnonzero(row == kind)
        place[members[np.argsort(rank[members])]] = (np.arange(len(members)) + 0.5) / max(len(members), 1)
    level = np.empty(n, dtype=np.int64)
    level[np.lexsort((rank, np.round(place, 9)))] = np.arange(n)
    return level


def _sharpened(near: _Nearness, draws: Sequence[np.random.Generator]) -> list[IntArray]:
    from scipy.sparse import csr_matrix

    n = len(near.start) - 1
    values = np.stack([rng.permutation(n).astype(np.int64) for rng in draws], axis=1)
    pull = csr_matrix((near.push, near.other, near.start), shape=(n, n))
    most = np.asarray(pull.sum(axis=1)).reshape(-1, 1)
    alone = most == 0
    bits = n.bit_length()
    place = np.empty(n, dtype=np.int64)
    for _ in range(_SHARPEN_ROUNDS):
        around = np.where(alone, values, (pull @ values) // np.maximum(most, 1))
        # Each value rides in the low bits of its own key: sorting keys is quicker than sorting places by them, and as
        # no two are alike the quickest sort gives the same order everywhere.
        keys = (values - around) << bits | values
        for k in range(len(draws)):
            place[np.sort(keys[:, k]) & ((1 << bits) - 1)] = np.arange(n)
            values[:, k] = place[values[:, k]]
    return [np.ascontiguousarray(column) for column in values.T]
