"""Sheets: grain, trims, several boards, shortfall, and laws on generated jobs sawn again by a checker."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.saw import (
    FaultyJob,
    Panel,
    SheetJob,
    SheetPlan,
    SheetShortfall,
    SheetStock,
    most_per_sheet,
    plan_sheets,
)
from tests.saw.boards import checker as sheet_checker

MM = 1_000_000
PLY = SheetStock(name="ply", width_nm=1220 * MM, length_nm=2440 * MM, price_cents=4200)


def panel(name, w, h, n, turn=True):
    return Panel(name=name, width_nm=w * MM, length_nm=h * MM, count=n, turn=turn)


def plan_of(*panels, sheets=(PLY,), kerf=3):
    job = SheetJob(panels=panels, sheets=sheets, kerf_nm=kerf * MM)
    return job, plan_sheets(job)


def test_grain_forbids_what_turning_would_allow():
    _, free = plan_of(panel("rib", 2000, 100, 1))
    _, bound = plan_of(panel("rib", 2000, 100, 1, turn=False))
    assert isinstance(free, SheetPlan)
    assert isinstance(bound, SheetShortfall)
    assert bound.too_big[0].name == "rib"


def test_a_factory_edge_that_is_trimmed_is_not_there_for_the_panel():
    trimmed = SheetStock(name="ply", width_nm=1220 * MM, length_nm=2440 * MM, price_cents=4200, trim_nm=10 * MM)
    job, plan = plan_of(panel("back", 1200, 2420, 1), sheets=(trimmed,))
    assert not sheet_checker.faults(job, plan)
    assert [c.trim for c in plan.sheets[0].cuts] == [True] * 4
    _, over = plan_of(panel("back", 1201, 2420, 1), sheets=(trimmed,))
    assert isinstance(over, SheetShortfall)


def test_an_owned_half_sheet_is_used_before_one_is_bought():
    half = SheetStock(name="half", width_nm=1220 * MM, length_nm=1000 * MM, price_cents=0, count=1, owned=True)
    job, plan = plan_of(panel("back", 900, 900, 3), sheets=(PLY, half))
    assert not sheet_checker.faults(job, plan)
    assert (plan.money_cents, len(plan.sheets), plan.proven) == (4200, 2, True)


def test_kerfs_count_between_panels():
    tight = SheetStock(name="tight", width_nm=100 * MM, length_nm=203 * MM, price_cents=1)
    assert most_per_sheet(panel("p", 100, 100, 2), tight, 3 * MM)[0] == 2
    assert most_per_sheet(panel("p", 100, 100, 2), tight, 4 * MM)[0] == 1


def test_sheets_that_do_not_suffice_are_said():
    one = SheetStock(name="one", width_nm=1220 * MM, length_nm=2440 * MM, price_cents=4200, count=1)
    _, short = plan_of(panel("back", 880, 880, 3), sheets=(one,))
    assert isinstance(short, SheetShortfall)
    assert (short.missing[0].count, short.proven) == (1, True)


def test_many_panels_are_planned_with_a_bound():
    job, plan = plan_of(
        panel("back", 718, 478, 6),
        panel("strip", 70, 788, 40),
        panel("rib", 40, 600, 30, turn=False),
        panel("shim", 45, 45, 60),
    )
    assert not sheet_checker.faults(job, plan)
    assert plan.money_cents == 8400
    assert plan.bound_cents == 8400
    assert plan.proven


@pytest.mark.parametrize("bad", [panel("p", 0, 10, 1), panel("p", 10, 10, -1), panel("p", 10, 10, 0)])
def test_nonsense_is_refused(bad):
    with pytest.raises(FaultyJob):
        plan_of(bad)


sizes = st.integers(20, 700)
jobs = st.builds(
    lambda panels, kerf, trim, second: SheetJob(
        panels=tuple(panel(f"p{k}", w, h, n, turn) for k, (w, h, n, turn) in enumerate(panels)),
        sheets=(
            SheetStock(name="a", width_nm=900 * MM, length_nm=1400 * MM, price_cents=1000, trim_nm=trim * MM),
            *(
                [SheetStock(name="b", width_nm=700 * MM, length_nm=800 * MM, price_cents=300, count=second)]
                if second
                else []
            ),
        ),
        kerf_nm=kerf * MM,
        orders=6,
    ),
    st.lists(st.tuples(sizes, sizes, st.integers(1, 6), st.booleans()), min_size=1, max_size=4),
    st.integers(0, 5),
    st.integers(0, 12),
    st.integers(0, 2),
)


@settings(max_examples=24, deadline=None, derandomize=True)
@given(jobs)
def test_every_plan_can_be_sawn(job):
    plan = plan_sheets(job)
    if isinstance(plan, SheetPlan):
        assert not sheet_checker.faults(job, plan)
        assert plan == plan_sheets(job)


def test_equal_parts_come_off_with_the_fence_where_it_stands():
    _, plan = plan_of(
        panel("cleat", 75, 450, 6), sheets=(SheetStock(name="b", width_nm=480 * MM, length_nm=600 * MM, price_cents=1),)
    )
    (sheet,) = plan.sheets
    fences = [(cut.along, cut.at_nm - (cut.board[0] if cut.along == "y" else cut.board[1])) for cut in sheet.cuts]
    same = max(fences.count(fence) for fence in fences)
    assert same == 5
    assert len(set(fences)) <= 3


@settings(max_examples=25, deadline=None)
@given(
    sizes=st.lists(st.tuples(st.integers(50, 400), st.integers(50, 600), st.integers(1, 3)), min_size=1, max_size=3),
    stock=st.lists(
        st.tuples(st.integers(200, 500), st.integers(200, 700), st.integers(0, 2), st.booleans()),
        min_size=1,
        max_size=2,
    ),
)
def test_the_cure_of_a_shortfall_lets_every_panel_be_cut(sizes, stock):
    panels = tuple(panel(f"p{k}", *size) for k, size in enumerate(sizes))
    sheets = tuple(
        SheetStock(name=f"s{k}", width_nm=w * MM, length_nm=h * MM, price_cents=0 if owned else w, count=n, owned=owned)
        for k, (w, h, n, owned) in enumerate(stock)
    )
    job, answer = plan_of(*panels, sheets=sheets)
    if isinstance(answer, SheetPlan):
        assert not sheet_checker.faults(job, answer)
        return
    cure = answer.cure
    assert cure.larger == bool(answer.too_big)
    if cure.larger:
        # one such sheet holds the largest alone; a millimetre less would not
        largest = answer.too_big
        enough = replace(cure.sheet, count=None)
        assert isinstance(plan_of(*largest, sheets=(enough,))[1], SheetPlan)
        for side in ("width_nm", "length_nm"):
            less = replace(enough, **{side: getattr(enough, side) - MM})
            assert isinstance(plan_of(*(replace(p, turn=False) for p in largest), sheets=(less,))[1], SheetShortfall)
        return
    for more, wanted in ((cure.count, SheetPlan), (cure.count - 1, SheetShortfall)):
        stocked = tuple(replace(s, count=s.count + more) if s == cure.sheet else s for s in sheets)
        assert isinstance(plan_of(*panels, sheets=stocked)[1], wanted)


def test_equal_parts_come_off_the_whole_with_one_position_of_the_fence():
    job, plan = plan_of(panel("back", 880, 880, 2))
    assert not sheet_checker.faults(job, plan)
    # the larger rest in one first, then both backers at one distance; the rest beyond them stays in one
    assert [(c.along, c.at_nm - (c.board[0] if c.along == "y" else c.board[1])) for c in plan.sheets[0].cuts] == [
        ("y", 880 * MM),
        ("x", 880 * MM),
        ("x", 880 * MM),
    ]
    assert (880 * MM, (2440 - 2 * 883) * MM) in {(o.width_nm, o.length_nm) for o in plan.sheets[0].offcuts}
