"""Amounts beside the blocks' own, held against what a painter counted with tape and list on the papers."""

from __future__ import annotations

import pytest
from tests.paint.test_stains import OAK
from tests.paint.test_ways import plan_from
from tests.scenarios.cases import plan_of

from bossage.body import Role
from bossage.pack.sheets.ground import order_of_backer
from bossage.pack.sheets.paint import order_of_coats
from bossage.pack.sheets.paint_ways import paint_ways_sheet
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


def test_the_list_says_at_the_counter_which_colour_which_paint_and_which_lot():
    inch, ring = plan_of("S1"), plan_of("S7")
    for shade in inch.fade.shades:
        (line,) = (line for line in inch.cost.shopping if line.what == f"paint, {shade.name}")
        L, a, b = shade.lab
        assert f"L* {L:.1f}, a* {a:.1f}, b* {b + 0.0:.1f}" in line.note
        assert "lot number" in line.note
    later = [line for line in ring.cost.shopping if line.what in ("paint, tinter fern", "paint, tinter umber")]
    assert len(later) == 2
    assert all("lot number" in line.note for line in later)
    cards = [line.note for line in ring.cost.shopping if line.what.endswith("for the test card")]
    assert all("nearest to L*" in note and "no universal tinter" in note for note in cards)


def test_tinter_that_stays_in_tins_and_syringes_is_bought():
    plan = plan_of("S7")
    for pots in plan.paint.pots:
        pot = pots.one_pot
        assert pot is not None
        (line,) = (one for one in plan.paint.buy if one.what == f"paint, tinter {pots.family}")
        goes_in = sum(step.add_ml for step in pot.steps if not step.stock_parts)
        goes_in += sum(stock.tinter_ml for stock in pot.stocks)
        assert line.need_ml >= 1.04 * goes_in


def test_stained_oak_has_its_jars_rags_brushes_bit_and_kind_of_stain_on_the_list():
    plan = plan_from(OAK)
    lines = {line.what: line for line in plan.cost.shopping}
    assert lines["jars with lids, for stain"].amount.startswith("6 of")  # four mixes, half and quarter for the test
    assert "drill bit 2 mm" in lines
    (brushes,) = (line for what, line in lines.items() if what.startswith("brushes"))
    assert brushes.amount == "4"  # stain, topcoat, primer, ground
    (rags,) = (line for what, line in lines.items() if what.startswith("rags"))
    assert int(rags.amount) >= 8  # four shades, stained and oiled
    (stain,) = (line for what, line in lines.items() if what.startswith("stain, peat"))
    assert "may be thinned" in stain.note
    assert "hard wax oil goes over it" in stain.note
    assert "lead hole" in repr(order_of_coats(plan))
    assert "lead hole" not in repr(order_of_coats(plan_of("S2")))  # spruce


def test_sheets_for_another_way_than_the_advised_one_say_why_and_what_to_write():
    told = 0
    for scenario in ("S1", "S2", "S7"):
        plan = plan_of(scenario)
        advised = next(way for way in plan.paint.ways if way.advised)
        text = repr(paint_ways_sheet(plan))
        assert ("All sheets are for" in text) == (advised.name != plan.paint.way.name)
        if advised.name != plan.paint.way.name:
            told += 1
            assert f'paint.way = "{advised.name}" and plan again' in text
    assert told


def test_the_dyed_pieces_hinge_stile_is_dark_where_it_shows_and_edges_are_named():
    steps = " ".join(order_of_backer(plan_of("S7")))
    assert "hinge stile's front, where the ring is glued, is dyed" in steps
    assert "Paint the backer's edges" in steps
