"""The fewest settings by halves of the sticks, beside every way to fill each stick in turn."""

from __future__ import annotations

import pytest

from bossage.saw.settings.halves import Halves
from bossage.saw.settings.peeling import Work
from tests.saw.settings.small_jobs import fewest, small_core


@pytest.mark.parametrize("block", range(4))
def test_halves_find_the_fewest_settings_and_none_below(block: int) -> None:
    for seed in range(block * 15, block * 15 + 15):
        core = small_core(seed)
        scale = [b.caps for b in core.bins for _ in range(b.count)]
        truth = fewest(core.widths, core.demand, [sum(c) for c in scale])
        halves = Halves(core, scale, Work(1_000_000))
        for settings in range(truth + 1):
            found = halves.with_settings(settings)
            if settings < truth:
                assert found is None, seed
                assert not halves.unsure, seed
        assert found is not None, seed
        assert [sum(row[i] for _, row in found) for i in range(len(core.demand))] == list(core.demand), seed
        assert sum(max(0, sum(n > 0 for n in row) - 1) for _, row in found) == truth, seed
        assert all(sum(n * w for n, w in zip(row, core.widths, strict=True)) <= sum(c) for c, row in found), seed
