"""From a check that asks to its question and its answer; and what holds the piece, chosen by a picture."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect
from tests.scenarios.test_panel_over_a_sofa import BRIEF
from tests.ui.conftest import Bench
from tests.ui.making import brief_of, figure, fill, go, lay, open_board, ready, still
from tests.ui.test_views import AXE, faults_of

from bossage.examples import example_text


def laid(page: Page, bench: Bench, sheet: str) -> Page:
    open_board(page, bench.address, sheet)
    lay(page, BRIEF, sheet)
    page.evaluate(AXE.read_text(encoding="utf-8"))
    return page


def test_a_check_that_asks_leads_to_its_question_and_takes_the_answer(page: Page, bench: Bench):
    laid(page, bench, "checks")
    note = page.locator("article[data-check=space]").first
    expect(note).to_contain_text("stop, people")
    note.locator("[data-verb=ask]").click()
    ready(page, "ask")
    heading = page.get_by_role("heading", name="For the local authority")
    expect(heading).to_be_in_viewport()
    expect(page.locator("[data-stage=ask]")).to_contain_text("May the room before it be that much less?")
    assert page.evaluate("scrollY") == 0  # the sheet is scrolled, not the board

    settle = page.locator(".margin article[data-check=space] [data-settle]").first
    settle.locator("summary").click()
    assert faults_of(page) == []
    stamp = figure(page, "stamp")
    settle.locator("[data-verb=settle]").click()
    expect(settle.get_by_label("Who agreed, by name")).to_be_focused()  # nothing is settled by nobody
    assert figure(page, "stamp") == stamp
    settle.get_by_label("Who agreed, by name").fill("R. Voss, building control")
    settle.get_by_label("On which day").fill("2026-03-02")
    settle.get_by_label("In which words").fill("the sofa is rolled away")
    page.keyboard.press("Enter")
    expect(page.locator("[data-figure=stamp]")).not_to_have_text(stamp)
    (answer,) = brief_of(page)["settled"]
    assert answer["check"] == "space"
    assert (answer["by"], answer["words"]) == ("R. Voss, building control", "the sofa is rolled away")
    expect(page.locator(".margin article[data-check=space]")).to_have_count(0)
    go(page, "checks")
    quiet = page.locator("article[data-check=space]").first
    expect(quiet).to_contain_text("settled by R. Voss, building control on 2026-03-02")
    expect(quiet).to_contain_text("“the sofa is rolled away”")


def test_where_nobody_has_to_be_asked_the_sheet_says_when_somebody_has(page: Page, bench: Bench):
    open_board(page, bench.address, "ask")
    lay(page, example_text("oiled-ash"), "ask")
    expect(page.get_by_text("Nobody has to be asked just now")).to_be_visible()


@pytest.mark.parametrize(("width", "ground"), [(1280, "light"), (390, "dark")])
def test_what_holds_it_is_chosen_by_its_picture(page: Page, bench: Bench, width: int, ground: str):
    page.set_viewport_size({"width": width, "height": 844})
    page.emulate_media(color_scheme=ground, reduced_motion="reduce")
    laid(page, bench, "hang")
    choice = page.locator("[data-hardware]")
    expect(choice).to_have_attribute("data-hardware", "metal")
    expect(choice.get_by_role("img")).to_have_count(3)
    assert faults_of(page) == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0

    # by keys: an arrow goes to the next picture
    choice.get_by_role("radio", name="metal cleat").focus()
    page.keyboard.press("ArrowUp")
    expect(choice).to_have_attribute("data-hardware", "wood")
    still(page)
    brief = brief_of(page)
    assert brief["cleat"] == {"kind": "wood"}  # nothing that was measured on the metal one
    expect(choice.locator("[name='cleat.bevel']")).to_be_visible()
    expect(page.locator("[data-stage=hang]")).to_contain_text("wall half")

    choice.get_by_role("img", name="Cut from above").click()
    expect(choice).to_have_attribute("data-hardware", "hinges")
    still(page)
    assert brief_of(page)["access"]["opens"] == "swing"
    fill(page, {"access.hinge": "right"})
    still(page)
    fill(page, {"access.butt.height": "3"})
    still(page)
    assert brief_of(page)["access"]["butt"] == {"height": 3}
    assert brief_of(page)["access"]["hinge"] == "right"
    expect(page.locator("[data-stage=hang]")).to_contain_text("hinge")
    for _ in range(3):
        page.locator("[data-verb=undo]").click()
        still(page)
    expect(choice).to_have_attribute("data-hardware", "wood")
