"""How wide our font's letters are, so that labels can be placed without overlapping.

Widths are read once from the font file that the papers use, letter by letter; kerning and the joining of
letters are left out, which makes the estimate a hair wide.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING

from bossage.fonts import FAMILY, FILES, Face, faced, font_dir
from bossage.letters import HIDDEN

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

_UNITS = 1000

#: Height of capitals and figures over the size of the type; a test holds it against the font file.
CAP_HEIGHT = 0.668


@lru_cache(maxsize=1 << 14)  # maps say the same few words thousands of times
def text_width(text: str, *, bold: bool = False) -> float:
    """Width of one line of text over the size of the type."""
    if text.isascii():
        return sum(_advance(letter, bold) for letter in text)
    return sum(
        _advance(letter, bold) if face.family == FAMILY else _advance_in(face, letter, bold)
        for face, part in faced(text)
        for letter in part
    )


@cache
def _advance(letter: str, bold: bool) -> float:
    return float(_font(bold).getlength(letter)) / _UNITS


@lru_cache(maxsize=1 << 14)
def _advance_in(face: Face, letter: str, bold: bool) -> float:
    if letter in HIDDEN:
        return 0.0
    return float(_font_of(face, bold).getlength(letter)) / _UNITS


@cache
def _font_of(face: Face, bold: bool) -> FreeTypeFont:
    from PIL import ImageFont

    font = ImageFont.truetype(str(face.path), _UNITS, face.number, layout_engine=ImageFont.Layout.BASIC)
    try:
        axes = font.get_variation_axes()
        # The weight is the only axis of the families that we bring; another axis keeps its usual place.
        usual = [float(axis["default"] or 0) for axis in axes]
        font.set_variation_by_axes([700.0 if bold else 400.0, *usual[1:]])
    except OSError:  # a font of the machine that has no axes
        pass
    return font


@cache
def _font(bold: bool) -> FreeTypeFont:
    from PIL import ImageFont

    path = font_dir() / FILES[1 if bold else 0]
    # The basic engine is in every build of Pillow; the other one is not.
    return ImageFont.truetype(str(path), _UNITS, layout_engine=ImageFont.Layout.BASIC)
