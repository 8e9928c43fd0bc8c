"""What is larger or deeper than any brief is refused in a sentence, before memory is spent on it."""

from __future__ import annotations

import random
import tracemalloc
from pathlib import Path

import pytest

from bossage.brief import BriefFaults, read_brief
from bossage.brief.bounds import look_at_size

ROOT = Path(__file__).parents[2]
FIRST = (ROOT / "examples" / "first.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "text",
    [
        ".".join(["a"] * 20_000) + " = 1",
        "[" + ".".join(["a"] * 100_000) + "]",
        "x = { " + " . ".join(["a"] * 5_000) + " = 1 }",
        '"' + '"."'.join(["a"] * 20_000) + '" = 1',
        "x = " + "[" * 50_000,
        "x = " + "{ a = " * 20_000,
        "a = 1\n" * 400_000,
        "[[pin]]\n" * 40_000,
        "[[fixture]]\n" * 4_000,
    ],
    ids=["dotted", "heading", "inline", "quoted", "brackets", "braces", "long", "pins", "fixtures"],
)
def test_it_is_refused_in_little_memory(text: str) -> None:
    tracemalloc.start()
    try:
        with pytest.raises(BriefFaults) as faults:
            read_brief(FIRST + "\n" + text)
        assert tracemalloc.get_traced_memory()[1] < 80_000_000
    finally:
        tracemalloc.stop()
    assert len(str(faults.value)) < 20_000


def test_no_brief_of_ours_comes_near() -> None:
    for path in (ROOT / "examples").glob("*.toml"):
        look_at_size(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("words", ["a.b.c.d.e.f.g.h.i.j.k", "[[[[[[[[[[[[[[[[", "1.2.3.4.5.6.7.8.9.10.11"])
def test_words_in_quotes_and_notes_are_no_keys(words: str) -> None:
    for line in (f'why = "{words}"', f"why = '{words}'", f"# {words}", f'why = """{words}\n{words}"""'):
        look_at_size(line)


def test_looking_takes_one_go_whatever_the_text() -> None:
    chance = random.Random(3)
    for _ in range(300):
        text = "".join(chance.choices("\"'.[]{}#\\\n a=", k=2_000))
        try:
            look_at_size(text)
        except BriefFaults as faults:
            assert "deep" in str(faults) or "parts" in str(faults)  # noqa: PT017 - both outcomes are right


@pytest.mark.parametrize("size", ["0.7", '"1 mm"', '"0.05 in"'])
def test_a_block_that_nobody_can_saw_is_refused_at_once(size: str) -> None:
    with pytest.raises(BriefFaults, match="look at the unit"):
        read_brief(FIRST.replace("width = 70\n", f"width = {size}\n"))


def test_a_piece_of_too_many_blocks_is_refused_before_its_size_is_looked_for() -> None:
    text = FIRST.replace("width = 70\n", "width = 5\n").replace("height = 70\n", "height = 5\n")
    text = text.replace("width = 420", "width = 1400").replace("height = 520", "height = 1400")
    with pytest.raises(BriefFaults, match="78,400"):
        read_brief(text)
