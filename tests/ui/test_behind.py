"""What is behind the wall, under a hand: runs and depths dragged with a mouse and with keys, zones shown."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect
from tests.scenarios.test_panel_over_a_sofa import BRIEF
from tests.ui.conftest import Bench
from tests.ui.making import brief_of, figure, lay, open_board, still
from tests.ui.test_views import AXE, faults_of

RUNS = """
[[run]]
name = "heating pipe"
kind = "pipe"
from = [20, 0]
to = [20, 44]
found = "detector"
[[run]]
kind = "cable"
from = [88, 96]
to = [104, 50]
found = "seen"
"""


@pytest.fixture
def wall(page: Page, bench: Bench) -> Page:
    """The wall sheet of a panel over a sofa, with a pipe and a cable in the wall."""
    open_board(page, bench.address, "wall")
    lay(page, BRIEF + RUNS, "wall")
    return page


def drag(page: Page, grip: str, right_px: float, up_px: float) -> None:
    box = page.locator(grip).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right_px / 2, y - up_px / 2)
    page.mouse.move(x + right_px, y - up_px)
    page.mouse.up()
    still(page)


def test_a_run_is_dragged_by_an_end_and_as_a_whole_and_its_zone_follows(wall: Page):
    page = wall
    expect(page.locator("[data-run='0'] text")).to_have_text("heating pipe, found by detector")
    zone = page.locator("[data-zone*='heating pipe']").first.locator(".edge")
    before, stamp = zone.get_attribute("d"), figure(page, "stamp")
    drag(page, "[data-run='0'] [data-grip=to]", 60, 0)
    expect(page.locator("[data-figure=stamp]")).not_to_have_text(stamp)
    run = brief_of(page)["run"][0]
    assert run["from"] == [20, 0]
    assert run["to"][0] > 25
    assert run["to"][1] == 44
    assert run["to"][0] * 4 == int(run["to"][0] * 4)  # quarters of an inch
    expect(zone).not_to_have_attribute("d", before or "")
    drag(page, "[data-run='1'] .hit >> nth=0", -40, 0)
    cable = brief_of(page)["run"][1]
    assert cable["from"][0] < 86
    assert cable["to"][0] - cable["from"][0] == 16  # all of it went
    page.locator("[data-verb=undo]").click()
    still(page)
    assert brief_of(page)["run"][1]["from"] == [88, 96]


def test_a_run_goes_by_keys_and_the_rules_speak_before_it_is_put(wall: Page):
    page = wall
    grip = page.locator("[data-run='1'] [data-grip=whole]")
    grip.focus()
    expect(grip).to_have_attribute(
        "aria-label",
        "cable, seen from 88 in along, 96 in up to 104 in along, 50 in up. "
        "Arrow keys move all of it, Enter puts it there.",
    )
    stamp = figure(page, "stamp")
    for _ in range(3):
        page.keyboard.press("Shift+ArrowLeft")
    expect(page.get_by_role("heading", name="Held over here")).to_be_visible()
    assert figure(page, "stamp") == stamp
    page.keyboard.press("Escape")
    expect(page.get_by_role("heading", name="Held over here")).to_have_count(0)
    assert brief_of(page)["run"][1]["from"] == [88, 96]
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("Enter")
    expect(page.locator("[data-figure=stamp]")).not_to_have_text(stamp)
    assert brief_of(page)["run"][1]["from"] == [85.5, 96]  # ten quarters of an inch
    expect(grip).to_be_focused()  # a hand on the keys goes on from there


def test_how_deep_a_thing_sits_is_dragged_and_keyed(wall: Page):
    page = wall
    back = page.get_by_role("slider", name="How deep panel sits in the wall")
    expect(back).to_have_attribute("aria-valuetext", "3-1/2 in deep")
    drag(page, "[data-recess='0'] .hit", 0, 10)
    deep = brief_of(page)["fixture"][0]["recess"]
    assert 3.75 <= deep <= 5
    back.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    still(page)
    assert brief_of(page)["fixture"][0]["recess"] == pytest.approx(deep - 0.25)
    page.keyboard.press("Home")
    page.keyboard.press("Enter")
    still(page)
    expect(page.locator("svg .hidden text").nth(1)).to_have_text("on the wall")


def test_zones_are_drawn_shown_and_told(wall: Page):
    page = wall
    fixings = page.locator("svg .fixing")
    expect(fixings).to_have_count(0)
    page.get_by_label("look behind the piece").check()
    assert fixings.count() >= 2
    page.locator("[data-zones] [data-verb=show-zone]").first.click()
    shown = page.locator("g.zone.shown")
    expect(shown).to_have_count(1)
    cause = shown.get_attribute("data-zone") or ""
    expect(page.locator("[data-zones] li").first).to_contain_text(cause, ignore_case=True)
    expect(page.locator("[data-zones]")).to_contain_text("What is not hatched is not proven empty")


def test_at_a_phone_on_slate_axe_finds_nothing_and_what_is_held_is_as_large_as_a_finger(page: Page, bench: Bench):
    page.set_viewport_size({"width": 390, "height": 844})
    page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    open_board(page, bench.address, "wall")
    lay(page, BRIEF + RUNS, "wall")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    assert faults_of(page) == []
    page.get_by_label("look behind the piece").check()
    page.locator("[data-run='0'] [data-grip=from]").focus()
    page.keyboard.press("ArrowRight")
    assert faults_of(page) == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    for end in ("from", "to"):
        box = page.locator(f"[data-run='0'] [data-grip={end}] .hit").bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 24
