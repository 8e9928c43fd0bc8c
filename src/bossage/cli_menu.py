"""The command that puts bossage into the menu of the desktop, where the desktop keeps to freedesktop.org.

Method: a desktop entry of one user, with the icon beside (Desktop Entry Specification and Icon Theme Specification of
freedesktop.org; from memory).
"""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from bossage.cli_pieces import AsJson, Quiet
from bossage.errors import BossageError
from bossage.system import has_desktop_entries, this_program

DONE = 0
_WORDS = {
    "win32": "Click bossage.exe with the right button, and choose to pin bossage to Start or to the taskbar.",
    "darwin": "Drag the folder into Applications, and the program in the folder into the Dock.",
}


class NoMenu(BossageError):
    """This system's menu takes no file."""


def add_commands(app: App) -> None:
    """Give the application this command."""
    app.command(menu)


def menu(
    *,
    remove: Annotated[bool, Parameter(negative=(), help="Take the entry and its icon away again.")] = False,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> int:
    """Put bossage into the menu of the desktop, with its icon; after the folder was moved, once more."""
    from bossage.serial import dumps

    if not has_desktop_entries():
        advice = _WORDS.get(sys.platform, "Make a short cut to the program by hand.")
        raise NoMenu(f"The menu of this system takes no file. {advice}")
    entry, icon = _places()
    if remove:
        for path in (entry, icon):
            path.unlink(missing_ok=True)
    else:
        _write(entry, icon)
    if as_json:
        sys.stdout.buffer.write(dumps({"entry": str(entry), "icon": str(icon), "there": not remove}))
    elif not quiet:
        print("bossage is no longer in the menu." if remove else f"bossage is in the menu: {entry}.")
    return DONE


def desktop_entry(command: list[str], icon: Path) -> str:
    """The text of a desktop entry. A window of letters stays open with the workbench, to be closed for its end."""
    called = " ".join(_quoted(word) for word in command)
    lines = {
        "Type": "Application",
        "Name": "bossage",
        "Comment": "A wooden relief that hides, hangs and comes off again",
        "Exec": called.replace("\\", "\\\\"),
        "Icon": str(icon).replace("\\", "\\\\"),
        "Terminal": "true",
        "Categories": "Graphics;Engineering;",
    }
    return "\n".join(["[Desktop Entry]", *(f"{key}={value}" for key, value in lines.items()), ""])


def _quoted(word: str) -> str:
    """A word of a command as a desktop entry wants it: quoted, with what stands for something else escaped."""
    escaped = re.sub(r'(["`$\\])', r"\\\1", word)
    return '"' + escaped.replace("%", "%%") + '"'


def _write(entry: Path, icon: Path) -> None:
    from bossage.drawing.icon import icon_svg

    for path, data in ((icon, icon_svg()), (entry, desktop_entry(this_program(), icon).encode())):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def _places() -> tuple[Path, Path]:
    """Where the entry and its icon belong."""
    said = os.environ.get("XDG_DATA_HOME", "")
    data = Path(said) if Path(said).is_absolute() else Path.home() / ".local" / "share"
    return data / "applications" / "bossage.desktop", data / "icons/hicolor/scalable/apps/bossage.svg"
