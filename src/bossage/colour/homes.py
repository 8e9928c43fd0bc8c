"""Where families live on a piece, and how far every block is from each home.

Positions are fractions of the piece: x from the left, y from the bottom.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np

from bossage.colour.spaces import FloatArray


class HomeKind(StrEnum):
    """What sort of place a home is."""

    POINT = "point"
    EDGE = "edge"
    CORNER = "corner"
    MIDDLE = "middle"
    RIM = "rim"  # all four edges
    BETWEEN = "between"  # no place of its own: between its neighbours in the order of families
    WHOLE = "whole"  # anywhere


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """Where a family lives. An edge is the side that (x, y) lies on: (0, 0.5) is the left one."""

    kind: HomeKind
    x: float = 0.5
    y: float = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """The face of the whole piece, all leaves, in millimetres."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


# Inverse distance to this power weighs families against each other: 3 keeps a home's surroundings its own.
WEIGHT_POWER: Final = 3.0
_LEAST_DISTANCE: Final = 1e-6


def path_coordinate(centres_mm: FloatArray, box: Box, first: Home, last: Home) -> FloatArray:
    """How far along the way from one home to another each block lies, 0 to 1.

    Between corners and edges by projection, from a point to the rim along the ray, else by the two distances.
    """
    p = _fractions(centres_mm, box)
    if last.kind is HomeKind.RIM and first.kind is not HomeKind.RIM:
        return _ray_share(p, first, box)
    if first.kind is HomeKind.RIM and last.kind is not HomeKind.RIM:
        return 1 - _ray_share(p, last, box)
    straight = {HomeKind.EDGE, HomeKind.CORNER}
    if {first.kind, last.kind} <= straight:
        size = np.array([box.width_mm, box.height_mm])
        a, b = np.array([first.x, first.y]), np.array([last.x, last.y])
        way = (b - a) * size
        length2 = float(way @ way)
        if length2 > 0:
            return np.asarray(np.clip(((p - a) * size) @ way / length2, 0, 1))
    d_first, d_last = _distance(p, first, box), _distance(p, last, box)
    both = d_first + d_last
    return np.where(both > 0, d_first / np.where(both > 0, both, 1.0), 0.5)


def family_weights(centres_mm: FloatArray, box: Box, homes: Sequence[Home]) -> tuple[FloatArray, FloatArray]:
    """Share of each family at each block, and how far out from its home the block lies.

    Returns:
        `weight` (n x families, rows sum to 1) by inverse distance, and `out` (n x families): 0 at the family's own
        home, 1 where another family is as near, 2 at the other's home. A family that lives anywhere has `out` 0.5.
    """
    p = _fractions(centres_mm, box)
    placed = [_settled(homes, i) for i in range(len(homes))]
    distance = np.stack([np.maximum(_distance(p, home, box), _LEAST_DISTANCE) for home in placed], axis=1)
    weight = distance**-WEIGHT_POWER
    weight /= weight.sum(axis=1, keepdims=True)
    out = np.empty_like(distance)
    for i, home in enumerate(placed):
        if home.kind is HomeKind.WHOLE:
            out[:, i] = 0.5
            continue
        rest = np.delete(distance, i, axis=1)
        if rest.shape[1] == 0:
            out[:, i] = distance[:, i] / distance[:, i].max()
            continue
        other = rest.min(axis=1)
        out[:, i] = 2 * distance[:, i] / (distance[:, i] + other)
    return weight, out


def _fractions(centres_mm: FloatArray, box: Box) -> FloatArray:
    size = np.array([box.width_mm, box.height_mm])
    offset = np.asarray(centres_mm, dtype=np.float64) - np.array([box.x_mm, box.y_mm])
    return np.asarray(offset / np.where(size > 0, size, 1))


def _distance(p: FloatArray, home: Home, box: Box) -> FloatArray:
    # In units of the piece's diagonal.
    diagonal = float(np.hypot(box.width_mm, box.height_mm)) or 1.0
    w, h = box.width_mm / diagonal, box.height_mm / diagonal
    if home.kind is HomeKind.WHOLE:
        return np.full(len(p), 0.5)
    if home.kind is HomeKind.RIM:
        sides = [p[:, 0] * w, (1 - p[:, 0]) * w, p[:, 1] * h, (1 - p[:, 1]) * h]
        return np.asarray(np.maximum(np.min(sides, axis=0), 0))
    if home.kind is HomeKind.EDGE:
        if abs(home.x - 0.5) >= abs(home.y - 0.5):
            return np.asarray(np.abs(p[:, 0] - home.x) * w)
        return np.asarray(np.abs(p[:, 1] - home.y) * h)
    return np.asarray(np.hypot((p[:, 0] - home.x) * w, (p[:, 1] - home.y) * h))


def _ray_share(p: FloatArray, home: Home, box: Box) -> FloatArray:
    """Distance from a home over the distance at which the same ray leaves the piece."""
    if home.kind is HomeKind.EDGE:
        d, rim = _distance(p, home, box), _distance(p, Home(kind=HomeKind.RIM), box)
        return np.asarray(d / np.maximum(d + rim, _LEAST_DISTANCE))
    gap = p - np.array([home.x, home.y])
    room = np.where(gap > 0, 1 - np.array([home.x, home.y]), np.array([home.x, home.y]))
    share = np.abs(gap) / np.maximum(room, _LEAST_DISTANCE)
    return np.asarray(np.clip(share.max(axis=1), 0, 1))


def _settled(homes: Sequence[Home], i: int) -> Home:
    home = homes[i]
    if home.kind is not HomeKind.BETWEEN:
        return home
    before = next((h for h in reversed(homes[:i]) if h.kind is not HomeKind.BETWEEN), None)
    after = next((h for h in homes[i + 1 :] if h.kind is not HomeKind.BETWEEN), None)
    ends = [h for h in (before, after) if h is not None]
    if not ends:
        return Home(kind=HomeKind.WHOLE)
    x, y = (float(np.mean([getattr(h, axis) for h in ends])) for axis in ("x", "y"))
    return Home(kind=HomeKind.POINT, x=x, y=y)
