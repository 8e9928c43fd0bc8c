"""Sticks: laws on generated jobs re-added by a checker, exhaustive search on tiny ones, zones, offcuts, shortfall."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.saw import (
    FaultyJob,
    Patience,
    Piece,
    SawJob,
    SawPlan,
    Shortfall,
    StickStock,
    TimeModel,
    plan_sticks,
)
from bossage.saw.sticks.sequence import by_setting
from tests.saw.sticks import checker as stick_checker

MM = 1_000_000


def stick(name, length, price, count=None, *, trim=0, stub=0, owned=False, no_go=()):
    return StickStock(
        name=name,
        length_nm=length * MM,
        price_cents=price,
        count=count,
        owned=owned,
        trim_nm=trim * MM,
        stub_nm=stub * MM,
        no_go=tuple((a * MM, b * MM) for a, b in no_go),
    )


def job_of(pieces, *sticks, kerf=0, **more):
    cut = tuple(Piece(length_nm=l_mm * MM, count=n, spares=s) for l_mm, n, s in pieces)
    return SawJob(pieces=cut, sticks=sticks, kerf_nm=kerf * MM, **more)


def test_a_slice_takes_its_kerf_the_last_one_too():
    exact = stick("a", 30 + 100 * 3 + 3 * 3 + 200, 100, trim=30, stub=200)
    assert len(plan_sticks(job_of([(100, 3, 0)], exact, kerf=3)).sticks) == 1
    short = replace(exact, length_nm=exact.length_nm - 1)
    assert len(plan_sticks(job_of([(100, 3, 0)], short, kerf=3)).sticks) == 2


def test_no_slice_lies_in_a_zone_and_the_kerf_may_bite_into_it():
    knotty = stick("k", 1000, 100, 1, no_go=[(203, 300)])
    job = job_of([(100, 2, 0), (350, 2, 0)], knotty, kerf=3)
    # Up to the knot 2 × 100 + 1 kerf and 3 of the knot; behind it 700 hold only one 350 with its kerf.
    assert isinstance(plan_sticks(job), Shortfall)
    job = job_of([(100, 2, 0), (340, 2, 0)], knotty, kerf=3)
    plan = plan_sticks(job)
    assert not stick_checker.faults(job, plan)
    assert [s.from_nm // MM for s in plan.sticks[0].slices] == [0, 103, 300, 643]


def test_a_zone_at_the_end_and_one_at_the_start_only_shorten_the_stick():
    tapered = stick("t", 1000, 100, 1, trim=10, stub=100, no_go=[(0, 40), (850, 1000)])
    job = job_of([(400, 2, 0)], tapered, kerf=5)
    plan = plan_sticks(job)
    assert not stick_checker.faults(job, plan)
    assert plan.usable_nm == (850 + 5 - 40) * MM


def test_what_is_on_the_shelf_is_used_first():
    shelf = stick("shelf", 700, 0, 1, owned=True)
    bought = stick("bought", 1000, 500)
    plan = plan_sticks(job_of([(100, 16, 0)], shelf, bought))
    assert plan.money_cents == 500
    assert sorted(s.stock.name for s in plan.sticks) == ["bought", "shelf"]


def test_without_prices_the_least_length_is_bought():
    plan = plan_sticks(job_of([(100, 9, 0)], stick("long", 2000, 0), stick("short", 1000, 0)))
    assert [s.stock.name for s in plan.sticks] == ["short"]


def test_two_lengths_at_two_prices():
    long, short = stick("long", 2000, 900), stick("short", 1000, 500)
    plan = plan_sticks(job_of([(500, 5, 0)], long, short))
    assert (plan.money_cents, plan.proven) == (1400, True)


def test_settings_run_longest_first_and_the_quicker_way_follows_the_time_model():
    job = job_of([(100, 9, 0), (60, 9, 0), (30, 9, 0)], stick("a", 1000, 100))
    slow_stop = plan_sticks(replace(job, time=TimeModel(change_s=600, load_s=1, cut_s=1)))
    slow_load = plan_sticks(replace(job, time=TimeModel(change_s=1, load_s=600, cut_s=1)))
    assert slow_stop.handling.changes == 3
    assert slow_load.handling.mode == "by_stick"
    assert [s.length_nm // MM for s in slow_stop.settings] == [100, 60, 30]


def test_what_lies_at_the_saw_at_once_asks_for_more_settings_and_never_for_fewer():
    job = job_of([(100, 9, 0), (60, 9, 0), (30, 9, 0)], stick("a", 700, 100))
    slow_load = TimeModel(change_s=60, load_s=45, cut_s=1)
    changes = []
    for at_once in (None, 3, 2, 1):
        plan = plan_sticks(replace(job, time=replace(slow_load, at_once=at_once)), advise=False)
        assert not stick_checker.faults(job, plan)
        way = plan.handling if plan.handling.mode == "by_setting" else plan.other_handling
        changes.append(way.changes)
    assert changes == sorted(changes)
    assert changes[0] == 3


def test_lots_keep_the_stop_where_it_stands_by_hand():
    # lengths 0 (tall), 1, 2; two sticks at a time: the first lot needs 0 1 2, the second begins at 2 where the stop is
    found = by_setting([((0, 1),), ((1, 2),), ((0, 2),), ((2,),)], 0, TimeModel(at_once=2))
    assert [length for _, length in found.visits] == [0, 1, 1, 2, 2, 2, 0]
    assert found.handling.changes == 4
    assert by_setting([((0, 1),), ((1, 2),), ((0, 2),), ((2,),)], 0, TimeModel()).handling.changes == 3


def test_an_offcut_is_kept_from_its_least_length_on():
    job = job_of([(100, 6, 0)], stick("a", 1000, 100, stub=100), keep_offcut_nm=400 * MM)
    (cut,) = plan_sticks(job).offcuts
    assert cut.offcut_nm == 400 * MM
    assert plan_sticks(replace(job, keep_offcut_nm=400 * MM + 1)).offcuts == ()


def test_a_shortfall_says_how_much_and_what_would_cure_it():
    job = job_of([(18, 10, 1), (40, 10, 0)], stick("a", 620, 100, 1, trim=5, stub=50), kerf=2)
    # 10 × 20 + 10 × 42 = 620 needed, 565 there.
    short = plan_sticks(job)
    assert isinstance(short, Shortfall)
    assert short.need_nm - short.usable_nm == 55 * MM
    assert short.proven
    assert short.short_nm >= 55 * MM
    assert any(cure.buy_nm == short.short_nm + 55 * MM for cure in short.cures)
    more = replace(job, pieces=(replace(job.pieces[0], spares=3), job.pieces[1]))
    cure = plan_sticks(more).cures[0]
    assert cure.drop == ((18 * MM, 3),)
    assert cure.saves_nm == 60 * MM


def test_a_piece_longer_than_any_clear_run_is_named():
    short = plan_sticks(job_of([(700, 1, 0), (100, 1, 0)], stick("a", 1000, 100, no_go=[(500, 520)])))
    assert isinstance(short, Shortfall)
    assert [p.length_nm for p in short.too_long] == [700 * MM]
    assert short.cures[-1].buy_nm == 700 * MM


@pytest.mark.parametrize(
    "bad",
    [
        job_of([(100, 0, 0)], stick("a", 1000, 1)),
        job_of([(100, 1, 2)], stick("a", 1000, 1)),
        job_of([(0, 1, 0)], stick("a", 1000, 1)),
        job_of([(100, 1, 0)], stick("a", 1000, 1), kerf=-1),
        job_of([(100, 1, 0)], stick("a", 1000, 1, trim=-1)),
        job_of([(100, 1, 0)], stick("a", 1000, 1, -1)),
        job_of([(100, 1, 0)], stick("a", 1000, 1, no_go=[(900, 1001)])),
    ],
)
def test_nonsense_is_refused_in_words(bad):
    with pytest.raises(FaultyJob, match=r"nothing to saw|above 0|below 0|0 or more|must lie"):
        plan_sticks(bad)


QUICK = Patience(restarts=8, mixes=3, rounds=60, dives=2, proof_work=0.5, settings_steps=60, settings_work=0.0)
lengths = st.integers(5, 90)
pieces = st.lists(st.tuples(lengths, st.integers(1, 40)), min_size=1, max_size=8)
stocks = st.lists(
    st.tuples(st.integers(150, 900), st.integers(0, 900), st.sampled_from([None, None, 1, 3]), st.integers(0, 6)),
    min_size=1,
    max_size=4,
)


def build(cut, stock, kerf, trim, stub, seed=0):
    sticks = []
    for k, (length, price, count, knot) in enumerate(stock):
        zone = [(length // 3, length // 3 + 5 * knot)] if knot >= 4 else []
        sticks.append(stick(f"s{k}", length, price, count, trim=trim, stub=stub, owned=price == 0, no_go=zone))
    return job_of([(l_mm, n, 0) for l_mm, n in cut], *sticks, kerf=kerf, patience=QUICK, seed=seed)


jobs = st.builds(build, pieces, stocks, st.integers(0, 4), st.integers(0, 10), st.integers(0, 50))


@settings(max_examples=150, deadline=None, derandomize=True)
@given(jobs)
def test_every_plan_re_adds(job):
    plan = plan_sticks(job, advise=False)
    if isinstance(plan, SawPlan):
        assert not stick_checker.faults(job, plan)
        if plan.greedy is not None:
            assert plan.money_cents <= plan.greedy.money_cents
    else:
        assert plan.missing or plan.too_long


@settings(max_examples=20, deadline=None, derandomize=True)
@given(jobs)
def test_one_job_gives_one_plan(job):
    assert plan_sticks(job) == plan_sticks(job)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(jobs, st.integers(150, 900), st.integers(1, 900))
def test_more_stock_never_costs_more(job, length, price):
    one = plan_sticks(job, advise=False)
    wider = replace(job, sticks=(*job.sticks, stick("more", length, price)))
    two = plan_sticks(wider, advise=False)
    if isinstance(one, SawPlan) and one.bound_cents:
        assert isinstance(two, SawPlan)
        assert two.money_cents <= one.money_cents


@settings(max_examples=40, deadline=None, derandomize=True)
@given(pieces, st.integers(150, 900), st.integers(1, 5))
def test_a_kerf_of_zero_never_needs_more_sticks(cut, length, kerf):
    sawn = plan_sticks(build(cut, [(length, 100, None, 0)], kerf, 0, 0), advise=False)
    split = plan_sticks(build(cut, [(length, 100, None, 0)], 0, 0, 0), advise=False)
    if isinstance(sawn, SawPlan):
        assert len(split.sticks) <= len(sawn.sticks)
