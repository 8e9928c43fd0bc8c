"""Looking at a finished PDF as a shop would: is every word clear of the others, is the check bar true?

Letters come from pdfium, which reads a pack of eighty pages in a second; lines and areas inside drawings, which it does
not give in the page's own measure, from pdfplumber, a page at a time.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import pdfplumber
import pypdfium2
from pypdfium2 import raw

MM_PER_PT = 25.4 / 72
FOOT = "\r\npiece\r\n"  # the title block that every sheet but a page of stickers ends with


TOP_MM, FOOT_MM, LINE_MM, BAR_MM = 11.0, 25.0, 2.5, 3.0
"""As templates/sheet.typ sets them: where sheets begin; what the title block keeps under; over its words its line; over
the foot of the bar its words."""
INVISIBLE = " \t\r\n\u00a0\u200b\u2068\u2069"  # letters without ink


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """Two letters that share ink, with the words around them."""

    page: int
    first: str
    second: str
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """One printed letter: the box of its ink, points from the lower left of the paper, and the size of its type."""

    text: str
    left: float
    bottom: float
    right: float
    top: float
    size: float
    turned: bool
    foot: (
        float  # the line that it stands on: its height on the paper or, of a turned letter, its distance from the left
    )
    start: float  # along that line, where it begins and where the next one would
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A page taken apart."""

    width: float
    height: float
    text: str
    letters: tuple[Letter, ...]
    boxes: tuple[tuple[float, float, float, float], ...]  # of everything drawn: left, bottom, right, top

    @property
    def titles(self) -> tuple[str, ...]:
        """The sheets that stand on a page, from its foot; none on a page of stickers."""
        if FOOT not in self.text:
            return ()
        foot = self.text.rsplit(FOOT, 1)[1]
        named = foot.split("\r\nsheet\r\n")[1].split("\r\nscale\r\n")[0].split("\r\nplan\r\n")[0]
        return tuple(" ".join(named.split()).split("; "))


@lru_cache(maxsize=3)  # a pack's letters are many: tests of one scenario come one after the other
def pages_of(pdf: bytes) -> tuple[Page, ...]:
    """Pages taken apart, once for each PDF."""
    return tuple(_page(page) for page in pypdfium2.PdfDocument(pdf))


def plumbed(pdf: bytes, number: int) -> Any:
    """One page with the lines and areas of its drawings; slow."""
    return pdfplumber.open(io.BytesIO(pdf), pages=[number + 1]).pages[0]


def read_out(pdf: bytes) -> list[str]:
    """The text of each page as pdfium has it; it may tear turned words and pages of stickers into letters."""
    return [page.text for page in pages_of(pdf)]


def text_of(pdf: bytes) -> str:
    """All text, with spaces only."""
    return " ".join(" ".join(read_out(pdf)).split())


def lines_of(page: Page) -> list[str]:
    """What stands on a page, put together line by line from its letters, turned ones too; columns come apart."""
    lines: list[str] = []
    last: Letter | None = None
    for letter in sorted(page.letters, key=lambda one: (one.turned, round(one.foot), one.start)):
        gap = math.inf
        if last is not None and letter.turned == last.turned and abs(letter.foot - last.foot) < 0.6:
            gap = (letter.start - last.end) / letter.size
        if last is not None and -0.4 < gap < 0.6:
            lines[-1] += (" " if gap > 0.1 else "") + letter.text
        else:
            lines.append(letter.text)
        last = letter
    return lines


def overlaps(pdf: bytes) -> list[Overlap]:
    """Letters whose ink meets, over all pages."""
    return [
        found for number, page in enumerate(pages_of(pdf), start=1) for found in _page_overlaps(number, page.letters)
    ]


def outside(pdf: bytes, margin_mm: float = 3.0) -> list[str]:
    """Letters that come nearer to the paper's edge than printers can print."""
    found = []
    for number, page in enumerate(pages_of(pdf), start=1):
        for one in page.letters:
            nearest = min(one.left, page.width - one.right, one.bottom, page.height - one.top)
            if nearest * MM_PER_PT < margin_mm:
                found.append(
                    f"page {number}: {one.text} at {one.left * MM_PER_PT:.1f}, {one.bottom * MM_PER_PT:.1f} mm"
                )
    return found


def filled(page: Page) -> float:
    """How much of the room over the foot is in use, 0 to 1: down to the lowest thing that is printed there."""
    foot, top = _foot_top(page), page.height - TOP_MM / MM_PER_PT
    inked = [one.bottom for one in page.letters if one.bottom > foot]
    inked += [bottom for _, bottom, _, _ in page.boxes if bottom > foot]
    return (top - min(inked, default=top)) / (top - foot)


