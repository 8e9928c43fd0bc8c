"""A maker whose first language is another reads it: sentences are short, on paper, in checks and faults, on screen."""

from __future__ import annotations

import pytest

from bossage.examples import example_names, example_text
from tests.brief.generate import FAULTS, made_up, with_fault
from tests.reading import of_a_brief, on_screen, sentences

LONGEST, USUAL = 30, 20  # words: of any sentence, and of nine in ten


def short(texts) -> None:
    found = dict(sentences(texts))
    assert found
    counts = sorted(found.values())
    too_long = [f"{words}: {sentence}" for sentence, words in found.items() if words > LONGEST]
    assert not too_long, "\n".join(too_long)
    assert counts[len(counts) * 9 // 10] <= USUAL


@pytest.mark.parametrize("name", example_names())
def test_an_example_is_written_in_short_sentences(name):
    short(of_a_brief(example_text(name)))


@pytest.mark.parametrize("first", range(0, 50, 5))
def test_generated_briefs_are_written_in_short_sentences(first):
    short(text for seed in range(first, first + 5) for text in of_a_brief(made_up(seed).text))


def test_faults_are_told_in_short_sentences():
    short(text for number, kind in enumerate(sorted(FAULTS)) for text in of_a_brief(with_fault(number, kind).text))


def test_the_page_speaks_in_short_sentences():
    short(on_screen())
