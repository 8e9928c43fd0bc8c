"""One block glued on a board: how far both bend when the block wants to shrink and the board does not.

The block stands by itself, its sides free, its end grain on the board; what it pulls with reaches the board through
the joint alone. Plane stress in the cut along the strip, block and board as two rectangles that share one edge. The
displacements are series of Legendre polynomials, and the least energy among all of them is the answer (method of
Rayleigh and Ritz). Everything is per mm of width of the board.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from bossage.ranges import within

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]

ALONG, UP_BLOCK, DOWN_BOARD = 5, 6, 3
"""Terms of the series along the strip, up the block, down the board; twice as many change the answer by 2 %."""

REACHES = 1.5
"""Nothing of a joint is felt higher in a block than so many of its widths: the block is cut off there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """Stiffness in the cut: along the strip, square to the joint, and in shear, MPa."""

    along_mpa: float
    through_mpa: float
    shear_mpa: float

    def __post_init__(self) -> None:
        for value in (self.along_mpa, self.through_mpa, self.shear_mpa):
            within("Modulus of elasticity", value, 1, 1e6, "MPa")


@dataclass(frozen=True, slots=True, kw_only=True)
class RibLayer:
    """Glued ribs behind the board, spread over its width: `share` of the width is rib."""

    depth_mm: float
    along_mpa: float
    share: float

    def __post_init__(self) -> None:
        within("Depth of a rib", self.depth_mm, 0.01, 1000, "mm")
        within("Modulus of elasticity", self.along_mpa, 1, 1e6, "MPa")
        within("Share of the width that is rib", self.share, 0, 1, "(ratio)")


@dataclass(frozen=True, slots=True, kw_only=True)
class GluedCell:
    """Curvature under a block, per mm, for a free strain of 1 in each part; positive bulges towards the block.

    `per_faces`: the board's front wants to be longer by 1 than its back, a straight line between. `stiffness_n_mm`:
    moment that bends the cell by 1 per mm, per mm of width.
    """

    per_block: float
    per_board: float
    per_faces: float
    per_ribs: float
    stiffness_n_mm: float


@lru_cache(maxsize=4096)
def glued_cell(
    *,
    block_mm: float,
    height_mm: float,
    covers: float,
    block: Plane,
    board_mm: float,
    board: Plane,
    ribs: RibLayer | None = None,
) -> GluedCell:
    """How one block on its piece of board bends.

    Args:
        block_mm: Size of the block along the strip, 1 to 2000 mm.
        height_mm: How far it stands off the board, 1 to 1000 mm.
        covers: Share of the strip's width that the block covers, above 0 to 1.
        block: Its stiffness.
        board_mm: Thickness of the board, 1 to 100 mm.
        board: Its stiffness.
        ribs: Glued ribs behind it.

    Returns:
        Curvatures under the block; the bare board between two blocks takes no part in it.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        What the block does across the strip, glue that gives (a film of 0.1 mm counts for nothing beside the wood), and
        relaxation: lower the block's moduli for that.

    Source:
        Ritz's method on plane stress. The tests hold it against finite elements (nine-node rectangles, no code shared)
        and, for a block without end, against Timoshenko (1925).
    """
    import numpy as np

    size = within("Size of the block", block_mm, 1, 2000, "mm")
    high = min(within("Height of the block", height_mm, 1, 1000, "mm"), REACHES * size)
    share = within("Covered share", covers, 1e-3, 1, "(ratio)")
    thick = within("Thickness of the board", board_mm, 1, 100, "mm")
    series = _Series(size / 2)
    stiffness = np.zeros((series.terms, series.terms))
    loads = np.zeros((series.terms, 5))  # block, board, faces, ribs, moment
    _add_block(series, stiffness, loads, high, block, share)
    _add_board(series, stiffness, loads, thick, board)
    if ribs is not None:
        _add_ribs(series, stiffness, loads, thick, ribs)
    loads[series.turn, 4] = 1.0
    free = np.arange(series.terms) != series.rise.start  # the whole cell moved up or down does no work
    solved = np.zeros_like(loads)
    solved[free] = np.linalg.solve(stiffness[np.ix_(free, free)], loads[free])
    # the turn of the cell's end over its half length; every odd polynomial is 1 there
    turned = solved[series.turn].sum(axis=0) / series.half_mm
    per = [float(one) for one in turned]
    return GluedCell(
        per_block=per[0], per_board=per[1], per_faces=per[2], per_ribs=per[3], stiffness_n_mm=1 / float(turned[4])
    )


class _Series:
    """Polynomials along the half cell, with their slopes, at the points where the energy is added up.

    Terms stand in this order: `slide` and `turn` of the board's section, `rise` of the joint, then block, then board.
    """

    def __init__(self, half_mm: float) -> None:
        self.half_mm = half_mm
        at, weights, odd, odd_slope, even, even_slope = _along()
        self.weights = weights * half_mm
        self.odd, self.odd_slope = odd, odd_slope / half_mm
        self.even, self.even_slope = even, even_slope / half_mm
        # odd ones that vanish at the cell's end: a plane section there stays plane
        self.ended, self.ended_slope = odd[1:] - at, (odd_slope[1:] - 1) / half_mm
        self.slide, self.turn = slice(0, ALONG), slice(ALONG, 2 * ALONG)
        self.rise = slice(2 * ALONG, 3 * ALONG + 1)
        self.block = 3 * ALONG + 1
        self.board = self.block + (2 * ALONG + 1) * UP_BLOCK
        self.terms = self.board + 2 * ALONG * DOWN_BOARD


