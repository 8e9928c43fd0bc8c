"""Every PDF is tagged so that it can be read aloud: the part of PDF/UA-1 that a machine can check."""

from __future__ import annotations

import io

import pikepdf
import pytest
from tests.pack.made import METRIC, RING, papers_of
from tests.pack.pdf_ua import elements, kind, ua_faults
from tests.scenarios.cases import plan_of

from bossage.pack import Form, Order, blank_survey, ordered_files
from bossage.pack.catalogue import pack_sheets
from bossage.pack.files import SHEETS


@pytest.mark.parametrize("scenario", [METRIC, RING])
def test_the_whole_pack_is_tagged_as_the_standard_asks(scenario: str) -> None:
    assert ua_faults(papers_of(scenario), content=False) == []


@pytest.mark.parametrize("form", [Form.PRINT, Form.LARGE])
def test_all_that_a_page_paints_is_tagged_or_an_artifact(form: Form) -> None:
    sheets = ("first", "saw", "testcard", "hang", "household")
    for name, data in ordered_files(plan_of("S2"), Order(sheets=sheets, forms=(form,))).items():
        assert ua_faults(data) == [], name


def test_a_blank_survey_is_tagged_too() -> None:
    assert ua_faults(blank_survey(paper="Letter", unit="in")) == []


def test_every_sheet_begins_with_a_heading_and_every_drawing_says_its_title() -> None:
    with pikepdf.open(io.BytesIO(papers_of("S2"))) as pdf:
        found = [one for one, _ in elements(pdf.Root.StructTreeRoot)]
        words = " ".join(str(one.get("/Alt", "")) for one in found if kind(one) == "Figure")
        plan = plan_of("S2")
        stickers = sum(one.name in ("backs", "traylabels") for one in pack_sheets(plan, SHEETS))
        assert sum(kind(one) == "H1" for one in found) >= len(pack_sheets(plan, SHEETS)) - stickers
        for leaf in plan.layout.leaves:
            assert f"Hanging leaf {leaf.name}" in words
            assert f"Backer of leaf {leaf.name}" in words or f"Map of leaf {leaf.name}" in words


def test_what_is_wrong_is_found() -> None:
    good = ordered_files(plan_of("S2"), Order(sheets=("shopping",)))["shopping.pdf"]
    for spoil, said in (
        (lambda pdf: pdf.Root.__delitem__("/Lang"), "no language"),
        (lambda pdf: pdf.Root.MarkInfo.__setitem__("/Marked", False), "not said to be tagged"),
        (_without_heads, "without header cells"),
        (lambda pdf: pdf.pages[0].__setitem__("/Tabs", pikepdf.Name.R), "tab order"),
        (_paint_untagged, "neither tagged nor an artifact"),
    ):
        with pikepdf.open(io.BytesIO(good)) as pdf:
            spoil(pdf)
            out = io.BytesIO()
            pdf.save(out)
        assert any(said in fault for fault in ua_faults(out.getvalue())), said


def _without_heads(pdf: pikepdf.Pdf) -> None:
    tree = pdf.Root.StructTreeRoot
    for one, _ in elements(tree):
        if kind(one) == "TH":
            one.S = pikepdf.Name.TD


def _paint_untagged(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(b"0 0 10 10 re f", prepend=True)
