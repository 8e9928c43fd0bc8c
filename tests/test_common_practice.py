"""Rules of the trade that stand in no printed source, held where they are used."""

from __future__ import annotations

import numpy as np

from bossage.brief import read_brief
from bossage.layout.records import Zone
from tests.scenarios.cases import ROOT, plan_of, varied, verdict

FIRST = (ROOT / "examples" / "first.toml").read_text()


def test_levels_from_a_half_to_one_and_a_half_inches_by_eighths_are_nine() -> None:
    # common practice, no source
    levels = '{ from = "1/2 in", to = "1 1/2 in", step = "1/8 in" }'
    brief = read_brief(FIRST.replace("{ from = 18, to = 42, step = 6 }", levels))
    assert len(brief.blocks.levels_nm) == 9
    assert brief.blocks.levels_nm[0] == 12_700_000
    assert brief.blocks.levels_nm[-1] == 38_100_000


def test_a_ring_block_needs_the_backers_thickness_more_to_read_level() -> None:
    # common practice, no source: the ring starts on strips behind the backer, one backer further back
    plan = plan_of("S7")
    blocks, relief = plan.layout.blocks, plan.relief
    levels = np.asarray(relief.levels_nm)[relief.level]
    ring = blocks.zone == Zone.RING
    assert ring.sum() == 44
    assert set((relief.length_nm - levels)[ring].tolist()) == {plan.brief.backer.thickness_nm}
    assert set((relief.length_nm - levels)[~ring].tolist()) == {0}


def test_thirty_to_sixty_minutes_in_the_clamps_before_the_next_row() -> None:
    # common practice, no source
    for minutes, expected in ((29, "caution"), (30, "fine"), (60, "fine"), (61, "caution")):
        plan = varied("S2", f"clamp time {minutes}", lambda brief, m=minutes: brief.update(glue={"clamp_time": m}))
        assert verdict(plan, "clamp_time") == expected
