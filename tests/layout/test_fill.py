"""Which module takes which fill: exact counts, fair draws, the same on any machine."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import records as r
from bossage.layout import Layout, NoLayout, plan_layout
from bossage.layout.chance import shuffled
from bossage.layout.records import Zone
from tests.layout.factory import footprint, leaf, mm, plain

SPLIT = (footprint("fifty", mm(50), mm(50)), footprint("half", mm(25), mm(25)))


def split_brief(count: int | None, rest: int | None = None, **more: object) -> r.Brief:
    return plain(
        blocks__columns=6,
        blocks__rows=5,
        blocks__footprints=SPLIT,
        blocks__fills=(
            r.Fill(rows=(("fifty",),), count=rest),
            r.Fill(rows=(("half", "half"), ("half", "half")), count=count),
        ),
        **more,
    )


def laid(brief: r.Brief, draw: int = 0) -> Layout:
    layout = plan_layout(brief, draw=draw)
    assert isinstance(layout, Layout)
    return layout


def test_the_shuffle_is_pinned_so_that_no_machine_and_no_numpy_changes_a_piece() -> None:
    assert shuffled(8, np.array([1, 0, 0])).tolist() == EXPECTED_ORDER


EXPECTED_ORDER = [6, 1, 7, 3, 4, 2, 0, 5]


def test_splitmix64_gives_its_published_first_outputs_from_seed_zero() -> None:
    from bossage.layout.chance import _GOLDEN, _mix

    # First outputs of splitmix64 with seed 0, as its reference program prints them (from memory).
    with np.errstate(over="ignore"):
        state = np.arange(1, 4, dtype=np.uint64) * _GOLDEN
    assert [hex(int(v)) for v in _mix(state)] == ["0xe220a8397b1dcdaf", "0x6e789e6aa1b965f4", "0x6c45d188009454f"]


@settings(max_examples=30, deadline=None)
@given(seed=st.integers(0, 2**40), draw=st.integers(0, 50), split=st.integers(0, 28))
def test_counts_are_exact_and_open_cells_stay_open(seed: int, draw: int, split: int) -> None:
    cells = ((1, 1), (3, 4))
    layout = laid(split_brief(split, piece__seed=seed, blocks__leaves=(leaf("a", cells=cells), leaf("b"))), draw)
    b = layout.blocks
    for number, modules in ((0, 28), (1, 30)):
        mine = b.leaf == number
        assert int((b.footprint[mine] == 1).sum()) == 4 * split
        assert int((b.footprint[mine] == 0).sum()) == modules - split
    open_at = {(c.row, c.column) for c in layout.open_cells}
    assert open_at == set(cells)
    assert not any(
        (int(row), int(col)) in open_at for row, col in zip(b.row[b.leaf == 0], b.column[b.leaf == 0], strict=True)
    )


def test_blocks_are_ordered_by_leaf_row_column_letter_and_addressed_from_the_upper_left() -> None:
    layout = laid(split_brief(7, blocks__leaves=(leaf("a"), leaf("b"))))
    b = layout.blocks
    keys = list(zip(b.leaf.tolist(), b.row.tolist(), b.column.tolist(), b.letter.tolist(), strict=True))
    assert keys == sorted(keys)
    assert len(set(keys)) == len(keys)
    top_left = int(np.flatnonzero((b.leaf == 0) & (b.row == 1) & (b.column == 1))[0])
    assert int(b.x_nm[top_left]) == layout.leaves[0].x_nm
    assert int(b.y_nm[top_left] + b.height_nm[top_left]) == layout.leaves[0].y_nm + layout.leaves[0].height_nm


def test_blocks_and_open_cells_cover_the_leaf_exactly() -> None:
    layout = laid(split_brief(9, blocks__leaves=(leaf("a", cells=((2, 2),)),)))
    b = layout.blocks
    covered = int((b.width_nm * b.height_nm).sum()) + sum(c.width_nm * c.height_nm for c in layout.open_cells)
    assert covered == layout.width_nm * layout.height_nm


def test_another_draw_another_seed_and_another_leaf_give_another_field() -> None:
    brief = split_brief(9, blocks__leaves=(leaf("a"), leaf("b")))
    first, again, second = laid(brief), laid(brief), laid(brief, draw=1)
    assert np.array_equal(first.blocks.footprint, again.blocks.footprint)
    assert not np.array_equal(first.blocks.letter, second.blocks.letter)
    a, b = (first.blocks.letter[first.blocks.leaf == n] for n in (0, 1))
    assert not np.array_equal(a, b)


def test_every_module_is_split_about_equally_often() -> None:
    # 600 draws of 10 of 30 modules: 200 each expected, standard deviation 11.5; 5 of them either way.
    hits = np.zeros(30)
    for draw in range(600):
        order = shuffled(30, np.array([3, draw, 0]))
        hits[order[:10]] += 1
    assert abs(hits - 200).max() < 5 * 11.6


def test_counts_that_do_not_add_up_leave_nothing_to_draw_and_say_so() -> None:
    too_many = plan_layout(split_brief(31))
    assert isinstance(too_many, NoLayout)
    assert "31" in too_many.reason
    assert "30" in too_many.reason
    too_few = plan_layout(split_brief(5, rest=5))
    assert isinstance(too_few, NoLayout)
    assert isinstance(plan_layout(split_brief(5, rest=25)), Layout)


def test_the_ring_takes_the_rest_fill_and_is_marked() -> None:
    layout = laid(
        split_brief(
            12,
            edge__style=r.EdgeStyle.OUTRIGGER,
            edge__strip_thickness_nm=mm(5),
            edge__strip_width_nm=mm(60),
            edge__strip_behind_nm=mm(30),
            edge__strip_run_out_nm=mm(30),
        )
    )
    b = layout.blocks
    ring = b.zone == int(Zone.RING)
    assert int(ring.sum()) == 2 * 6 + 2 * 3
    assert not b.letter[ring].any()


def test_arrays_are_read_only() -> None:
    layout = laid(plain())
    assert not layout.blocks.x_nm.flags.writeable
    assert not layout.blocks.edges.flags.writeable