def short_pages(pdf: bytes, least: float = 1 / 3) -> list[str]:
    """Pages of which less than that share is in use, by their sheets."""
    return [
        f"page {number}: {'; '.join(page.titles)}, {filled(page):.2f}"
        for number, page in enumerate(pages_of(pdf), start=1)
        if page.titles and filled(page) < least
    ]


def check_bars_mm(page: Page) -> list[float]:
    """Lengths of the check bars on a page: rows of touching 2 mm high patches."""
    bars: list[list[tuple[float, float, float]]] = []
    for patch in _patches(page):
        if bars and bars[-1][-1][0] == patch[0] and abs(bars[-1][-1][2] - patch[1]) < 0.05:
            bars[-1].append(patch)
        else:
            bars.append([patch])
    return [bar[-1][2] - bar[0][1] for bar in bars if len(bar) >= 4]


def _page(page: pypdfium2.PdfPage) -> Page:
    width, height = page.get_size()
    text = page.get_textpage()
    boxes = tuple(one.get_bounds() for one in page.get_objects(max_depth=1) if one.type != raw.FPDF_PAGEOBJ_TEXT)
    return Page(width=width, height=height, text=str(text.get_text_range()), letters=tuple(_letters(text)), boxes=boxes)


def _letters(text: pypdfium2.PdfTextPage) -> Iterator[Letter]:
    matrix = raw.FS_MATRIX()
    before = (0.0, 0.0, 0.0, 0.0)
    for index in range(text.count_chars()):
        letter = chr(raw.FPDFText_GetUnicode(text, index))
        if not letter.strip(INVISIBLE) or raw.FPDFText_IsGenerated(text, index):
            continue
        raw.FPDFText_GetMatrix(text, index, matrix)
        left, bottom, right, top = text.get_charbox(index)
        # In a run from right to left pdfium gives the one sign … as three points in one place.
        if letter == "." and (left, bottom, right, top) == before:
            continue
        before = (left, bottom, right, top)
        wide = text.get_charbox(index, loose=True)
        turned = abs(matrix.b) > abs(matrix.a)
        yield Letter(
            text=letter,
            left=left,
            bottom=bottom,
            right=right,
            top=top,
            size=raw.FPDFText_GetFontSize(text, index) * math.hypot(matrix.c, matrix.d),
            turned=turned,
            foot=matrix.e if turned else matrix.f,
            start=wide[1] if turned else wide[0],
            end=wide[3] if turned else wide[2],
        )


def _patches(page: Page) -> list[tuple[float, float, float]]:
    """Boxes as high as those of a check bar: place upwards, left and right, mm."""
    return sorted(
        (round(bottom * MM_PER_PT, 2), left * MM_PER_PT, right * MM_PER_PT)
        for left, bottom, right, top in page.boxes
        if abs((top - bottom) * MM_PER_PT - 2.0) < 0.02
    )


def _foot_top(page: Page) -> float:
    """Where the foot begins: over the line of the title block, or over the check bar that stands on it."""
    foot = max(
        one.top
        for one, *others in zip(*(page.letters[n:] for n in range(5)), strict=False)
        if "".join(letter.text for letter in (one, *others)) == "piece" and one.top * MM_PER_PT < FOOT_MM
    )
    bars = [up + BAR_MM for up, _, _ in _patches(page) if up < FOOT_MM]
    return max([foot + LINE_MM / MM_PER_PT, *(bar / MM_PER_PT for bar in bars)])


def _page_overlaps(number: int, letters: tuple[Letter, ...]) -> Iterator[Overlap]:
    live: list[Letter] = []
    for one in sorted(letters, key=lambda letter: letter.left):
        live = [other for other in live if other.right > one.left]
        for other in live:
            if other.bottom < one.top and one.bottom < other.top and not _kerned(other, one):
                yield Overlap(
                    page=number,
                    first=other.text,
                    second=one.text,
                    x_mm=one.left * MM_PER_PT,
                    y_mm=one.bottom * MM_PER_PT,
                )
        live.append(one)


def _kerned(one: Letter, two: Letter) -> bool:
    """Neighbours of one word may lean into each other a little: `r.`, `To`."""
    if one.turned != two.turned or abs(one.size - two.size) > 0.1:
        return False
    share = min(one.top, two.top) - max(one.bottom, two.bottom) if one.turned else min(one.right, two.right) - two.left
    return share < 0.16 * one.size
