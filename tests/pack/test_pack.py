from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image
from tests.pack.made import METRIC, RING, SCENARIOS, papers_of, sheets_of, tables_of
from tests.pack.pdf_checks import check_bars_mm, outside, overlaps, pages_of, plumbed, read_out, text_of
from tests.scenarios.cases import plan_of

from bossage.drawing.shapes import Dimension, Label, Rect
from bossage.layout.records import Zone
from bossage.pack import SHEETS, pack_files
from bossage.pack.catalogue import pack_sheets
from bossage.pack.files import pack_pdf, table_files
from bossage.pack.sheet import Drawn, Table, parts_of
from bossage.pack.sheets.common import words_of
from bossage.pack.words import split_unit
from bossage.serial import plan_json


@pytest.fixture(params=SCENARIOS, scope="module")
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=[METRIC], scope="module")
def metric(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=[RING], scope="module")
def ring(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_every_file_is_there_and_the_same_plan_gives_the_same_bytes(metric):
    files = pack_files(plan_of(metric))
    assert set(files) == {
        "pack.pdf", "elevation.svg", "picture.png", "blocks.csv", "counts.csv", "cuts.csv", "shopping.csv", "paint.csv",
        "checks.csv",
    }  # fmt: skip
    assert pack_files(plan_of(metric)) == files
    assert {name: files[name] for name in tables_of(metric)} == tables_of(metric)


def test_a_piece_with_a_date_gets_a_calendar_file_and_dates_on_paper(metric):
    plan = plan_of(metric)
    dated = replace(plan, brief=replace(plan.brief, piece=replace(plan.brief.piece, date="2026-12-01")))
    assert table_files(dated, b"")["calendar.ics"].startswith(b"BEGIN:VCALENDAR")
    days = pack_sheets(dated, ("days",))[0]
    cells = [row[0] for part in parts_of(days) if isinstance(part, Table) for row in part.rows]
    assert cells[0] == "1, 2026-12-01"


def test_no_text_overlaps_and_none_falls_off_the_paper(name):
    assert overlaps(papers_of(name))[:5] == []
    assert outside(papers_of(name))[:5] == []


def test_the_check_bar_stands_on_every_scaled_page_and_is_true(name):
    want_mm = 101.6 if words_of(plan_of(name)).inches else 100.0
    scaled = 0
    pdf = papers_of(name)
    for number, page in enumerate(pages_of(pdf), start=1):
        found = check_bars_mm(page)
        # parts of a recipe are written like a scale
        if re.search(r"\b1 : [\d.]+|as marked", page.text) and "parts, base" not in page.text:
            scaled += 1
            assert len(found) == 1, number
        for length_mm in found:
            assert length_mm == pytest.approx(want_mm, abs=0.2)
    assert scaled >= 4


def test_the_wall_is_drawn_at_the_scale_that_its_sheet_names(name):
    plan = plan_of(name)
    pdf = papers_of(name)
    number = next(
        number
        for number, page in enumerate(pages_of(pdf))
        if any(title.startswith("The wall") for title in page.titles)
    )
    scale_n = float(re.search(r"1 : ([\d.]+)\s+plan", read_out(pdf)[number])[1])
    page = plumbed(pdf, number)
    leaf = plan.layout.leaves[0]
    want = (leaf.width_nm / 1e6 / scale_n, leaf.height_nm / 1e6 / scale_n)
    sizes = [(rect["width"] * 25.4 / 72, rect["height"] * 25.4 / 72) for rect in page.rects]
    assert [size for size in sizes if size == pytest.approx(want, abs=0.2)]


def test_totals_read_back_from_the_paper_are_those_of_the_plan(name):
    plan, text = plan_of(name), text_of(papers_of(name))
    data = json.loads(plan_json(plan))
    words = words_of(plan)
    first = read_out(papers_of(name))[0]
    assert f"{plan.layout.blocks.count:,}" in first
    assert words.money(data["cost"]["materials_cents"]) in first
    assert words.money(data["cost"]["materials_cents"]) in text.split("What it costs")[1][:1500]
    assert f"{data['cost']['hours']:.2f}" in text.split("minutes a block")[1]
    heaviest = max(leaf["total_g"] for leaf in data["hang"]["leaf_masses"])
    assert split_unit(words.mass(heaviest))[0] in first
    assert plan.stamp in first
    assert split_unit(words.volume(data["paint"]["primer_ml"]))[0] in text


def test_the_count_table_adds_up_to_the_blocks(name):
    plan = plan_of(name)
    sheet = next(sheet for sheet in sheets_of(name) if sheet.name == "trays")
    sums = [part.total[-1] for part in parts_of(sheet) if isinstance(part, Table) and part.columns[-1].head == "all"]
    assert sum(int(total.replace(",", "")) for total in sums) == plan.layout.blocks.count


def test_every_block_lies_on_a_map_and_on_a_press_card_once(name):
    plan = plan_of(name)
    for wanted, zones in (("map", (Zone.FIELD, Zone.RING)), ("cards", (Zone.FIELD,))):
        drawn = [
            shape.name
            for sheet in sheets_of(name)
            if sheet.name == wanted
            for part in parts_of(sheet)
            if isinstance(part, Drawn)
            for shape in part.drawing.shapes
            if isinstance(shape, Rect) and shape.layer == "blocks"
        ]
        kept = np.isin(plan.layout.blocks.zone, [int(zone) for zone in zones])
        assert sorted(drawn) == sorted(plan.layout.blocks.address(int(block)) for block in np.flatnonzero(kept))


def test_no_word_of_a_drawing_is_smaller_than_seven_points(name):
    small = [
        (sheet.title, shape.text, shape.size_mm)
        for sheet in sheets_of(name)
        for part in parts_of(sheet)
        if isinstance(part, Drawn)
        for shape in part.drawing.shapes
        if isinstance(shape, Label | Dimension) and shape.size_mm < 7 * 25.4 / 72 - 1e-9
    ]
    assert small == []


def test_every_caution_is_printed(name):
    text = " ".join(text_of(papers_of(name)).split())
    for caution in plan_of(name).cautions:
        # A word may be parted from its neighbours at the end of a line only by white space.
        start = " ".join(caution.text.split()[:5])
        assert start in text, caution.step


def test_checks_that_are_not_fine_stand_on_the_first_page_or_right_after(name):
    text = " ".join(" ".join(read_out(papers_of(name))[:2]).split())
    for check in plan_of(name).checks:
        if check.verdict != "fine":
            assert check.title.split()[0] in text


def test_the_one_pot_steps_add_up_to_what_the_recipes_pour(ring):
    plan = plan_of(ring)
    sheets = [sheet for sheet in sheets_of(ring) if sheet.name == "onepot"]
    assert len(sheets) == 2
    mixed = {row.shade: row.mix_ml for row in plan.paint.rows}
    for sheet in sheets:
        table = next(part for part in parts_of(sheet) if isinstance(part, Table))
        heads = [column.head for column in table.columns]
        pour, shade = heads.index("pour, mL"), heads.index("shade")
        told = {row[shade]: row[pour] for row in table.rows if row[shade]}
        assert list(told.values())[-1] == "the rest"
        poured = {name: float(ml) for name, ml in told.items() if ml != "the rest"}
        assert poured == {name: pytest.approx(mixed[name], abs=0.51) for name in poured}
        assert [row[0] for row in table.rows] == [str(number + 1) for number in range(len(table.rows))]


def test_families_known_by_colour_alone_get_a_scale_and_a_test_card_but_no_recipe(metric):
    names = {sheet.name for sheet in sheets_of(metric)}
    assert {"scales", "testcard"} <= names
    assert not {"recipes", "onepot"} & names


def test_every_patch_of_a_drawn_scale_has_its_name_and_the_darker_the_closer_its_hatching(name):
    sheet = next(sheet for sheet in sheets_of(name) if sheet.name == "scales")
    # scales of many families stand on several drawings
    shapes = [shape for part in parts_of(sheet) if isinstance(part, Drawn) for shape in part.drawing.shapes]
    patches = {shape.name: shape for shape in shapes if isinstance(shape, Rect) and shape.layer == "shades"}
    said = {shape.text for shape in shapes if isinstance(shape, Label)}
    lightness = {shade.name: shade.lightness for shade in plan_of(name).fade.shades}
    assert set(patches) == set(lightness) <= said
    spacing = [
        patches[shade].hatch.spacing_mm if patches[shade].hatch else 9.0
        for shade in sorted(lightness, key=lightness.get)
    ]
    assert spacing == sorted(spacing)


def test_a_leaf_that_swings_is_drawn_open_with_its_arc(ring):
    sheet = next(sheet for sheet in sheets_of(ring) if sheet.name == "hang")
    layers = {shape.layer for part in parts_of(sheet) if isinstance(part, Drawn) for shape in part.drawing.shapes}
    assert {"arc", "open", "closed", "axis"} <= layers


def test_the_test_card_is_true_to_size(name):
    sheet = next(sheet for sheet in sheets_of(name) if sheet.name == "testcard")
    drawing = next(part.drawing for part in parts_of(sheet) if isinstance(part, Drawn))
    assert sheet.scale == "1 : 1"
    assert drawing.scale_n == 1.0


def test_sheets_can_be_asked_for_by_name(metric):
    pages = pages_of(pack_pdf(plan_of(metric), b"", sheets=("saw", "paint")))
    titles = [title for page in pages for title in page.titles]
    assert any(title.startswith("Saw") for title in titles)
    assert not any(title.startswith("Hang") for title in titles)


def test_every_sheet_has_a_name_that_can_be_asked_for(name):
    assert {sheet.name for sheet in sheets_of(name)} <= set(SHEETS)


def test_csvs_read_back_and_say_their_units(name):
    for file, data in tables_of(name).items():
        if file.endswith(".csv"):
            assert b"\r\n" in data
            rows = list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))
            assert len({len(row) for row in rows}) == 1
            assert len(rows) > 1


