"""Five hundred briefs through every stage: the feasible are planned, a planted fault is named, laws hold in each.

The checks here share no code with the stages: they add up again from the records.
"""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from bossage.brief import BriefFaults, read_brief
from bossage.layout.records import Zone
from bossage.plan import Plan, make_plan
from bossage.saw import SawPlan
from bossage.serial import to_json
from tests.body.laws import screws_beside_their_parts, screws_that_meet
from tests.brief.generate import MadeUp, one_of_many

BRIEFS, CHUNK = 510, 30


@pytest.mark.parametrize("first", range(0, BRIEFS, CHUNK))
def test_made_up_briefs(first: int) -> None:
    for seed in range(first, first + CHUNK):
        made = one_of_many(seed)
        if made.fault:
            names_its_fault(made)
        else:
            plan = make_plan(read_brief(made.text))
            assert isinstance(plan, Plan), f"seed {seed}: {plan}"
            holds_its_laws(plan)


def names_its_fault(made: MadeUp) -> None:
    with pytest.raises(BriefFaults) as caught:
        read_brief(made.text)
    fields = [fault.field for fault in caught.value.faults]
    assert any(made.field in field for field in fields), f"seed {made.seed}: planted {made.fault}, found {fields}"


def holds_its_laws(plan: Plan) -> None:
    body = to_json(plan.body)
    assert [*screws_that_meet(body), *screws_beside_their_parts(body)] == []
    neighbours_differ(plan)
    quotas_are_exact(plan)
    table_holds_every_block(plan)
    for cut in plan.saw.sections:
        if cut.plan is not None:
            stock_is_accounted_for(cut.plan)
            assert Counter(s.length_nm for stick in cut.plan.sticks for s in stick.slices) == {
                row.length_nm: row.slices for row in cut.rows
            }
    shims_level_each_row(plan)


def neighbours_differ(plan: Plan) -> None:
    level, edges = plan.relief.level, plan.layout.blocks.edges
    step = plan.brief.blocks.min_step
    assert (np.abs(level[edges[:, 0]] - level[edges[:, 1]]) >= step).all()


def quotas_are_exact(plan: Plan) -> None:
    blocks, levels = plan.layout.blocks, len(plan.relief.levels_nm)
    for leaf in range(len(plan.layout.leaves)):
        for number, footprint in enumerate(plan.brief.blocks.footprints):
            if footprint.quotas is None:
                continue
            mine = (blocks.leaf == leaf) & (blocks.footprint == number)
            if plan.brief.blocks.ring_quotas is not None:
                mine &= blocks.zone == Zone.FIELD
            if mine.any():
                assert tuple(np.bincount(plan.relief.level[mine], minlength=levels)) == footprint.quotas


def table_holds_every_block(plan: Plan) -> None:
    assert sum(row.count for row in plan.fade.count_table) == plan.layout.blocks.count
    by_level = Counter(dict.fromkeys(plan.relief.levels_nm, 0))
    for row in plan.fade.count_table:
        by_level[row.level_nm] += row.count
    counted = np.bincount(plan.relief.level, minlength=len(plan.relief.levels_nm))
    assert [by_level[nm] for nm in plan.relief.levels_nm] == counted.tolist()


def stock_is_accounted_for(plan: SawPlan) -> None:
    for stick in plan.sticks:
        slices = sum(s.length_nm for s in stick.slices)
        parts = slices + stick.kerfs_nm + stick.stock.trim_nm + stick.passed_nm + stick.offcut_nm
        assert parts == stick.stock.length_nm
        assert stick.offcut_nm >= stick.stock.stub_nm


def shims_level_each_row(plan: Plan) -> None:
    levels_nm, level = plan.relief.levels_nm, plan.relief.level
    for card in plan.press.rows:
        for batch in card.batches:
            assert {b.shim_nm + levels_nm[int(level[b.block])] for b in batch.blocks} == {card.constant_nm}
