"""Whatever letters a brief may hold can be set: in words and in drawings, tagged, each with a shape of its own."""

from __future__ import annotations

import io
import json
import sys
import unicodedata

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from tests.pack.pdf_ua import ua_faults

from bossage.brief.faults import Bad
from bossage.brief.kinds_words import Text
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Label
from bossage.drawing.svg import svg_text
from bossage.letters import composed, isolated
from bossage.pack.overlay import words_apart
from bossage.pack.typeset import compile_pdf

NAMES = {
    "Latin": "Šeřík žluťoučký",
    "Vietnamese": "gỗ sồi trắng ở Huế",
    "Greek": "πράσινο της ελιάς",
    "Polytonic": "ἄνθος ᾠδῆς",
    "Cyrillic": "зелёный мох її",
    "Hebrew": "ירוק זית",
    "Arabic": "أخضر زيتوني",
    "Persian": "سبز می‌خواهم",
    "Urdu": "گہرا نیلا",
    "Thai": "เขียวน้ำ",
    "Devanagari": "हरा क्षेत्र",
    "Bengali": "সবুজ বন",
    "Gujarati": "લીલો રંગ",
    "Gurmukhi": "ਹਰਾ ਰੰਗ",
    "Kannada": "ಹಸಿರು ಬಣ್ಣ",
    "Khmer": "បៃតង",
    "Lao": "ສີຂຽວນ້ຳ",
    "Malayalam": "പച്ച നിറം",
    "Myanmar": "အစိမ်းရောင်",
    "Oriya": "ସବୁଜ",
    "Sinhala": "කොළ ශ්‍රී",
    "Tamil": "பச்சை",
    "Telugu": "ఆకుపచ్చ",
    "Ethiopic": "አረንጓዴ",
    "Armenian": "Կանաչ և դեղին",
    "Georgian": "მწვანე ხავსი",
    "Chinese": "苔绿色",
    "Japanese": "こけ緑カラー",
    "Korean": "이끼 녹색",
    "Emoji": "🌲 👩‍🔧 ❤️ 👍🏽",
    "Signs": "№ 5 ₂ ﬁ ½ ∞ ≠",
}

_PAGE = """
#import "sheet.typ": drawing
#set document(title: "letters")
#set text(font: sys.inputs.family.split("|"), fallback: false, lang: "en")
= Letters
#let data = json("data.json")
#for one in data.texts [- #one *#one*]
#drawing(data.drawing)
"""


def _allowed(text: str) -> bool:
    try:
        Text(4000).read(text, "mm")
    except Bad:
        return False
    return True


def _pdf_of(texts: list[str]) -> bytes:
    labels = tuple(
        Label(at=(0, -6.0 * n), text=text, bold=bool(n % 2), align=Align.LEFT) for n, text in enumerate(texts)
    )
    drawing, words = words_apart(Drawing(title="letters", description="Letters.", shapes=labels))
    placed = {
        "file": "drawing.svg",
        "alt": "letters of many scripts",
        "width": 80,
        "height": 6 * len(texts),
        "words": words,
    }
    data = json.dumps({"texts": texts, "drawing": placed}, ensure_ascii=False)
    return compile_pdf(_PAGE, {"data.json": isolated(data).encode(), "drawing.svg": svg_text(drawing).encode()})


@pytest.mark.parametrize("script", NAMES)
def test_a_name_in_any_script_is_set_and_can_be_read_back(script: str) -> None:
    name = NAMES[script]
    assert Text().read(name, "mm") == composed(name)
    pdf = _pdf_of([f"{name} 62, 12 × 45 mm"])
    assert ua_faults(pdf) == []
    read = PdfReader(io.BytesIO(pdf)).pages[0].extract_text()
    letters = {letter for letter in composed(name) if letter.isalpha()}
    # A ligature or a letter that is drawn in two parts reads back as its parts: most letters are there as they were.
    assert len(letters & set(read)) >= 0.6 * len(letters)


@given(st.data())
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_letters_that_are_allowed_can_be_set(data: st.DataObject) -> None:
    letters = data.draw(st.lists(st.sampled_from(_every_allowed_letter()), min_size=150, max_size=200))
    text = composed("".join(letters))
    words = [word for word in (text[at : at + 20] for at in range(0, len(text), 20)) if _allowed(word)]
    assert ua_faults(_pdf_of(words), content=False) == []


@given(st.text(min_size=1, max_size=40))
@example("क᳒́")
@example("e\u0302\u0301\u0323")
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_text_is_either_refused_with_its_letter_or_set(text: str) -> None:
    if _allowed(text):
        _pdf_of([Text(4000).read(text, "mm")])
        return
    with pytest.raises(Bad) as bad:
        Text(4000).read(text, "mm")
    assert all(bad.value.items[0][1:])


@pytest.mark.slow
def test_every_single_letter_that_is_allowed_can_be_set() -> None:
    every = _every_allowed_letter()
    assert len(every) > 8000
    for at in range(0, len(every), 1500):
        # each by itself, so that none leans on its neighbour
        _pdf_of([" ".join(every[n : n + 50]) for n in range(at, min(at + 1500, len(every)), 50)])


def test_letters_that_no_font_has_are_refused_with_their_number() -> None:
    with pytest.raises(Bad) as bad:
        Text().read("rune ᚠ", "mm")
    assert "U+16A0 RUNIC LETTER FEHU" in bad.value.items[0][1]


def test_large_scripts_say_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    from bossage import fonts

    monkeypatch.setattr(fonts, "_large", lambda han: ())
    fonts._face_of_cluster.cache_clear()
    try:
        with pytest.raises(Bad) as bad:
            Text().read("苔绿色", "mm")
    finally:
        fonts._face_of_cluster.cache_clear()
    assert "bossage[cjk]" in bad.value.items[0][3]


_LETTERS: list[str] = []


def _every_allowed_letter() -> list[str]:
    if not _LETTERS:
        assigned = (chr(n) for n in range(sys.maxunicode + 1) if unicodedata.category(chr(n))[0] not in "C")
        # Han and hangul stand for themselves: 3 of 100 of them are looked at
        few = (c for c in assigned if not (0x3400 <= ord(c) <= 0xD7FF or ord(c) >= 0x20000) or ord(c) % 33 == 0)
        _LETTERS.extend(c for c in few if _allowed(c))
    return _LETTERS