@cache
def _along() -> tuple[Floats, ...]:
    """Points from 0 to 1, their weights, and odd and even polynomials with their slopes there."""
    at, weights = _points(2 * ALONG + 4)
    odd, odd_slope = _polynomials([2 * k + 1 for k in range(ALONG)], at)
    even, even_slope = _polynomials([2 * k for k in range(ALONG + 1)], at)
    return at, weights, odd, odd_slope, even, even_slope


@cache
def _away(terms: int, *, ends: bool) -> tuple[Floats, ...]:
    """Points from 0 to 1 away from the joint, weights, shapes that are 0 at it, slopes; with `ends` 0 at 1 as well."""
    at, weights = _points(terms + 4)
    values, slopes = _polynomials(list(range(terms)), 2 * at - 1)
    factor, factor_slope = (at * (1 - at), 1 - 2 * at) if ends else (at, 1 + 0 * at)
    return at, weights, factor * values, factor_slope * values + factor * slopes * 2


def _points(count: int) -> tuple[Floats, Floats]:
    """Gauss's points and weights from 0 to 1."""
    import numpy as np

    points, weights = np.polynomial.legendre.leggauss(count)
    return (points + 1) / 2, weights / 2


def _polynomials(orders: list[int], at: Floats) -> tuple[Floats, Floats]:
    """Legendre polynomials of these orders and their slopes, row by row."""
    import numpy as np
    from numpy.polynomial import legendre

    units = [[0.0] * k + [1.0] for k in orders]
    values = [legendre.legval(at, one) for one in units]
    slopes = [legendre.legval(at, legendre.legder(one)) for one in units]
    return np.array(values), np.array(slopes)


def _spread(along: Floats, away: Floats) -> Floats:
    """Every pair of a shape along and a shape away, at every pair of points."""
    import numpy as np

    pairs: Floats = np.einsum("ia,jb->ijab", along, away).reshape(len(along) * len(away), -1)
    return pairs


def _add_block(series: _Series, K: Floats, F: Floats, size_mm: float, plane: Plane, share: float) -> None:
    import numpy as np

    at, unit_weights, shape, unit_slope = _away(UP_BLOCK, ends=False)
    weights, slope = unit_weights * size_mm, unit_slope / size_mm
    one = np.ones((1, len(at)))
    strain = [np.zeros((series.terms, len(series.weights) * len(at))) for _ in range(3)]
    along, through, shear = strain
    along[series.slide] = _spread(series.odd_slope, one)
    shear[series.rise] = _spread(series.even_slope, one)
    sideways = slice(series.block, series.block + ALONG * UP_BLOCK)
    along[sideways], shear[sideways] = _spread(series.odd_slope, shape), _spread(series.odd, slope)
    upward = slice(sideways.stop, series.board)
    through[upward], shear[upward] = _spread(series.even, slope), _spread(series.even_slope, shape)
    w = _spread(series.weights[None, :], weights[None, :])[0] * share
    _add_energy(K, along, through, shear, w, plane)
    F[:, 0] += along @ w * plane.along_mpa


def _add_board(series: _Series, K: Floats, F: Floats, size_mm: float, plane: Plane) -> None:
    import numpy as np

    at, unit_weights, shape, unit_slope = _away(DOWN_BOARD, ends=False)
    weights, slope = unit_weights * size_mm, unit_slope / size_mm
    _, _, bulge, unit_bulge_slope = _away(DOWN_BOARD, ends=True)
    bulge_slope = unit_bulge_slope / size_mm
    one = np.ones((1, len(at)))
    strain = [np.zeros((series.terms, len(series.weights) * len(at))) for _ in range(3)]
    along, through, shear = strain
    along[series.slide] = _spread(series.odd_slope, one)
    along[series.turn] = _spread(series.odd_slope, -size_mm * at[None, :])
    shear[series.turn] = _spread(series.odd, one)
    shear[series.rise] = _spread(series.even_slope, one)
    # the board lies below the joint: away from it is downward
    sideways = slice(series.board, series.board + (ALONG - 1) * DOWN_BOARD)
    along[sideways], shear[sideways] = _spread(series.ended_slope, bulge), -_spread(series.ended, bulge_slope)
    upward = slice(sideways.stop, series.terms)
    through[upward], shear[upward] = -_spread(series.even, slope), _spread(series.even_slope, shape)
    w = _spread(series.weights[None, :], weights[None, :])[0]
    _add_energy(K, along, through, shear, w, plane)
    F[:, 1] += along @ w * plane.along_mpa
    front = np.tile(1 - at, len(series.weights))
    F[:, 2] += along @ (w * front) * plane.along_mpa


def _add_ribs(series: _Series, K: Floats, F: Floats, board_mm: float, ribs: RibLayer) -> None:
    """Ribs follow the board's section as it slides and turns."""
    low, high = -board_mm - ribs.depth_mm, -board_mm
    per_mm = ribs.along_mpa * ribs.share
    EA, ES, EI = (per_mm * (high**n - low**n) / n for n in (1, 2, 3))
    shapes = (series.odd_slope * series.weights) @ series.odd_slope.T
    K[series.slide, series.slide] += EA * shapes
    K[series.slide, series.turn] += ES * shapes
    K[series.turn, series.slide] += ES * shapes
    K[series.turn, series.turn] += EI * shapes
    pull = series.odd_slope @ series.weights
    F[series.slide, 3] += EA * pull
    F[series.turn, 3] += ES * pull


def _add_energy(K: Floats, along: Floats, through: Floats, shear: Floats, w: Floats, plane: Plane) -> None:
    K += (along * w) @ along.T * plane.along_mpa
    K += (through * w) @ through.T * plane.through_mpa
    K += (shear * w) @ shear.T * plane.shear_mpa
