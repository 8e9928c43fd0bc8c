"""Writes the icon as SVG and as PNG, from which other formats are made: `python tools/icon.py FOLDER`."""

from __future__ import annotations

import sys
from pathlib import Path

from bossage.drawing.icon import icon_png, icon_svg

PNG, SVG, SIDE_PX = "bossage.png", "bossage.svg", 512


def main(folder: Path) -> None:
    """Write both into a folder, which is made."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / SVG).write_bytes(icon_svg())
    (folder / PNG).write_bytes(icon_png(SIDE_PX))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