def test_blocks_in_the_csv_are_those_of_the_plan(name):
    plan = plan_of(name)
    rows = list(csv.DictReader(io.StringIO(tables_of(name)["blocks.csv"].decode("utf-8"), newline="")))
    assert len(rows) == plan.layout.blocks.count
    total_nm = sum(round(float(row["length_mm"]) * 1e6) for row in rows)
    assert total_nm == int(plan.relief.length_nm.sum())


def test_counts_in_the_csv_are_those_of_the_count_table(name):
    rows = list(csv.DictReader(io.StringIO(tables_of(name)["counts.csv"].decode("utf-8"), newline="")))
    assert sum(int(row["blocks"]) for row in rows) == plan_of(name).layout.blocks.count


def test_the_elevation_is_svg_in_millimetres_with_every_leaf(name):
    root = ET.fromstring(tables_of(name)["elevation.svg"])
    assert root.get("width").endswith("mm")
    leaf = plan_of(name).layout.leaves[0]
    widths = {element.get("width") for element in root.iter() if element.get("data-name") == leaf.name}
    assert [float(width) for width in widths] == [pytest.approx(leaf.width_nm / 1e6, abs=0.001)]


def test_the_picture_shows_every_shade_of_its_piece(name):
    plan = plan_of(name)
    first = np.array([leaf.copy == 1 for leaf in plan.layout.leaves])[plan.layout.blocks.leaf]
    picture = (
        np.asarray(Image.open(io.BytesIO(tables_of(name)["picture.png"])).convert("RGB")).reshape(-1, 3).astype(int)
    )
    for number, shade in enumerate(plan.fade.shades):
        if not (plan.fade.shade[first] == number).any():
            continue
        want = [int(shade.colour_hex[i : i + 2], 16) for i in (1, 3, 5)]
        assert (np.abs(picture - want).max(axis=1) <= 6).sum() > 20, shade.name
