"""A workbench of its own for every test, a real browser in front of it, and nothing beyond this machine."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

ROOT = Path(__file__).resolve().parents[2]
REQUIRED = os.environ.get("BOSSAGE_BROWSER") == "required"
CHROMIUM = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), None
)
#: Software drawing, the same on every machine, and no way out: every name but the loopback's is unknown.
FLAGS = [
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--ignore-gpu-blocklist",
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--force-color-profile=srgb",
    "--font-render-hinting=none",
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
]


#: Tests wait for what the page says of itself; this is only how long a busy machine may take to say it.
PATIENCE_MS = 60_000
expect.set_options(timeout=PATIENCE_MS)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    missing = [
        what
        for what, there in (
            ("Chromium", CHROMIUM is not None),
            ("the page (make web)", (ROOT / "src/bossage/_web/index.html").is_file()),
            ("axe-core (make web)", (ROOT / "ui/node_modules/axe-core/axe.min.js").is_file()),
        )
        if not there
    ]
    if not missing or REQUIRED:
        return
    for item in items:
        if Path(item.fspath).is_relative_to(here) and "page" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.skip(reason=f"{', '.join(missing)} not there"))


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, object]) -> dict[str, object]:
    if CHROMIUM is None:
        pytest.fail("Chromium is not there, and BOSSAGE_BROWSER=required. Run make test, which installs it.")
    return {**browser_type_launch_args, "executable_path": CHROMIUM, "args": FLAGS}


@pytest.fixture
def browser_context_args(browser_context_args: dict[str, object]) -> dict[str, object]:
    return {**browser_context_args, "viewport": {"width": 1280, "height": 800}, "reduced_motion": "reduce"}


@dataclass(frozen=True)
class Bench:
    """A running workbench: its address, and the file that holds its pieces."""

    address: str
    store: Path


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    store = tmp_path / "pieces.sqlite"
    server = subprocess.Popen(
        [sys.executable, "-m", "bossage.cli", "open", "--store", str(store), "--port", "0", "--no-browser"],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    try:
        assert server.stdout is not None
        said = ""
        for line in server.stdout:
            said += line
            if found := re.search(r"http://127\.0\.0\.1:\d+/", line):
                yield Bench(address=found[0], store=store)
                break
        else:
            pytest.fail(f"The workbench did not open: {said}")
    finally:
        # It finishes what it was asked before it goes; what a test left half asked need not be waited for.
        server.kill()
        server.wait()


@pytest.fixture(autouse=True)
def stays_at_home(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fails a test whose page asked for anything beyond this machine, or complained."""
    if "page" not in request.fixturenames:
        yield
        return
    page: Page = request.getfixturevalue("page")
    page.context.set_default_timeout(PATIENCE_MS)
    asked: list[str] = []
    troubles: list[str] = []
    page.context.on("request", lambda sent: asked.append(sent.url))
    page.on("pageerror", lambda error: troubles.append(str(error)))
    page.on("console", lambda line: troubles.append(line.text) if "Content Security Policy" in line.text else None)
    yield
    beyond = [
        url for url in asked if urlsplit(url).scheme not in ("data", "blob") and urlsplit(url).hostname != "127.0.0.1"
    ]
    assert asked, "the page asked for nothing at all"
    assert not beyond
    assert not troubles
