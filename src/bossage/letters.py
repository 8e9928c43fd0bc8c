"""Letters of names: one form for each letter, which letters nobody can see, and words that run from right to left.

Clusters are a conservative reading of the grapheme clusters of Unicode Standard Annex 29; isolates are those of the
bidirectional algorithm, Annex 9. Invisible letters are `Default_Ignorable_Code_Point` of the Unicode Character Database
(from memory), with the blank letters of Braille and of hangul.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import cache

#: Letters that join or part their neighbours; they have a shape in no font, and are allowed between letters.
JOINERS = "\u200c\u200d"
PICTURE_SIGN = "\ufe0f"  # asks for an emoji as a picture
#: What is allowed in names and never drawn by itself.
HIDDEN = frozenset(JOINERS + PICTURE_SIGN)

FIRST_ISOLATE, END_OF_ISOLATE = "\u2068", "\u2069"

_INVISIBLE = (
    (0x00AD, 0x00AD), (0x034F, 0x034F), (0x061C, 0x061C), (0x115F, 0x1160), (0x17B4, 0x17B5), (0x180B, 0x180F),
    (0x200B, 0x200F), (0x202A, 0x202E), (0x2060, 0x206F), (0x2800, 0x2800), (0x3164, 0x3164), (0xFE00, 0xFE0F),
    (0xFEFF, 0xFEFF), (0xFFA0, 0xFFA0), (0xFFF0, 0xFFFB), (0x1BCA0, 0x1BCA3), (0x1D173, 0x1D17A), (0xE0000, 0xE0FFF),
)  # fmt: skip
# Letters that stand on the one before them though their category does not say so: Thai and Lao am, halfwidth marks of
# kana, skin tones of emoji.
_STANDS_ON = {0x0E33, 0x0EB3, 0xFF9E, 0xFF9F, *range(0x1F3FB, 0x1F400)}
_JOINING = ("Lo", "Mn", "Mc", "So", "Sk", "Lm")


def composed(text: str) -> str:
    """The text with each letter in its composed form (NFC): é is one letter, however it was typed."""
    return unicodedata.normalize("NFC", text)


def clusters(text: str) -> list[str]:
    """The text cut into letters, each with the marks that stand on it and what is joined to it."""
    found: list[str] = []
    for letter in text:
        if found and (_extends(letter) or found[-1].endswith("\u200d")):
            found[-1] += letter
        else:
            found.append(letter)
    return found


def invisible(text: str) -> str | None:
    """The first letter that nobody can see, or that turns the direction of its neighbours; None where there is none.

    A joiner between two letters of a script that joins is a part of spelling (Persian, scripts of India, emoji), and so
    is the picture sign behind a sign that has two forms.
    """
    for at, letter in enumerate(text):
        if letter == " ":
            continue
        if letter in JOINERS and _joins(text, at):
            continue
        if letter == PICTURE_SIGN and at and _may_be_picture(text[at - 1]):
            continue
        point = ord(letter)
        if any(low <= point <= high for low, high in _INVISIBLE) or not letter.isprintable():
            return letter
    return None


def seen(text: str) -> str:
    """The text as it may be shown anywhere: each letter that nobody can see, or that turns others, by its number."""
    if text.isprintable() and text.isascii():
        return text
    return "".join(f"<U+{ord(one):04X}>" if one not in HIDDEN and invisible(one) else one for one in text)


def leads_with_mark(text: str) -> bool:
    """Whether the text begins with a mark that stands on nothing."""
    return bool(text) and _extends(text[0])


def letter_name(letter: str) -> str:
    """A letter as a sentence names it: its number and its name in Unicode, `U+200B ZERO WIDTH SPACE`."""
    name = unicodedata.name(letter, "") or _CONTROLS.get(letter, "a letter without a name")
    return f"U+{ord(letter):04X} {name}"


_CONTROLS = {"\t": "a tab", "\n": "a line end", "\r": "a line end", "\x00": "a null"}


def isolated(text: str) -> str:
    """The text with each run of right-to-left words set apart, so that the words run right to left and nothing else."""
    return text if text.isascii() else _run().sub(rf"{FIRST_ISOLATE}\g<0>{END_OF_ISOLATE}", text)


@cache
def _run() -> re.Pattern[str]:
    """Words of right-to-left letters, with spaces, hyphens, points or figures between them: a name, short or whole."""
    right = _class(lambda letter: unicodedata.bidirectional(letter) in ("R", "AL") and not _extends(letter))
    on = _class(_extends)
    return re.compile(f"{right}(?:{right}|{on}|(?:[ '’\"&./+…–-]|[0-9 ])+(?={right}))*")


def _class(wanted: Callable[[str], bool]) -> str:
    """The letters that are wanted as a class of a regular expression."""
    ranges: list[list[int]] = []
    for point in range(0x300, 0x1F400):
        if wanted(chr(point)):
            if ranges and ranges[-1][1] == point - 1:
                ranges[-1][1] = point
            else:
                ranges.append([point, point])
    return "[" + "".join(f"{chr(low)}-{chr(high)}" for low, high in ranges) + "]"


def _extends(letter: str) -> bool:
    return unicodedata.category(letter)[0] == "M" or letter in HIDDEN or ord(letter) in _STANDS_ON


def _joins(text: str, at: int) -> bool:
    if not 0 < at < len(text) - 1:
        return False
    before, after = text[at - 1], text[at + 1]
    if before == PICTURE_SIGN and at > 1:
        before = text[at - 2]
    return all(unicodedata.category(one) in _JOINING and one not in HIDDEN for one in (before, after))


def _may_be_picture(letter: str) -> bool:
    return unicodedata.category(letter) in ("So", "Sm", "Po", "Sk")
