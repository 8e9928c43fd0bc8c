"""The fewest settings as a bound: whatever work it may cost, and where groups give up, nothing untrue is claimed."""

from __future__ import annotations

import pytest

from bossage.saw.settings import fewest as searched
from bossage.saw.settings.fewest import fewest_settings
from bossage.saw.settings.groups import Groups
from bossage.saw.settings.peeling import Spent, Work
from bossage.saw.settings.stick_sets import stick_sets
from tests.saw.settings.small_jobs import fewest, small_core


@pytest.mark.parametrize("seed", range(24))
def test_whatever_work_it_may_cost_the_bound_is_true_and_with_enough_it_is_met(seed: int) -> None:
    core = small_core(seed)
    caps = [sum(b.caps) for b in core.bins for _ in range(b.count)]
    truth = fewest(core.widths, core.demand, caps)
    for units in (0, 1, 4, 16, 64, 256, 1_000_000):
        found = fewest_settings(core, price=len(caps), most=truth + 1, units=units)
        assert found.least <= truth, units
        if found.filled is not None:
            held = [[sum(span[i] for span in spans) for i in range(len(core.demand))] for spans in found.filled.spans]
            assert [sum(column) for column in zip(*held, strict=True)] == list(core.demand)
            assert sum(max(0, sum(n > 0 for n in row) - 1) for row in held) >= truth
    assert found.least == truth
    assert found.filled is not None


def groups_of(seed: int, units: int) -> Groups:
    core = small_core(seed)
    sets = stick_sets([b.caps for b in core.bins for _ in range(b.count)])
    assert sets is not None
    return Groups(core, sets, Work(units))


def test_what_is_not_looked_at_for_its_many_joins_is_no_proof(monkeypatch: pytest.MonkeyPatch) -> None:
    # as many settings as lengths: three groups or more then have three joins or more beyond trees
    groups = groups_of(3, 10_000)
    asked: list[tuple[int, int]] = []
    monkeypatch.setattr(Groups, "share_out", lambda self, types, sticks, n, extra: asked.append((n, extra)))
    way = searched._Way([], searched.Counter(), groups)
    assert way.in_groups(len(groups.core.widths), searched.MOST_JOINS) is None
    assert asked == [(2, 2), (1, 1)]
    assert not groups.unsure
    asked.clear()
    assert way.in_groups(len(groups.core.widths), searched.MOST_JOINS + 2) is None
    assert asked == [(2, 2), (1, 1)]
    assert groups.unsure


def test_a_group_that_takes_more_work_than_it_may_have_is_no_proof(monkeypatch: pytest.MonkeyPatch) -> None:
    def spent(*_: object) -> None:
        raise Spent

    monkeypatch.setattr("bossage.saw.settings.groups.peel", spent)
    groups = groups_of(3, 10_000)
    assert groups._fill(groups.types, groups.sets.whole, 5) is None
    assert groups.unsure


def test_a_level_that_stayed_open_bounds_the_ones_above_it() -> None:
    search = searched._Search(small_core(3), [], 9)
    search.open, search.level = [2, 4], 6

    class Never:
        unsure = False

        def in_halves(self, settings: int, near: bool) -> None:
            self.unsure = settings == 4

    search.ways = [Never()]
    search.close()
    assert search.least == 4
