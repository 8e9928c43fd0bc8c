"""What every sheet has: what to do on top, what to do when it went wrong at the foot, stamp, bar, cautions."""

from __future__ import annotations

import pytest
from tests.pack.made import CLASS, METRIC, RING, SCENARIOS, papers_of, picture_of, sheets_of
from tests.pack.pdf_checks import FOOT, check_bars_mm, pages_of
from tests.scenarios.cases import BRIEFS, plan_of

from bossage.brief import read_brief
from bossage.examples import example_text
from bossage.pack import SHEETS, Form
from bossage.pack.catalogue import pack_sheets
from bossage.pack.files import sheets_pdf
from bossage.pack.sheet import Care, parts_of
from bossage.plan import Plan, make_plan

#: Where saws, dust, fumes, electricity, weight or lifting can hurt somebody.
HURTS = ("saw", "boards", "lengths", "sand", "onepot", "paint", "helpers", "slips", "press", "ring", "hang", "survey")

ALONE = [(METRIC, ()), (RING, ("S2",)), (CLASS, ("S2", "S7"))]


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_every_page_has_the_same_furniture(scenario: str):
    plan = plan_of(scenario)
    by_title = {sheet.title: sheet for sheet in sheets_of(scenario)}
    pages = pages_of(papers_of(scenario))
    begun, ended = set[str](), set[str]()
    for number, page in enumerate(pages, start=1):
        if FOOT not in page.text:  # stickers fill their page
            continue
        sheets = [by_title[title] for title in page.titles]
        text = "".join(page.text.split())
        assert plan.stamp in page.text.rsplit(FOOT, 1)[1], page.titles
        assert f"{number}of{len(pages)}" in text, page.titles
        assert len(check_bars_mm(page)) == any(sheet.scale for sheet in sheets), page.titles
        scales = {sheet.scale for sheet in sheets if sheet.scale}
        if scales:
            assert "".join((scales.pop() if len(scales) == 1 else "as marked").split()) in text.rsplit("scale", 1)[1]
        for sheet in sheets:
            if sheet.title not in begun:
                assert "".join(sheet.title.split()) in text, page.titles
                begun.add(sheet.title)
            if "".join(sheet.wrong.split()) in text:
                ended.add(sheet.wrong)
    assert begun == set(by_title)
    assert ended == {sheet.wrong for sheet in by_title.values()}
    whole = "".join("".join(page.text.split()) for page in pages)
    assert [sheet.title for sheet in by_title.values() if "".join(sheet.todo.split()) not in whole] == []


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_cautions_stand_where_the_work_can_hurt(scenario: str):
    warned = {sheet.name for sheet in sheets_of(scenario) if any(isinstance(part, Care) for part in parts_of(sheet))}
    assert {sheet.name for sheet in sheets_of(scenario)} & set(HURTS) <= warned


@pytest.mark.parametrize(
    ("scenario", "done"),
    [pytest.param(*mark.values, done, marks=mark.marks) for mark, done in ALONE],
)
def test_each_station_can_be_printed_alone(scenario: str, done: tuple[str, ...]):
    sheets = sheets_of(scenario)
    elsewhere = {sheet.name for other in done for sheet in sheets_of(other)}
    for name in dict.fromkeys(sheet.name for sheet in sheets if sheet.name not in elsewhere):
        mine = [sheet for sheet in sheets if sheet.name == name][:1]
        pages = pages_of(sheets_pdf(plan_of(scenario), mine, picture_of(scenario), Form.PRINT))
        assert {title for page in pages for title in page.titles} == {mine[0].title}


def test_every_name_makes_a_sheet_in_some_scenario():
    made = {sheet.name for scenario in BRIEFS for sheet in sheets_of(scenario)}
    stained = make_plan(read_brief(example_text("stained-oak")))
    assert isinstance(stained, Plan)
    made |= {sheet.name for sheet in pack_sheets(stained)}
    assert set(SHEETS) - made <= {"touch"}  # notches are asked for in the brief
