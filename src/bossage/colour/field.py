"""The fade: which shade every block gets, over any number of families and homes, on blocks anywhere.

Along a path all shades stand in one order and blocks are sorted and cut, which no other way can beat for any convex
cost. Families that each spread from a home of their own are a choice among all shades, solved exactly by
`quotas.assign_by_counts`. Grain mixes neighbouring shades by a blue-noise rank instead of leaving seams.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bossage.colour.differ import part_neighbours
from bossage.colour.homes import Box, Home, HomeKind, family_weights, path_coordinate
from bossage.colour.quotas import assign_by_counts, cut_by_counts, even_counts
from bossage.colour.rank import blue_noise_ranks
from bossage.colour.spaces import FloatArray
from bossage.errors import BossageError, OutOfRange

IntArray = NDArray[np.int64]

GRAIN_MOST: Final = 1.5  # at 1.5 one neighbour pair in forty lies two shades apart, at 2 one in ten
# A family e-fold less at home costs as much as two shades off within the right family (our choice, no source).
_FAMILY_COST: Final = 4.0
# Even with no grain the rank decides between blocks that are alike, so that no row or side is favoured.
_GRAIN_LEAST: Final = 1e-3
_DRIFT_WAVES: Final = 5
_SEED_STRIDE: Final = 7919  # keeps the ranks of families apart for neighbouring seeds


class FadeShape(StrEnum):
    """How shades spread over the piece."""

    PATH = "path"  # all shades in one order from the first family's home to the last one's
    FREE = "free"  # each family around its own home
    BANDS = "bands"  # flat fields of one shade with drifting borders, in order along the path


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyPlace:
    """A family as the fade sees it: how many shades, from its home outward, and where it lives."""

    shades_n: int
    home: Home


@dataclass(frozen=True, slots=True, kw_only=True)
class Differ:
    """Neighbours that may not be alike: pairs of blocks, and which two shades clash (K x K, symmetric)."""

    edges: IntArray
    clash: NDArray[np.bool_]
    max_rounds: int = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The fade as laid: one entry a block."""

    shade: IntArray  # index into all shades, families one after another
    off: FloatArray  # shades by which the block differs from what the smooth fade wants; + is further from home
    counts: tuple[int, ...]
    clashes: int  # neighbour pairs still alike, 0 unless they had to differ and could not


def spread_shades(
    centres_mm: FloatArray,
    families: Sequence[FamilyPlace],
    *,
    seed: int,
    box: Box | None = None,
    shape: FadeShape = FadeShape.PATH,
    grain: float = 1.0,
    counts: Sequence[int] | None = None,
    free_counts: bool = False,
    pins: Mapping[int, int] | None = None,
    differ: Differ | None = None,
) -> Spread:
    """Give every block its shade.

    Args:
        centres_mm: n x 2, x to the right, y up; leaves side by side lie where they hang.
        families: In the order of the path; shades are numbered through them.
        seed: Chooses one of many equally good fades; same seed, same fade.
        box: Face of the whole piece; by default the rectangle round all centres.
        shape: How shades spread.
        grain: 0 (seams) to 1.5 (coarse): by how many shades a block may stray from the smooth fade, in all.
        counts: Blocks for each shade, summing to n; by default as even as can be.
        free_counts: Let counts fall as the fade has them; `counts` must then be None. Bands are always counted.
        pins: Shade of settled blocks, by block; they count towards their shade.
        differ: Neighbours that may not be alike.

    Raises:
        BossageError: Counts do not sum to n, or more blocks are pinned to a shade than it may have.
        OutOfRange: Grain outside 0 to 1.5.
    """
    if not 0 <= grain <= GRAIN_MOST:
        raise OutOfRange("Grain", grain, 0, GRAIN_MOST, "shades")
    centres = np.asarray(centres_mm, dtype=np.float64).reshape(-1, 2)
    n, shades_n = len(centres), sum(family.shades_n for family in families)
    settled = dict(pins or {})
    total = None if free_counts else tuple(counts) if counts is not None else even_counts(n, shades_n)
    left = _left_over(total, settled, n, shades_n)
    fixed = np.zeros(n, dtype=bool)
    fixed[list(settled)] = True
    free = np.flatnonzero(~fixed)
    face = box or _box_round(centres)
    own_n = len(families) if shape is FadeShape.FREE else 0
    ranks = blue_noise_ranks(centres, [seed, *(seed + _SEED_STRIDE * (f + 1) for f in range(own_n))])
    rank = ranks[0]
    noise = (rank + 0.5) / max(n, 1) - 0.5

    shade = np.empty(n, dtype=np.int64)
    for block, k in settled.items():
        shade[block] = k
    # What the smooth fade wants, in shades; only its order matters where counts are exact.
    if shape is FadeShape.FREE:
        cost, wanted = _free_cost(centres, face, families, noise, grain, ranks[1:])
        part = cost[free]
        shade[free] = part.argmin(axis=1) if left is None else assign_by_counts(part, left)
    else:
        u = _path(centres, face, families, noise)
        if shape is FadeShape.BANDS:
            u, grain = u + _drift(centres, face, seed) / shades_n, 0.0
            left = left if left is not None else _left_over(even_counts(n, shades_n), settled, n, shades_n)
        smooth = u * (shades_n - 1)
        if left is None:
            key = smooth + grain * noise
            shade[free] = np.clip(np.rint(key[free]), 0, shades_n - 1).astype(np.int64)
        else:
            smooth = _by_counts(u, free, left)
            key = np.round(smooth + max(grain, _GRAIN_LEAST) * noise, 9)
            shade[free] = cut_by_counts(np.argsort(key[free], kind="stable"), left)
        cost = None
    clashes = 0
    if differ is not None and len(differ.edges):
        misfit = cost if cost is not None else (smooth[:, None] - np.arange(shades_n)) ** 2
        clashes = part_neighbours(
            shade,
            misfit,
            differ.edges,
            differ.clash,
            fixed=fixed,
            keep_counts=left is not None,
            order=np.argsort(rank),
            max_rounds=differ.max_rounds,
        )
    off = shade - smooth if cost is None else _off_in_family(shade, wanted, families)
    shade.setflags(write=False)
    off.setflags(write=False)
    used = tuple(int(v) for v in np.bincount(shade, minlength=shades_n))
    return Spread(shade=shade, off=off, counts=used, clashes=clashes)


