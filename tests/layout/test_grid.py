"""Sizes found from what is hidden, and where leaves stand."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import records as r
from bossage.checks import Verdict
from bossage.layout import Layout, NoLayout, plan_layout
from tests.layout.factory import MM, fixture, furniture, keep_clear, leaf, mm, plain


def laid(brief: r.Brief) -> Layout:
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    return layout


def verdict(layout: Layout, name: str) -> Verdict | None:
    return next((c.verdict for c in layout.checks if c.name == name), None)


@settings(max_examples=60, deadline=None)
@given(
    width=st.integers(50, 900),
    height=st.integers(50, 700),
    margin=st.integers(0, 80),
    gap=st.integers(0, 3),
)
def test_the_grid_found_is_the_smallest_that_covers(width: int, height: int, margin: int, gap: int) -> None:
    hatch = fixture("hatch", 1000, 1000, width, height)
    layout = laid(plain(fixtures=(hatch,), blocks__cover_margin_nm=mm(margin), blocks__gap_nm=mm(gap)))
    pitch = mm(50 + gap)
    one = layout.leaves[0]
    for side, need in ((one.columns, width), (one.rows, height)):
        assert side * pitch - mm(gap) >= mm(need + 2 * margin)
        assert (side - 1) * pitch - mm(gap) < mm(need + 2 * margin)
    cover = layout.covers[0]
    assert min(cover.left_nm, cover.right_nm, cover.below_nm, cover.above_nm) >= mm(margin)
    assert abs(cover.left_nm - cover.right_nm) <= MM  # centred on the next whole millimetre
    assert abs(cover.below_nm - cover.above_nm) <= MM


def test_it_moves_off_what_is_kept_clear_while_the_cover_allows_it() -> None:
    # 410 + 2 × 50 = 510 takes 11 columns of 50: 550, so 40 of play in all, 20 either way.
    hatch = fixture("hatch", 1200, 1350, 410, 300)
    off = laid(plain(fixtures=(hatch,), keep_clear=(keep_clear("switch", 1665, 1300, 80, 80),)))
    assert off.leaves[0].x_nm + off.width_nm == mm(1665)
    assert verdict(off, "keep_clear") is Verdict.FINE
    stuck = laid(plain(fixtures=(hatch,), keep_clear=(keep_clear("switch", 1655, 1300, 80, 80),)))
    assert verdict(stuck, "keep_clear") is Verdict.STOP
    assert stuck.leaves[0].x_nm == mm(1130)


def test_it_stays_below_a_low_ceiling_and_says_so_when_it_cannot() -> None:
    hatch = fixture("hatch", 1200, 2000, 400, 310)
    layout = laid(plain(fixtures=(hatch,), wall__height_nm=mm(2390)))
    assert layout.lift_room_nm >= mm(21)
    assert verdict(layout, "lift_room") is Verdict.FINE
    tight = laid(plain(fixtures=(hatch,), wall__height_nm=mm(2380)))
    assert verdict(tight, "lift_room") is Verdict.STOP
    swings = laid(plain(fixtures=(hatch,), wall__height_nm=mm(2380), access__opens=r.Opens.SWING))
    assert verdict(swings, "lift_room") is None


def test_furniture_against_the_wall_is_kept_off_and_a_clash_is_named() -> None:
    sofa = furniture("sofa", "sofa", 1000, 900, 1310)
    layout = laid(plain(furniture=(sofa,)))
    assert verdict(layout, "furniture_clash") is Verdict.STOP
    free = laid(plain(furniture=(furniture("sofa", "sofa", 1000, 900, 1290),)))
    assert verdict(free, "furniture_clash") is None


def test_leaves_stand_side_by_side_and_where_they_are_put() -> None:
    beside = laid(plain(blocks__columns=6, blocks__rows=8, blocks__leaves=(leaf("a"), leaf("b"), leaf("c"))))
    assert [f.x_nm - beside.x_nm for f in beside.leaves] == [0, mm(320), mm(640)]
    assert beside.width_nm == mm(940)
    put = laid(plain(blocks__columns=6, blocks__rows=8, blocks__leaves=(leaf("a", 900, 1200), leaf("b", 1400, None))))
    assert [(f.x_nm, f.y_nm) for f in put.leaves] == [(mm(900), mm(1200)), (mm(1400), mm(1200))]


def test_copies_have_leaves_of_their_own_at_one_place() -> None:
    layout = laid(plain(piece__copies=3))
    assert [f.copy for f in layout.leaves] == [1, 2, 3]
    assert len({(f.x_nm, f.y_nm) for f in layout.leaves}) == 1
    assert layout.blocks.count == 3 * layout.leaves[0].columns * layout.leaves[0].rows
    assert layout.width_nm == layout.leaves[0].width_nm


def test_nothing_to_draw_is_said_with_its_remedy() -> None:
    outside = plan_layout(plain(blocks__columns=4, blocks__rows=4, blocks__leaves=(leaf("a", cells=((5, 1),)),)))
    assert isinstance(outside, NoLayout)
    assert "5·1" in outside.reason
    thin = plan_layout(plain(blocks__columns=2, blocks__rows=5, edge__style=r.EdgeStyle.OUTRIGGER))
    assert isinstance(thin, NoLayout)
    assert "ring" in thin.reason
    no_board = plan_layout(plain(blocks__columns=1, blocks__rows=1, edge__overhang_nm=mm(25)))
    assert isinstance(no_board, NoLayout)
