"""Drift of rows: hand arithmetic, and a search of every interval."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from bossage.brief import records as r
from bossage.layout import Layout, plan_layout
from bossage.layout import drift as d
from bossage.pack.catalogue import pack_sheets
from tests.layout.factory import footprint, mm, plain
from tests.press.cases import made
from tests.scenarios.cases import plan_of


def drift_of(rows: int, spread: int, gap: int, allowed: int, build: int = 0):
    return d.drift_of((spread,) * rows, gap, allowed, build_nm=build)


def test_half_a_millimetre_over_sixteen_rows_is_eight() -> None:
    drift = drift_of(16, mm(0.5), 0, mm(2))
    assert drift.worst_nm == mm(8)
    # 3 × √16 × 0.5 ÷ √3 = 3.464 mm.
    assert drift.likely_nm == 3_464_102
    assert drift.redatum_rows == 4


def test_a_gap_takes_drift_up() -> None:
    assert drift_of(16, mm(0.5), mm(1), mm(2)).redatum_rows == 0
    assert drift_of(16, mm(0.5), mm(0.5), mm(2)).redatum_rows == 7
    assert drift_of(16, mm(0.5), mm(1), mm(2)).gap_takes_nm == mm(7.5)
    assert drift_of(16, 0, 0, 0).redatum_rows == 0


@given(st.integers(1, 60), st.integers(0, 40), st.integers(0, 40), st.integers(0, 200))
def test_the_interval_is_the_longest_that_stays_true(rows: int, spread: int, gap: int, allowed: int) -> None:
    good = [k for k in range(1, rows + 1) if k * spread - (k - 1) * (gap // 2) <= allowed]
    drift = drift_of(rows, spread, gap, allowed)
    if rows in good:
        assert drift.redatum_rows == 0
    else:
        assert drift.redatum_rows == max(good, default=1)


def test_the_likely_drift_is_hardly_ever_exceeded() -> None:
    rows, spread = 16, 1000
    sums = np.abs(np.random.default_rng(5).uniform(-spread, spread, (20_000, rows)).sum(axis=1))
    likely = drift_of(rows, spread, 0, 0).likely_nm
    assert (sums > likely).mean() < 0.005
    assert (sums > likely / 3).mean() > 0.25  # and it is no more than three deviations


@given(st.integers(2, 60), st.integers(0, 4000), st.integers(0, 200))
def test_the_gap_is_the_smallest_tenth_that_keeps_the_outline_true(rows: int, spread: int, allowed: int) -> None:
    spread, allowed = spread * 1000, allowed * 10_000
    gap = drift_of(rows, spread, 0, allowed).gap_true_nm
    assert gap % 100_000 == 0
    assert drift_of(rows, spread, gap, allowed).redatum_rows == 0
    if gap:
        assert drift_of(rows, spread, gap - 100_000, allowed).redatum_rows > 0


def test_both_ways_are_told_with_the_footprint_that_wanders_most() -> None:
    brief = plain(
        blocks__columns=6,
        blocks__rows=4,
        blocks__footprints=(footprint("fifty", mm(50), mm(50), mm(0.5)), footprint("half", mm(25), mm(25), mm(0.3))),
        blocks__fills=(
            r.Fill(rows=(("fifty",),), count=None),
            r.Fill(rows=(("half", "half"), ("half", "half")), count=3),
        ),
    )
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    across, up = layout.drifts
    # three modules of two halves each and three fifties, wherever they fell: by hand from the drawn rows
    for drift, way in ((across, "across"), (up, "up")):
        rows = real_rows(layout, brief, way)
        assert drift.way == way
        assert drift.worst_nm == max(sum(spread for _, spread in row) for row in rows)
        assert drift.rows in {len(row) for row in rows}


def real_rows(layout: Layout, brief: r.Brief, way: str) -> list[list[tuple[int, int]]]:
    """Every row that a line through the leaf meets, as (start, spread): looked up point by point, not by edges."""
    field, leaf = layout.blocks, layout.leaves[0]
    across = way == "across"
    side = leaf.height_nm if across else leaf.width_nm
    origin = leaf.y_nm if across else leaf.x_nm
    rows = []
    for at in range(origin + mm(0.5), origin + side, mm(1)):
        row = []
        for b in range(field.count):
            x, y, w, h = (int(one[b]) for one in (field.x_nm, field.y_nm, field.width_nm, field.height_nm))
            low, size = (y, h) if across else (x, w)
            if int(field.leaf[b]) == 0 and low <= at < low + size:
                start = x - leaf.x_nm if across else leaf.y_nm + leaf.height_nm - y - h
                row.append((start, brief.blocks.footprints[int(field.footprint[b])].spread_nm))
        if row:
            rows.append(sorted(row))
    return rows


def test_marks_of_s2_stand_where_a_block_begins_in_every_row() -> None:
    # an outside count of the drawn rows: 16 blocks in each; 140, 280, 560 and 840 begin a block in all of them, and
    # 180, 360 in none
    brief, layout, _ = made("S2")
    across = next(drift for drift in layout.drifts if drift.way == "across")
    rows = real_rows(layout, brief, "across")
    assert {len(row) for row in rows} == {16} == {across.rows}
    everywhere = set.intersection(*({start for start, _ in row} for row in rows))
    assert {mm(140), mm(280), mm(560), mm(840)} <= everywhere
    assert mm(180) not in everywhere
    assert mm(360) not in everywhere
    assert across.marks_nm
    assert set(across.marks_nm) <= everywhere
    # between two marks no row is off by more than 2 mm, paint and all, if the plan says so
    for row in rows:
        stops = [0, *across.marks_nm, layout.leaves[0].width_nm]
        for low, high in pairwise(stops):
            here = [spread for start, spread in row if low <= start < high]
            off = sum(here) + (len(here) - 1) * 2 * brief.paint.side_build_nm
            assert off <= mm(2) or not across.marks_do


def test_paint_on_touching_sides_makes_rows_longer_and_a_gap_takes_it() -> None:
    # 16 blocks, 15 joints, 0.1 mm on either side: 3 mm, though no block is off
    assert drift_of(16, 0, 0, mm(2), mm(0.1)).paint_nm == mm(3)
    assert drift_of(16, 0, 0, mm(2), mm(0.1)).redatum_rows == 11  # 10 joints of 0.2 are 2 mm
    assert drift_of(16, 0, mm(0.2), mm(2), mm(0.1)).redatum_rows == 0
    # 0.5 mm of gap less 0.2 of paint: 0.15 either way at each joint
    assert drift_of(16, mm(0.1), mm(0.5), mm(2), mm(0.1)).gap_takes_nm == 15 * mm(0.15)
    # and it turns a verdict: eight fifties that are true, with three coats and without
    true = {"blocks__columns": 16, "blocks__rows": 4, "blocks__footprints": (footprint("fifty", mm(50), mm(50), 1000),)}
    thick, bare = (drift_verdict(plain(**true, paint__build_nm=build)) for build in (mm(0.1), 0))
    assert (thick, bare) == ("caution", "fine")


def test_sticks_squared_for_their_paint_let_painted_blocks_fit_their_marks() -> None:
    true = {"blocks__columns": 16, "blocks__rows": 4, "blocks__footprints": (footprint("fifty", mm(50), mm(50), 0),)}
    for brief, grows in ((plain(**true), True), (plain(**true, paint__dressed=True), False)):
        checks = [check for check in layout_of(brief).checks if check.name == "paint_build"]
        assert len(checks) == grows
    (check,) = (check for check in layout_of(plain(**true)).checks if check.name == "paint_build")
    assert check.found == "paint adds 0.2 mm at every joint, 3 mm over 16 blocks in a row"
    assert [(edit.path, edit.value) for edit in check.edits] == [(("paint", "dressed"), True)]
    # a gap as wide as the paint of both sides takes it, and so do nine joints of ten blocks
    for kept in ({"blocks__gap_nm": mm(0.2)}, {"blocks__columns": 10}):
        assert not [c for c in layout_of(plain(**(true | kept))).checks if c.name == "paint_build"]


def test_the_sheets_say_what_is_planed_off_and_that_joints_that_touch_take_nothing() -> None:
    text = {sheet.name: repr(sheet) for sheet in pack_sheets(plan_of("S2"), ("saw", "rows"))}
    assert "plane 0.2 mm off the sticks both ways" in text["saw"]
    assert "goes into the" not in text["rows"]
    assert "Missing before a mark: a slip of card in the joint" in text["rows"]
    assert all(drift.paint_nm == 0 for drift in plan_of("S2").layout.drifts)


def layout_of(brief: r.Brief) -> Layout:
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    return layout


def drift_verdict(brief: r.Brief) -> str:
    return next(str(check.verdict) for check in layout_of(brief).checks if check.name == "drift")


@given(
    st.lists(st.integers(0, 600_000), min_size=2, max_size=40),
    st.integers(0, 300_000),
    st.integers(0, 3_000_000),
)
def test_the_advised_gap_does_and_a_step_less_does_not(spreads: list[int], build: int, allowed: int) -> None:
    gap = d.drift_of(spreads, 0, allowed, build_nm=build).gap_true_nm
    assert d.drift_of(spreads, gap, allowed, build_nm=build).redatum_rows == 0
    if gap:
        assert d.drift_of(spreads, gap - mm(0.1), allowed, build_nm=build).redatum_rows > 0