def _left_over(total: Sequence[int] | None, pins: Mapping[int, int], n: int, shades_n: int) -> tuple[int, ...] | None:
    if total is None:
        return None
    if len(total) != shades_n or sum(total) != n:
        raise BossageError(
            f"The counts give {sum(total)} blocks over {len(total)} shades; there are {n} blocks and {shades_n} "
            f"shades. Change the counts by {n - sum(total):+d} in all."
        )
    left = list(total)
    for k in pins.values():
        left[k] -= 1
    for k, rest in enumerate(left):
        if rest < 0:
            raise BossageError(
                f"{total[k] - rest} blocks are pinned to shade number {k + 1}, which may have {total[k]}; "
                f"raise its count or free {-rest} of them."
            )
    return tuple(left)


def _box_round(centres: FloatArray) -> Box:
    if len(centres) == 0:
        return Box(x_mm=0, y_mm=0, width_mm=1, height_mm=1)
    low, size = centres.min(axis=0), np.ptp(centres, axis=0)
    return Box(x_mm=float(low[0]), y_mm=float(low[1]), width_mm=float(size[0]), height_mm=float(size[1]))


def _path(centres: FloatArray, box: Box, families: Sequence[FamilyPlace], noise: FloatArray) -> FloatArray:
    placed = [f.home for f in families if f.home.kind not in (HomeKind.BETWEEN, HomeKind.WHOLE)]
    if not placed:
        # Nobody has a place: shades are strewn evenly, which is what a blue-noise rank is.
        return noise + 0.5
    if len(placed) == 1:
        weight_free = family_weights(centres, box, placed)[1][:, 0]
        return weight_free if families[0].home is placed[0] else 1 - weight_free
    return path_coordinate(centres, box, placed[0], placed[-1])


def _by_counts(u: FloatArray, free: IntArray, left: Sequence[int]) -> FloatArray:
    """What the smooth fade wants of each block, in shades, once the counts have bent the scale."""
    order = np.sort(u[free])
    edges = np.concatenate([[0], np.cumsum(left)]).astype(np.float64)
    low, high = np.searchsorted(order, u - 1e-9), np.searchsorted(order, u + 1e-9, side="right")
    middle = (low + high) / 2
    # A shade without blocks makes a step in the curve; np.interp takes its last value there, which is as good as any.
    return np.interp(middle, edges, np.arange(len(edges))) - 0.5


def _free_cost(
    centres: FloatArray,
    box: Box,
    families: Sequence[FamilyPlace],
    noise: FloatArray,
    grain: float,
    ranks: Sequence[IntArray],
) -> tuple[FloatArray, FloatArray]:
    weight, out = family_weights(centres, box, [family.home for family in families])
    g = max(grain, _GRAIN_LEAST)
    columns, wanted = [], []
    for f, family in enumerate(families):
        own = (ranks[f] + 0.5) / max(len(centres), 1)
        # With Gumbel noise the least cost falls on each family as often as its weight says (Gumbel-max).
        at_home = np.log(weight[:, f]) - g * np.log(-np.log(own))
        t = own if family.home.kind is HomeKind.WHOLE else out[:, f]
        smooth = t * (family.shades_n - 1)
        # Beyond its last shade a family costs no more for being far: how far it reaches is its weight's to say.
        beyond = np.maximum(smooth - (family.shades_n - 1), 0.0) ** 2 + _FAMILY_COST * at_home
        for k in range(family.shades_n):
            columns.append((smooth + g * noise - k) ** 2 - beyond)
            wanted.append(smooth)
    return np.stack(columns, axis=1), np.stack(wanted, axis=1)


def _off_in_family(shade: IntArray, wanted: FloatArray, families: Sequence[FamilyPlace]) -> FloatArray:
    """Stray of each block from what its own family's smooth scale, bent to the counts as used, wants there."""
    off = np.zeros(len(shade))
    first = 0
    for family in families:
        members = np.flatnonzero((shade >= first) & (shade < first + family.shades_n))
        used = np.bincount(shade[members] - first, minlength=family.shades_n)
        way = wanted[members, first] if len(members) else np.empty(0)
        off[members] = shade[members] - first - _by_counts(way, np.arange(len(members)), [int(v) for v in used])
        first += family.shades_n
    return off


def _drift(centres: FloatArray, box: Box, seed: int) -> FloatArray:
    """A slow wave over the piece, about one band high, that keeps borders of bands from being straight."""
    rng = np.random.Generator(np.random.PCG64([seed, 1]))
    size = max(box.width_mm, box.height_mm) or 1.0
    wave = np.zeros(len(centres))
    for _ in range(_DRIFT_WAVES):
        turn, phase = rng.uniform(0, 2 * np.pi, 2)
        length = size * rng.uniform(0.4, 1.2)
        way = np.array([np.cos(turn), np.sin(turn)])
        wave += np.sin(2 * np.pi * (centres @ way) / length + phase)
    return np.asarray(wave / np.sqrt(_DRIFT_WAVES / 2) / 2)
