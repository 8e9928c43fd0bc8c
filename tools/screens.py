"""Pictures of the workbench's sheets, for the docs and for whoever judges them: `make screens`.

The workbench is opened on a store of its own and looked at with the Chromium that the tests use. Four pictures go to
docs/pictures; with a folder as argument every sheet goes there too, wide, on slate and as a phone shows it.
"""

from __future__ import annotations

import io
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"
WIDTH_PX = 1280
FLAGS = [
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--ignore-gpu-blocklist",
    "--no-sandbox",
    "--hide-scrollbars",
    "--force-color-profile=srgb",
    "--font-render-hinting=none",
]
#: When a sheet has all that it asks the server for.
READY = {
    "relief": ".view[data-ready]",
    "sizes": "[data-sizes]",
    **{stage: f"[data-stage={stage}]" for stage in ("saw", "paint", "press", "hang", "ask")},
}
SHEETS = ("wall", "sizes", "relief", "fade", "saw", "paint", "press", "hang", "papers", "checks")
ASIDE = ("pieces", "begin", "changes", "photo", "survey", "ask")


def main(arguments: list[str]) -> None:
    """Take the four pictures of the docs, and all others if a folder is given."""
    chromium = next((path for name in ("chromium", "chromium-browser") if (path := shutil.which(name))), None)
    if chromium is None:
        raise SystemExit("Chromium is not there; make test installs it.")
    with workbench() as address, sync_playwright() as player:
        browser = player.chromium.launch(executable_path=chromium, args=FLAGS)
        PICTURES.mkdir(parents=True, exist_ok=True)
        for name, (sheet, dark, act) in DOCS.items():
            save(shot(browser, address, sheet, dark=dark, act=act), PICTURES / f"{name}.png")
        for folder in map(Path, arguments):
            folder.mkdir(parents=True, exist_ok=True)
            for sheet in (*SHEETS, *ASIDE):
                for kind, width, dark in (("wide", 1440, False), ("slate", 1280, True), ("phone", 360, False)):
                    picture = shot(browser, address, sheet, width=width, dark=dark)
                    (folder / f"{sheet}-{kind}.png").write_bytes(picture)
        browser.close()


@contextmanager
def workbench() -> Iterator[str]:
    """A workbench over a store that is thrown away; its address."""
    with tempfile.TemporaryDirectory() as folder:
        call = [sys.executable, "-m", "bossage.cli", "open", "--store", f"{folder}/pieces.sqlite", "--port", "0"]
        server = subprocess.Popen([*call, "--no-browser"], stdout=subprocess.PIPE, text=True, cwd=ROOT)
        try:
            assert server.stdout is not None
            found = next((hit for line in server.stdout if (hit := re.search(r"http://\S+?/(?=\s)", line))), None)
            if found is None:
                raise SystemExit("The workbench did not open.")
            yield found[0]
        finally:
            server.terminate()
            server.wait()


def shot(
    browser: Browser,
    address: str,
    sheet: str,
    *,
    width: int = WIDTH_PX,
    dark: bool = False,
    act: Callable[[Page], None] | None = None,
) -> bytes:
    """One sheet as PNG; a phone's is as long as it is."""
    context = browser.new_context(
        viewport={"width": width, "height": 740 if width < 900 else 860},
        color_scheme="dark" if dark else "light",
        reduced_motion="reduce",
    )
    page = context.new_page()
    page.goto(f"{address}#{sheet}")
    page.wait_for_selector("main[data-begun]")
    page.get_by_role("button", name="look round first").click()
    if sheet in READY:
        page.wait_for_selector(READY[sheet])
    if act:
        act(page)
    page.wait_for_selector("main[aria-busy=false]")
    page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    picture = page.screenshot(full_page=width < 900)
    context.close()
    return picture


def save(picture: bytes, path: Path) -> None:
    """Write a picture with a palette, so that the docs stay small."""
    with Image.open(io.BytesIO(picture)) as opened:
        opened.convert("RGB").quantize(colors=200, dither=Image.Dither.NONE).save(path, optimize=True)
    print(path.relative_to(ROOT))


def _pick(page: Page) -> None:
    page.locator(".view").focus()
    for key in ["ArrowDown"] * 5 + ["ArrowRight"] * 6:
        page.keyboard.press(key)


def _apart(page: Page) -> None:
    page.get_by_role("button", name="taken apart").click()


#: Picture -> sheet, on slate or not, what is done first.
DOCS: dict[str, tuple[str, bool, Callable[[Page], None] | None]] = {
    "board-relief": ("relief", False, _pick),
    "board-wall": ("wall", False, None),
    "board-fade": ("fade", True, None),
    "board-apart": ("relief", False, _apart),
}


if __name__ == "__main__":
    main(sys.argv[1:])
