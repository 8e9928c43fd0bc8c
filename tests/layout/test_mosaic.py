"""Mosaics against every filling of small boards, and what must hold on large ones."""

from __future__ import annotations

from collections import defaultdict
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from bossage.layout.mosaic import Laid, NoMosaic, lay_mosaic
from bossage.layout.mosaic_board import (
    Board,
    crosses,
    fewest_crosses,
    most_of,
    parity_forbids,
    through_joints,
)
from bossage.layout.mosaic_mend import mend, stir
from bossage.layout.mosaic_rows import lay_rows

Filling = tuple[tuple[int, ...], int, int]  # counts, crosses, joints that run through
FOUR = ((1, 1), (2, 1), (1, 2), (2, 2))
KINDS = (FOUR, ((2, 1), (1, 2)), ((1, 1), (2, 1)), ((1, 1), (3, 1), (1, 2)), ((1, 1), (2, 2), (3, 2)))


def board(
    rows: int,
    columns: int,
    kinds: tuple[tuple[int, int], ...],
    wanted: tuple[int, ...],
    *,
    through: bool = True,
    firm: bool = True,
    opened: tuple[tuple[int, int], ...] = (),
) -> Board:
    free = np.ones((rows, columns), dtype=np.bool_)
    for cell in opened:
        free[cell] = False
    return Board(
        free=free,
        single=np.zeros_like(free),
        kinds=kinds,
        wanted=wanted,
        firm=(firm,) * len(kinds),
        through=through,
    )


@cache
def every_filling(
    rows: int, columns: int, kinds: tuple[tuple[int, int], ...], opened: tuple[tuple[int, int], ...]
) -> tuple[Filling, ...]:
    """Counts, crosses and through joints of every filling, by trying each block in each first bare cell."""
    cells = [[0] * columns for _ in range(rows)]
    for r, c in opened:
        cells[r][c] = -1
    found: dict[Filling, None] = {}

    def look() -> tuple[int, int]:
        meet = 0
        for r in range(1, rows):
            for c in range(1, columns):
                four = {cells[r - 1][c - 1], cells[r - 1][c], cells[r][c - 1], cells[r][c]}
                meet += len(four) == 4 and -1 not in four
        lines = sum(all(cells[r][c - 1] != cells[r][c] for r in range(rows)) for c in range(1, columns))
        lines += sum(all(cells[r - 1][c] != cells[r][c] for c in range(columns)) for r in range(1, rows))
        return meet, lines

    def fill(used: tuple[int, ...], number: int) -> None:
        bare = next(((r, c) for r in range(rows) for c in range(columns) if cells[r][c] == 0), None)
        if bare is None:
            found[(used, *look())] = None
            return
        r, c = bare
        for kind, (wide, tall) in enumerate(kinds):
            spots = [(y, x) for y in range(r, r + tall) for x in range(c, c + wide)]
            if r + tall > rows or c + wide > columns or any(cells[y][x] for y, x in spots):
                continue
            for y, x in spots:
                cells[y][x] = number
            fill((*used[:kind], used[kind] + 1, *used[kind + 1 :]), number + 1)
            for y, x in spots:
                cells[y][x] = 0

    # An open cell next to an open cell counts as no block across a line, as -1 equals -1 above: so it is told apart.
    for place, (r, c) in enumerate(opened):
        cells[r][c] = -1 - place
    fill((0,) * len(kinds), 1)
    return tuple(found)


