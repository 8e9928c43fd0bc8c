"""Bevels, openings and notches: each once, as the body has them, and on the sheet of what they are sawn in."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from functools import cache
from math import radians, tan

import pytest

from bossage.body import MadeAt, Role, key_of
from bossage.brief import read_brief
from bossage.examples import example_names, example_text
from bossage.pack.drawings.boards import board_drawing
from bossage.pack.sheet import Heading, Para, Table
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.saw import saw_sheets
from bossage.plan import make_plan
from bossage.saw import plan_saw

MM = 1_000_000
ROOM_NM = 1


@cache
def planned(name):
    return make_plan(read_brief(example_text(name)))


def tables_of(sheet):
    """All tables of a sheet, those beside drawings too."""
    stack = list(sheet.parts)
    while stack:
        part = stack.pop()
        if isinstance(part, Table):
            yield part
        for side in ("left", "right", "parts"):
            stack += getattr(part, side, ())


@pytest.mark.parametrize("name", sorted(example_names()))
def test_every_bevel_opening_and_notch_of_the_body_is_a_work_once(name):
    plan = planned(name)
    sawn = [part for part in plan.body.parts if part.made_at is not MadeAt.BOUGHT]
    for wanted, works in (
        ([p for p in sawn if p.bevelled], plan.saw.bevels),
        ([p for p in sawn if p.openings_nm], plan.saw.openings),
        ([p for p in sawn if p.notches_nm], plan.saw.notches),
    ):
        assert Counter(key for work in works for key in work.parts) == Counter(key_of(part) for part in wanted)


@pytest.mark.parametrize("name", ["first", "s1-fernhollow-hall", "s3-tarnwick-school", "s8-gannet-row"])
def test_both_halves_are_ripped_at_one_setting_and_lie_on_one_another(name):
    plan = planned(name)
    halves = {work.name: work for work in plan.saw.bevels}
    panel, wall = halves["panel half"], halves["wall half"]
    for work in (panel, wall):
        drop = work.thickness_nm * tan(radians(plan.brief.cleat.bevel_deg))
        assert work.tilt_deg == plan.brief.cleat.bevel_deg
        assert work.long_nm - work.short_nm == pytest.approx(drop, abs=ROOM_NM)
        assert work.long_nm == plan.brief.cleat.strip_nm
    # the panel half hooks behind the wall half: its point is at the wall, below; the wall half's in the room, above
    assert (panel.edge, panel.long_face) == ("lower", "wall")
    assert (wall.edge, wall.long_face) == ("upper", "room")


def test_openings_stand_on_the_board_sheet_and_in_the_boards_drawing():
    plan = planned("s1-fernhollow-hall")
    backer = next(part for part in plan.body.parts if part.role is Role.BACKER)
    (work,) = plan.saw.openings
    x, y = backer.box.x0, backer.box.y0
    assert sorted(work.rects_nm) == sorted((a - x, b - y, c - x, d - y) for a, b, c, d in backer.openings_nm)
    sheet = next(one for one in saw_sheets(plan) if one.name == "boards")
    (table,) = [one for one in tables_of(sheet) if one.columns[0].head == "no."]
    words = words_of(plan)
    assert [row[1:4] for row in table.rows] == [
        (words.bare(a), words.bare(b), words.size(c - a, d - b)) for a, b, c, d in work.rects_nm
    ]
    (board,) = [cut for cut in plan.saw.boards if key_of(backer) in cut.parts]
    (cut,) = board.plan.sheets
    (panel,) = [one for one in cut.panels if one.name == "backer"]
    shapes = board_drawing(cut, words, openings=plan.saw.openings)(20.0).shapes
    drawn = [shape for shape in shapes if shape.layer == "openings"]
    assert len(drawn) == len(backer.openings_nm)
    areas = sorted((c - a) * (d - b) / MM**2 for a, b, c, d in backer.openings_nm)
    assert sorted(one.width_mm * one.height_mm for one in drawn) == pytest.approx(areas)
    for one in drawn:
        assert panel.x_nm / MM <= one.x_mm <= one.x_mm + one.width_mm <= (panel.x_nm + panel.width_nm) / MM
        assert panel.y_nm / MM <= one.y_mm <= one.y_mm + one.height_mm <= (panel.y_nm + panel.length_nm) / MM
    # a panel that lies turned has them turned with it: left edge below, lower edge at the right
    turned = replace(panel, turned=not panel.turned, width_nm=panel.length_nm, length_nm=panel.width_nm)
    other = board_drawing(replace(cut, panels=(turned,)), words, openings=plan.saw.openings)(20.0).shapes
    sizes = sorted((one.height_mm, one.width_mm) for one in other if one.layer == "openings")
    upright = sorted((one.width_mm, one.height_mm) for one in drawn)
    assert [one for size in sizes for one in size] == pytest.approx([one for size in upright for one in size])


def test_bevels_stand_on_the_board_sheet_with_their_caution():
    plan = planned("s2-brenlow-terrace")
    sheet = next(one for one in saw_sheets(plan) if one.name == "boards")
    (table,) = [one for one in tables_of(sheet) if one.columns[0].head == "tilt"]
    assert [row[:4] for row in table.rows] == [("45°", "57", "75", "2 pieces: panel half (3) and wall half (5)")]
    assert any("leans away from the fence" in getattr(part, "title", "") for part in sheet.parts)
    assert [caution.step for caution in plan.cautions].count("bevels") == 1
    assert not [caution for caution in planned("s7-hollin-yard").cautions if caution.step == "bevels"]


def test_a_notched_rail_is_a_work_of_its_own_on_the_sheet_of_long_parts():
    plan = planned("s1-fernhollow-hall")
    rail = next(part for part in plan.body.parts if part.role is Role.FRAME and part.grain == "x")
    x = rail.from_x_nm
    slots = ((x + 50 * MM, x + 150 * MM, 0, 30 * MM), (x + 300 * MM, x + 380 * MM, 0, 30 * MM))
    parts = tuple(replace(p, notches_nm=slots) if p is rail else p for p in plan.body.parts)
    saw = plan_saw(plan.brief, replace(plan.body, parts=parts), plan.fade)
    (work,) = saw.notches
    assert work.parts == (key_of(rail),)
    assert work.slots_nm == ((50 * MM, 150 * MM, 30 * MM), (300 * MM, 380 * MM, 30 * MM))
    sheet = next(one for one in saw_sheets(replace(plan, saw=saw, cautions=saw.cautions)) if one.name == "lengths")
    (table,) = [one for one in tables_of(sheet) if one.columns[0].head == "notch"]
    assert len(table.rows) == 2


def test_every_piece_on_a_saw_sheet_bears_its_number():
    for name in ("s1-fernhollow-hall", "s2-brenlow-terrace", "s7-hollin-yard"):
        plan = planned(name)
        said = " ".join(
            cell for sheet in saw_sheets(plan) for table in tables_of(sheet) for row in table.rows for cell in row
        )
        for part in plan.body.parts:
            if part.made_at is not MadeAt.BOUGHT:
                assert f"({part.number})" in said, (name, part.name)


def test_the_fence_has_its_rule_for_boards_that_are_thinner_than_their_name():
    # by hand: 75 of strip less 18 of board is the 57 on the sheet; less 17.5 it is 57.5
    plan = planned("s2-brenlow-terrace")
    sheet = next(sheet for sheet in saw_sheets(plan) if sheet.name == "boards")
    said = " ".join(f"{part.lead} {part.text}" for part in sheet.parts if isinstance(part, Para))
    assert "at 45°, 75 less what you measured" in said
    heads = [
        part.text if isinstance(part, Heading) else part.title
        for part in sheet.parts
        if hasattr(part, "title") or isinstance(part, Heading)
    ]
    bevels = heads.index("Bevels of the cleat")
    assert heads[bevels + 1].startswith("The blade leans away")  # the caution stands under its heading


def test_a_cut_that_holds_kerfs_is_rounded_up_and_the_kerf_is_told_as_it_is():
    plan = planned("s1-fernhollow-hall")
    sheet = next(sheet for sheet in saw_sheets(plan) if sheet.name == "boards")
    assert any("Every cut takes 0.098 in of kerf" in part.text for part in sheet.parts if isinstance(part, Para))
    cuts = [cell for table in tables_of(sheet) for row in table.rows for cell in row if " from the " in cell]
    # two halves of 3 in and a kerf of 0.098 are 6.098 in; a rule of sixteenths shows 6-1/8
    assert any("6-1/8 in" in cell for cell in cuts)
    metric = next(sheet for sheet in saw_sheets(planned("s2-brenlow-terrace")) if sheet.name == "boards")
    told = [cell for table in tables_of(metric) for row in table.rows for cell in row if " mm from the " in cell]
    assert told
    assert not any(re.search(r"\d\.[1-46-9] mm from", cell) for cell in told)
