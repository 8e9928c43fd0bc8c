"""Hollow-wall fixings stand in the hollow, not on a stud."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import records as r
from tests.hang.making import hung
from tests.layout.factory import mm

HOLLOW: dict[str, Any] = {
    "wall__build": r.WallBuild.METAL_STUDS,
    "fixings__kind": r.FixingKind.HOLLOW,
    "fixings__rating_g": 60_000.0,
}


@settings(max_examples=30, deadline=None)
@given(st.integers(1100, 1700), st.integers(2, 5))
def test_no_hollow_fixing_lies_before_a_stud_where_the_cleat_has_room_beside(stud: int, count: int) -> None:
    planned = hung(**HOLLOW, wall__studs_nm=(mm(stud),), fixings__count=count)
    cleat = planned.leaves[0].cleat
    assert cleat is not None
    places = [fixing.x_nm for fixing in cleat.fixings]
    assert len(places) == count
    assert places == sorted(set(places))
    half = mm(38.1) // 2
    for x in places:
        beside = min(cleat.to_nm - mm(stud), mm(stud) - cleat.from_nm)
        if abs(x - mm(stud)) < half:
            # only where neither side had room: the stud stands at the very end, or others are near
            assert beside < mm(70) or min(abs(x - other) for other in places if other != x) < mm(110)
