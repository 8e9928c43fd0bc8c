"""Sides that show above their neighbours, against a sheet worked by hand and against laws."""

from __future__ import annotations

import numpy as np
import pytest
from tests.scenarios.cases import BRIEFS, plan_of

from bossage.paint.sides import contact_mm, sides_shown_mm2


def test_two_blocks_by_hand() -> None:
    """First block of S8 (2.5 in square): sides shown = perimeter × level less, at each neighbour, the lower of both."""
    plan = plan_of("S8")
    blocks, level = plan.layout.blocks, plan.relief.level
    mm = np.asarray(plan.relief.levels_nm)[level] / 1e6
    neighbours = [int(b if a == 0 else a) for a, b in blocks.edges if 0 in (a, b)]
    assert len(neighbours) == 2  # the upper left corner
    side = 63.5
    by_hand = 4 * side * mm[0] - sum(side * min(mm[0], mm[n]) for n in neighbours)
    assert sides_shown_mm2(plan.layout, plan.relief)[0] == pytest.approx(by_hand, abs=1e-6)


@pytest.mark.parametrize("scenario", BRIEFS)
def test_what_shows_is_never_more_than_the_sides(scenario: str) -> None:
    plan = plan_of(scenario)
    blocks = plan.layout.blocks
    mm = np.asarray(plan.relief.levels_nm)[plan.relief.level] / 1e6
    whole = 2 * (blocks.width_nm + blocks.height_nm) / 1e6 * mm
    shown = sides_shown_mm2(plan.layout, plan.relief)
    assert (shown >= 0).all()
    assert (shown <= whole + 1e-6).all()


@pytest.mark.parametrize("scenario", BRIEFS)
def test_contacts_fit_between_both_blocks(scenario: str) -> None:
    blocks = plan_of(scenario).layout.blocks
    contact = contact_mm(blocks)
    longest = np.maximum(blocks.width_nm, blocks.height_nm) / 1e6
    assert (contact > 0).all()
    assert (contact <= np.minimum(longest[blocks.edges[:, 0]], longest[blocks.edges[:, 1]]) + 1e-9).all()


def test_volumes_follow_the_shades() -> None:
    paint = plan_of("S2").paint
    assert sum(row.colour_ml for row in paint.rows) == pytest.approx(paint.colour_ml)
    assert sum(row.painted_mm2 for row in paint.rows) == pytest.approx(paint.painted_mm2)
    assert sum(row.blocks for row in paint.rows) == 256
