"""The hanging sheet: what is drawn is what `hang` planned, each place from floor and corner; the cards have a clock."""

from __future__ import annotations

import pytest
from tests.scenarios.cases import plan_of

from bossage.drawing.shapes import Dimension, Label, Outline
from bossage.pack.drawings.grip import grip_drawing
from bossage.pack.drawings.hanging import hanging_drawing
from bossage.pack.sheet import Card, Drawn, Steps
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.hanging import hang_sheets
from bossage.pack.sheets.press import press_sheets


def labels(drawing, layer):
    return {shape.text for shape in drawing.shapes if isinstance(shape, Label) and shape.layer == layer}


@pytest.mark.parametrize("scenario", ["S1", "S2", "S8"])
def test_every_fixing_is_dimensioned_from_the_corner_and_the_cleat_from_the_floor(scenario):
    plan = plan_of(scenario)
    words, hung, leaf = words_of(plan), plan.hang.leaves[0], plan.layout.leaves[0]
    drawing = hanging_drawing(plan, hung, leaf, words)(10.0)
    places = {words.of_mm(fixing.x_nm / 1e6) for fixing in hung.cleat.fixings}
    ends = {words.of_mm(end / 1e6) for piece in hung.cleat.pieces for end in (piece.from_nm, piece.to_nm)}
    assert places | ends <= labels(drawing, "corner")
    heights = " ".join(labels(drawing, "heights"))
    assert words.of_mm(hung.cleat.wall_half_bottom_nm / 1e6) in heights
    # a frame that holds the piece off the wall needs no spacer at its foot
    assert all(words.of_mm(foot.y_nm / 1e6) in heights for foot in hung.feet)


@pytest.mark.parametrize("scenario", ["S1", "S2", "S8"])
def test_the_halves_are_drawn_as_planned(scenario):
    plan = plan_of(scenario)
    words, hung = words_of(plan), plan.hang.leaves[0]
    drawing = grip_drawing(plan, hung, hung.cleat, words)(2.0)
    wall, panel = (
        next(shape.points for shape in drawing.shapes if isinstance(shape, Outline) and shape.layer == layer)
        for layer in ("wall half", "panel half")
    )
    strip, thick = plan.brief.cleat.strip_nm / 1e6, plan.brief.cleat.thickness_nm / 1e6
    assert max(y for _, y in wall) - min(y for _, y in wall) == pytest.approx(strip)
    assert max(y for _, y in panel) - min(y for _, y in panel) == pytest.approx(strip)
    # they touch along the bevel and nowhere cross
    assert wall[2] == panel[1]
    assert wall[3] == panel[0]
    upright = [shape for shape in drawing.shapes if isinstance(shape, Dimension) and not shape.across]
    assert [dim.text for dim in upright] == [words.of_mm(hung.cleat.engagement_nm / 1e6)]
    across = [shape for shape in drawing.shapes if isinstance(shape, Dimension) and shape.across]
    assert sum(dim.end[0] - dim.start[0] for dim in across) == pytest.approx(
        (plan.layout.stand_off.stand_off_nm + plan.brief.backer.thickness_nm) / 1e6
    )
    assert max(x for x, _ in panel) == thick


@pytest.mark.parametrize("scenario", ["S2", "S7"])
def test_it_is_weighed_before_it_hangs(scenario):
    first = next(part for part in hang_sheets(plan_of(scenario))[0].parts if isinstance(part, Steps)).texts[0]
    assert "bathroom scales" in first
    assert "piece.weighed" in first


def test_a_card_has_row_glue_and_clock():
    plan = plan_of("S2")
    cards = [part for sheet in press_sheets(plan) for part in sheet.parts if isinstance(part, Card)]
    assert [card.title for card in cards] == [f"Row {row.row}" for row in plan.press.rows]
    for card in cards:
        (drawn,) = [part for part in card.parts if isinstance(part, Drawn)]
        assert "glue 13 g" in drawn.caption
        assert "Day 13: lay " in drawn.caption or "Day 14: lay " in drawn.caption
