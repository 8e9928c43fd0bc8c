"""Convex cross-sections: shared or not, swept, centred; laws of convex sets, and figures by hand."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.body.solids import Cuboid, area2_nm2, centroid_nm, depth_shared_nm, hull, rectangle, swept

POINT = st.tuples(st.integers(-1000, 1000), st.integers(-1000, 1000))
# three corners that are no line, and some more
POINTS = st.tuples(POINT, st.integers(1, 900), st.integers(1, 900), st.lists(POINT, max_size=6)).map(
    lambda made: [made[0], (made[0][0] + made[1], made[0][1]), (made[0][0], made[0][1] + made[2]), *made[3]]
)


def inside(point: tuple[float, float], ring: tuple[tuple[int, int], ...]) -> bool:
    """Whether a point lies within a convex ring that runs against the clock."""
    return all(
        (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]) >= -1e-9
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
    )


def along(corner: tuple[int, int], turn: float) -> float:
    return corner[0] * math.cos(turn) + corner[1] * math.sin(turn)


@given(POINTS)
def test_a_hull_holds_all_its_points_and_turns_one_way(points: list[tuple[int, int]]) -> None:
    ring = hull(points)
    assert area2_nm2(ring) > 0
    assert all(inside(point, ring) for point in points)
    assert set(ring) <= set(points)


@given(POINTS, POINTS)
@settings(max_examples=200)
def test_shared_depth_is_the_same_both_ways_and_zero_just_where_a_line_parts_them(
    first: list[tuple[int, int]], second: list[tuple[int, int]]
) -> None:
    a, b = hull(first), hull(second)
    deep = depth_shared_nm(a, b)
    assert deep == depth_shared_nm(b, a)
    # a direction in 720 that parts them by more than a rounding proves that they share nothing
    turns = [math.pi * k / 360 for k in range(720)]
    parted = any(max(along(c, t) for c in a) < min(along(c, t) for c in b) - 1e-6 for t in turns)
    assert not (parted and deep > 0)
    if deep == 0:
        # no corner of one lies well inside the other
        shrunk = centroid_nm(a)
        assert not inside(shrunk, b) or not inside(centroid_nm(b), a)


@given(POINTS, st.integers(0, 500), st.integers(0, 500))
def test_what_is_swept_holds_every_place_on_the_way(points: list[tuple[int, int]], up: int, out: int) -> None:
    ring = hull(points)
    path = swept(ring, up, out)
    for k in range(11):
        assert all(inside((y + up * k / 10, z + out * k / 10), path) for y, z in ring)


def test_solids_that_only_touch_share_nothing() -> None:
    here, there = rectangle(0, 10, 0, 10), rectangle(10, 20, 0, 10)
    assert depth_shared_nm(here, there) == 0
    assert depth_shared_nm(here, rectangle(9, 20, 0, 10)) == 1
    # both halves of a cleat on their bevel
    wall = (-57, 0), (-9, 0), (9, 18), (-57, 18)
    panel = (-9, 0), (66, 0), (66, 18), (9, 18)
    assert depth_shared_nm(wall, panel) == 0
    assert depth_shared_nm(wall, tuple((y - 1, z) for y, z in panel)) > 0


def test_the_centre_of_a_bevelled_strip_by_hand() -> None:
    # 40 × 18 less a triangle of 18 × 18 / 2: centre (720 · 9 − 162 · 12) / 558 out
    panel = (0, 0), (40, 0), (40, 18), (18, 18)
    y, z = centroid_nm(panel)
    assert math.isclose(z, (720 * 9 - 162 * 12) / 558)
    assert math.isclose(y, (720 * 20 - 162 * 6) / 558)


def test_a_box_and_what_it_shares() -> None:
    one, other = Cuboid(0, 10, 0, 10, 0, 10), Cuboid(5, 15, -5, 5, 2, 4)
    assert one.shared(other) == Cuboid(5, 10, 0, 5, 2, 4)
    assert one.shared(other).volume_nm3 == 5 * 5 * 2
    assert not one.shared(Cuboid(10, 20, 0, 10, 0, 10)).solid
