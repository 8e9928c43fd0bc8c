"""What a newcomer's hands do, in one place: fields by their words, waits by what the page says of itself."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, expect

SHEETS = ("wall", "sizes", "relief", "fade", "saw", "paint", "press", "hang", "papers", "checks")
ASIDE = ("pieces", "begin", "changes", "photo", "survey", "ask")


def open_board(page: Page, address: str, sheet: str = "wall") -> None:
    page.goto(f"{address}#{sheet}")
    page.wait_for_selector("main[data-begun]")


def put_welcome_away(page: Page) -> None:
    page.get_by_role("button", name="look round first").click()


def go(page: Page, sheet: str) -> None:
    """To a sheet, and wait until it is there with all that it asks the server for."""
    page.evaluate("sheet => { location.hash = sheet }", sheet)
    ready(page, sheet)


def ready(page: Page, sheet: str) -> None:
    title = {
        "pieces": "pieces",
        "begin": "A piece of your own",
        "changes": "Changes",
        "photo": "On a photo",
        "survey": "Survey",
        "ask": "Ask first",
    }
    expect(page.locator("#sheet-title")).to_contain_text(title.get(sheet, sheet), ignore_case=True)
    if sheet == "relief":
        page.wait_for_selector(".view[data-ready]")
    if sheet == "sizes":
        page.wait_for_selector("[data-sizes]")
    if sheet in ("saw", "paint", "press", "hang", "ask"):
        page.wait_for_selector(f"[data-stage={sheet}]")
    still(page)


def still(page: Page) -> None:
    """Until no call is on its way."""
    page.wait_for_selector("main[aria-busy=false]")


def stand(page: Page, level: int) -> None:
    """Give the picked block another level, as a hand does."""
    page.locator(".levels label").nth(level).click()
    still(page)


def figure(page: Page, name: str) -> str:
    return page.locator(f"[data-figure={name}]").inner_text().strip()


def fill(page: Page, fields: dict[str, str]) -> None:
    for name, text in fields.items():
        field = page.locator(f'[name="{name}"]')
        if field.evaluate("one => one.tagName") == "SELECT":
            field.select_option(text)
        else:
            field.fill(text)
            field.blur()


def lay(page: Page, toml: str, sheet: str) -> None:
    """Lay a piece of this brief on the board, with the welcome read."""
    made = page.evaluate(
        "async toml => { const token = document.querySelector('meta[name=\"bossage-token\"]').content;"
        " const headers = { 'content-type': 'application/json', 'X-Bossage-Token': token };"
        " const call = await fetch('/api/pieces', { method: 'POST', headers, body: JSON.stringify({ toml }) });"
        " const body = await call.json(); if (!call.ok) return JSON.stringify(body);"
        " localStorage.setItem('bossage.piece', body.piece_id); localStorage.setItem('bossage.welcome', 'read');"
        " return 'laid' }",
        toml,
    )
    assert made == "laid", made
    page.reload()
    page.wait_for_selector("main[data-begun]")
    ready(page, sheet)


def brief_of(page: Page) -> dict[str, Any]:
    """The brief of the piece on the board, as it is saved."""
    brief: dict[str, Any] = page.evaluate(
        "async () => (await (await fetch(`/api/pieces/${localStorage.getItem('bossage.piece')}`)).json()).brief"
    )
    return brief
