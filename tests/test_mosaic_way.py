"""Mosaics through every stage: planned with their laws, or refused with a reason that says what would do."""

from __future__ import annotations

import numpy as np
import pytest

from bossage.brief import read_brief
from bossage.pack import pack_files
from bossage.plan import NoPlan, Plan, make_plan
from tests.brief.generate import MOSAIC_FAULTS, mosaic
from tests.test_whole_way import holds_its_laws, names_its_fault

BRIEFS = 24


@pytest.mark.parametrize("seed", range(BRIEFS))
def test_made_up_mosaics(seed: int) -> None:
    brief = read_brief(mosaic(seed).text)
    plan = make_plan(brief)
    if isinstance(plan, NoPlan):
        assert plan.reason
        assert plan.remedy
        return
    holds_its_laws(plan)
    field = plan.layout.blocks
    for number, footprint in enumerate(brief.blocks.footprints):
        if footprint.count is not None:
            assert int((field.footprint == number).sum()) == footprint.count
    tiles_the_leaf(plan)


def test_most_made_up_mosaics_can_be_planned() -> None:
    assert sum(isinstance(make_plan(read_brief(mosaic(seed).text)), Plan) for seed in range(5)) >= 4


@pytest.mark.parametrize("kind", sorted(MOSAIC_FAULTS))
def test_a_planted_fault_is_named(kind: str) -> None:
    for seed in range(6):
        names_its_fault(mosaic(seed, kind))


def test_the_papers_of_a_mosaic_say_how_it_came_out() -> None:
    plan = make_plan(read_brief(mosaic(2).text))
    assert isinstance(plan, Plan)
    files = pack_files(plan, sheets=("map", "press", "trays"))
    assert files["pack.pdf"].startswith(b"%PDF")
    assert any(check.name == "crosses" for check in plan.checks)


def tiles_the_leaf(plan: Plan) -> None:
    """Blocks and open cells cover each leaf, gap and all, and nothing twice."""
    field, layout = plan.layout.blocks, plan.layout
    for number, leaf in enumerate(layout.leaves):
        mine = field.leaf == number
        area = int((field.width_nm[mine] * field.height_nm[mine]).sum())
        area += sum(c.width_nm * c.height_nm for c in layout.open_cells if c.leaf == number)
        assert area == leaf.width_nm * leaf.height_nm
        cells = {(int(r), int(c)) for r, c in zip(field.row[mine], field.column[mine], strict=True)}
        assert len(cells) == int(np.count_nonzero(mine))
