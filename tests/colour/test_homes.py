"""How far blocks are from homes, by hand on a piece of 80 by 60 mm, whose diagonal is 100 mm."""

from __future__ import annotations

import numpy as np
import pytest

from bossage.colour.homes import Box, Home, HomeKind, family_weights, path_coordinate

PIECE = Box(x_mm=500, y_mm=200, width_mm=80, height_mm=60)
RIM = Home(kind=HomeKind.RIM)
# Left, right, below, above: each 10 mm inside its side, in the middle of it.
INSIDE_MM = np.array([[510.0, 230], [570, 230], [540, 210], [540, 250]])


def test_every_side_of_the_piece_is_as_near_to_a_family_of_the_rim() -> None:
    # A family that lives anywhere is half a diagonal away, so `out` is 2 · 10 / (10 + 50).
    _, out = family_weights(INSIDE_MM, PIECE, [RIM, Home(kind=HomeKind.WHOLE)])
    assert out[:, 0] == pytest.approx([1 / 3] * 4)
    on_mm = np.array([[500.0, 230], [580, 230], [540, 200], [540, 260], [500, 200], [580, 260]])
    _, out = family_weights(on_mm, PIECE, [RIM, Home(kind=HomeKind.WHOLE)])
    assert out[:, 0] == pytest.approx([0] * 6, abs=1e-5)


def test_a_path_from_a_side_to_the_rim_weighs_the_nearest_side() -> None:
    left = Home(kind=HomeKind.EDGE, x=0, y=0.5)
    # From the left side 10, 70, 40 and 40 mm; from the nearest side 10 mm each.
    u = path_coordinate(INSIDE_MM, PIECE, left, RIM)
    assert u == pytest.approx([10 / 20, 70 / 80, 40 / 50, 40 / 50])


def test_a_family_of_a_side_is_as_far_out_as_its_blocks_lie_from_that_side() -> None:
    for home, from_side_mm in (
        (Home(kind=HomeKind.EDGE, x=1, y=0.5), [70, 10, 40, 40]),
        (Home(kind=HomeKind.EDGE, x=0.5, y=0), [30, 30, 10, 50]),
        (Home(kind=HomeKind.POINT, x=0.5, y=0.5), [30, 30, 20, 20]),
    ):
        _, out = family_weights(INSIDE_MM, PIECE, [home, Home(kind=HomeKind.WHOLE)])
        assert out[:, 0] == pytest.approx([2 * far / (far + 50) for far in from_side_mm])
