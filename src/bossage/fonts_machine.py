"""Fonts of this machine for scripts that are too large to bring along: Chinese, Japanese, Korean and rare ones."""

from __future__ import annotations

import os
import re
from functools import cache
from pathlib import Path

# Where systems keep fonts, and how files with large scripts are called (from memory).
_FOLDERS = (
    "/usr/share/fonts", "/usr/local/share/fonts", "~/.local/share/fonts", "~/.fonts",
    "/System/Library/Fonts", "/Library/Fonts", "~/Library/Fonts",
    "C:/Windows/Fonts", "~/AppData/Local/Microsoft/Windows/Fonts",
)  # fmt: skip
_NAMES = re.compile(
    r"(NotoSans|NotoSerifCJK|SourceHanSans|wqy|DroidSansFallback|ipag|Nanum|Hiragino|AppleSDGothic|STHeiti|msyh|simsun"
    r"|YuGoth|meiryo|malgun|msjh).*\.(ttf|otf|ttc)",
    re.IGNORECASE,
)
_BOLD = re.compile(r"bold|black|light|thin|medium|italic|condensed|mono", re.IGNORECASE)
MOST_FILES = 200


@cache
def machine_fonts() -> tuple[Path, ...]:
    """Upright fonts of ordinary weight in the usual folders, in the order of their paths; at most `MOST_FILES`."""
    found: list[Path] = []
    for folder in _FOLDERS:
        for at, _, names in os.walk(os.path.expanduser(folder)):
            found += [Path(at, name) for name in names if _NAMES.fullmatch(name) and not _BOLD.search(name)]
    return tuple(sorted(found)[:MOST_FILES])
