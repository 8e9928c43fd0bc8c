"""Gathers a self-contained folder for those who have no Python: program, page, fonts, solvers, typesetting, icon.

Run by `make bundle`; by hand, on any system, with Python 3.11 or later and in a checkout whose page and font are made:

    python tools/bundle.py

The folder is made from the wheel and the hash-pinned locks, in an environment of its own in `build/bundle`. PyInstaller
gathers what is imported. It runs on the system and the kind of processor that it was made on, and on later ones.
"""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
import sys
import venv
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BUILD, TARGET = Path("build/bundle"), Path("dist/bossage")
LOCKS = ("run.txt", "bundle.txt", "build.txt")
ENTRY = "from bossage.__main__ import start\nimport sys\n\nsys.exit(start(sys.argv[1:]))\n"
#: Packages whose files are read beside their code, found by no import.
WITH_FILES = ("bossage", "manimgx_fonts", "ezdxf")
#: Left out: a line editor under the GPL and what only a shell of Python uses, windows that nobody opens, installers.
LEFT_OUT = ("readline", "curses", "tkinter", "setuptools", "pkg_resources", "pip", "PyInstaller", "pytest")
_LEGAL = ("licen", "copying", "notice", "copyright", "authors")


def main() -> int:
    """Make the folder; say where it is and how large."""
    build = ROOT / BUILD
    shutil.rmtree(build, ignore_errors=True)
    build.mkdir(parents=True)
    python = _environment(build)
    wheel = _wheel(build, python)
    _call(python, "-m", "pip", "install", "--quiet", "--no-deps", str(wheel))
    (build / "start.py").write_text(ENTRY, encoding="utf-8")
    icons = build / "icons"
    _call(python, str(ROOT / "tools" / "icon.py"), str(icons))
    _call(python, "-m", "PyInstaller", *options(build, icons / "bossage.png"))
    target = ROOT / TARGET
    shutil.rmtree(target, ignore_errors=True)
    shutil.move(build / "dist" / "bossage", target)
    for name in ("bossage.svg", "bossage.png"):
        shutil.copy(icons / name, target)
    shutil.copy(ROOT / "LICENSE", target / "LICENSE.txt")
    shutil.copy(ROOT / "docs" / "first-start.txt", target / "READ ME FIRST.txt")
    carry_licences(target / "licences", build)
    size_mb = sum(path.lstat().st_size for path in target.rglob("*") if not path.is_dir()) / 1e6
    print(f"{TARGET.as_posix()} is ready, {size_mb:.0f} MB. A double click on bossage in it opens the workbench.")
    return 0


def options(build: Path, icon: Path) -> list[str]:
    """What PyInstaller is told."""
    said = ["--onedir", "--console", "--name", "bossage", "--noconfirm", "--log-level", "ERROR", "--icon", str(icon)]
    said += ["--distpath", str(build / "dist"), "--workpath", str(build / "work"), "--specpath", str(build)]
    said += ["--collect-submodules", "bossage"]
    for package in WITH_FILES:
        said += ["--collect-data", package]
    for module in LEFT_OUT:
        said += ["--exclude-module", module]
    return [*said, str(build / "start.py")]


def carry_licences(target: Path, build: Path) -> None:
    """Licences ask that their texts travel along: of each package, of Python, of libraries of the system."""
    carried = {*locked((ROOT / "requirements" / "run.txt").read_text(encoding="utf-8")), "bossage", "pyinstaller"}
    for site in (build / "env").rglob("site-packages"):
        for home in sorted(path for path in site.glob("*.dist-info") if plain_name(path.name) in carried):
            for path in sorted(path for path in home.rglob("*") if is_legal(path)):
                _carry(path, target / home.name.removesuffix(".dist-info") / path.name)
    for path in (Path(sys.base_prefix) / "LICENSE.txt", *Path(sys.base_prefix).glob("lib/python3*/LICENSE.txt")):
        if path.is_file():
            _carry(path, target / "Python" / path.name)
    for toc in sorted((build / "work").rglob("COLLECT-*.toc")):
        for owner, text in system_owners(from_system(toc.read_text(encoding="utf-8"), build)):
            _carry(text, target / "system" / f"{owner}.txt")


def locked(lock: str) -> set[str]:
    """The packages of a lock."""
    return {plain_name(line) for line in lock.splitlines() if line[:1].isalnum()}


def plain_name(said: str) -> str:
    """A package's name, as its lock or the folder with what is known of it begins."""
    return re.split(r"==|-\d", said, maxsplit=1)[0].lower().replace("_", "-").replace(".", "-")


def is_legal(path: Path) -> bool:
    """Whether a file of a package holds a licence or a notice."""
    return path.is_file() and path.name.lower().startswith(_LEGAL) and path.suffix not in (".py", ".pyc")


def from_system(toc: str, build: Path) -> list[Path]:
    """The libraries of a table of contents of PyInstaller that come neither with a package nor with Python."""
    found = ast.literal_eval(toc)
    entries = next(part for part in found if isinstance(part, list)) if isinstance(found, tuple) else found
    inside = (build, Path(sys.base_prefix))
    return sorted(
        {
            Path(source)
            for _, source, kind, *_ in entries
            if kind == "BINARY" and not any(Path(source).is_relative_to(folder) for folder in inside)
        }
    )


def system_owners(libraries: list[Path]) -> Iterator[tuple[str, Path]]:
    """Which package of the system each library is of, with its licence, where the system is Debian or its kin."""
    if shutil.which("dpkg-query") is None:
        return
    for library in libraries:
        for path in (library, library.resolve()):
            asked = ["dpkg-query", "-S", str(path)]
            said = subprocess.run(asked, capture_output=True, text=True, check=False).stdout
            owner = said.partition(":")[0]
            text = Path("/usr/share/doc") / owner / "copyright"
            if owner and text.is_file():
                yield owner, text
                break


def _environment(build: Path) -> Path:
    """An environment with what the locks pin; the Python in it."""
    venv.create(build / "env", with_pip=True)
    folder = build / "env" / ("Scripts" if os.name == "nt" else "bin")
    python = folder / ("python.exe" if os.name == "nt" else "python")
    locks = [word for lock in LOCKS for word in ("-r", str(ROOT / "requirements" / lock))]
    _call(python, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--require-hashes", *locks)
    return python


def _wheel(build: Path, python: Path) -> Path:
    _call(python, "-m", "hatchling", "build", "-t", "wheel", "-d", str(build / "wheel"))
    (wheel,) = (build / "wheel").glob("*.whl")
    return wheel


def _call(python: Path, *words: str) -> None:
    subprocess.run([str(python), *words], cwd=ROOT, check=True)


def _carry(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)


if __name__ == "__main__":
    sys.exit(main())
