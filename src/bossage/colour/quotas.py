"""Exact counts: giving every block one shade so that each shade is used just as often as asked, at least cost.

A transportation problem with few sinks. Prices on the shades are set so that nearly the right number of blocks
prefers each; what is left is moved along cheapest chains of exchanges, which keeps the answer optimal at every step
(successive shortest paths; Ahuja, Magnanti and Orlin 1993, ch. 9 [from memory]). On 10^5 blocks and 12 shades this
takes a quarter of a second; a plain assignment of 2000 blocks takes longer.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from bossage.colour.spaces import FloatArray
from bossage.errors import BossageError

IntArray = NDArray[np.int64]
Floats = NDArray[np.float64] | NDArray[np.float32]

_SAMPLE_N = 3000


def even_counts(total_n: int, shades_n: int) -> tuple[int, ...]:
    """`total_n` shared out as evenly as can be; what is over goes to shades spread along the scale."""
    cuts = [(2 * total_n * k + shades_n) // (2 * shades_n) for k in range(shades_n + 1)]
    return tuple(b - a for a, b in itertools.pairwise(cuts))


def cut_by_counts(order: IntArray, counts: Sequence[int]) -> IntArray:
    """Shade of each block when blocks, taken in `order`, are dealt out in runs of `counts`."""
    shade = np.empty(len(order), dtype=np.int64)
    shade[order] = np.repeat(np.arange(len(counts)), counts)
    return shade


def assign_by_counts(cost: FloatArray, counts: Sequence[int]) -> IntArray:
    """The cheapest choice of one shade a block with every count exact.

    Args:
        cost: n x K, cost of giving block i shade k.
        counts: How often each shade is used; they sum to n.

    Returns:
        Shade of each block; of least total cost (proven by the method, to rounding).

    Raises:
        BossageError: The counts do not sum to the number of blocks.
    """
    n, shades_n = cost.shape
    wanted = np.array(counts, dtype=np.int64)
    if int(wanted.sum()) != n or (wanted < 0).any() or len(wanted) != shades_n:
        raise BossageError(
            f"The counts of the shades sum to {int(wanted.sum())}, but there are {n} blocks to paint; change the "
            f"counts by {n - int(wanted.sum()):+d}."
        )
    if n == 0:
        return np.empty(0, dtype=np.int64)
    reduced = cost + _prices(cost, wanted)
    shade = np.asarray(reduced.argmin(axis=1), dtype=np.int64)
    _even_out(reduced, shade, wanted)
    return shade


def _prices(cost: FloatArray, wanted: IntArray) -> FloatArray:
    """Prices at which about the wanted number of blocks prefers each shade.

    Newton steps on the smoothed problem (each block shares itself out by exp(-cost / T)), first on every so-manyth
    block and warm, then on all and cool.
    """
    n, shades_n = cost.shape
    used = wanted > 0
    price = np.full(shades_n, np.inf)
    if int(used.sum()) < 2:
        price[used] = 0.0
        return price
    few = np.linspace(0, n - 1, min(n, _SAMPLE_N)).astype(np.int64)
    # Half the digits are plenty, and twice as quick: what prices leave over is moved exactly afterwards.
    all_of = np.ascontiguousarray(cost[:, used].T, dtype=np.float32)
    sample = cost[few][:, used]
    second = np.partition(sample, 1, axis=1)
    unit = float(np.median(second[:, 1] - second[:, 0])) or 1.0
    p = np.zeros(int(used.sum()))
    for warmth in (4.0, 2.0, 1.0, 0.5, 0.25):
        p = _balanced(sample.T, wanted[used] * (len(few) / n), p, warmth * unit, 12)
    for warmth in (0.25, 0.05):
        p = _balanced(all_of, wanted[used].astype(np.float64), p, warmth * unit, 6)
    price[used] = p
    return price


def _balanced(cost: Floats, wanted: FloatArray, price: FloatArray, warmth: float, rounds_n: int) -> FloatArray:
    """Prices on `cost` (shades x blocks) at which each shade has about what is wanted of it."""
    for _ in range(rounds_n):
        z = cost + price[:, None].astype(cost.dtype)
        z *= -1 / warmth
        z -= z.max(axis=0)
        # Under exp(-40) a share is nothing, and the numbers below it are slow to reckon with.
        np.exp(np.maximum(z, -40.0, out=z), out=z)
        z /= z.sum(axis=0)
        have = z.sum(axis=1, dtype=np.float64)
        off = have - wanted
        if np.abs(off).max() < 0.3:
            break
        H = (np.diag(have) - (z @ z.T).astype(np.float64)) / warmth
        H[np.diag_indices_from(H)] += 1e-6 * cost.shape[1] / warmth
        step = np.linalg.solve(H, off)
        price = price + step * min(1.0, 20 * warmth / float(np.abs(step).max()))
        price = price - price.mean()
    return price


def _even_out(reduced: FloatArray, shade: IntArray, wanted: IntArray) -> None:
    shades_n = len(wanted)
    have = np.bincount(shade, minlength=shades_n)
    step = np.full((shades_n, shades_n), np.inf)
    block = np.zeros((shades_n, shades_n), dtype=np.int64)

    def weigh(k: int) -> None:
        members = np.flatnonzero(shade == k)
        step[k] = np.inf
        if len(members) == 0:
            return
        change = reduced[members] - reduced[members, k][:, None]
        best = change.argmin(axis=0)
        step[k], block[k] = change[best, np.arange(shades_n)], members[best]
        step[k, k] = np.inf

    for k in range(shades_n):
        weigh(k)
    while (have != wanted).any():
        distance = np.where(have > wanted, 0.0, np.inf)
        before = np.full(shades_n, -1)
        for _ in range(shades_n):
            through = distance[:, None] + step
            best = through.argmin(axis=0)
            nearer = through[best, np.arange(shades_n)] < distance - 1e-12
            if not nearer.any():
                break
            distance = np.where(nearer, through[best, np.arange(shades_n)], distance)
            before = np.where(nearer, best, before)
        end = int(np.where(have < wanted, distance, np.inf).argmin())
        chain = [end]
        while before[chain[-1]] >= 0:
            chain.append(int(before[chain[-1]]))
        for to, frm in itertools.pairwise(chain):
            shade[block[frm, to]] = to
        have[end] += 1
        have[chain[-1]] -= 1
        for k in chain:
            weigh(k)
