"""The edge ring: level with the field, mirrored template, fixings that stay inside, a strip that is stiff enough."""

from __future__ import annotations

import pytest

from bossage.checks import Verdict
from bossage.layout.records import Zone
from bossage.press.ring import KNOCK_N, ring_job
from bossage.press.young import PAPER
from tests.layout.factory import change, mm
from tests.press.cases import check, made, on_bench, pressed, pressing, saw_of


def test_a_ring_block_needs_the_backers_thickness_more_to_read_level__common_practice_no_source():
    brief, layout, relief = made("S7")
    ring = layout.blocks.zone == Zone.RING
    levels = [relief.levels_nm[k] for k in relief.level]
    extra = {int(relief.length_nm[b]) - levels[b] for b in range(layout.blocks.count) if ring[b]}
    assert extra == {brief.backer.thickness_nm} == {mm(11)}
    assert {int(relief.length_nm[b]) - levels[b] for b in range(layout.blocks.count) if not ring[b]} == {0}


def test_on_the_template_all_backs_lie_level_with_the_back_of_the_backer():
    brief, _, relief = made("S7")
    ring = pressed("S7").ring
    # the piece rests on its highest blocks: the backer's back is their height and its own thickness over the board
    backer_back = ring.support_nm + brief.backer.thickness_nm
    (template,) = ring.template
    assert len(template) == ring.blocks_per_leaf == 44
    assert {place.shim_nm + int(relief.length_nm[place.block]) for place in template} == {backer_back}
    assert sum(place.corner for place in template) == 4


def test_the_template_is_mirrored_and_within_the_outline():
    _, layout, _ = made("S7")
    ring, leaf = pressed("S7").ring, layout.leaves[0]
    for place in ring.template[0]:
        seen_from_front = int(layout.blocks.x_nm[place.block]) - leaf.x_nm
        assert place.x_nm + place.width_nm + seen_from_front == ring.template_width_nm == mm(838)
        assert place.y_nm == int(layout.blocks.y_nm[place.block]) - leaf.y_nm


def test_fixings_end_three_millimetres_short_of_every_face():
    # strip 5, lowest ring block 13 + 11 = 24: 5 + 24 - 3 = 26, sold as 25; strip 5, backer 11, lowest block 13: 26
    ring = pressed("S7").ring
    assert (ring.fixing_longest_nm, ring.fixing_usual_nm, ring.fixing_backer_nm) == (mm(26), mm(25), mm(26))


def test_strip_by_hand():
    # 50 N at 60 mm (gap 2 and block 58): 3000 N mm on 60 mm of birch plywood across, 7000 MPa, 5 thick:
    # E I = 7000 × 60 × 125 / 12 = 4.375e6; free over 2 + 2 × 5 = 12 mm: 3000 × 12 / 4.375e6 × 60 = 0.4937 mm;
    # 3000 / (60 × 25 / 6) = 12 MPa
    ring = pressed("S7").ring
    assert (KNOCK_N, ring.knock_stress_mpa) == (50, pytest.approx(12.0))
    assert ring.knock_move_nm / 1e6 == pytest.approx(0.4937, abs=0.0001)
    assert check(pressed("S7"), "ring_strip").verdict is Verdict.FINE


def test_a_thin_strip_is_told_with_the_thickness_that_passes():
    brief, layout, relief = made("S7")
    thin = check(pressing(change(brief, edge__strip_thickness_nm=mm(3)), layout, relief, saw_of("S7")), "ring_strip")
    assert thin.verdict is Verdict.CAUTION
    assert "take strips of 4 mm" in thin.remedy
    cured = check(pressing(change(brief, edge__strip_thickness_nm=mm(4)), layout, relief, saw_of("S7")), "ring_strip")
    assert cured.verdict is Verdict.FINE


def test_no_young_face_lies_on_cloth_board_or_shim_but_through_paper():
    steps = [step.text for step in pressed("S7").ring.steps]
    assert sum("cloth" in text and PAPER not in text for text in steps) == 0
    bed = next(text for text in steps if PAPER in text)
    for part in ("field", "ring", "every shim"):
        assert part in bed
    assert all("paper" in text for text in steps if "lay a shim" in text or "lay shims" in text)


def test_a_field_out_of_its_bed_is_looked_at_before_it_lies_face_down_again():
    brief, layout, relief = made("S7")
    told = {}
    for down in (True, False):
        told[down] = ring_job(brief, on_bench(brief, layout), relief, face_down=down).steps[2].text
    assert "face up" in told[True]
    assert "look every face over" in told[True]
    assert "face up" not in told[False]


def test_only_an_outrigger_has_a_ring():
    assert pressed("S2").ring is None
    assert not [c for c in pressed("S2").checks if c.name == "ring_strip"]


def test_ring_blocks_before_a_hinge_stile_are_glued_to_it_and_weighed_with_it():
    steps = pressed("S7").ring.steps
    (glued,) = (step for step in steps if "Glue the horizontal strips first" in step.text)
    assert "The blocks at the hinge stile: take them out of the template. Glue their backs" in glued.text
    assert any("clamp the strips, and the hinge stile, down" in step.text for step in steps)
