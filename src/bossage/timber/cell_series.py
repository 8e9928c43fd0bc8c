"""A block or a board as its joint feels it: the stiffness against every way in which the joint can move.

Displacements in the cut are series of Legendre polynomials. All that moves inside a part and not at its joint is
worked out beforehand (static condensation), so that a cell of block and board is a small system of the joint alone.
Lengths count as shares: along the strip of half the block, away from the joint of the part's own depth; stiffness
counts in that along the strip. So one matrix holds for every part of one shape.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]

ALONG, UP_BLOCK, DOWN_BOARD = 5, 6, 3
"""Terms of the series along the strip, up the block, down the board; twice as many change the answer by 2 %."""

SLIDE, TURN, RISE = slice(0, ALONG), slice(ALONG, 2 * ALONG), slice(2 * ALONG, 3 * ALONG)
"""How the joint moves: its points slide along the strip, the board's section turns, the joint rises. A turn counts as
the slide of the board's back, against that of the joint. The rise leaves out that of the whole cell: no energy."""

MOST = 3 * ALONG

SHAPES_MOST = 4096
"""Shapes of parts that are kept; a matrix takes 2 kB."""


@dataclass(frozen=True, slots=True)
class _Energies:
    """Energy of each pair of movements for a part of unit shares: see `_condensed`."""

    along: Floats
    through: Floats
    shear_rise: Floats
    shear_both: Floats
    shear_slide: Floats


@lru_cache(maxsize=SHAPES_MOST)
def block_on_joint(depth_over_half: float, through: float, shear: float) -> Floats:
    """Stiffness of a block against its joint, over its modulus along the strip; it does not feel a turn.

    Args:
        depth_over_half: Its height over half its size.
        through: Its modulus square to the joint over that along the strip.
        shear: Its shear modulus over that along the strip.
    """
    return _condensed(_block_energies(), depth_over_half, through, shear)


@lru_cache(maxsize=SHAPES_MOST)
def board_on_joint(depth_over_half: float, through: float, shear: float) -> Floats:
    """The same of the board below: its thickness over half the block's size, its moduli over that along."""
    return _condensed(_board_energies(), depth_over_half, through, shear)


@cache
def stretches() -> Floats:
    """Energy of each pair of slides in a thread along the strip."""
    import numpy as np

    _, weights, _, odd_slope, _, _ = _along()
    found: Floats = (odd_slope * weights) @ odd_slope.T
    return np.asarray(found)


def _condensed(energies: _Energies, depth: float, through: float, shear: float) -> Floats:
    """Slopes along count once per half block and slopes away once per depth, so each energy scales by itself."""
    import numpy as np

    K = (
        energies.along * depth
        + energies.through * (through / depth)
        + energies.shear_rise * (shear * depth)
        + energies.shear_both * shear
        + energies.shear_slide * (shear / depth)
    )
    inside = K[MOST:, :MOST]
    found: Floats = K[:MOST, :MOST] - inside.T @ np.linalg.solve(K[MOST:, MOST:], inside)
    found.setflags(write=False)
    return found


@cache
def _block_energies() -> _Energies:
    import numpy as np

    _, _, odd, odd_slope, even, even_slope = _along()
    at, weights, shape, slope = _away(UP_BLOCK, ends=False)
    one = np.ones((1, len(at)))
    sideways = slice(MOST, MOST + ALONG * UP_BLOCK)
    upward = slice(sideways.stop, sideways.stop + (ALONG + 1) * UP_BLOCK)
    u_along, u_away, w_along, w_away = _nothing(upward.stop, len(at))
    u_along[SLIDE] = _spread(odd_slope, one)
    w_along[RISE] = _spread(even_slope[1:], one)
    u_along[sideways], u_away[sideways] = _spread(odd_slope, shape), _spread(odd, slope)
    w_along[upward], w_away[upward] = _spread(even_slope, shape), _spread(even, slope)
    return _energies(u_along, u_away, w_along, w_away, weights)


@cache
def _board_energies() -> _Energies:
    """The board lies below the joint, so away from the joint is downward."""
    import numpy as np

    along_at, _, odd, odd_slope, even, even_slope = _along()
    # odd ones that vanish at the cell's end: a plane section there stays plane
    ended, ended_slope = odd[1:] - along_at, odd_slope[1:] - 1
    at, weights, shape, slope = _away(DOWN_BOARD, ends=False)
    _, _, bulge, bulge_slope = _away(DOWN_BOARD, ends=True)
    one = np.ones((1, len(at)))
    sideways = slice(MOST, MOST + (ALONG - 1) * DOWN_BOARD)
    upward = slice(sideways.stop, sideways.stop + (ALONG + 1) * DOWN_BOARD)
    u_along, u_away, w_along, w_away = _nothing(upward.stop, len(at))
    u_along[SLIDE] = _spread(odd_slope, one)
    u_along[TURN], u_away[TURN] = _spread(odd_slope, -at[None, :]), _spread(odd, one)
    w_along[RISE] = _spread(even_slope[1:], one)
    u_along[sideways], u_away[sideways] = _spread(ended_slope, bulge), -_spread(ended, bulge_slope)
    w_along[upward], w_away[upward] = _spread(even_slope, shape), -_spread(even, slope)
    return _energies(u_along, u_away, w_along, w_away, weights)


def _nothing(terms: int, points: int) -> tuple[Floats, Floats, Floats, Floats]:
    """Slopes of both displacements along the strip and away from the joint, at every pair of points."""
    import numpy as np

    columns = len(_along()[1]) * points
    return (
        np.zeros((terms, columns)),
        np.zeros((terms, columns)),
        np.zeros((terms, columns)),
        np.zeros((terms, columns)),
    )


def _energies(u_along: Floats, u_away: Floats, w_along: Floats, w_away: Floats, weights: Floats) -> _Energies:
    w = _spread(_along()[1][None, :], weights[None, :])[0]
    both = (w_along * w) @ u_away.T
    return _Energies(
        along=(u_along * w) @ u_along.T,
        through=(w_away * w) @ w_away.T,
        shear_rise=(w_along * w) @ w_along.T,
        shear_both=both + both.T,
        shear_slide=(u_away * w) @ u_away.T,
    )


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
