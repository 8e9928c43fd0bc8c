"""What blocks dry on, are held by and are pressed through stands on the list, re-added block by block."""

from __future__ import annotations

import pytest
from tests.scenarios.cases import plan_of

from bossage.paint.drying import APART_MM
from bossage.press.young import PAPER
from bossage.units import parse_length_nm


@pytest.mark.parametrize("scenario", ["S1", "S2"])
def test_strips_screws_cards_and_release_paper_are_bought(scenario):
    plan = plan_of(scenario)
    lines = {line.what: line for line in plan.cost.shopping}
    (strips,) = (line for what, line in lines.items() if what.startswith("drying strips"))
    assert strips.cents is None
    assert not strips.note.startswith("paid in")
    wide_mm = plan.layout.blocks.width_nm / 1e6
    wide_of = {one.section: one.width_nm / 1e6 for one in reversed(plan.brief.blocks.footprints)}
    spare_mm = [wide_of[cut.section] for cut in plan.saw.sections for row in cut.rows for _ in range(row.spares)]
    held_mm = 2 * sum(mm + APART_MM for mm in [*wide_mm.tolist(), *spare_mm])
    listed_mm = parse_length_nm(strips.amount, plan.brief.piece.unit) / 1e6
    assert held_mm - 2 <= listed_mm <= held_mm + 1000  # an inch list is written to the nearest sixteenth
    (screws,) = (line for what, line in lines.items() if what.startswith("thin screws"))
    spares = sum(row.spares for section in plan.saw.sections for row in section.rows)
    assert screws.amount == f"{plan.layout.blocks.count + spares:,}"
    assert lines["candle or paraffin wax"].cents is None
    assert lines["white card for shades"].amount.startswith(f"{len(plan.fade.shades)} pieces")
    assert PAPER in lines
    (brushes,) = (line for what, line in lines.items() if what.startswith("brushes"))
    assert brushes.amount == str(2 + len(plan.brief.families))
