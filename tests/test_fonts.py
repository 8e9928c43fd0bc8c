"""The papers' font: every sign that they use, figures of one width, a zero that is not an O."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from bossage import fonts
from bossage.errors import BossageError

SIGNS = "·×−–—½¼¾⅛⅜⅝⅞⁄°²³≤≥→↑↓←Δ□■○●△▲✓″′€£$µ⌀±≈…•„“”‘’\u00a0\u2007\u2009\u2011\u202f"
LETTERS = "".join(map(chr, range(0x20, 0x7F))) + "ÄÖÜäöüßÅåÆæØøÇçÉéÈèÑñŁłŠšŽžÕõĄąĘę"


@pytest.mark.parametrize("name", fonts.FILES)
def test_every_sign_of_the_papers_is_there(name):
    known = TTFont(fonts.font_dir() / name).getBestCmap()
    assert [sign for sign in SIGNS + LETTERS if ord(sign) not in known] == []


@pytest.mark.parametrize("name", fonts.FILES)
def test_figures_have_one_width_and_zero_is_not_an_o(name):
    font = TTFont(fonts.font_dir() / name)
    known = font.getBestCmap()
    assert len({font["hmtx"][known[ord(figure)]][0] for figure in "0123456789\u2007"}) == 1
    # The stroke through the zero is more outline than the ring of an O needs.
    glyphs = font["glyf"]
    zero, letter = (glyphs[known[ord(sign)]].getCoordinates(glyphs)[1] for sign in "0O")
    assert len(zero) > len(letter)


@pytest.mark.parametrize("name", fonts.FILES)
def test_family_is_the_one_that_papers_ask_for(name):
    names = TTFont(fonts.font_dir() / name)["name"]
    assert names.getDebugName(1) == fonts.FAMILY
    assert "Open Font License" in names.getDebugName(13)


def test_the_licence_travels_with_the_font():
    assert "SIL OPEN FONT LICENSE" in (fonts.font_dir() / "OFL.txt").read_text(encoding="utf-8")


def test_a_missing_font_says_what_to_run(monkeypatch, tmp_path):
    monkeypatch.setattr(fonts, "__file__", str(tmp_path / "fonts.py"))
    with pytest.raises(BossageError, match="make font"):
        fonts.font_dir()
