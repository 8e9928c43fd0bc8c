"""What an eye sees past the edge, by similar triangles and by rays."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import records as r
from bossage.checks import Verdict
from bossage.layout import Layout, plan_layout
from bossage.layout.rect import Rect
from bossage.layout.sightline import what_shows
from tests.layout.factory import leaf, mm, plain

GRID = {"blocks__columns": 10, "blocks__rows": 8, "blocks__leaves": (leaf("a", 1150, 1300),)}
OUTLINE = Rect(mm(1150), mm(1300), mm(500), mm(400))


def eye(x: float, height: float, distance: float) -> r.Eye:
    return r.Eye(name="the sofa", x_nm=mm(x), height_nm=mm(height), distance_nm=mm(distance))


def shows(brief: r.Brief, looker: r.Eye) -> dict[tuple[str, str], float]:
    return {(s.part, s.side): s.depth_nm / 1e6 for s in what_shows(brief, OUTLINE, mm(24), looker)}


def test_straight_in_front_one_sees_blocks_only() -> None:
    assert shows(plain(**GRID), eye(1400, 1500, 2000)) == {}


def test_from_the_left_one_sees_what_similar_triangles_say() -> None:
    # Eye 1000 left of the face, 500 off the wall. Over the block's back edge (36 deep) the line falls 464 in 1000:
    # 10 further in it is at 31.36, so 7.36 of the backer (24 to 36) shows. Past the backer's back edge (24 deep, 10
    # in) it falls 476 in 1010: at the hatch, 40 further in, it is at 5.149.
    seen = shows(plain(**GRID), eye(150, 1500, 500))
    assert seen[("the backer", "left")] == pytest.approx(7.36, abs=1e-5)
    assert seen[("hatch", "left")] == pytest.approx(24 - 476 * 40 / 1010, abs=1e-5)
    assert set(seen) == {("the backer", "left"), ("hatch", "left")}


def test_lying_below_one_sees_the_underside_and_a_wider_overhang_hides_it() -> None:
    low = eye(1400, 900, 2000)
    assert set(shows(plain(**GRID), low)) == set()
    near = eye(1400, 900, 300)
    assert ("the backer", "below") in shows(plain(**GRID), near)
    hidden = shows(plain(**GRID, edge__overhang_nm=mm(20)), near)
    assert ("the backer", "below") in shows(plain(**GRID, edge__overhang_nm=mm(5)), near)
    assert hidden.get(("the backer", "below"), 0) < shows(plain(**GRID), near)[("the backer", "below")]


def test_lipping_as_deep_as_the_backer_hides_it_and_shallower_lipping_does_not() -> None:
    banded = {**GRID, "edge__style": r.EdgeStyle.BANDED, "edge__lipping_thickness_nm": mm(12)}
    whole = plain(**banded, edge__lipping_depth_nm=mm(12))
    assert ("the backer", "left") not in shows(whole, eye(150, 1500, 500))
    assert ("the backer", "left") in shows(plain(**banded, edge__lipping_depth_nm=mm(4)), eye(150, 1500, 500))


def test_twice_the_stand_off_hides_the_fixture_to_nearly_sixty_degrees() -> None:
    # 50 of cover, 40 of it behind the backer, over a stand-off of 24: hidden to arctan(40 / 24) = 59° off square.
    far = eye(1150 - 8000, 1500, 5000)
    assert ("hatch", "left") not in shows(plain(**GRID), far)
    flat = eye(1150 - 8660, 1500, 2000)
    assert ("hatch", "left") in shows(plain(**GRID), flat)


def test_strips_of_an_outrigger_show_to_a_low_flat_eye() -> None:
    ring = plain(
        **GRID,
        edge__style=r.EdgeStyle.OUTRIGGER,
        edge__strip_thickness_nm=mm(5),
        edge__strip_width_nm=mm(60),
        edge__strip_behind_nm=mm(30),
        edge__strip_run_out_nm=mm(30),
    )
    seen = shows(ring, eye(150, 1500, 200))
    assert ("the edge strip", "left") in seen
    assert ("the backer", "left") not in seen
    assert shows(ring, eye(150, 1500, 3000)) == {}


@settings(max_examples=60, deadline=None)
@given(
    beyond=st.integers(1, 2000),
    distance=st.integers(100, 3000),
    overhang=st.integers(1, 24),
    proud=st.integers(1, 12),
)
def test_what_shows_agrees_with_rays(beyond: int, distance: int, overhang: int, proud: int) -> None:
    brief = plain(**GRID, edge__overhang_nm=mm(overhang))
    hatch = brief.fixtures[0]
    seen = shows(
        plain(**GRID, edge__overhang_nm=mm(overhang), fixtures=(_proud(hatch, proud),)),
        eye(1150 - beyond, 1500, distance),
    )
    slabs = {"block": (0, 36), "the backer": (overhang, 24)}
    for name, inset, low, high in (("the backer", overhang, 24, 36), ("hatch", 50, 0, proud)):
        steps = 200
        clear = 0
        for step in range(steps):
            z = low + Fraction((high - low) * (2 * step + 1), 2 * steps)
            blocked = False
            for other, (at, back) in slabs.items():
                if other == name or at >= inset:
                    continue
                crossing = z + (distance - z) * Fraction(inset - at, beyond + inset)
                blocked |= crossing > back
            clear += not blocked
        assert seen.get((name, "left"), 0.0) == pytest.approx(clear * (high - low) / steps, abs=(high - low) / steps)


def _proud(hatch: r.Fixture, proud: int) -> r.Fixture:
    from dataclasses import replace

    return replace(hatch, proud_nm=mm(proud))


def test_the_check_is_a_caution_only_where_something_shows() -> None:
    for looker, verdict in ((eye(150, 1500, 500), Verdict.CAUTION), (eye(1400, 1500, 2000), Verdict.FINE)):
        layout = plan_layout(plain(**GRID, eyes=(looker,)))
        assert isinstance(layout, Layout)
        (check,) = [c for c in layout.checks if c.name == "sightline"]
        assert check.verdict is verdict
