"""Sheets of single stations: stickers, strips at true scale, notches, what a client signs, the blank survey."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pytest
import segno
from tests.pack.pdf_checks import read_out
from tests.scenarios.cases import plan_of

from bossage.brief import BriefFaults, read_brief
from bossage.brief.papers import LabelGrid, Papers, label_size_nm
from bossage.cli import FAULTY, PLANNED, main
from bossage.drawing.shapes import Bits, Dimension, Label, Line, Outline, Rect
from bossage.pack.catalogue import pack_sheets
from bossage.pack.drawings.codes import codes_of
from bossage.pack.drawings.labels import field_box
from bossage.pack.drawings.rowcard import row_drawing, row_lines
from bossage.pack.drawings.strip import OVERLAP_MM, part_spans, strip_drawings
from bossage.pack.files import pack_pdf
from bossage.pack.sheet import Drawn, Para, Table, Whole, in_shares, parts_of
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.touch import WIDE_COUNTS, notch_words, notches, touch_sheet

MM_PER_PT = 25.4 / 72
ROOT = Path(__file__).parents[2]


@cache
def drawings(scenario: str, name: str) -> list:
    return [
        part.drawing
        for sheet in pack_sheets(plan_of(scenario), (name,))
        for part in parts_of(sheet)
        if isinstance(part, Drawn | Whole)
    ]


def test_strips_joined_are_as_long_as_the_row_in_the_pdf():
    plan = plan_of("S2")
    leaf = plan.layout.leaves[0]
    pdf = pack_pdf(plan, b"", sheets=("strips",))
    bands: list[float] = []
    for page in pdfplumber.open(io.BytesIO(pdf)).pages[:6]:
        rows: dict[int, list] = {}
        for rect in page.rects:
            if abs(rect["height"] * MM_PER_PT - 45.0) < 0.2:
                rows.setdefault(round(rect["top"]), []).append(rect)
        bands += [
            (max(r["x1"] for r in rects) - min(r["x0"] for r in rects)) * MM_PER_PT for _, rects in sorted(rows.items())
        ]
    parts = len(part_spans(leaf.width_nm / 1e6, 175.0))
    whole = [bands[start : start + parts] for start in range(0, len(bands) - parts + 1, parts)]
    assert len(whole) >= 3
    for row in whole:
        assert sum(row) - (parts - 1) * OVERLAP_MM == pytest.approx(leaf.width_nm / 1e6, abs=0.5)


@pytest.mark.parametrize("scenario", ["S1", "S2", "S3", "S7"])
def test_twin_marks_of_a_strip_lie_on_the_same_place_of_the_row(scenario: str):
    plan = plan_of(scenario)
    parts = strip_drawings(plan, 0, 1, words_of(plan), width_mm=175.0)
    marks = [
        sorted({shape.start[0] for shape in part.shapes if isinstance(shape, Line) and shape.layer == "joins"})
        for part in parts
    ]
    assert len(parts) > 1
    for left, right in pairwise(marks):
        assert left[-2:] == pytest.approx(right[:2])
        assert left[-1] - left[-2] == pytest.approx(OVERLAP_MM)


def every_mask(words: str) -> list[tuple[str, ...]]:
    """The code of some words under each of its eight masks, as a library encodes them one by one."""
    codes = (segno.make(words, error="m", micro=False, boost_error=False, mask=mask) for mask in range(8))
    return [tuple("".join(map(str, row)) for row in code.matrix) for code in codes]


def test_codes_made_at_once_are_those_made_one_by_one():
    words = [
        f"{row}·{column}{letter}, up, Häuser, 1a2b-3c4d"
        for row, column, letter in (
            (1, 1, ""),
            (7, 12, "b"),
            (7, 13, "a"),
            (16, 8, "b"),
            (199, 200, ""),
            (42, 17, ""),
            (2, 9, ""),
        )
    ]
    words += ["7·12, up, Kő", "7·13, up, Kő", "9·14, up, Kő"]
    for text, code in zip(words, codes_of(words), strict=True):
        assert code in every_mask(text)
    assert codes_of([]) == []


def test_every_block_has_one_back_label_with_its_address_and_a_code_that_says_the_same():
    plan = plan_of("S2")
    blocks = plan.layout.blocks
    addresses, codes = [], []
    for drawing in drawings("S2", "backs"):
        addresses += [shape.text for shape in drawing.shapes if isinstance(shape, Label) and shape.layer == "address"]
        codes += [shape for shape in drawing.shapes if isinstance(shape, Bits)]
        assert (drawing.paper_width_mm, drawing.paper_height_mm) == (210.0, 297.0)
    assert addresses == [blocks.address(block) for block in range(blocks.count)]
    for number, (address, code) in enumerate(zip(addresses, codes, strict=True)):
        assert code.name.startswith(f"{address}, up, ")
        assert plan.stamp in code.name
        assert number % 23 or code.rows in every_mask(code.name)
        assert code.side_mm / len(code.rows) > 0.3  # a phone reads it


def test_labels_lie_inside_their_stickers():
    plan = plan_of("S2")
    grid = plan.brief.papers.labels
    fields = [field_box(grid, "A4", number) for number in range(grid.across * grid.down)]
    wide, high = label_size_nm(grid, "A4")
    assert fields[0].width_mm == pytest.approx(wide / 1e6, abs=1e-5)
    assert fields[0].height_mm == pytest.approx(high / 1e6, abs=1e-5)
    for drawing in drawings("S2", "traylabels"):
        patches = [shape for shape in drawing.shapes if isinstance(shape, Rect)]
        for field, patch in zip(fields, patches, strict=False):
            assert field.left_mm < patch.x_mm < patch.x_mm + patch.width_mm < field.right_mm
            assert field.bottom_mm < patch.y_mm < patch.y_mm + patch.height_mm < field.top_mm


@pytest.mark.parametrize("scenario", ["S2", "S4", "S7"])
def test_tray_labels_count_every_block_once(scenario: str):
    counted = 0
    for drawing in drawings(scenario, "traylabels"):
        counted += sum(int(line.split(" block")[0].rsplit("; ", 1)[1]) for line in drawing.reading)
    assert counted == plan_of(scenario).layout.blocks.count


def test_a_sticker_grid_that_cannot_be_is_refused_with_what_would_do():
    text = (ROOT / "examples" / "s2-brenlow-terrace.toml").read_text(encoding="utf-8")
    with pytest.raises(BriefFaults, match=r"papers.labels_across.*at least 25 mm wide"):
        read_brief(text + "\n[papers]\nlabels_across = 9\n")
    papers = read_brief(text + "\n[papers]\nlabels_across = 3\nlabels_down = 8\nnotches = true\n").papers
    assert papers == Papers(labels=LabelGrid(across=3, down=8), notches=True)


def test_no_two_numbers_have_the_same_notches_and_none_has_more_narrow_ones_than_a_finger_counts():
    codes = [notches(number) for number in range(40)]
    assert len(set(codes)) == 40
    assert max(narrow for _, narrow in codes) < WIDE_COUNTS


def test_the_sheet_for_touch_lists_every_level_and_shade_with_its_notches():
    plan = plan_of("S2")
    assert touch_sheet(plan) is None
    asked = replace(plan, brief=replace(plan.brief, papers=replace(plan.brief.papers, notches=True)))
    assert "touch" in {sheet.name for sheet in pack_sheets(asked)}
    sheet = touch_sheet(asked)
    assert sheet is not None
    levels, shades = (part for part in parts_of(sheet) if isinstance(part, Table))
    assert [row[0] for row in levels.rows] == ["18", "22", "26", "30", "35", "40"]
    said = ["none", "1 narrow", "2 narrow", "3 narrow", "1 wide", "1 wide and 1 narrow", "1 wide and 2 narrow"]
    assert [row[1] for row in levels.rows] == said[:6]
    assert [row[1] for row in shades.rows] == [shade.name for shade in plan.fade.shades]
    assert [row[2] for row in shades.rows][:7] == said
    assert [notch_words(level, shade) for level, shade in ((0, 0), (2, 5), (8, 3))] == [
        "top –, right –",
        "top nn, right Wn",
        "top WW, right nnn",
    ]


def test_the_example_on_the_sheet_for_touch_has_the_notches_that_its_caption_says():
    plan = plan_of("S2")
    sheet = touch_sheet(replace(plan, brief=replace(plan.brief, papers=replace(plan.brief.papers, notches=True))))
    assert sheet is not None
    (drawn,) = (part for part in parts_of(sheet) if isinstance(part, Drawn))
    cuts = [shape for shape in drawn.drawing.shapes if isinstance(shape, Outline)]
    widths = {True: [], False: []}
    for cut in cuts:
        ends = cut.points[0], cut.points[-1]
        top = ends[0][1] == ends[1][1] == 45.0
        widths[top].append(round(abs(ends[0][0] - ends[1][0]) if top else abs(ends[0][1] - ends[1][1]), 6))
        # 2 mm deep
        assert max(abs(45.0 - (y if top else x)) for x, y in cut.points) == 2.0
    assert widths == {True: [2.0, 2.0], False: [6.0, 2.0]}
    assert "2 narrow on top, 1 wide and 1 narrow right" in drawn.caption


def test_the_quote_says_what_the_scenario_says():
    plan = plan_of("S4")
    words, quote = words_of(plan), plan.cost.quote
    text = " ".join(" ".join(read_out(pack_pdf(plan, b"", sheets=("quote",)))).split())
    for cents in (quote.total_cents, quote.each_cents, quote.deposit_cents, quote.labour_cents):
        assert words.money(cents) in text
    assert "$4,449.06" in text
    assert "$741.51" in text
    assert "$2,224.53" in text
    assert f"{plan.cost.hours:.2f}" in text
    assert f"{plan.cost.if_compounded_h:.2f}" in text
    assert plan.stamp in text


def test_the_piece_by_piece_hours_add_up():
    sheet = pack_sheets(plan_of("S4"), ("quote",))[0]
    table = next(part for part in parts_of(sheet) if isinstance(part, Table) and part.columns[0].head == "piece")
    assert sum(float(row[-1]) for row in table.rows) == pytest.approx(float(table.total[-1]), abs=0.05)


def test_a_survey_needs_no_brief(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    out = tmp_path / "survey.pdf"
    assert main(["survey", "--out", str(out), "--paper", "Letter", "--unit", "in", "--quiet"]) == PLANNED
    pages = read_out(out.read_bytes())
    assert len(pages) == 2  # what is measured, what is asked: both sides of one paper
    for asked in (
        "how deep it sits in the wall",
        "fed from which sides",
        "sockets, switches",
        "does it stay?",
        "highest grip",
    ):
        assert asked in " ".join(pages[0].split())
    assert "other side of the wall" in " ".join(pages[1].split())
    assert "in inches" in " ".join(pages[0].split())
    assert main(["survey", "--out", str(out), "--paper", "A0"]) == FAULTY
    assert "A4, Letter" in capsys.readouterr().err


@pytest.mark.parametrize("even", [True, False])
def test_a_leaf_with_more_fixings_than_a_drawing_can_measure_lists_them(even: bool):
    plan = plan_of("S2")
    hung = plan.hang.leaves[0]
    first, last = hung.cleat.fixings[0], hung.cleat.fixings[-1]
    step = (last.x_nm - first.x_nm) / 59
    fixings = tuple(
        replace(first, x_nm=first.x_nm + round(n * step) + (0 if even or n in (0, 59) else n % 3 * 10**6))
        for n in range(60)
    )
    crowd = replace(hung, cleat=replace(hung.cleat, fixings=fixings))
    sheet = pack_sheets(replace(plan, hang=replace(plan.hang, leaves=(crowd,))), ("hang",))[0]
    drawing = next(part.drawing for part in parts_of(sheet) if isinstance(part, Drawn))
    assert drawing.scale_n <= 15
    listed = next(part.text for part in parts_of(sheet) if isinstance(part, Para) and part.lead == "Fixings")
    assert len(listed.split(": ")[1].split(", ")) == 60
    figures = [shape.text for shape in drawing.shapes if isinstance(shape, Dimension)]
    assert any(text.startswith("59 × ") for text in figures) == even


@pytest.mark.parametrize("scenario", ["S2", "S3"])
def test_a_row_too_long_for_its_paper_goes_on_several_lines_with_every_block_on_one(scenario: str):
    plan = plan_of(scenario)
    words = words_of(plan)
    for card in plan.press.rows[:3]:
        whole = [item.block for batch in card.batches for item in batch.blocks]
        assert row_lines(plan, card, words, width_mm=2000.0) == [(card, 0)]
        lines = row_lines(plan, card, words, width_mm=60.0)
        assert len(lines) > 1
        laid = [item.block for part, _ in lines for batch in part.batches for item in batch.blocks]
        assert sorted(laid) == sorted(whole)
        goes = [n for part, first in lines for n in range(first, first + len(part.batches))]
        assert goes == sorted(goes)
        assert set(goes) == set(range(1, len(card.batches) + 1))
        for part, first in lines:
            drawing = row_drawing(plan, part, words, first_go=first)(1.0)
            shown = [s.text for s in drawing.shapes if isinstance(s, Label) and s.layer == "goes"]
            assert shown == [f"go {n}" for n in range(first, first + len(part.batches))]


def test_more_stickers_than_one_file_holds_are_shared_out_in_order():
    sheet = pack_sheets(plan_of("S2"), ("backs",))[0]
    pages = [part for part in sheet.parts if isinstance(part, Whole)]
    assert in_shares(sheet, len(pages)) == [sheet]
    shares = in_shares(sheet, 3)
    assert [part for share in shares for part in share.parts if isinstance(part, Whole)] == pages
    assert all(sum(isinstance(part, Whole) for part in share.parts) <= 3 for share in shares)
    assert [share.title for share in shares] == [
        f"{sheet.title}, part {number} of {len(shares)}" for number in range(1, len(shares) + 1)
    ]
