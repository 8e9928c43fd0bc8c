"""The job as a newcomer does it: a wall in inches with a hatch, five questions, and papers in the end."""

from __future__ import annotations

import io
import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pypdf
import pytest
from playwright.sync_api import Page, expect
from tests.ui.conftest import Bench
from tests.ui.making import figure, fill, go, open_board, ready, stand, still

ANSWERS = {
    "name": "Hatch by the stairs",
    "wall.width": "10 ft 6 in",
    "wall.height": "96",
    "wall.first_stud": "8",
    "wall.stud_spacing": "16",
    "hide.x": "40",
    "hide.y": "45 1/2",
    "hide.width": "14 1/2",
    "hide.height": "20",
    "hide.proud": "3/4",
    "block.width": "2 3/4",
    "block.height": "2 3/4",
    "block.tallest": "1 1/2",
}


@pytest.fixture
def begun(page: Page, bench: Bench) -> Page:
    """The board with a piece of one's own, begun in inches by five questions, its size chosen."""
    open_board(page, bench.address, "relief")
    expect(page.get_by_text("from a tape measure on the wall")).to_be_visible()
    expect(page.locator("footer strong")).to_have_text("Brenlow terrace")
    page.get_by_role("link", name="begin a piece of my own").click()
    ready(page, "begin")
    page.get_by_label("inches").first.check()
    page.locator("[data-verb=begin]").click()
    expect(page.locator('[name="name"]')).to_be_focused()  # the first that is missing
    fill(page, ANSWERS)
    page.locator("[data-verb=begin]").click()
    ready(page, "sizes")
    expect(page.locator("footer strong")).to_have_text("Hatch by the stairs")
    page.locator("[data-verb=choose]").first.click()
    still(page)
    return page


def test_from_five_questions_to_the_pack(begun: Page, bench: Bench, tmp_path: Path):
    page = begun
    go(page, "relief")
    blocks = int(figure(page, "blocks").split()[0])
    assert blocks > 20
    built = page.locator("canvas").get_attribute("data-built")

    # pin two blocks, one as it is and one at another level
    view = page.locator(".view")
    view.focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("[data-block]")).to_have_attribute("data-block", "1·1")
    page.locator("[data-verb=pin]").click()
    still(page)
    expect(page.locator("[data-verb=unpin]")).to_be_visible()
    view.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowDown")
    expect(page.locator("[data-block]")).to_have_attribute("data-block", "2·2")
    was = page.locator(".levels input:checked").get_attribute("value")
    other = "0" if was != "0" else "2"
    stand(page, int(other))
    if page.locator("[data-verb=sure]").is_visible():
        page.locator("[data-verb=sure]").click()
        still(page)
    expect(page.locator(f".levels input[value='{other}']")).to_be_checked()
    assert page.locator("canvas").get_attribute("data-built") == built

    # another home for the second family
    go(page, "fade")
    home = page.locator("[data-family=moss]")
    home.focus()
    for _ in range(4):
        page.keyboard.press("ArrowUp")
    stamp = figure(page, "stamp")
    page.keyboard.press("Enter")
    still(page)
    expect(page.locator("[data-figure=stamp]")).not_to_have_text(stamp)

    # take back, do again, and find it all after a reload
    moved = figure(page, "stamp")
    page.locator("[data-verb=undo]").click()
    expect(page.locator("[data-figure=stamp]")).to_have_text(stamp)
    page.locator("[data-verb=redo]").click()
    expect(page.locator("[data-figure=stamp]")).to_have_text(moved)
    page.reload()
    ready(page, "fade")
    expect(page.locator("[data-figure=stamp]")).to_have_text(moved)
    expect(page.locator("footer strong")).to_have_text("Hatch by the stairs")

    # the papers carry the number of the screen
    go(page, "papers")
    page.locator("[data-verb=print-all]").click()
    page.wait_for_selector("[data-job=done]", timeout=180_000)
    with page.expect_download() as caught:
        page.locator("[data-verb=save]").click()
    with zipfile.ZipFile(caught.value.path()) as archive:
        names = archive.namelist()
        pdf = pypdf.PdfReader(io.BytesIO(archive.read(next(name for name in names if name.endswith("pack.pdf")))))
        on_screen = json.loads(archive.read(next(name for name in names if name.endswith("plan.json"))))
    assert moved in pdf.pages[0].extract_text()
    assert all(moved in one.extract_text() for one in pdf.pages)

    # what the command line makes of the same brief is the same plan
    whole = page.evaluate(
        "async () => (await (await fetch(`/api/pieces/${localStorage.getItem('bossage.piece')}`)).json()).toml"
    )
    brief = tmp_path / "brief.toml"
    brief.write_text(whole, encoding="utf-8")
    out = tmp_path / "out"
    # no check says stop: the sizes that were offered can be built
    subprocess.run(
        [sys.executable, "-m", "bossage.cli", "plan", str(brief), "--out", str(out)], check=True, capture_output=True
    )
    assert json.loads((out / "plan.json").read_text(encoding="utf-8")) == on_screen


def test_a_remedy_is_applied_in_one_press_and_taken_back(page: Page, bench: Bench):
    open_board(page, bench.address, "checks")
    stamp = figure(page, "stamp")
    note = page.locator("article.caution[data-check=bow]")
    note.locator("[data-verb=fix]").click()
    expect(page.locator("[data-figure=stamp]")).not_to_have_text(stamp)
    expect(note).to_have_count(0)
    page.locator("[data-verb=undo]").click()
    expect(page.locator("[data-figure=stamp]")).to_have_text(stamp)
    expect(note).to_have_count(1)


def test_show_me_leads_to_the_thing(page: Page, bench: Bench):
    open_board(page, bench.address, "checks")
    page.locator("[data-check=bench_gap] [data-verb=show]").first.click()
    ready(page, "wall")
    expect(page.locator("svg rect.lit")).to_be_visible()


def test_what_stands_below_is_asked_whether_it_is_moved(page: Page, bench: Bench):
    open_board(page, bench.address, "relief")
    page.get_by_role("link", name="begin a piece of my own").click()
    ready(page, "begin")
    page.get_by_label("inches").first.check()
    page.locator('[name="below.kind"]').select_option("sofa")
    below = {"below.x": "30", "below.width": "70", "below.top": "30", "below.far": "36"}
    fill(page, {**ANSWERS, **below})
    page.locator("[data-verb=begin]").click()
    expect(page.get_by_text("Choose one: what stays is lifted over.")).to_be_visible()
    expect(page.locator('[name="below.stays"]').first).to_be_focused()
    page.get_by_label("is moved out first").check()
    fill(page, {"below.moved": "36", "below.moved_by": "Ida and Jo"})
    page.locator("[data-verb=begin]").click()
    ready(page, "sizes")
    page.locator("[data-verb=choose]").first.click()
    still(page)
    go(page, "checks")
    expect(page.locator("main")).not_to_contain_text("furniture.moved")
