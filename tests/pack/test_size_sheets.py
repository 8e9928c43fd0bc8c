"""The sheet of sizes to choose from and the sheet of rows: what they show, and when there is none."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from bossage.body import sizes_to_choose
from bossage.brief import read_brief
from bossage.layout import candidate_sizes, own_size
from bossage.pack.drawings.sizes import sizes_drawing
from bossage.pack.sheet import Drawn, Para, Sheet, Table
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.rows import rows_sheet
from bossage.pack.sheets.sizes import sizes_sheet
from bossage.plan import Plan, make_plan

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def planned(name: str, old: str = "", new: str = "") -> Plan:
    text = (EXAMPLES / f"{name}.toml").read_text()
    assert old in text
    plan = make_plan(read_brief(text.replace(old, new, 1) if old else text))
    assert isinstance(plan, Plan)
    return plan


def part(sheet: Sheet | None, kind: type) -> object:
    assert sheet is not None
    return next(one for one in sheet.parts if isinstance(one, kind))


def test_up_to_three_sizes_stand_beside_the_brief_s_own_with_what_each_gives_up() -> None:
    plan = planned("s1-fernhollow-hall")
    sheet = sizes_sheet(plan)
    table = part(sheet, Table)
    assert isinstance(table, Table)
    candidates = sizes_to_choose(plan.brief)[:3]
    # of the six that suit the wall two leave the cleat room beside the thermostat
    assert [column.head for column in table.columns] == ["", "1", "2", "as in the brief"]
    rows = {row[0]: row[1:] for row in table.rows}
    words = words_of(plan)
    assert list(rows["size"]) == [words.size(c.width_nm, c.height_nm) for c in candidates] + ["42 × 24 in"]
    assert rows["its cleat meets"][-1] == "3 studs"
    for c, told in zip(candidates, rows["gives up"], strict=False):
        assert all(reason in told.lower() for reason in (text.lower() for text in c.gives_up))
    fills = part(sheet, Para)
    assert isinstance(fills, Para)


@pytest.mark.parametrize("name", ["s1-fernhollow-hall", "s2-brenlow-terrace", "s3-tarnwick-school", "mixed-sizes"])
def test_every_panel_keeps_to_its_column_at_one_scale(name: str) -> None:
    plan = planned(name)
    candidates, own = candidate_sizes(plan.brief)[:3], own_size(plan.brief)
    first, wide = 36.0, 52.0
    drawing = sizes_drawing(plan.brief, own, candidates, words_of(plan), first_mm=first, column_mm=wide)
    pieces = [shape for shape in drawing.shapes if shape.layer == "piece"]
    assert len(pieces) == sum(c.leaves for c in (*candidates, own))
    at = 0
    for column, c in enumerate((*candidates, own)):
        mine = pieces[at : at + c.leaves]
        at += c.leaves
        left = min(shape.x_mm for shape in mine) / drawing.scale_n
        right = max(shape.x_mm + shape.width_mm for shape in mine) / drawing.scale_n
        assert first + column * wide <= left < right <= first + (column + 1) * wide - 3.0
        assert right - left == pytest.approx(c.width_nm / 1e6 / drawing.scale_n)
    own_outlines = [shape for shape in drawing.shapes if shape.layer == "own"]
    assert len(own_outlines) == len(candidates)
    assert "as in the brief" in {getattr(shape, "text", "") for shape in drawing.shapes}
    assert drawing.description.count(".") >= len(candidates)


def test_no_sheet_of_sizes_where_nothing_fits() -> None:
    plan = planned(
        "first", "[blocks]", '[[keep_clear]]\nname = "switch"\nx = 1350\ny = 1450\nwidth = 80\nheight = 80\n\n[blocks]'
    )
    assert not candidate_sizes(plan.brief)
    assert sizes_sheet(plan) is None


def test_rows_have_drift_both_ways_and_marks_from_the_datum() -> None:
    plan = planned("s2-brenlow-terrace")
    sheet = rows_sheet(plan)
    table = part(sheet, Table)
    assert isinstance(table, Table)
    assert [row[0] for row in table.rows] == ["across", "up"]
    # 16 × 0.5 mm; 3 × √16 × 0.5 ÷ √3; sticks squared smaller by their paint; 2 × 6 ÷ 15 mm
    assert table.rows[1][1:] == ("16", "± 8 mm", "± 3.46 mm", "nothing", "nothing", "at the marks", "0.8 mm")
    assert sheet is not None
    marks = [one.rows for one in sheet.parts if isinstance(one, Table)][1:]
    # four blocks of ± 0.5 mm stay within 2 mm: two pairs of a wide and a narrow one are 280 mm, four rows 180 mm
    assert [cell for rows in marks for row in rows for cell in row[1:] if cell] == [
        "280", "560", "840", "180", "360", "540",
    ]  # fmt: skip


def test_no_sheet_of_rows_without_a_spread() -> None:
    text = (EXAMPLES / "first.toml").read_text().replace("height = 70", "height = 70\nspread = 0", 1)
    plan = make_plan(read_brief(text))
    assert isinstance(plan, Plan)
    assert rows_sheet(plan) is None


def test_the_drawing_of_sizes_is_in_the_sheet_at_the_scale_it_says() -> None:
    sheet = sizes_sheet(planned("s2-brenlow-terrace"))
    drawn = part(sheet, Drawn)
    assert isinstance(drawn, Drawn)
    assert sheet is not None
    assert sheet.scale == f"1 : {drawn.drawing.scale_n:g}"
