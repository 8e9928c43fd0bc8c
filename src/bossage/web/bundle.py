"""The page and what belongs to it, read once at the start: no path of a request ever meets the disk."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "_web"
TOKEN_MARK = "%BOSSAGE_TOKEN%"
_KINDS = {
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".woff2": "font/woff2",
    ".ttf": "font/ttf",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".ico": "image/x-icon",
    ".txt": "text/plain; charset=utf-8",
}
_HASHED = re.compile(r"-[\w-]{6,}\.\w+\Z")

MISSING = """<!doctype html>
<html lang="en"><meta charset="utf-8"><title>bossage: the page is not built</title>
<h1>The page of the workbench is not built</h1>
<p>This bossage was installed without its page. In its folder, run <code>make web</code>, then start it again.
<p>The command line does the whole job meanwhile: <code>bossage plan BRIEF --out FOLDER</code>.
</html>
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asset:
    """A file of the bundle."""

    data: bytes
    kind: str
    for_good: bool  # its name changes with what is in it


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """The page, with a mark where the token goes, and its files by the path they are asked by; no page: not built."""

    page: str | None
    assets: dict[str, Asset]

    def page_with(self, token: str) -> str | None:
        """The page with the token of this start."""
        return None if self.page is None else self.page.replace(TOKEN_MARK, token)


def load_bundle(folder: Path = FOLDER) -> Bundle:
    """Read everything that was built."""
    page = folder / "index.html"
    if not page.is_file():
        return Bundle(page=None, assets={})
    assets = {
        path.relative_to(folder).as_posix(): Asset(
            data=path.read_bytes(), kind=_KINDS[path.suffix], for_good=bool(_HASHED.search(path.name))
        )
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path != page and path.suffix in _KINDS
    }
    return Bundle(page=page.read_text(encoding="utf-8"), assets=assets)
