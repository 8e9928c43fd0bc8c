"""Hollow-wall fixings near to one another, against strips of a row that are counted out anew."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bossage.brief import records as r
from bossage.hang import Hang, Link
from bossage.hang.crowded import crowding
from tests.hang.making import hung, verdict
from tests.layout.factory import mm

HOLLOW: dict[str, Any] = {
    "wall__build": r.WallBuild.TIMBER_STUDS,
    "wall__studs_nm": (mm(200), mm(2800)),
    "fixings__kind": r.FixingKind.HOLLOW,
}
SWUNG = {"access__opens": r.Opens.SWING, "access__hinge": r.Side.LEFT, "access__angle_deg": 90.0}


def figures(kg: float) -> dict[str, Any]:
    return {"fixings__allowable_g": kg * 1000, "fixings__pull_allowable_g": kg * 1000}


def link(planned: Hang, name: str) -> Link:
    return next(one for one in planned.links if one.name == name)


def strips(places: list[int]) -> float:
    """Of the fixing with least: millimetres within 50 of it that lie no nearer to another one, of 100."""
    at = np.asarray(places)[:, None]
    least = []
    for k, place in enumerate(places):
        near = place + np.arange(-49.95, 50, 0.1)
        mine = np.abs(np.delete(at, k, axis=0) - near).min(axis=0) > np.abs(near - place)
        least.append(float(mine.mean()))
    return min(least)


@given(st.lists(st.integers(0, 600), min_size=2, max_size=9, unique=True))
def test_a_fixing_holds_by_the_strip_that_is_nearest_to_it(places):
    assert crowding([mm(x) for x in places]) == pytest.approx(strips(places), abs=0.005)


def test_fixings_at_62_mm_hold_by_their_distance_and_turn_the_verdict():
    # an engineer's nine in wallboard, counted in full before; the figure of one is set so that nine would just hold
    nine = {**HOLLOW, "fixings__count": 9}
    planned = hung(**nine, **figures(20))
    places = [point.x_nm for point in planned.leaves[0].cleat.fixings]
    share = crowding(places)
    assert share < 0.7
    found = link(planned, "fixings in the wall")
    assert f"times {share:.2f}" in found.basis
    assert any("apart" in factor.name and factor.value == share for factor in found.factors)
    alone = found.margin / share  # as if each stood alone
    enough = figures(20 * 1.3 / alone)
    assert link(hung(**nine, **enough), "fixings in the wall").margin == pytest.approx(1.3 * share)
    assert verdict(hung(**nine, **enough), "load_path") == "stop"
    assert verdict(hung(**nine, **figures(20 * 1.3 / alone / share)), "load_path") != "stop"
    # plugs in masonry are as they were
    brick = {"wall__build": r.WallBuild.MASONRY, "wall__studs_nm": (), "fixings__kind": r.FixingKind.PLUG}
    assert "share the board" not in link(hung(**brick, **figures(20), fixings__count=9), "fixings in the wall").basis


def test_a_hinge_post_on_wallboard_counts_its_neighbours():
    planned = hung(**HOLLOW, **SWUNG, **figures(60), fixings__count=6)
    points = [point.y_nm for point in planned.leaves[0].hinges.post.fixings]
    assert f"times {crowding(points):.2f}" in link(planned, "fixings behind the hinges").basis


def test_the_blocks_of_stays_count_theirs():
    planned = hung(**HOLLOW, **SWUNG | {"access__hinge": r.Side.TOP}, **figures(60))
    stay = planned.leaves[0].hinges.stay
    pair = [point.y_nm for point in stay.fixings[:2]]
    assert f"times {crowding(pair):.2f}" in link(planned, "stays in the wall").basis
