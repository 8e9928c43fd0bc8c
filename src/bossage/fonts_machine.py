"""Fonts of this machine for scripts that are too large to bring along: Chinese, Japanese, Korean and rare ones."""

from __future__ import annotations

import os
import re
import unicodedata
from functools import cache
from pathlib import Path

# Where systems keep fonts, and how files with large scripts are called (from memory). What a system says of its folders
# stands first: Windows need not lie on C:.
_FOLDERS = (
    "$XDG_DATA_HOME/fonts", "/usr/share/fonts", "/usr/local/share/fonts", "~/.local/share/fonts", "~/.fonts",
    "/System/Library/Fonts", "/Library/Fonts", "~/Library/Fonts",
    "$WINDIR/Fonts", "$LOCALAPPDATA/Microsoft/Windows/Fonts",
)  # fmt: skip
_NAMES = re.compile(
    r"(NotoSans|NotoSerifCJK|SourceHanSans|wqy|DroidSansFallback|ipag|Nanum|Hiragino|ヒラギノ角ゴ|PingFang|AppleSDGothic"
    r"|STHeiti|msyh|simsun|YuGoth|meiryo|malgun|msjh).*\.(ttf|otf|ttc)",
    re.IGNORECASE,
)
_BOLD = re.compile(r"bold|black|light|thin|medium|italic|condensed|mono", re.IGNORECASE)
MOST_FILES = 200


@cache
def machine_fonts() -> tuple[Path, ...]:
    """Upright fonts of ordinary weight in the usual folders, in the order of their paths; at most `MOST_FILES`."""
    found: list[Path] = []
    for folder in _FOLDERS:
        for at, _, names in os.walk(os.path.expanduser(os.path.expandvars(folder))):
            found += [Path(at, name) for name in names if _is_upright_large(name)]
    return tuple(sorted(set(found))[:MOST_FILES])


def _is_upright_large(name: str) -> bool:
    whole = unicodedata.normalize("NFC", name)  # macOS parts a letter from its marks
    return bool(_NAMES.fullmatch(whole)) and not _BOLD.search(whole)
