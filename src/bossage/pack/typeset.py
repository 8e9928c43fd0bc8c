"""From a Typst template and its files to a PDF: only fonts that we chose, no clock, no warning that goes by unseen.

Typst reads modules, pictures and fonts from a folder, so everything is laid into a passing one. A large paper is set in
a process of its own: Typst keeps what it has set in memory until its process ends.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory

from bossage.errors import OurFault
from bossage.fonts import FILES, Face, faces_of, font_dir
from bossage.system import own_program

#: Modules that every template may import.
LIBRARY = ("sheet.typ",)

_MAIN, _FONTS, _FAMILIES = "main.typ", "fonts", "families"
BETWEEN = "|"  # parts the names of families; no family has it in its name


class Unprintable(OurFault):
    """A paper could not be set, or only with a warning. `said` is what Typst said of it."""

    def __init__(self, said: str) -> None:
        super().__init__("A paper could not be set.", said)


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
        _lay_fonts(root, faces_of(_words_in(template, files)))
        return _set_apart(root) if apart else _set_here(root)


def template_source(name: str) -> str:
    """Source of one of our templates."""
    return resources.files("bossage.pack").joinpath("templates", name).read_text(encoding="utf-8")


def _words_in(template: str, files: Mapping[str, bytes]) -> str:
    """All text that may be set."""
    texts = [data.decode("utf-8") for name, data in files.items() if name.endswith((".json", ".svg"))]
    return "\n".join([template, *texts])


def _lay_fonts(root: Path, faces: tuple[Face, ...]) -> None:
    """The fonts of these families, and no others, so that nothing is set from a font that nobody chose."""
    folder = root / _FONTS
    folder.mkdir()
    own, *others = faces
    for path in (*(font_dir() / name for name in FILES), *dict.fromkeys(face.path for face in others)):
        link = folder / path.name
        try:
            link.symlink_to(path)
        except OSError:  # Windows lets few people make links
            shutil.copyfile(path, link)
    (root / _FAMILIES).write_text(BETWEEN.join(face.family for face in (own, *others)), encoding="utf-8")


def _set_here(root: Path) -> bytes:
    import typst

    try:
        made, warnings = typst.compile_with_warnings(
            str(root / _MAIN),
            root=str(root),
            font_paths=[str(root / _FONTS)],
            ignore_system_fonts=True,
            format="pdf",
            timestamp=0,
            pdf_standards=["ua-1"],
            sys_inputs={"family": (root / _FAMILIES).read_text(encoding="utf-8")},
        )
    except typst.TypstError as error:
        said = " ".join([error.message, *error.hints, error.diagnostic or ""])
        raise Unprintable(" ".join(said.split())) from error
    if warnings:
        raise Unprintable("; ".join(warning.message for warning in warnings))
    if not isinstance(made, bytes):
        raise Unprintable("no PDF came out")
    return made


def _set_apart(root: Path) -> bytes:
    made = root / "made.pdf"
    done = subprocess.run(
        own_program("bossage.pack.typeset", str(root), str(made)),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        errors="replace",
        check=False,
    )
    if done.returncode != 0:
        said = done.stderr.strip().splitlines()
        raise Unprintable(said[-1] if said else "the process ended without a word")
    return made.read_bytes()


def _main(root: str, made: str) -> None:
    # what Typst says has letters that a Windows page of letters lacks
    getattr(sys.stderr, "reconfigure", lambda **_: None)(encoding="utf-8", errors="replace")
    try:
        Path(made).write_bytes(_set_here(Path(root)))
    except Unprintable as error:
        raise SystemExit(error.said) from error


if __name__ == "__main__":
    _main(*sys.argv[1:])
