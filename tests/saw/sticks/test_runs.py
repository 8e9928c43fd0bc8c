"""The way through the saw: runs cut every slice once, in the order that the plan weighed."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings

from bossage.saw import SawPlan, TimeModel, plan_sticks, runs_of
from bossage.saw.sticks.sequence import by_stick
from tests.saw.sticks.test_advise import jobs

SLOW_STOP = TimeModel(change_s=900, load_s=1, cut_s=1)
SLOW_FETCH = TimeModel(change_s=1, load_s=900, cut_s=1)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(jobs)
def test_runs_cut_all_slices_once_and_move_the_stop_as_often_as_weighed(job):
    for time in (SLOW_STOP, SLOW_FETCH):
        plan = plan_sticks(replace(job, time=time), advise=False)
        if not isinstance(plan, SawPlan):
            continue
        runs = runs_of(plan)
        cut = Counter()
        for run in runs:
            assert run.count > 0
            cut[run.stick, run.length_nm] += run.count
        owed = Counter((stick.number, s.length_nm) for stick in plan.sticks for s in stick.slices)
        assert cut == owed
        assert sum(run.sets_stop for run in runs) == plan.handling.changes
        assert [run.length_nm for run in runs if run.stick == 1] == _lengths_of(plan.sticks[0])


def _lengths_of(stick):
    out = []
    for piece in stick.slices:
        if not out or out[-1] != piece.length_nm:
            out.append(piece.length_nm)
    return out


def test_stick_by_stick_begins_with_the_tall_slices_where_that_costs_no_setting():
    sticks = [((3,), (3, 4)), ((1, 2),), ((0,),)]  # by stick, lengths in its spans; 0 is the tallest
    assert [stick for stick, _ in by_stick(sticks, 0, TimeModel()).visits] == [2, 1, 1, 0, 0]
    shared = [((2,),), ((1,),), ((1, 2),), ((0,),)]  # what shares a length stays together
    way = by_stick(shared, 0, TimeModel())
    assert [stick for stick, _ in way.visits] == [3, 1, 2, 2, 0]
    assert way.handling.changes == 3
