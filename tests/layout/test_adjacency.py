"""Neighbours against the plain definition, block by block."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import records as r
from bossage.layout import Layout, plan_layout
from tests.layout.factory import footprint, leaf, mm, plain


def pairs_by_definition(layout: Layout, gap_nm: int) -> tuple[set[tuple[int, int]], set[tuple[int, int]]]:
    b = layout.blocks
    shared, corner = set(), set()
    for i in range(b.count):
        for j in range(i + 1, b.count):
            if b.leaf[i] != b.leaf[j]:
                continue
            across = max(b.x_nm[i], b.x_nm[j]) - min(b.x_nm[i] + b.width_nm[i], b.x_nm[j] + b.width_nm[j])
            up = max(b.y_nm[i], b.y_nm[j]) - min(b.y_nm[i] + b.height_nm[i], b.y_nm[j] + b.height_nm[j])
            if (across == gap_nm and up < 0) or (up == gap_nm and across < 0):
                shared.add((i, j))
            elif 0 <= across <= gap_nm and 0 <= up <= gap_nm:
                corner.add((i, j))
    return shared, corner


def as_set(pairs: np.ndarray) -> set[tuple[int, int]]:
    return {(int(a), int(b)) for a, b in pairs}


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_neighbours_are_those_of_the_definition(data: st.DataObject) -> None:
    gap = data.draw(st.sampled_from([0, 2]))
    columns, rows = data.draw(st.integers(1, 5)), data.draw(st.integers(1, 5))
    small, middle = (45 - gap) / 2, 45
    split = data.draw(st.integers(0, columns * rows // 2))
    halves = data.draw(st.integers(0, (columns * rows - split) // 2))
    fills = (
        r.Fill(rows=(("middle",),), count=None),
        r.Fill(rows=(("small", "small"), ("small", "small")), count=split),
        r.Fill(rows=(("wide",), ("small", "small")), count=halves),
    )
    layout = plan_layout(
        plain(
            blocks__columns=columns,
            blocks__rows=rows,
            blocks__module_width_nm=mm(middle),
            blocks__module_height_nm=mm(middle),
            blocks__gap_nm=mm(gap),
            blocks__footprints=(
                footprint("middle", mm(middle), mm(middle)),
                footprint("small", mm(small), mm(small)),
                footprint("wide", mm(middle), mm(small)),
            ),
            blocks__fills=fills,
            blocks__leaves=(leaf("a"), leaf("b", cells=((1, 1),) if columns * rows - 1 >= split + halves else ())),
            edge__overhang_nm=mm(5),
            piece__seed=data.draw(st.integers(0, 1000)),
        )
    )
    assert isinstance(layout, Layout)
    shared, corner = pairs_by_definition(layout, mm(gap))
    assert as_set(layout.blocks.edges) == shared
    assert as_set(layout.blocks.corner_edges) == corner


def test_a_plain_grid_has_the_edges_of_a_grid() -> None:
    layout = plan_layout(plain(blocks__columns=7, blocks__rows=4))
    assert isinstance(layout, Layout)
    assert len(layout.blocks.edges) == 6 * 4 + 7 * 3
    assert len(layout.blocks.corner_edges) == 2 * 6 * 3


def test_leaves_are_not_neighbours_even_without_a_gap_between_them() -> None:
    layout = plan_layout(
        plain(blocks__columns=2, blocks__rows=1, blocks__leaf_gap_nm=0, blocks__leaves=(leaf("a"), leaf("b")))
    )
    assert isinstance(layout, Layout)
    assert as_set(layout.blocks.edges) == {(0, 1), (2, 3)}


def test_blocks_that_leave_something_over_still_have_their_neighbours() -> None:
    loose = (footprint("fifty", mm(50), mm(50)), footprint("twenty", mm(20), mm(20)))
    four = r.Fill(rows=(("twenty", "twenty"), ("twenty", "twenty")), count=None)
    layout = plan_layout(plain(blocks__columns=2, blocks__rows=1, blocks__footprints=loose, blocks__fills=(four,)))
    assert isinstance(layout, Layout)
    assert as_set(layout.blocks.edges) == {
        (0, 1),
        (0, 2),
        (1, 3),
        (2, 3),
        (4, 5),
        (4, 6),
        (5, 7),
        (6, 7),
        (1, 4),
        (3, 6),
    }