@st.composite
def small_boards(draw: st.DrawFn) -> tuple[Board, tuple[Filling, ...]]:
    """A board whose fillings can all be listed, and counts that some of them have, or nearly."""
    rows, columns = draw(st.sampled_from([(3, 3), (3, 4), (4, 3), (2, 5), (3, 5), (4, 4)]))
    kinds = draw(st.sampled_from(KINDS))
    opened = ((draw(st.integers(0, rows - 1)), draw(st.integers(0, columns - 1))),) if draw(st.booleans()) else ()
    fillings = every_filling(rows, columns, kinds, opened)
    cells = rows * columns - len(opened)
    if fillings and draw(st.integers(0, 3)):
        wanted = draw(st.sampled_from(sorted({f[0] for f in fillings})))
    else:
        left, counts = cells, []
        for wide, tall in reversed(kinds):
            n = draw(st.integers(0, left // (wide * tall)))
            counts.append(n)
            left -= n * wide * tall
        wanted = tuple(reversed(counts))
    return board(rows, columns, kinds, wanted, through=draw(st.booleans()), opened=opened), fillings


@settings(max_examples=80, deadline=None)
@given(small_boards(), st.integers(0, 9))
def test_small_boards_agree_with_every_filling(case: tuple[Board, tuple[Filling, ...]], seed: int) -> None:
    b, fillings = case
    mine = [f for f in fillings if f[0] == b.wanted]
    laid = lay_mosaic(b, np.array([seed]))
    if not mine:
        assert isinstance(laid, NoMosaic)
        assert laid.proven
        if laid.kind is not None:
            assert max((f[0][laid.kind] for f in fillings), default=0) <= laid.most < b.wanted[laid.kind]
        elif fillings:
            assert laid.nearest is not None

            def off(counts: tuple[int, ...]) -> int:
                return sum(abs(a - w) for a, w in zip(counts, b.wanted, strict=True))

            assert off(laid.nearest) == min(off(f[0]) for f in fillings)
            assert any(f[0] == laid.nearest for f in fillings)
        return
    assert isinstance(laid, Laid)
    lies_well(b, laid)
    assert laid.counts == b.wanted
    fewest_lines = 0 if b.through else min(f[2] for f in mine)
    if b.through:
        assert laid.crosses == min(f[1] for f in mine) == laid.least
    else:
        assert len(laid.through) == fewest_lines
        assert laid.through_proven or not laid.through
        assert laid.crosses == min(f[1] for f in mine if f[2] == fewest_lines)
        if not fewest_lines:
            assert laid.crosses == laid.least


@settings(max_examples=60, deadline=None)
@given(small_boards())
def test_bounds_hold_for_every_filling(case: tuple[Board, tuple[Filling, ...]]) -> None:
    b, fillings = case
    for counts, meet, _ in fillings:
        assert fewest_crosses(b, counts) <= meet
        assert not parity_forbids(b, counts)
    for kind in range(len(b.kinds)):
        assert max((f[0][kind] for f in fillings), default=0) <= most_of(b, kind)


def test_at_most_so_many_blocks_of_one_size_fit_a_whole_rectangle() -> None:
    assert most_of(board(5, 10, FOUR, (0, 0, 0, 10)), 3) == 10
    assert most_of(board(5, 10, ((3, 2),), (1,)), 0) == 6


@pytest.mark.parametrize(
    ("rows", "columns", "wanted"), [(14, 20, (56, 28, 28, 28)), (12, 24, (0, 72, 72, 0)), (24, 16, (96, 36, 36, 36))]
)
def test_large_boards_have_exact_counts_and_no_through_joint(rows: int, columns: int, wanted: tuple[int, ...]) -> None:
    b = board(rows, columns, FOUR, wanted, through=False)
    laid = lay_mosaic(b, np.array([5, 0, 0]))
    assert isinstance(laid, Laid)
    lies_well(b, laid)
    assert laid.counts == wanted
    assert not laid.through
    assert laid.least == fewest_crosses(b, wanted) <= laid.crosses
    # A first laying, row by row, has two or three times as many.
    first = lay_rows(b, np.array([5, 0, 0]))
    assert laid.crosses <= 0.75 * len(crosses(first.owners(b)))


def test_a_field_of_mostly_single_cells_meets_the_counting_bound_on_a_large_board() -> None:
    b = board(40, 40, FOUR, (640, 80, 80, 160))
    laid = lay_mosaic(b, np.array([1]))
    assert isinstance(laid, Laid)
    assert laid.crosses == laid.least > 0


def test_odd_and_even_alone_forbid_some_counts() -> None:
    laid = lay_mosaic(board(12, 25, FOUR, (0, 75, 75, 0)), np.array([5]))
    assert isinstance(laid, NoMosaic)
    assert laid.proven
    assert laid.nearest is not None  # what a maker may ask for instead


def test_big_blocks_are_spread_as_a_fair_draw_spreads_them() -> None:
    # Of four times 90 blocks of four cells each quarter should hold 90; a fair draw strays by √(360 × 3 ÷ 16).
    b = board(30, 30, FOUR, (180, 90, 90, 90))
    middles: dict[tuple[bool, bool], int] = defaultdict(int)
    for seed in range(4):
        first = lay_rows(b, np.array([seed]))
        for kind, row, column in mend(b, first, sweeps=600, least=0, key=np.array([seed])).blocks:
            if kind == 3:
                middles[row >= 15, column >= 15] += 1
    assert max(abs(n - sum(middles.values()) / 4) for n in middles.values()) < 3 * 8.2


def test_one_key_gives_one_mosaic_and_another_key_another() -> None:
    b = board(6, 6, FOUR, (10, 5, 4, 2))
    first, again, other = (lay_mosaic(b, np.array([key, 0])) for key in (3, 3, 4))
    assert first == again
    assert first != other


def test_turning_and_stirring_keep_counts_and_open_cells() -> None:
    b = board(12, 12, FOUR, (48, 20, 20, 15), opened=((3, 3), (3, 4), (8, 8), (0, 0)))
    first = lay_rows(b, np.array([9]))
    b2 = board(12, 12, FOUR, first.counts(b), opened=((3, 3), (3, 4), (8, 8), (0, 0)))
    fewer = mend(b2, first, sweeps=800, least=0, key=np.array([1]))
    stirred = stir(b2, fewer, sweeps=200, key=np.array([2]))
    for laying in (fewer, stirred):
        assert laying.counts(b2) == b2.wanted
        assert np.array_equal(laying.owners(b2) == -1, ~b2.free)
    meet = [len(crosses(laying.owners(b2))) for laying in (first, fewer, stirred)]
    assert meet[0] > meet[1] >= meet[2]


def test_shares_give_way_where_the_grid_has_no_such_filling() -> None:
    # Nine cells cannot be filled with blocks of two; the single one comes by share.
    laid = lay_mosaic(board(3, 3, FOUR, (0, 3, 0, 1), firm=False), np.array([0]))
    assert isinstance(laid, Laid)
    assert sum(n * w * h for n, (w, h) in zip(laid.counts, FOUR, strict=True)) == 9


def lies_well(b: Board, laid: Laid) -> None:
    """Every free cell under one block, none over an open one, and the figures as they are."""
    covered: NDArray[np.int64] = np.zeros(b.free.shape, dtype=np.int64)
    for kind, row, column in laid.laying.blocks:
        wide, tall = b.kinds[kind]
        covered[row : row + tall, column : column + wide] += 1
    assert np.array_equal(covered, b.free.astype(np.int64))
    owner = laid.laying.owners(b)
    assert laid.crosses == len(crosses(owner))
    assert laid.through == through_joints(owner)
