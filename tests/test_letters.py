"""Letters of names: composed and decomposed are one, what nobody sees is refused, right-to-left words stand apart."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bossage.letters import clusters, composed, invisible, isolated, letter_name, seen


@given(st.text())
def test_clusters_are_the_text_cut_up(text: str) -> None:
    assert "".join(clusters(text)) == text


@given(st.text())
def test_composed_and_decomposed_are_one(text: str) -> None:
    assert composed(unicodedata.normalize("NFD", text)) == composed(text)


@pytest.mark.parametrize(
    ("letter", "name"),
    [
        ("\u200b", "ZERO WIDTH SPACE"), ("\u202e", "RIGHT-TO-LEFT OVERRIDE"), ("\u2066", "LEFT-TO-RIGHT ISOLATE"),
        ("\u00ad", "SOFT HYPHEN"), ("\u3164", "HANGUL FILLER"), ("\u2800", "BRAILLE PATTERN BLANK"),
        ("\u034f", "COMBINING GRAPHEME JOINER"), ("\t", "a tab"), ("\ue000", "a letter without a name"),
        ("\U000e0041", "TAG LATIN CAPITAL LETTER A"), ("\u00a0", "NO-BREAK SPACE"), ("\u200d", "ZERO WIDTH JOINER"),
    ],
)  # fmt: skip
def test_what_nobody_can_see_is_named(letter: str, name: str) -> None:
    assert invisible(f"moss{letter}green") == letter
    assert name in letter_name(letter)
    assert letter not in seen(f"moss{letter}green") or letter == "\u200d"


@pytest.mark.parametrize("word", ["می‌خواهم", "क्‍ष", "👩‍🔧", "❤️", "moss 62", "naïve"])
def test_joiners_that_belong_to_the_spelling_are_letters(word: str) -> None:
    assert invisible(word) is None


def test_right_to_left_words_stand_apart_and_nothing_else_does() -> None:
    assert isolated("moss 62, 12 × 45 mm") == "moss 62, 12 × 45 mm"
    assert isolated("ירוק 62, 12 × 45 mm") == "\u2068ירוק\u2069 62, 12 × 45 mm"
    assert isolated("leaf בית ירוק 5 א: x") == "leaf \u2068בית ירוק 5 א\u2069: x"
    # a name cut in its middle is still one name: its end stays at the left
    assert isolated("ארון מו…רון 62") == "\u2068ארון מו…רון\u2069 62"
    assert isolated('["ירוק", "כחול"]') == '["\u2068ירוק\u2069", "\u2068כחול\u2069"]'
