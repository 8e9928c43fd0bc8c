"""Amounts beside the blocks' own, held against what a painter counted with tape and list on the papers."""

from __future__ import annotations

import pytest
from tests.scenarios.cases import plan_of

from bossage.body import Role
from bossage.paint.extras import blocking_shade
from bossage.paint.sealed import overhang_mm2, part_sides_mm2
from bossage.paint.tins import USUAL_ML

IN2 = 645.16


def test_sides_of_the_parts_on_a_back_are_sealed_as_a_painter_counts_them():
    # S1: rails of 40 in, stiles of 16-1/2 in and the filler, 2-1/2 and 1-3/4 in deep: 400, 165 and 138 in² of long
    # sides; the panel half's own and all ends come on top, less where the filler stands on the panel half's rails.
    plan = plan_of("S1")
    long_in2 = 0.0
    for part in plan.body.parts:
        box = part.box
        if part.role in (Role.FRAME, Role.FILLER):
            longest = max(box.x1 - box.x0, box.y1 - box.y0) / 25.4e6
            long_in2 += 2 * longest * (box.z1 - box.z0) / 25.4e6
    assert long_in2 == pytest.approx(400 + 165 + 138, rel=0.01)
    assert long_in2 <= part_sides_mm2(plan.body) / IN2 <= 1.15 * long_in2
    assert overhang_mm2(plan.layout) / IN2 == pytest.approx(65, abs=0.5)


def test_the_second_pieces_primer_no_longer_fits_a_litre_to_the_last_drop():
    # the painter's own sum: 962 mL as it was, 23 for the parts, 8 for the outer backs, 10 for the cards
    primer = next(one for one in plan_of("S2").paint.buy if one.what == "primer")
    assert primer.need_ml == pytest.approx(1003, rel=0.01)
    assert sum(size * count for size, count in primer.tins) > 1000
    assert all(size in next(iter(USUAL_ML.values())) for size, _ in primer.tins)


def test_the_last_pour_of_a_pot_lasts_for_its_blocks_its_loss_and_two_spares():
    plan = plan_of("S7")
    assert blocking_shade(plan.brief, plan.fade).name == "fern 52"
    rate = plan.brief.paint.colour_m2_per_l
    for pots in plan.paint.pots:
        assert pots.one_pot is not None
        last = pots.one_pot.steps[-1]
        row = next(row for row in plan.paint.rows if row.shade == last.shade)
        net_ml = row.painted_mm2 / 1e6 * plan.brief.paint.coats / rate * 1e3
        reserve_ml = net_ml * plan.brief.paint.reserve
        spares_ml = 7.6 if last.shade == "fern 52" else 0.0  # two of 51 mm, two coats
        # all of the reserve is still there when pot and spares have had theirs
        assert last.pour_ml - net_ml - 8.0 - spares_ml == pytest.approx(reserve_ml, abs=0.6)
