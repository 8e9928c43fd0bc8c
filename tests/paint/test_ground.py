"""Glue needs wood: the field under every block, the ways to colour the front, and what a painted field brings."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.paint.test_ways import EXAMPLES, FIRST, plan_from

from bossage.checks import Verdict
from bossage.layout.records import Zone
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheet import Steps, parts_of
from bossage.paint.faces import coat_of

LAP_MM = 4.0


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_bond_lies_on_paint_in_any_example(path: Path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    paint = plan.paint
    assert coat_of(paint.face_coats, "backer", "glue field") in ("bare", "stain")
    assert coat_of(paint.face_coats, "block", "back") == "bare"
    for part in ("strip", "lipping", "behind", "cleat"):
        assert coat_of(paint.face_coats, part, "glue field") == "bare"
    blocks = plan.layout.blocks
    on_backer = blocks.zone != Zone.RING
    assert (paint.glue_field_mm2[on_backer] > 0).all()
    assert (paint.glue_field_mm2[~on_backer] == 0).all()
    assert not any(link.name == "coating" for link in plan.hang.links)
    (check,) = (check for check in paint.checks if check.name == "glue_on_wood")
    assert check.verdict is (Verdict.CAUTION if paint.ground_way.name == "dye" else Verdict.FINE)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_field_and_painted_lines_are_the_whole_front(path: Path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    front = sum(leaf.backer_width_nm * leaf.backer_height_nm for leaf in plan.layout.leaves) / 1e12
    lines = next(way for way in plan.paint.ground_ways if way.name == "lines")
    assert lines.painted_mm2 + lines.bare_field_mm2 == pytest.approx(front)
    blocks = plan.layout.blocks
    shows = front
    for i in range(blocks.count):
        leaf = plan.layout.leaves[int(blocks.leaf[i])]
        across = min(int(blocks.x_nm[i] + blocks.width_nm[i]), leaf.backer_x_nm + leaf.backer_width_nm) - max(
            int(blocks.x_nm[i]), leaf.backer_x_nm
        )
        up = min(int(blocks.y_nm[i] + blocks.height_nm[i]), leaf.backer_y_nm + leaf.backer_height_nm) - max(
            int(blocks.y_nm[i]), leaf.backer_y_nm
        )
        if across > 0 and up > 0:
            shows -= across * up / 1e12
            # The lap takes at most four strips off a block's own field.
            least = (across / 1e6 - 2 * LAP_MM) * (up / 1e6 - 2 * LAP_MM)
            assert least - 1e-6 <= plan.paint.glue_field_mm2[i] <= across * up / 1e12 + 1e-6
    # All that shows is painted.
    assert lines.painted_mm2 >= shows - 1e-3


def test_a_tight_field_has_lines_at_the_rim_alone():
    plan = plan_from(FIRST)
    leaf = plan.layout.leaves[0]
    rim = 2 * (leaf.backer_width_nm + leaf.backer_height_nm) / 1e6
    lines = plan.paint.ground_way
    assert lines.name == "lines"
    assert lines.lines_mm == pytest.approx(rim - 8 * LAP_MM)
    assert lines.painted_mm2 == pytest.approx(rim * LAP_MM - 4 * LAP_MM**2)


def test_gaps_all_over_make_a_dye_the_least_labour():
    plan = plan_from(FIRST.replace("[blocks]", "[blocks]\ngap = 4"))
    assert plan.paint.ground_way.name == "dye"
    sheet = next(one for one in pack_sheets(plan, ("ground",)))
    steps = " ".join(text for part in parts_of(sheet) if isinstance(part, Steps) for text in part.texts)
    assert "Scrap test" in steps


def test_a_painted_field_is_stopped_and_the_papers_say_scrape():
    plan = plan_from(FIRST + '\n[paint]\nground = "all over"\n')
    (check,) = (check for check in plan.paint.checks if check.name == "glue_on_wood")
    assert check.verdict is Verdict.STOP
    assert coat_of(plan.paint.face_coats, "backer", "glue field") == "paint"
    assert plan.hang.weakest.name == "coating"
    sheet = next(one for one in pack_sheets(plan, ("ground",)))
    steps = [text for part in parts_of(sheet) if isinstance(part, Steps) for text in part.texts]
    assert "scrape" in steps[-1].casefold()
