"""What is printed at a scale is as large on paper as it says, measured in the PDF's own geometry."""

from __future__ import annotations

import numpy as np
import pytest
from tests.pack.made import METRIC, RING
from tests.pack.pdf_checks import MM_PER_PT, pages_of, plumbed
from tests.scenarios.cases import plan_of

from bossage.drawing.shapes import Rect
from bossage.pack.catalogue import pack_sheets
from bossage.pack.files import pack_pdf
from bossage.pack.sheet import Drawn, parts_of

OFF_MM = 0.1  # over the whole sheet: 0.2 mm over 100 mm is what a rule would notice


@pytest.mark.parametrize(
    ("scenario", "name"),
    [
        pytest.param(*METRIC.values, "testcard", marks=METRIC.marks),
        pytest.param(*RING.values, "ring", marks=RING.marks),
    ],
)
def test_every_field_of_a_scaled_sheet_lies_where_its_drawing_has_it(scenario: str, name: str) -> None:
    plan = plan_of(scenario)
    sheet = next(sheet for sheet in pack_sheets(plan, (name,)) if sheet.name == name)
    drawing = max(
        (part.drawing for part in parts_of(sheet) if isinstance(part, Drawn)), key=lambda one: len(one.shapes)
    )
    pdf = pack_pdf(plan, b"", sheets=(name,))
    rects = np.array(
        [
            [rect[side] * MM_PER_PT for side in ("x0", "y0", "width", "height")]
            for number in range(len(pages_of(pdf)))
            for rect in plumbed(pdf, number).rects
        ]
    )
    want = np.array(
        [
            [one.x_mm, one.y_mm, one.width_mm, one.height_mm]
            for one in drawing.shapes
            if isinstance(one, Rect) and (one.stroke is not None or one.fill is not None)
        ]
    )
    want /= drawing.scale_n
    assert len(want) > 10
    largest = want[np.argmax(want[:, 2] * want[:, 3])]
    found = [
        all(np.abs(rects - one).max(axis=1).min() < OFF_MM for one in want + shift)
        for shift in (
            np.append(rect[:2] - largest[:2], [0.0, 0.0])
            for rect in rects
            if np.allclose(rect[2:], largest[2:], atol=OFF_MM)
        )
    ]
    assert any(found)
