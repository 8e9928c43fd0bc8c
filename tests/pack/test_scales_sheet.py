"""Scales side by side: where families meet is marked, and the two lie edge to edge as well, each with its name."""

from __future__ import annotations

from itertools import pairwise

import pytest
from tests.scenarios.cases import plan_of

from bossage.brief.records import FadeShape
from bossage.drawing.shapes import Label, Rect
from bossage.pack.drawings.swatches import meeting_shades, scales_drawing


@pytest.mark.parametrize("scenario", ["S1", "S2", "S3", "S7"])
def test_shades_that_meet_lie_edge_to_edge_with_their_names(scenario: str) -> None:
    plan = plan_of(scenario)
    pairs = meeting_shades(plan)
    families = list(dict.fromkeys(shade.family for shade in plan.fade.shades))
    assert len(pairs) == (len(families) - 1 if plan.brief.fade.shape is FadeShape.PATH else 0)
    shapes = scales_drawing(plan, width_mm=180, height_mm=140).shapes
    patches = [shape for shape in shapes if isinstance(shape, Rect) and shape.layer == "shades"]
    below = patches[len(plan.fade.shades) :]
    assert [patch.name for patch in below] == [shade.name for pair in pairs for shade in pair]
    for left, right in zip(below[::2], below[1::2], strict=True):
        assert left.x_mm + left.width_mm == pytest.approx(right.x_mm)
        assert (left.y_mm, left.height_mm) == (right.y_mm, right.height_mm)
        assert left.y_mm + left.height_mm < min(patch.y_mm for patch in patches[: len(plan.fade.shades)])
    # never colour alone: every patch has its name in words, those that meet once more
    words = [shape.text for shape in shapes if isinstance(shape, Label)]
    for shade in plan.fade.shades:
        assert words.count(shade.name) == 1 + sum(shade in pair for pair in pairs)
    assert sum(word.startswith("meet: ") for word in words) == len(pairs)
    for first, second in pairs:
        assert families.index(second.family) - families.index(first.family) == 1
    assert all(one[1].family == two[0].family for one, two in pairwise(pairs))
