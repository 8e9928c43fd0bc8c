"""From a Typst template and its files to a PDF: our font only, no clock, and no warning that goes by unseen.

Typst reads modules and pictures from a folder, so everything is laid into a passing one. A large paper is set in a
process of its own: Typst keeps what it has set in memory until its process ends.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory

from bossage.errors import BossageError
from bossage.fonts import FAMILY, font_dir

#: Modules that every template may import.
LIBRARY = ("sheet.typ",)

_MAIN = "main.typ"


class Unprintable(BossageError):
    """A paper could not be set, or only with a warning: our fault, with what Typst said of it."""


def compile_pdf(template: str, files: Mapping[str, bytes], *, apart: bool = False) -> bytes:
    """A tagged PDF (PDF/UA-1), the same bytes for the same input on any day.

    Args:
        template: Typst source; it may import `sheet.typ` and read the files by their names.
        files: Data and pictures by name.
        apart: Set it in a process of its own, whose memory is given back at its end.

    Raises:
        Unprintable: Typst refused, or warned (an unknown font is only a warning to it).
    """
    with TemporaryDirectory(prefix="bossage-") as folder:
        root = Path(folder)
        for name in LIBRARY:
            (root / name).write_bytes(template_source(name).encode())
        for name, content in files.items():
            (root / name).write_bytes(content)
        (root / _MAIN).write_text(template, encoding="utf-8")
        return _set_apart(root) if apart else _set_here(root)


def template_source(name: str) -> str:
    """Source of one of our templates."""
    return resources.files("bossage.pack").joinpath("templates", name).read_text(encoding="utf-8")


def _set_here(root: Path) -> bytes:
    import typst

    try:
        made, warnings = typst.compile_with_warnings(
            str(root / _MAIN),
            root=str(root),
            font_paths=[str(font_dir())],
            ignore_system_fonts=True,
            format="pdf",
            timestamp=0,
            pdf_standards=["ua-1"],
            sys_inputs={"family": FAMILY},
        )
    except typst.TypstError as error:
        said = " ".join([error.message, *error.hints, error.diagnostic or ""])
        raise Unprintable(f"A paper could not be set: {' '.join(said.split())}") from error
    if warnings:
        said = "; ".join(warning.message for warning in warnings)
        raise Unprintable(f"A paper was set only with a warning: {said}")
    if not isinstance(made, bytes):
        raise Unprintable("Typst gave no PDF.")
    return made


def _set_apart(root: Path) -> bytes:
    made = root / "made.pdf"
    done = subprocess.run(
        [sys.executable, "-m", "bossage.pack.typeset", str(root), str(made)],
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode != 0:
        said = done.stderr.strip().splitlines()
        raise Unprintable(said[-1] if said else "A paper could not be set: its process ended without a word.")
    return made.read_bytes()


def _main(root: str, made: str) -> None:
    try:
        Path(made).write_bytes(_set_here(Path(root)))
    except Unprintable as error:
        raise SystemExit(str(error)) from error


if __name__ == "__main__":
    _main(*sys.argv[1:])
