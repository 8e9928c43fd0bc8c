"""Ground colours side by side: the same blocks in the same light, once on each ground, the advised one among them."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image
from tests.scenarios.cases import plan_of

from bossage.colour.difference import delta_e
from bossage.colour.spaces import srgb_to_lab
from bossage.layout.records import OpenCell
from bossage.pack.grounds import GUTTER_PX, MOST_SHOWN, _sawn_out, grounds_picture, shown_grounds
from bossage.pack.sheet import Photo, Table
from bossage.pack.sheets.ground import grounds_sheet
from bossage.plan import Plan


def panels_of(plan: Plan) -> list[np.ndarray]:
    """The picture, cut at its white gutters."""
    picture = np.asarray(Image.open(io.BytesIO(grounds_picture(plan))).convert("RGB")).astype(int)
    count = len(shown_grounds(plan))
    width = (picture.shape[1] - (count - 1) * GUTTER_PX) // count
    gutters = [picture[:, k * (width + GUTTER_PX) - GUTTER_PX : k * (width + GUTTER_PX)] for k in range(1, count)]
    assert all((gutter == 255).all() for gutter in gutters)
    return [picture[:, k * (width + GUTTER_PX) : k * (width + GUTTER_PX) + width] for k in range(count)]


@pytest.mark.xdist_group("S7")
def test_panels_differ_in_the_gaps_alone() -> None:
    plan = plan_of("S7")
    panels = panels_of(plan)
    assert 2 <= len(panels) <= MOST_SHOWN
    assert all(panel.shape == panels[0].shape for panel in panels)
    apart = np.abs(panels[0] - panels[-1]).max(axis=2) > 2
    # Gaps are a small part of the face; the blocks stand in the same light whatever lies behind them.
    assert 0.002 < apart.mean() < 0.35
    labs = [srgb_to_lab(panel[apart] / 255).mean(axis=0) for panel in panels]
    grounds = shown_grounds(plan)
    assert float(delta_e(labs[0], labs[-1])) > 1
    order = np.argsort([lab[0] for lab in labs])
    assert list(order) == list(np.argsort([ground.lightness for ground in grounds], kind="stable"))


def test_the_one_advised_and_the_one_taken_are_always_shown_best_first() -> None:
    plan = plan_of("S7")
    many = tuple(
        replace(ground, name=f"{ground.name} {k}", contrast_de=ground.contrast_de + k, advised=False, chosen=False)
        for k in (1, 2)
        for ground in plan.fade.grounds
    )
    worst = replace(plan.fade.grounds[0], name="own", contrast_de=90.0, advised=False, chosen=True)
    best = replace(plan.fade.grounds[0], name="best", contrast_de=0.1, advised=True, chosen=False)
    shown = shown_grounds(replace(plan, fade=replace(plan.fade, grounds=(worst, *many, best))))
    assert [shown[0].name, shown[-1].name] == ["best", "own"]
    assert len(shown) == MOST_SHOWN


def test_where_the_ground_shows_nowhere_there_is_no_picture() -> None:
    plan = plan_of("S8")
    assert plan.paint.ground.shows_mm2 == 0
    assert shown_grounds(plan) == ()
    assert not any(isinstance(part, Photo) for part in grounds_sheet(plan).parts)


@pytest.mark.parametrize("scenario", ["S1", "S2", "S7"])
def test_the_sheet_says_where_each_ground_stands_and_which_lies_nearest_to_shadow(scenario: str) -> None:
    plan = plan_of(scenario)
    shown = shown_grounds(plan)
    if not shown:
        return
    (table,) = [part for part in grounds_sheet(plan).parts if isinstance(part, Table)]
    places = {row[1]: row[2] for row in table.rows if row[2]}
    assert list(places) == [ground.name for ground in shown]
    advised = [row[1] for row in table.rows if "advised" in row[5]]
    assert advised == [ground.name for ground in plan.fade.grounds if ground.advised]
    # Of those that cannot be told from the least no sheet says that they vanish; each is said to be as near.
    near = [row[1] for row in table.rows if "as near" in row[5]]
    assert set(near) == {g.name for g in plan.fade.grounds if g.vanishes and not g.advised}
    lightness = {ground.name: ground.lightness for ground in plan.fade.grounds}
    assert all(lightness[advised[0]] <= lightness[name] for name in near)
    assert not any("vanish" in cell for row in table.rows for cell in row)


def test_a_close_look_at_the_ground_leaves_out_what_is_sawn_out() -> None:
    """Through an opening of the backer the wall is seen, not the ground."""
    cell = OpenCell(leaf=0, row=0, column=0, x_nm=100, y_nm=200, width_nm=50, height_nm=50)
    assert _sawn_out(cell, [(90, 190, 160, 260)])
    assert not _sawn_out(cell, [(0, 0, 99, 500), (151, 0, 300, 500)])
    assert not _sawn_out(cell, [])
