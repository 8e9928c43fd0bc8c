"""The forms of a sheet say the same: print, large print, plain text."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pikepdf
import pytest
from tests.pack.pdf_checks import outside, overlaps, pages_of, read_out, texts_of
from tests.scenarios.cases import BRIEFS, plan_of

from bossage.cli import FAULTY, PLANNED, main
from bossage.pack import SHEETS, Form, Order, ordered_files
from bossage.pack.catalogue import UnknownSheet, pack_sheets, wanted_sheets
from bossage.pack.files import pack_pdf, wall_picture
from bossage.pack.large import LARGE_MM
from bossage.pack.order import UnknownForm, read_order
from bossage.pack.spoken import numbers, spoken

S2 = Path(__file__).parents[2] / "examples" / "s2-brenlow-terrace.toml"
MM_PER_PT = 25.4 / 72


@cache
def printed_pages(scenario: str) -> list[tuple[str, str]]:
    """Each page of the pack, all sheets, as the title of its sheet and its text."""
    plan = plan_of(scenario)
    return [_page(text) for text in read_out(pack_pdf(plan, wall_picture(plan), sheets=SHEETS))]


@pytest.mark.parametrize("scenario", BRIEFS)
def test_plain_text_holds_every_number_of_the_printed_sheets(scenario: str) -> None:
    said: dict[str, set[str]] = {}
    for sheet in pack_sheets(plan_of(scenario), SHEETS):
        said.setdefault(sheet.title, set()).update(numbers(spoken(plan_of(scenario), sheet)))
    missing = [
        (title, number)
        for title, text in printed_pages(scenario)
        for number in numbers(text)
        if number not in said[title] and not _torn(number, text, said[title])
    ]
    assert missing == []
    assert sum(len(numbers(text)) for _, text in printed_pages(scenario)) > 500


def test_numbers_are_found_as_they_are_written():
    assert numbers("7·12b: 3-1/2 in, 1½, 1,024 and 0.5; 45 × 70.") == [
        "7", "12", "3-1/2", "1½", "1,024", "0.5", "45", "70",
    ]  # fmt: skip


@pytest.mark.parametrize("scenario", ["S2", "S1", "S7"])
def test_large_print_is_nowhere_smaller_than_18_points_and_stays_on_the_paper(scenario: str) -> None:
    pdf = ordered_files(plan_of(scenario), Order(sheets=SHEETS_FOR_LARGE, forms=(Form.LARGE,)))
    for name, data in pdf.items():
        chars = [char for page in pages_of(data) for char in page.chars if char["text"].strip()]
        # Of a turned letter the box is as wide as an upright one is high.
        assert min(max(c["x1"] - c["x0"], c["bottom"] - c["top"]) for c in chars) >= 18 - 0.05, name
        assert outside(data, margin_mm=5.0) == [], name
        assert overlaps(data)[:3] == [], name


SHEETS_FOR_LARGE = ("wall", "trays", "saw", "paint", "map")


def test_every_sheet_comes_in_large_print() -> None:
    plan = plan_of("S2")
    text = " ".join(read_out(ordered_files(plan, Order(forms=(Form.LARGE,)))["pack-large.pdf"]))
    flat = " ".join(text.split())
    for sheet in pack_sheets(plan):
        assert " ".join(sheet.todo.split()) in flat, sheet.name
        assert " ".join(sheet.wrong.split()) in flat, sheet.name


def test_a_word_left_off_a_large_drawing_follows_in_words() -> None:
    text = read_out(ordered_files(plan_of("S2"), Order(sheets=("map",), forms=(Form.LARGE,)))["map-large.pdf"])
    blocks = plan_of("S2").layout.blocks
    flat = " ".join(text)
    assert all(f"{blocks.address(block)}: " in flat for block in range(blocks.count))
    assert pytest.approx(18 * MM_PER_PT) == LARGE_MM


def test_sheets_and_forms_asked_for_on_the_command_line(tmp_path: Path) -> None:
    words = ["plan", str(S2), "--out", str(tmp_path), "--quiet", "--sheets", "paint, saw", "--form", "print,text,large"]
    assert main(words) == PLANNED
    made = {str(path.relative_to(tmp_path)) for path in tmp_path.rglob("*.*") if path.is_file()}
    assert made == {
        "plan.json", "saw.pdf", "paint.pdf", "saw-large.pdf", "paint-large.pdf", "text/saw.txt", "text/paint.txt",
    }  # fmt: skip
    assert all(text.startswith("Saw") for text in texts_of((tmp_path / "saw.pdf").read_bytes()))


def test_unknown_names_are_refused_with_the_list(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(S2), "--out", str(tmp_path / "no"), "--sheets", "saw,pant"]) == FAULTY
    said = capsys.readouterr().err
    assert "pant" in said
    assert all(name in said for name in SHEETS)
    assert not (tmp_path / "no").exists()
    with pytest.raises(UnknownForm, match=r"braille.*print, large, text"):
        read_order(form="braille")
    with pytest.raises(UnknownSheet):
        wanted_sheets(("saw", "all the rest"))


def test_names_come_in_the_order_of_the_work_and_all_means_all() -> None:
    assert wanted_sheets(("paint", "saw", "first")) == ("first", "saw", "paint")
    assert wanted_sheets(("all",)) == SHEETS
    assert read_order().sheets is None


def _page(text: str) -> tuple[str, str]:
    """Title of the sheet that a page belongs to, and what stands on it apart from the words of its foot."""
    body, foot = text.rsplit("\r\npiece\r\n", 1)
    title = re.search(r"sheet\r\n(.*?)\r\n(?:scale\r\n.*?\r\n)?plan\r\n", foot, re.DOTALL)[1]
    return " ".join(title.split()), re.sub(r"(100 mm|4 in): measure it\. Print at 100 %\.", "", body)


def _torn(number: str, text: str, said: set[str]) -> bool:
    """Whether the reader tore a turned number over lines, `3` and `9-1/2` of `39-1/2`: each then stands by itself."""
    return number in {line.strip() for line in text.splitlines()} and any(number in one for one in said)


@pytest.mark.parametrize("form", [Form.PRINT, Form.LARGE])
def test_the_pdf_is_tagged_and_says_what_its_drawings_show(form: Form) -> None:
    files = ordered_files(plan_of("S7"), Order(sheets=("first", "map", "ring", "paint"), forms=(form,)))
    for name, data in files.items():
        pdf = pikepdf.open(io.BytesIO(data))
        root = pdf.Root
        assert bool(root.MarkInfo.Marked), name
        assert str(root.Lang) == "en"
        assert bool(root.ViewerPreferences.DisplayDocTitle)
        with pdf.open_metadata() as about:
            assert str(about["pdfuaid:part"]) == "1"
            assert "Hollin Yard" in str(about["dc:title"])
        kinds = [(str(one.get("/S")), str(one.get("/Alt", ""))) for one in _tags(root.StructTreeRoot)]
        assert ("/H1", "") in kinds
        pictures = [alt for kind, alt in kinds if kind == "/Figure"]
        assert all(len(alt) > 20 for alt in pictures), name
        assert pictures or name.startswith("paint")
        for table in (one for one in _tags(root.StructTreeRoot) if str(one.get("/S")) == "/Table"):
            assert any(str(cell.get("/S")) == "/TH" for cell in _tags(table)), name


def _tags(node: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """Every element of the tag tree, in reading order."""
    below = node.get("/K", [])
    for one in below if isinstance(below, pikepdf.Array) else [below]:
        if isinstance(one, pikepdf.Dictionary) and "/S" in one:
            yield one
            yield from _tags(one)
