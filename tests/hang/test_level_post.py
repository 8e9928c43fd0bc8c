"""A level hinge post whose fixings stand to one side, against a stiff bar on springs solved anew."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from bossage.brief import records as r
from bossage.hang.post_loads import along_post
from tests.hang.making import PLUGS, hung
from tests.layout.factory import mm

TOP: dict[str, Any] = {**PLUGS, "access__opens": r.Opens.SWING, "access__hinge": r.Side.TOP, "access__angle_deg": 90.0}


def bar(places: list[float], at: float) -> list[float]:
    """What each spring takes of a unit load at a place."""
    rows = np.array([[1.0, x] for x in places])
    moved = np.linalg.solve(rows.T @ rows, np.array([1.0, at]))
    return list(rows @ moved)


@pytest.mark.parametrize("at", [-80.0, 130.0, 200.0, 290.0, 520.0])
def test_shares_are_those_of_a_stiff_bar(at):
    places = [0.0, 100.0, 130.0, 400.0]
    found = along_post(tuple(mm(int(x)) for x in places), mm(int(at)))
    anew = bar(places, at)
    if min(anew) >= 0 or not 0 <= at <= 400:
        assert found == pytest.approx([abs(share) for share in anew])
    else:  # one would push the post off the wall: the others hold alone
        assert sum(found) == pytest.approx(1)
        assert max(found) >= max(anew)


def test_a_zone_at_one_end_of_the_post_works_the_others_harder():
    whole = hung(**TOP, fixings__count=4).leaves[0].hinges.post.fixings
    (mass,), left = hung(**TOP, fixings__count=4).leaf_masses, whole[0].x_nm - whole[0].from_leaf_left_nm
    anew = bar([float(point.x_nm) for point in whole], left + mass.from_left_mm * 1e6)
    most = max(point.shear_n for point in whole)
    assert most / sum(point.shear_n for point in whole) == pytest.approx(max(anew) / sum(anew), rel=1e-6)
    # three of four at one end, the load between the last two: the far one has the most, and more than an even share
    one_sided = along_post((0, mm(30), mm(60), mm(400)), float(mm(300)))
    assert max(one_sided) == one_sided[-1] > 1.8 / 4
