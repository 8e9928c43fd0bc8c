"""Looking at a finished PDF as a shop would: is every word clear of the others, is the check bar true?"""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache
from typing import Any

import pdfplumber
import pypdfium2

MM_PER_PT = 25.4 / 72


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """Two letters that share ink, with the words around them."""

    page: int
    first: str
    second: str
    x_mm: float
    y_mm: float


@cache
def pages_of(pdf: bytes) -> list[Any]:
    """Pages, taken apart once: that is what takes the time."""
    return list(pdfplumber.open(io.BytesIO(pdf)).pages)


@cache
def texts_of(pdf: bytes) -> list[str]:
    """The text of each page."""
    return [page.extract_text() or "" for page in pages_of(pdf)]


def overlaps(pdf: bytes) -> list[Overlap]:
    """Letters whose ink boxes meet, over all pages."""
    return [found for page in pages_of(pdf) for found in _page_overlaps(page)]


def outside(pdf: bytes, margin_mm: float = 3.0) -> list[str]:
    """Letters that come nearer to the paper's edge than printers can print."""
    found = []
    for page in pages_of(pdf):
        for char in page.chars:
            left, right = char["x0"] * MM_PER_PT, (page.width - char["x1"]) * MM_PER_PT
            top, bottom = char["top"] * MM_PER_PT, (page.height - char["bottom"]) * MM_PER_PT
            if char["text"].strip() and min(left, right, top, bottom) < margin_mm:
                found.append(f"page {page.page_number}: {char['text']} at {left:.1f}, {top:.1f} mm")
    return found


def nearly_empty(pdf: bytes, least: float = 0.2) -> list[str]:
    """Pages on which what is printed over the foot ends within that share of the page's height."""
    found = []
    for page, text in zip(pages_of(pdf), texts_of(pdf), strict=True):
        foot = max(word["top"] for word in page.extract_words() if word["text"] == "wrong") - 2
        bars = [rect["top"] for rect in page.rects if abs(rect["height"] * MM_PER_PT - 2.0) < 0.02]
        foot = min([foot, *(bars if len(bars) >= 4 else [])])
        inked = [one["bottom"] for one in (*page.chars, *page.rects, *page.lines, *page.images) if one["bottom"] < foot]
        if max(inked) < least * page.height:
            found.append(f"page {page.page_number}: {text[:40]}")
    return found


def check_bars_mm(page: Any) -> list[float]:
    """Lengths of the check bars on a page: rows of touching 2 mm high patches."""
    patches = sorted(
        (
            (round(rect["top"] * MM_PER_PT, 2), rect["x0"] * MM_PER_PT, rect["x1"] * MM_PER_PT)
            for rect in page.rects
            if abs(rect["height"] * MM_PER_PT - 2.0) < 0.02
        ),
    )
    bars: list[list[tuple[float, float, float]]] = []
    for patch in patches:
        if bars and bars[-1][-1][0] == patch[0] and abs(bars[-1][-1][2] - patch[1]) < 0.05:
            bars[-1].append(patch)
        else:
            bars.append([patch])
    return [bar[-1][2] - bar[0][1] for bar in bars if len(bar) >= 4]


def text_of(pdf: bytes) -> str:
    return "\n".join(texts_of(pdf))


def read_out(pdf: bytes) -> list[str]:
    """The text of each page as another reader has it, turned words too; quicker than taking pages apart."""
    return [str(page.get_textpage().get_text_range()) for page in pypdfium2.PdfDocument(pdf)]


def _page_overlaps(page: Any) -> list[Overlap]:
    inked = sorted((_ink(char) for char in page.chars if char["text"].strip()), key=lambda box: box[0])
    found: list[Overlap] = []
    live: list[tuple[float, float, float, float, str]] = []
    for box in inked:
        live = [other for other in live if other[2] > box[0]]
        for other in live:
            if other[1] < box[3] and box[1] < other[3] and not _kerned(other, box):
                found.append(
                    Overlap(
                        page=page.page_number,
                        first=other[4],
                        second=box[4],
                        x_mm=box[0] * MM_PER_PT,
                        y_mm=box[1] * MM_PER_PT,
                    )
                )
        live.append(box)
    return found


def _kerned(one: tuple[float, float, float, float, str], two: tuple[float, float, float, float, str]) -> bool:
    """Neighbours of one word may lean into each other a little: `r.`, `To`."""
    same_line = abs(one[3] - two[3]) < 0.05
    narrow = min(one[2] - one[0], two[2] - two[0])
    return same_line and min(one[2], two[2]) - max(one[0], two[0]) < 0.5 * narrow


def _ink(char: Any) -> tuple[float, float, float, float, str]:
    """The part of a letter's box that surely holds ink: x-height and most of its width."""
    x0, x1, top, bottom = char["x0"], char["x1"], char["top"], char["bottom"]
    along, across = (
        (0.12 * (x1 - x0), 0.3 * (bottom - top)) if char["upright"] else (0.3 * (x1 - x0), 0.12 * (bottom - top))
    )
    return (x0 + along, top + across, x1 - along, bottom - across, char["text"])
