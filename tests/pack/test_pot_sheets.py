"""What the pot sheets say: tools, one statement of a mix, a decision before the first pot, colours to buy by."""

from __future__ import annotations

import re
from dataclasses import replace

from tests.scenarios.cases import plan_of

from bossage.checks import Check, Verdict
from bossage.drawing.shapes import Label, Rect
from bossage.pack.catalogue import pack_sheets
from bossage.pack.drawings.ring import ring_drawing
from bossage.pack.sheet import Heading, Para, Sheet, Steps, Table, parts_of
from bossage.pack.sheets.common import check_cares, words_of
from bossage.pack.sheets.pots import scales_sheet


def sheets_named(name: str) -> list[Sheet]:
    return [sheet for sheet in pack_sheets(plan_of("S7"), (name,)) if sheet.name == name]


def words_on(sheet: Sheet) -> str:
    found = []
    for part in parts_of(sheet):
        if isinstance(part, Para):
            found.append(f"{part.lead} {part.text}")
        elif isinstance(part, Steps):
            found += part.texts
        elif isinstance(part, Table):
            found += [column.head for column in part.columns] + [cell for row in part.rows for cell in row]
    return " ".join(found)


def test_every_line_of_a_pot_names_its_tool_and_the_list_buys_it() -> None:
    plan = plan_of("S7")
    bought = {line.what for line in plan.cost.shopping}
    for sheet in sheets_named("onepot"):
        table = next(part for part in parts_of(sheet) if isinstance(part, Table))
        what = [column.head for column in table.columns].index("of what")
        for row in table.rows:
            tools = re.findall(r"\d+ mL (?:syringe|cylinder)", row[what])
            assert tools
            assert set(tools) <= bought
        assert "holds 8 mL more for that" in words_on(sheet)
        assert "drop of neat tinter" in words_on(sheet)


def test_a_mix_is_stated_in_millilitres_alone_and_the_care_card_is_filled_in() -> None:
    (recipes,) = sheets_named("recipes")
    assert "one shade by itself" in recipes.todo
    assert not any(
        "parts" in column.head for part in parts_of(recipes) if isinstance(part, Table) for column in part.columns
    )
    (care,) = sheets_named("care")
    assert words_on(care).count("as written on its sheet 'One pot'") == 12
    written = [
        part
        for sheet in sheets_named("onepot")
        for part in parts_of(sheet)
        if isinstance(part, Table) and sum(column.kind == "blank" for column in part.columns) == 3
    ]
    assert [len(table.rows) for table in written] == [6 + 1, 6 + 1]  # a line for each shade, one for the sums


def test_families_that_part_are_decided_with_a_pencil_before_the_first_pot() -> None:
    plan = plan_of("S7")
    scales = scales_sheet(plan)
    assert any(isinstance(part, Heading) and part.text.startswith("Decide before") for part in parts_of(scales))
    (approval,) = sheets_named("approval")
    assert "Where families meet: fern 92 and umber 92" in words_on(approval)
    boxes = next(part for part in parts_of(scales) if isinstance(part, Steps))
    assert len(boxes.texts) == 2
    assert all("fern 92 and umber 92" in text for text in boxes.texts)
    met = replace(
        plan, checks=tuple(c if c.name != "meeting" else replace(c, verdict=Verdict.FINE) for c in plan.checks)
    )
    assert not any(isinstance(part, Steps) for part in parts_of(scales_sheet(met)))


def test_bases_and_tinters_stand_among_the_colours_in_figures() -> None:
    (basis,) = sheets_named("basis")
    table = next(
        part
        for part in parts_of(basis)
        if isinstance(part, Table) and any(column.head == "L*" for column in part.columns)
    )
    rows = {row[1]: row for row in table.rows}
    assert list(rows)[:3] == ["base", "tinter fern", "tinter umber"]
    # The brief's own colours of dry coats.
    assert [rows[name][2] for name in ("base", "tinter fern", "tinter umber")] == ["#F2EFE6", "#4A6B4E", "#8A5A34"]


def test_cautions_of_one_title_name_what_they_are_about() -> None:
    one = Check(
        stage="paint", name="a", title="Too much", subject="fern", verdict=Verdict.CAUTION, found="It is.", allowed="",
        why="", remedy="", source="", care="thin it",
    )  # fmt: skip
    plan = plan_of("S7")
    (alone,) = check_cares(plan, (one,))
    assert alone.title == "Caution: Too much (fern)."
    (both,) = check_cares(plan, (one, replace(one, subject="umber")))
    assert (both.title, both.text) == ("Caution: Too much (fern and umber).", "Thin it.")
    (apart,) = check_cares(plan, (one, replace(one, subject="umber", found="It is not.", care="thicken it")))
    assert (apart.title, apart.text) == ("Caution: Too much.", "Fern: thin it. Umber: thicken it.")
    assert check_cares(plan, (replace(one, care=""),)) == ()
    (stop,) = check_cares(plan, (replace(one, care="", verdict=Verdict.STOP),))
    assert stop.text == "It is."


def test_no_hatching_of_a_strip_runs_through_an_address_of_the_ring() -> None:
    plan = plan_of("S7")
    shapes = ring_drawing(plan, words_of(plan))(8.0).shapes
    last_strip = max(n for n, shape in enumerate(shapes) if isinstance(shape, Rect) and shape.layer == "strips")
    labels = [(n, shape) for n, shape in enumerate(shapes) if isinstance(shape, Label) and shape.layer == "ring"]
    assert len(labels) == 44
    for n, label in labels:
        paper = shapes[n - 1]
        assert isinstance(paper, Rect)
        assert (paper.layer, paper.stroke) == ("paper", None)
        assert n - 1 > last_strip
        assert paper.x_mm < label.at[0] < paper.x_mm + paper.width_mm
