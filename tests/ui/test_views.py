"""Every sheet on paper and on slate, wide and on a phone: nothing for axe to find, nothing cut off."""

from __future__ import annotations

import gzip
import json
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.ui.conftest import ROOT, Bench
from tests.ui.making import ASIDE, SHEETS, figure, go, open_board, put_welcome_away, ready, stand, still

AXE = ROOT / "ui/node_modules/axe-core/axe.min.js"
WEB = ROOT / "src/bossage/_web"
FIRST_VIEW_BYTES = 250_000
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def faults_of(page: Page) -> list[str]:
    found = page.evaluate(
        "rules => axe.run(document, { runOnly: rules }).then(({ violations }) => violations.flatMap("
        "({ id, help, nodes }) => nodes.map(({ html }) => `${id}: ${help}: ${html.slice(0, 160)}`)))",
        RULES,
    )
    return [str(one) for one in found]


@pytest.mark.parametrize(("width", "ground"), [(1280, "light"), (1280, "dark"), (360, "light"), (360, "dark")], ids=str)
def test_axe_finds_nothing_on_any_sheet(page: Page, bench: Bench, width: int, ground: str):
    page.set_viewport_size({"width": width, "height": 740})
    page.emulate_media(color_scheme=ground, reduced_motion="reduce")
    open_board(page, bench.address)
    expect(page.locator("html")).to_have_attribute("data-ground", "slate" if ground == "dark" else "paper")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = {"the first visit": faults_of(page)}
    put_welcome_away(page)
    for sheet in (*SHEETS, *ASIDE):
        go(page, sheet)
        found[sheet] = faults_of(page)
        # nothing reaches past the side of a phone; what is wider than it scrolls by itself
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, sheet
        if sheet == "relief":
            page.locator(".view").focus()
            page.keyboard.press("ArrowRight")
            found["a picked block"] = faults_of(page)
    assert {sheet: faults for sheet, faults in found.items() if faults} == {}


def test_every_sheet_by_keys_alone(page: Page, bench: Bench):
    """No mouse: tabs by Tab and Enter; a block moved to, read out, pinned and let go; the piece moved on its wall."""
    open_board(page, bench.address)
    put_welcome_away(page)
    page.reload()
    ready(page, "wall")
    reached = set()
    for _ in range(20):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.getAttribute('href')"))
    assert {f"#{sheet}" for sheet in SHEETS} <= reached

    tab = page.locator('nav a[href="#relief"]')
    tab.focus()
    page.keyboard.press("Enter")
    page.wait_for_selector(".view[data-ready]")
    assert page.evaluate("document.activeElement.id") == "sheet-title"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className.includes('view')")
    page.keyboard.press("ArrowRight")
    expect(page.locator("[role=status]")).to_contain_text("row 1, 1")
    page.keyboard.press("ArrowDown")
    expect(page.locator("[role=status]")).to_contain_text("row 2, 1")
    spoken = page.locator("[role=status]").inner_text()
    assert "stands" in spoken
    assert "mm" in spoken
    page.keyboard.press("p")
    still(page)
    expect(page.locator("[data-verb=unpin]")).to_be_visible()
    page.keyboard.press("p")
    still(page)
    # a button keeps the focus while the server works, or a hand on the keys would be lost
    page.locator("[data-verb=pin]").focus()
    page.keyboard.press("Enter")
    expect(page.locator("[data-verb=unpin]")).to_be_focused()
    still(page)
    page.keyboard.press("Enter")
    expect(page.locator("[data-verb=pin]")).to_be_focused()
    still(page)
    page.locator(".view").focus()
    page.keyboard.press("Escape")
    expect(page.locator("[data-block]")).to_have_count(0)
    page.keyboard.press("Control+z")
    still(page)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowDown")
    expect(page.locator("[data-verb=unpin]")).to_be_visible()

    go(page, "wall")
    stamp = figure(page, "stamp")
    page.locator("svg g.piece").focus()
    page.keyboard.press("Shift+ArrowUp")
    page.keyboard.press("Shift+ArrowUp")
    expect(page.get_by_role("heading", name="Held over here")).to_be_visible()
    expect(page.locator(".margin")).to_contain_text("No longer: Above the bench")
    page.keyboard.press("Enter")
    expect(page.locator("[data-figure=stamp]")).not_to_have_text(stamp)


