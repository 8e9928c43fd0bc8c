"""Schedules: re-added by a checker of its own, against bounds, and proven where they are small."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.press.clock import press_schedule, press_shop, pressings_of
from bossage.press.schedule import finish_bound, schedule
from bossage.press.schedule_records import DAY_S, Pressing, PressShop, WorkDay
from bossage.press.working_hours import CannotPress, fit
from tests.press.cases import NAMES, made, pressed
from tests.press.schedule_checker import faults
from tests.press.schedule_oracle import least_finish_s


def batches(count, lay=300, close=120, press=2700, unload=180, leaves=1, shims=()):
    return [
        Pressing(
            name=f"row {k + 1}",
            leaf=k * leaves // count,
            lay_s=lay,
            close_s=close,
            press_s=press,
            unload_s=unload,
            shims=shims,
        )
        for k in range(count)
    ]


def shop(sets=1, hands=1, bench=1, open_s=480, shims=None, work=None):
    return PressShop(hands=hands, sets=sets, bench=bench, open_s=open_s, shims=shims, work=work)


@settings(max_examples=120, deadline=None)
@given(
    lays=st.lists(st.integers(1, 18), min_size=1, max_size=14),
    sets=st.integers(1, 5),
    hands=st.integers(1, 3),
    bench=st.integers(1, 2),
    leaves=st.integers(1, 3),
    open_min=st.sampled_from([8, 12, 20]),
    by_day=st.booleans(),
    owned=st.sampled_from([None, 3, 5]),
)
def test_every_schedule_re_adds_and_never_beats_its_bound(lays, sets, hands, bench, leaves, open_min, by_day, owned):
    rows = [
        replace(row, lay_s=20 * lay, shims=((5, 3), (9, 1))[: lay % 3])
        for row, lay in zip(batches(len(lays), leaves=leaves), lays, strict=True)
    ]
    shims = None if owned is None else ((5, owned), (9, owned))
    where = shop(sets, hands, bench, open_min * 60, shims, WorkDay() if by_day else None)
    assert faults(rows, where, schedule(rows, where)) == []


@pytest.mark.parametrize("scenario", NAMES)
@pytest.mark.parametrize("sets", [1, 2, 3, 4, 5, 8])
def test_scenarios_finish_within_five_percent_of_the_bound(scenario, sets):
    brief, _, _ = made(scenario)
    cards = pressed(scenario).rows
    found = press_schedule(brief, cards, sets)
    assert faults(pressings_of(brief, cards), press_shop(brief, sets), found) == []
    assert found.gap <= 0.05


def test_a_row_at_a_time_is_proven():
    # 16 rows, each laid in 5, closed in 2, pressed for 45 and taken out in 3 minutes; nothing fits between (10 > 8)
    found = schedule(batches(16), shop())
    assert found.finish_s == 16 * (300 + 120 + 2700 + 180)
    assert found.proven


def test_laying_ahead_needs_open_time_enough_to_unload_between():
    # 5 + 3 + 2 = 10 minutes from the first block to the pressure: at 8 minutes each row waits, at 10 it is laid ahead
    slow, quick = schedule(batches(4), shop(open_s=599)), schedule(batches(4), shop(open_s=600))
    assert slow.finish_s == 4 * 3300
    assert quick.finish_s == 300 + 4 * (120 + 2700 + 180)
    assert quick.proven


def test_two_sets_by_hand():
    # minutes; a row is laid and closed in 7, pressed 45, taken out in 3; nothing fits into the open time between
    #   row  laid      out             row  laid      out
    #   1      0-7     52-55           5    110-117   162-165
    #   2      7-14    62-65 (*)       6    120-127   172-175
    #   3     55-62   107-110          7    165-172   217-220
    #   4     65-72   117-120          8    175-182   227-230
    # (*) ready at 59, but the hands lay row 3; taking it out first would hold rows 3 and 4 up
    found = schedule(batches(8), shop(sets=2))
    assert [(p.lay_s // 60, p.out_s // 60) for p in found.pressed] == [
        (0, 52), (7, 62), (55, 107), (65, 117), (110, 162), (120, 172), (165, 217), (175, 227),
    ]  # fmt: skip
    assert found.finish_s == 230 * 60
    # the set that begins second, 7 minutes late, holds four rows of 55
    assert finish_bound(batches(8), shop(sets=2))[0] == (7 + 4 * 55) * 60
    # no way of taking turns gains the three minutes
    assert found.proven


def test_hands_bind_when_there_are_sets_for_all():
    # twenty rows of 10 minutes in hand: no fewer than 200 minutes
    found = schedule(batches(20), shop(sets=20))
    assert found.bound_by == "hands"
    assert found.bound_s == 20 * 600
    assert found.gap <= 0.05


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    lays=st.lists(st.integers(1, 18), min_size=1, max_size=6),
    sets=st.integers(1, 5),
    open_min=st.sampled_from([8, 10, 15]),
    press_min=st.sampled_from([15, 30, 45]),
    leaves=st.integers(1, 2),
)
def test_small_ones_are_proven_and_equal_an_independent_reference(lays, sets, open_min, press_min, leaves):
    lays = [min(lay, 3 * open_min - 6) for lay in lays]
    rows = [
        replace(row, lay_s=20 * lay)
        for row, lay in zip(batches(len(lays), press=60 * press_min, leaves=min(leaves, len(lays))), lays, strict=True)
    ]
    where = shop(sets, open_s=60 * open_min)
    found = schedule(rows, where)
    assert faults(rows, where, found) == []
    assert found.proven
    assert found.finish_s == least_finish_s(rows, where)


UNLIKE = st.builds(
    Pressing,
    name=st.just("row"),
    leaf=st.just(0),
    lay_s=st.integers(1, 5).map(lambda minutes: 60 * minutes),
    close_s=st.integers(1, 2).map(lambda minutes: 60 * minutes),
    press_s=st.sampled_from([300, 600, 1200, 1800]),
    unload_s=st.integers(1, 4).map(lambda minutes: 60 * minutes),
)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(rows=st.lists(UNLIKE, min_size=2, max_size=5), sets=st.integers(1, 3), open_min=st.integers(8, 14))
def test_batches_that_differ_in_press_and_unloading_are_proven_only_where_nothing_is_earlier(rows, sets, open_min):
    # our calculation; method: constraint programming (tests/press/schedule_oracle.py). 4 of 60 were beaten before.
    where = shop(sets, open_s=60 * open_min)
    found = schedule(rows, where)
    least = least_finish_s(rows, where)
    assert faults(rows, where, found) == []
    assert found.bound_s <= least <= found.finish_s
    assert found.proven
    assert found.finish_s == least


@settings(max_examples=30, deadline=None, derandomize=True)
@given(rows=st.lists(UNLIKE, min_size=2, max_size=4), sets=st.integers(1, 3), open_min=st.integers(8, 14))
def test_two_pairs_of_hands_say_proven_only_where_nothing_is_earlier(rows, sets, open_min):
    where = replace(shop(sets, open_s=60 * open_min), hands=2)
    found = schedule(rows, where)
    least = least_finish_s(rows, where)
    assert found.bound_s <= least <= found.finish_s
    assert not found.proven or found.finish_s == least


def test_what_is_quickly_out_may_go_before_what_is_ready_first():
    # planted: the search once took batches out in the order of their readiness only, and called 60 minutes proven
    minutes = [(1, 1, 20, 4), (3, 1, 10, 3), (3, 2, 20, 3), (4, 2, 10, 1), (5, 2, 10, 4)]
    rows = [
        Pressing(name=f"row {k}", leaf=0, lay_s=60 * lay, close_s=60 * close, press_s=60 * press, unload_s=60 * out)
        for k, (lay, close, press, out) in enumerate(minutes)
    ]
    where = shop(2, open_s=60 * 12)
    found = schedule(rows, where)
    assert found.proven
    assert found.finish_s == least_finish_s(rows, where) == 60 * 58


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    lays=st.lists(st.integers(3, 18), min_size=2, max_size=30),
    sets=st.integers(1, 8),
    open_min=st.sampled_from([8, 10, 15]),
)
def test_unlike_rows_with_many_sets_stay_within_five_percent_of_the_bound(lays, sets, open_min):
    rows = [replace(row, lay_s=20 * lay) for row, lay in zip(batches(len(lays)), lays, strict=True)]
    where = shop(sets, open_s=60 * open_min)
    found = schedule(rows, where)
    assert faults(rows, where, found) == []
    assert found.gap <= 0.05


@pytest.mark.parametrize("people", [1, 2])
def test_the_search_never_loses_to_the_rules_of_thumb(people):
    rows = [replace(row, lay_s=20 * (3 + 7 * k % 16)) for k, row in enumerate(batches(14))]
    for sets in (2, 4, 6):
        where = shop(sets, people)
        searched, thumb = schedule(rows, where), schedule(rows, where, states=0)
        assert faults(rows, where, searched) == []
        assert finish_bound(rows, where)[0] <= searched.bound_s <= searched.finish_s <= thumb.finish_s


def test_little_patience_still_gives_a_bound_that_holds():
    rows = [replace(row, lay_s=20 * (3 + 7 * k % 16)) for k, row in enumerate(batches(12))]
    patient, hasty = (schedule(rows, shop(4, 2), states=n) for n in (20_000, 1))
    assert hasty.bound_s <= patient.finish_s <= hasty.finish_s
    assert faults(rows, shop(4, 2), hasty) == []


def test_shims_that_all_rows_share_hold_them_apart():
    rows = batches(4, shims=((5, 3),))
    enough = schedule(rows, shop(sets=2, shims=((5, 6),)))
    short = schedule(rows, shop(sets=2, shims=((5, 5),)))
    assert enough.finish_s < short.finish_s == 4 * 3300


def test_more_of_anything_never_takes_longer():
    rows = batches(12, leaves=3)
    plain = schedule(rows, shop(sets=2)).finish_s
    assert schedule(rows, shop(sets=3)).finish_s <= plain
    assert schedule(rows, shop(sets=2, bench=2)).finish_s <= plain
    assert schedule(rows, shop(sets=2, hands=2)).finish_s <= plain


def test_hands_stop_in_the_evening_and_clamps_do_not():
    found = schedule(batches(16), shop(work=WorkDay()))
    # eight full rows and one more laid by 16:27: 9 h + 8 × 55 = 16:20, laid and closed 16:27, out the next morning
    ninth = found.pressed[8]
    assert (ninth.lay_s, ninth.press_s) == (9 * 3600 + 8 * 3300, 9 * 3600 + 8 * 3300 + 420)
    assert ninth.out_s == DAY_S + 9 * 3600
    assert found.finish_s == DAY_S + 9 * 3600 + 180 + 7 * 3300
    assert found.gap <= 0.05


def test_days_off_are_left_out():
    friday = WorkDay(days_off=(5, 6), first_weekday=4)
    assert fit(friday, 16 * 3600, 2 * 3600) == 3 * DAY_S + 9 * 3600


@pytest.mark.parametrize(
    ("rows", "where", "words"),
    [
        (batches(1, lay=400), shop(), "open time"),
        (batches(1, shims=((5, 3),)), shop(shims=((5, 2),)), "needs 3 shims"),
        (batches(1), shop(work=WorkDay(from_s=0, to_s=200)), "fits no working day"),
    ],
)
def test_what_cannot_be_pressed_is_told(rows, where, words):
    with pytest.raises(CannotPress, match=words):
        schedule(rows, where)


def test_nothing_to_press_takes_no_time():
    assert schedule([], shop()).finish_s == 0
