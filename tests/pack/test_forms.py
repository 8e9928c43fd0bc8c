"""The forms of a sheet say the same: print, large print, plain text."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pikepdf
import pytest
from tests.pack.made import INCH, METRIC, RING, SCENARIOS, papers_of, picture_of, sheets_of
from tests.pack.pdf_checks import FOOT, Page, lines_of, outside, overlaps, pages_of, read_out, text_of
from tests.scenarios.cases import plan_of

from bossage.cli import FAULTY, PLANNED, main
from bossage.pack import SHEETS, Form, Order, ordered_files
from bossage.pack.catalogue import UnknownSheet, wanted_sheets
from bossage.pack.files import sheets_pdf
from bossage.pack.large import LARGE_MM
from bossage.pack.order import UnknownForm, read_order
from bossage.pack.spoken import numbers, spoken
from bossage.writing import MADE

BAR = re.compile(r"(100 mm|4 in): measure it")
LARGE = (METRIC, INCH, RING)
S2 = Path(__file__).parents[2] / "examples" / "s2-brenlow-terrace.toml"
MM_PER_PT = 25.4 / 72


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_plain_text_holds_every_number_of_the_printed_sheets(scenario: str) -> None:
    said: dict[str, set[str]] = {}
    for sheet in sheets_of(scenario):
        said.setdefault(sheet.title, set()).update(numbers(spoken(plan_of(scenario), sheet)))
    missing, counted, titles = [], 0, tuple[str, ...]()
    for page in pages_of(papers_of(scenario)):
        titles = page.titles or titles  # stickers have no foot; they follow the first page of their sheet
        here = set[str]().union(*(said[title] for title in titles))
        body = [line for line in lines_of(page) if not BAR.match(line)]
        found = [number for line in body for number in numbers(line)]
        counted += len(found)
        missing += [(titles, number) for number in found if number not in here | _title_block(page)]
    assert missing == []
    assert counted > 500


def test_numbers_are_found_as_they_are_written():
    assert numbers("7·12b: 3-1/2 in, 1½, 1,024 and 0.5; 45 × 70.") == [
        "7", "12", "3-1/2", "1½", "1,024", "0.5", "45", "70",
    ]  # fmt: skip


@cache
def large_papers(scenario: str) -> bytes:
    return sheets_pdf(plan_of(scenario), list(sheets_of(scenario)), picture_of(scenario), Form.LARGE)


@pytest.mark.parametrize("scenario", LARGE)
def test_large_print_is_nowhere_smaller_than_18_points_and_stays_on_the_paper(scenario: str) -> None:
    pdf = large_papers(scenario)
    small = {(letter.text, letter.size) for page in pages_of(pdf) for letter in page.letters if letter.size < 17.95}
    assert small == set()
    assert outside(pdf, margin_mm=5.0) == []
    assert overlaps(pdf)[:3] == []


@pytest.mark.parametrize("scenario", LARGE)
def test_every_sheet_comes_in_large_print(scenario: str) -> None:
    flat = "".join(text_of(large_papers(scenario)).split())  # a number with a hyphen may be parted at a line's end
    for sheet in sheets_of(scenario):
        assert "".join(sheet.todo.split()) in flat, sheet.name
        assert "".join(sheet.wrong.split()) in flat, sheet.name


@pytest.mark.parametrize("scenario", [METRIC])
def test_a_word_left_off_a_large_drawing_follows_in_words(scenario: str) -> None:
    flat = text_of(large_papers(scenario))
    blocks = plan_of(scenario).layout.blocks
    assert all(f"{blocks.address(block)}: " in flat for block in range(blocks.count))
    assert pytest.approx(18 * MM_PER_PT) == LARGE_MM


def test_sheets_and_forms_asked_for_on_the_command_line(tmp_path: Path) -> None:
    words = ["plan", str(S2), "--out", str(tmp_path), "--quiet", "--sheets", "paint, saw", "--form", "print,text,large"]
    assert main(words) == PLANNED
    made = {str(path.relative_to(tmp_path)) for path in tmp_path.rglob("*.*") if path.is_file()}
    assert made - {MADE} == {
        "plan.json", "saw.pdf", "paint.pdf", "saw-large.pdf", "paint-large.pdf", "text/saw.txt", "text/paint.txt",
    }  # fmt: skip
    assert all("Saw: planed spruce" in text for text in read_out((tmp_path / "saw.pdf").read_bytes()))


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


def _title_block(page: Page) -> set[str]:
    return set(numbers(page.text.rsplit(FOOT, 1)[1])) if FOOT in page.text else set()


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
