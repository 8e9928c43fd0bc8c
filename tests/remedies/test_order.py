"""Leaves may be listed in any order: what is advised for the wall is the same, and no gap between leaves is torn."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.layout.test_suggest import walls

from bossage.brief import read_brief
from bossage.brief.records import Brief
from bossage.checks import Edit
from bossage.examples import example_text
from bossage.layout import Change, candidate_sizes, smallest_move, smallest_resize
from bossage.layout.edits import size_edits
from bossage.layout.grid import plan_grid, spread_places
from bossage.layout.sizes import leaf_places
from bossage.layout.suggest import smallest_lightening

STEP = 10_000_000


def turned(brief: Brief) -> Brief:
    """The same wall, its leaves named from right to left."""
    return replace(brief, blocks=replace(brief.blocks, leaves=brief.blocks.leaves[::-1]))


@settings(max_examples=120, deadline=None)
@given(walls(size=60), st.sampled_from((smallest_move, smallest_resize, lambda b: smallest_lightening(b, 3000.0))))
def test_the_change_does_not_hang_on_the_order_of_the_leaves(brief, smallest) -> None:  # type: ignore[no-untyped-def]
    one, other = smallest(brief), smallest(turned(brief))
    assert type(one) is type(other)
    if isinstance(one, Change):
        assert (one.columns, one.rows, one.dx_nm, one.dy_nm) == (other.columns, other.rows, other.dx_nm, other.dy_nm)


def test_a_move_is_that_of_every_leaf_whichever_is_named_first() -> None:
    """Two leaves 120 mm apart: the place of the first in the list is not the corner of both."""
    text = example_text("s3-tarnwick-school")
    brief = read_brief(text)
    low = replace(
        brief,
        blocks=replace(
            brief.blocks, leaves=tuple(replace(leaf, y_nm=leaf.y_nm + 3_000_000_000) for leaf in brief.blocks.leaves)
        ),
    )
    assert len(low.blocks.leaves) > 1
    one, other = smallest_move(low), smallest_move(turned(low))
    assert isinstance(one, Change)
    assert isinstance(other, Change)
    assert (one.dx_nm, one.dy_nm) == (other.dx_nm, other.dy_nm)
    assert one.dx_nm == 0  # only lowered


@given(
    st.lists(st.tuples(st.integers(0, 3), st.integers(0, 2)), min_size=1, max_size=6, unique=True),
    st.integers(-3, 6),
    st.integers(-3, 6),
    st.integers(0, 8),
    st.randoms(use_true_random=False),
)
def test_gaps_and_middle_stay_whatever_the_order(cells, wider, taller, gap, rng) -> None:  # type: ignore[no-untyped-def]
    width, height = 10 * STEP, 8 * STEP
    places = [(x * (width + gap * STEP), y * (height + gap * STEP)) for x, y in cells]
    found = spread_places(places, width, height, wider * STEP, taller * STEP)
    for (x, y), (cx, cy) in zip(found, cells, strict=True):
        for (other_x, other_y), (ox, oy) in zip(found, cells, strict=True):
            if cx == ox:
                assert x == other_x
            if cy == oy:
                assert y == other_y
            if ox == cx + 1:
                assert other_x - x == width + wider * STEP + gap * STEP
            if oy == cy + 1:
                assert other_y - y == height + taller * STEP + gap * STEP
    shuffled = list(range(len(places)))
    rng.shuffle(shuffled)
    again = spread_places([places[n] for n in shuffled], width, height, wider * STEP, taller * STEP)
    assert [again[shuffled.index(n)] for n in range(len(places))] == list(found)


def test_a_resized_triptych_named_from_the_right_keeps_its_gaps() -> None:
    brief = turned(read_brief(example_text("s3")))
    grid = plan_grid(brief)
    gaps = gaps_of(brief)
    for columns in (-2, -1, 1, 3):
        wider = columns * (brief.blocks.module_width_nm + brief.blocks.gap_nm)
        places = spread_places(grid.places, grid.width_nm, grid.height_nm, wider, 0)
        edits = size_edits(brief, grid.columns + columns, grid.rows, places)
        assert isinstance(edits[0], Edit)
        lefts = sorted(x for x, _ in places)
        assert [b - a - grid.width_nm - wider for a, b in pairwise(lefts)] == gaps


def gaps_of(brief: Brief) -> list[int]:
    """Between leaf and leaf, from the left."""
    grid = plan_grid(brief)
    lefts = sorted(x for x, _ in grid.places)
    return [b - a - grid.width_nm for a, b in pairwise(lefts)]


def test_a_leaf_stays_where_it_hangs_in_the_row_when_another_size_is_taken() -> None:
    brief = turned(read_brief(example_text("s3")))
    names = [leaf.name for leaf in brief.blocks.leaves]
    for candidate in candidate_sizes(brief)[:6]:
        if candidate.leaves == len(names):
            places = leaf_places(brief, candidate)
            assert [x for x, _ in places] == sorted((x for x, _ in places), reverse=True)
