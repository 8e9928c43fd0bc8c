"""Which fonts the papers are set in: the project's own first, then others for letters that the project's own lacks.

The project's own font is made when the project is installed, never kept in git. The others come from a package that
carries Noto Sans for many scripts. Chinese, Japanese and Korean come from an optional package, or from a font of this
machine. Why: docs/decisions/0004-font.md.
"""

from __future__ import annotations

import importlib.util
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from bossage.errors import BossageError
from bossage.letters import HIDDEN, clusters

#: The family name that Typst, SVG and the pages ask for. Figures are tabular without being asked for, and the
#: zero has a stroke.
FAMILY = "Bossage Sans"

#: Files of the family: upright, bold, italic.
FILES = ("BossageSans-Regular.ttf", "BossageSans-Bold.ttf", "BossageSans-Italic.ttf")

# The broadest first, so that a word is set from one family where that can be.
_BUNDLED = (
    "Noto Sans", "Noto Sans Arabic", "Noto Sans Armenian", "Noto Sans Bengali", "Noto Sans Devanagari",
    "Noto Sans Ethiopic", "Noto Sans Georgian", "Noto Sans Gujarati", "Noto Sans Gurmukhi", "Noto Sans Hebrew",
    "Noto Sans Kannada", "Noto Sans Khmer", "Noto Sans Lao", "Noto Sans Malayalam", "Noto Sans Myanmar",
    "Noto Sans Oriya", "Noto Sans Sinhala", "Noto Sans Tamil", "Noto Sans Telugu", "Noto Sans Thai",
    "Noto Sans Symbols", "Noto Emoji",
)  # fmt: skip

# Han letters are drawn otherwise in each country: kana ask for the Japanese form, hangul for the Korean one.
_KANA, _HANGUL = (range(0x3040, 0x3100),), (range(0x1100, 0x1200), range(0x3130, 0x3190), range(0xAC00, 0xD7B0))


@dataclass(frozen=True, slots=True)
class Face:
    """One family: its name as Typst has it, the file that holds it, and its number in a file of several."""

    family: str
    path: Path
    number: int = 0


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


def faces_of(text: str) -> tuple[Face, ...]:
    """The families that a text is set from, in the order in which they are asked; the project's own is always first.

    A cluster (a letter with the marks on it) is set from one family. Clusters that no family has are left out here;
    `unset_cluster` names them.
    """
    han = _han_face(text)
    needed = {_face_of_cluster(cluster, han) for cluster in _odd_clusters(text)}
    if not needed:
        return (_own(),)
    return (_own(), *(face for face in (*_bundled(), *_large(han)) if face in needed))


def faced(text: str) -> list[tuple[Face, str]]:
    """A text in stretches of one family each, for a format that cannot choose by itself."""
    own = _own()
    if only_own(text):
        return [(own, text)]
    han = _han_face(text)
    found: list[tuple[Face, str]] = []
    for cluster in clusters(text):
        face = _face_of_cluster(cluster, han) or own
        if found and (found[-1][0] == face or cluster == " "):
            found[-1] = (found[-1][0], found[-1][1] + cluster)
        else:
            found.append((face, cluster))
    return found


def only_own(text: str) -> bool:
    """Whether the project's own font has every letter."""
    return text.isascii() or not _odd_clusters(text)


def unset_cluster(text: str) -> str | None:
    """The first cluster that no font has, None where every cluster can be set."""
    for cluster in _odd_clusters(text):
        if _face_of_cluster(cluster, _han_face(cluster)) is None:
            return cluster
    return None


@lru_cache(maxsize=256)
def coverage(face: Face) -> frozenset[int]:
    """The code points that a family has."""
    from fontTools.ttLib import TTFont, TTLibError

    try:
        with TTFont(face.path, lazy=True, fontNumber=face.number) as font:
            return frozenset(font.getBestCmap() or ())
    except (OSError, TTLibError, KeyError, AssertionError, ValueError):
        return frozenset()  # a damaged font of the machine sets nothing


@cache
def _own() -> Face:
    return Face(FAMILY, font_dir() / FILES[0])


def _odd_clusters(text: str) -> list[str]:
    """Clusters with a letter that the project's own font lacks, each once, in the order of the text."""
    if text.isascii():
        return []
    own = coverage(_own())
    words = dict.fromkeys(word for word in text.split() if not word.isascii())
    return list(
        dict.fromkeys(
            cluster
            for word in words
            for cluster in clusters(word)
            if any(ord(letter) not in own and letter not in HIDDEN for letter in cluster)
        )
    )


@lru_cache(maxsize=1 << 14)
def _face_of_cluster(cluster: str, han: str) -> Face | None:
    if len(cluster) > 1 and any(unicodedata.category(letter) == "Me" for letter in cluster):
        return None  # rings and boxes round a letter stand beside it in every font that we looked at
    points = {ord(letter) for letter in cluster if letter not in HIDDEN}
    for face in (_own(), *_bundled(), *_large(han)):
        if points <= coverage(face):
            return face
    return None


def _han_face(text: str) -> str:
    """The country whose form of the Han letters a text asks for."""
    points = set(map(ord, set(text)))
    for country, blocks in (("JP", _KANA), ("KR", _HANGUL)):
        if any(point in block for block in blocks for point in points):
            return country
    return "SC"


@cache
def _bundled() -> tuple[Face, ...]:
    folder = _package_folder("manimgx_fonts")
    if folder is None:
        return ()
    return tuple(Face(family, folder / f"{family.replace(' ', '')}[wght].ttf") for family in _BUNDLED)


@cache
def _large(han: str) -> tuple[Face, ...]:
    """Families for large scripts: of the optional package, then of this machine; those of the country first."""
    from bossage.fonts_machine import machine_fonts

    folder = _package_folder("manimgx_fonts_cjk")
    files = () if folder is None else tuple(sorted(folder.glob("*.ttc")))
    faces = (*_faces_in(files), *_faces_in(machine_fonts()))
    return tuple(sorted(faces, key=lambda face: not face.family.endswith(f" {han}")))


@cache
def _faces_in(files: tuple[Path, ...]) -> tuple[Face, ...]:
    """The families in font files, named as Typst names them, each once."""
    import typst

    if not files:
        return ()
    folders = sorted({str(path.parent) for path in files})
    known = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=folders)
    found: dict[str, Face] = {}
    for font in known.fonts():
        if font.path is not None and Path(font.path) in files:
            found.setdefault(font.family, Face(font.family, Path(font.path), font.index))
    return tuple(found.values())


def _package_folder(name: str) -> Path | None:
    spec = importlib.util.find_spec(name)
    if spec is None or not spec.submodule_search_locations:
        return None
    return Path(next(iter(spec.submodule_search_locations)))