def test_rules_speak_before_a_level_is_taken(page: Page, bench: Bench):
    """A level that its neighbour has already breaks the rule of a relief; the page says so and asks."""
    open_board(page, bench.address, "relief")
    page.wait_for_selector(".view[data-ready]")
    put_welcome_away(page)
    page.locator(".view").focus()
    page.keyboard.press("ArrowRight")
    neighbour = page.evaluate(
        "async () => { const id = localStorage.getItem('bossage.piece');"
        " const { plan } = await (await fetch(`/api/pieces/${id}/plan`)).json(); return plan.blocks.level[1] }"
    )
    # both pinned to one level: nothing can give way
    page.keyboard.press("ArrowRight")
    page.locator("[data-verb=pin]").click()
    still(page)
    page.locator(".view").focus()
    page.keyboard.press("ArrowLeft")
    before = page.locator(".levels input:checked").get_attribute("value")
    stamp = figure(page, "stamp")
    stand(page, neighbour)
    expect(page.get_by_role("alert")).to_contain_text("break")
    assert figure(page, "stamp") == stamp
    page.get_by_role("button", name="leave it as it is").click()
    expect(page.get_by_role("alert")).to_have_count(0)
    expect(page.locator(".levels input:checked")).to_have_attribute("value", before or "")


def test_two_boards_keep_both_changes(page: Page, bench: Bench):
    open_board(page, bench.address, "relief")
    put_welcome_away(page)
    page.wait_for_selector(".view[data-ready]")
    second = page.context.new_page()
    open_board(second, bench.address, "relief")
    second.wait_for_selector(".view[data-ready]")
    stamp = figure(page, "stamp")
    page.locator("[data-verb=draw-again]").click()
    expect(page.locator("[data-figure=stamp]")).not_to_have_text(stamp)
    first_stamp = figure(page, "stamp")
    second.locator(".view").focus()
    second.keyboard.press("ArrowRight")
    second.locator("[data-verb=pin]").click()
    expect(second.locator("[data-conflict]")).to_be_visible()
    second.locator("[data-verb=theirs]").click()
    expect(second.locator("[data-figure=stamp]")).to_have_text(first_stamp)
    second.close()


def test_first_view_is_small_and_the_piece_in_3d_comes_by_itself():
    page = (WEB / "index.html").read_text(encoding="utf-8")
    first = [path for path in (WEB / "assets").iterdir() if path.name in page or path.suffix == ".ttf"]
    sizes = {path.name: len(gzip.compress(path.read_bytes())) for path in [WEB / "index.html", *first]}
    assert sum(sizes.values()) <= FIRST_VIEW_BYTES, json.dumps(sizes)
    lazy = list((WEB / "assets").glob("relief-*.js"))
    assert lazy
    assert all(path.name not in page for path in lazy)


def test_units_at_a_switch_and_the_brief_left_alone(page: Page, bench: Bench):
    open_board(page, bench.address, "wall")
    put_welcome_away(page)
    stamp = figure(page, "stamp")
    assert "mm" in figure(page, "size")
    page.locator("footer").get_by_label("Inches").check()
    expect(page.locator("[data-figure=size]")).to_contain_text("in")
    assert figure(page, "stamp") == stamp
    page.locator("footer").get_by_label("Millimetres").check()
    expect(page.locator("[data-figure=size]")).to_contain_text("mm")


def test_words_of_the_page_are_the_words_of_the_brief():
    """The lists of choices that the page offers are those that a brief may hold."""
    import re

    from bossage.brief.tables_face import HOMES
    from bossage.brief.tables_site import FURNITURE
    from bossage.brief.terms import Below, FadeShape, FixtureKind, FoundBy, RunKind, WallBuild

    text = Path(ROOT / "ui/src/lib/choices.ts").read_text(encoding="utf-8")
    lists = {
        name: re.findall(r'"([^"]+)"', body) for name, body in re.findall(r"const (\w+) = \[(.*?)\]", text, re.DOTALL)
    }
    assert lists == {
        "FIXTURE_KINDS": [one.value for one in FixtureKind],
        "FURNITURE_KINDS": list(FURNITURE),
        "WALL_BUILDS": [one.value for one in WallBuild],
        "BELOW": [one.value for one in Below],
        "RUN_KINDS": [one.value for one in RunKind],
        "FOUND_BY": [one.value for one in FoundBy],
        "HOMES": list(HOMES),
        "FADE_SHAPES": [one.value for one in FadeShape],
    }


def test_what_the_page_measures_on_cleat_and_hinge_are_keys_of_the_brief():
    """A key that the page offers can be written, and goes where another cleat is chosen."""
    import re

    from bossage.brief.tables_hinges import ButtTable
    from bossage.brief.tables_making import CleatTable

    offered = Path(ROOT / "ui/src/parts/Hardware.svelte").read_text(encoding="utf-8")
    listed = Path(ROOT / "ui/src/lib/hardware.ts").read_text(encoding="utf-8")
    cleat, butt = (set(re.findall(rf'\b{name}\("(\w+)"', offered)) for name in ("cleat", "butt"))
    (body,) = re.findall(r"MEASURED_ON_CLEAT = \[(.*?)\]", listed, re.DOTALL)
    assert cleat == set(re.findall(r'"(\w+)"', body))
    assert cleat <= set(CleatTable.model_fields)
    assert butt <= set(ButtTable.model_fields)
