"""How a laid fade looks: seams, clumps, accidental figures, and whether height and shade go together by chance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bossage.colour.spaces import FloatArray

IntArray = NDArray[np.int64]

# Neighbours' strays of an ungrained slow fade agree at about +0.5, of a blue-noise one at -0.2; between them lies
# what the eye takes for stripes (measured on 36 x 24 blocks, 8 shades).
BANDING_MOST: Final = 0.25
# A block this many shades off the smooth fade can be part of a figure.
_FIGURE_OFF: Final = 0.75
_SHUFFLES_N: Final = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class FadeMeasures:
    """What was measured on a laid fade."""

    banding: float  # correlation of neighbours' strays from the smooth fade; above BANDING_MOST stripes show
    largest_patch: int  # most blocks of one shade that hang together
    largest_patch_share: float  # the largest such patch over its own shade's count, the worst shade of all
    stray_patch: int  # most blocks hanging together that are all too light, or all too dark, for their place
    stray_patch_usual: int  # what 19 in 20 shufflings of the same strays stay within
    height_correlation: float | None  # of level and shade lightness; None without levels
    height_limit: float | None  # two standard errors of it: beyond, height and shade go together


def measure_fade(
    shade: IntArray,
    off: FloatArray,
    edges: IntArray,
    *,
    lightness: ArrayLike | None = None,
    level_mm: ArrayLike | None = None,
    seed: int = 0,
) -> FadeMeasures:
    """Measure a laid fade.

    Args:
        shade: Shade of each block.
        off: Shades by which each block strays from the smooth fade (`Spread.off`).
        edges: m x 2 pairs of neighbours.
        lightness: CIE lightness of each shade; by default the shade's number stands for it.
        level_mm: Level of each block; None leaves height out.
        seed: For the shufflings that a figure is compared with.
    """
    counts = np.bincount(shade)
    patch = _patches(len(shade), edges[shade[edges[:, 0]] == shade[edges[:, 1]]])
    size = np.bincount(patch)
    share = size[patch] / counts[shade]
    # A shade of three blocks is a patch of its own by nature.
    telling = counts[shade] >= 4
    rng = np.random.Generator(np.random.PCG64(seed))
    usual = [_stray_patch(rng.permutation(off), edges) for _ in range(_SHUFFLES_N)]
    correlation = limit = None
    if level_mm is not None:
        tone = np.asarray(shade if lightness is None else np.asarray(lightness)[shade], dtype=np.float64)
        correlation = _correlation(np.asarray(level_mm, dtype=np.float64), tone)
        limit = 2 / np.sqrt(max(len(shade) - 1, 1))
    return FadeMeasures(
        banding=banding(off, edges),
        largest_patch=int(size.max()) if len(size) else 0,
        largest_patch_share=float(share[telling].max()) if telling.any() else 0.0,
        stray_patch=_stray_patch(off, edges),
        stray_patch_usual=int(np.quantile(usual, 0.95, method="higher")),
        height_correlation=correlation,
        height_limit=None if limit is None else float(limit),
    )


def banding(off: FloatArray, edges: IntArray) -> float:
    """Correlation of neighbours' strays from the smooth fade: + for seams and stripes, - for a good grain."""
    return _correlation(
        np.concatenate([off[edges[:, 0]], off[edges[:, 1]]]), np.concatenate([off[edges[:, 1]], off[edges[:, 0]]])
    )


def _stray_patch(off: FloatArray, edges: IntArray) -> int:
    largest = 0
    for sign in (1, -1):
        odd = sign * off > _FIGURE_OFF
        if odd.any():
            patch = _patches(len(off), edges[odd[edges[:, 0]] & odd[edges[:, 1]]])
            largest = max(largest, int(np.bincount(patch[odd]).max()))
    return largest


def _patches(n: int, links: IntArray) -> IntArray:
    """Number of the patch that each block belongs to, by passing the least number along all links until none changes.

    scipy has this too, but importing it costs a plan more than all its other measures together.
    """
    least = np.arange(n, dtype=np.int64)
    one, other = links[:, 0], links[:, 1]
    while True:
        before = least.copy()
        low = np.minimum(least[one], least[other])
        np.minimum.at(least, one, low)
        np.minimum.at(least, other, low)
        least = least[least]  # halves the way to the patch's least block in each round
        if np.array_equal(least, before):
            return np.unique(least, return_inverse=True)[1].reshape(-1)


def _correlation(x: FloatArray, y: FloatArray) -> float:
    if not len(x):
        return 0.0  # a piece of one block has no neighbours
    dx, dy = x - x.mean(), y - y.mean()
    both = float(np.sqrt((dx @ dx) * (dy @ dy)))
    return 0.0 if both < 1e-12 else float(dx @ dy) / both
