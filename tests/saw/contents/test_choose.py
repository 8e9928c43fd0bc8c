"""Each engine of contents by itself: what it fills is the whole demand, and no span holds more than it can."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.saw import Patience, Piece, SawJob, StickStock
from bossage.saw.contents.choose import ENGINES, Task, fill_mix
from bossage.saw.contents.fill import expand
from bossage.saw.job import limits
from bossage.saw.job.contents import Filled
from bossage.saw.job.numbers import Core, build_core


def core_of(lengths: list[int], count: int, room: int, sticks: int) -> Core:
    """Sticks of one kind with a kerf of 3, and `count` slices of each length."""
    pieces = tuple(Piece(length_nm=x, count=count) for x in lengths)
    stock = StickStock(name="stick", length_nm=room, price_cents=5, count=sticks)
    return build_core(SawJob(pieces=pieces, sticks=(stock,), kerf_nm=3))


def task_of(core: Core, sticks: int, patience: Patience) -> Task:
    return Task(core, core.bins, expand(core.bins, [sticks]), patience, 1)


def assert_holds(core: Core, filled: Filled) -> None:
    cut = [0] * len(core.widths)
    for b, stick in zip(filled.bins, filled.spans, strict=True):
        for cap, span in zip(core.bins[b].caps, stick, strict=True):
            assert sum(w * n for w, n in zip(core.widths, span, strict=True)) <= cap
            cut = [a + n for a, n in zip(cut, span, strict=True)]
    assert tuple(cut) == core.demand


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(ENGINES),
    st.lists(st.integers(20, 400), min_size=1, max_size=6, unique=True),
    st.integers(1, 9),
    st.integers(0, 3),
)
def test_whatever_an_engine_fills_is_the_whole_demand(engine, lengths, count, spare):
    core = core_of(lengths, count, 1000, 200)
    sticks = -(-core.need // core.bins[0].fill) + spare
    filled = engine.run(task_of(core, sticks, Patience()))
    if filled is not None:
        assert_holds(core, filled)


@pytest.mark.parametrize("sticks", [limits.BEAM_FROM_START, limits.BEAM_FROM_START + 1])
def test_the_beam_goes_first_up_to_its_threshold_and_the_program_above(sticks):
    core = core_of([97, 61, 43], 6 * sticks // 2, 1000, 200)
    first = next(engine for engine in ENGINES if engine.runs(task_of(core, sticks, Patience())))
    assert first is ENGINES[0 if sticks == limits.BEAM_FROM_START else 1]


def test_many_lengths_go_to_the_subset_sums_unless_settings_count():
    core = core_of([50 + 7 * k for k in range(limits.BEAM_TYPES_UP_TO + 1)], 10, 1000, 200)
    few = task_of(core, limits.BEAM_FROM_START, Patience())
    many = task_of(core, limits.BEAM_FROM_START + 1, Patience())
    money = task_of(core, limits.BEAM_FROM_START + 1, Patience(settings_steps=0))
    asked = [[engine.runs(task) for engine in ENGINES] for task in (few, many, money)]
    assert asked == [[False, False, True], [False, True, True], [False, False, True]]


def test_too_few_sticks_are_not_filled():
    core = core_of([300], 10, 1000, 200)
    assert fill_mix(core, core.bins, [3], Patience(), 1) is None
    filled = fill_mix(core, core.bins, [4], Patience(), 1)
    assert filled is not None
    assert_holds(core, filled)
