"""Where the project's font lies; it is made when the project is installed, never kept in git."""

from __future__ import annotations

from pathlib import Path

from bossage.errors import BossageError

#: The family name that Typst, SVG and the pages ask for. Figures are tabular without being asked for, and the
#: zero has a stroke.
FAMILY = "Bossage Sans"

#: Files of the family: upright, bold, italic.
FILES = ("BossageSans-Regular.ttf", "BossageSans-Bold.ttf", "BossageSans-Italic.ttf")


def font_dir() -> Path:
    """Folder with the TrueType files of `FAMILY` and their licence.

    Raises:
        BossageError: A file is missing, because the project was not installed the usual way.
    """
    folder = Path(__file__).resolve().parent / "_fonts"
    missing = [name for name in FILES if not (folder / name).is_file()]
    if missing:
        raise BossageError(
            f"The font of the papers is not there ({', '.join(missing)}). "
            "Run `make font` in the project's folder, or install bossage again."
        )
    return folder
