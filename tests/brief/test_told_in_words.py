"""Faults that are worked out from several keys, and letters that no font has: what is found, and what would do."""

from __future__ import annotations

from pathlib import Path

import pytest

from bossage.brief import BriefFaults, read_brief
from bossage.examples import example_text

MIXED = (Path(__file__).parents[2] / "examples" / "mixed-sizes.toml").read_text(encoding="utf-8")
FIRST = example_text("first")


def fault_of(text: str, *changes: tuple[str, str]) -> tuple[str, str, str, str]:
    """The one fault of a text after some changes: field, found, allowed, remedy."""
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    with pytest.raises(BriefFaults) as caught:
        read_brief(text)
    (fault,) = caught.value.faults
    return fault.field, fault.found, fault.allowed, fault.remedy


def test_a_module_too_small_for_its_fill_is_told_in_both_sizes() -> None:
    # two blocks of 1-1/2 in side by side are 3 in, and 3-1/16 in with a gap of 1/16 in between
    small = ("gap = 0\n", "gap = 0\nmodule = [2.875, 3]\n")
    assert fault_of(example_text("s1"), small) == (
        "fill[1].rows",
        "3 × 3 in",
        "at most 2-7/8 × 3 in, the module",
        "Enlarge blocks.module.",
    )
    gap = ("gap = 0\n", "gap = 0.0625\nmodule = [3, 3.0625]\n")
    assert fault_of(example_text("s1"), gap)[1:3] == ("3-1/16 × 3-1/16 in", "at most 3 × 3-1/16 in, the module")
    read_brief(example_text("s1").replace("gap = 0\n", "gap = 0\nmodule = [3, 3]\n"))


@pytest.mark.parametrize(
    ("changes", "found", "remedy"),
    [
        # 17 × 12 cells less 6 open are 198; the counts alone are more
        (
            (("count = 56\nquotas = [11, 11, 12, 11, 11]", "count = 250"),),
            "blocks for 250 cells on leaf whole",
            "Change counts by 52 cells, or leave the count of one footprint out.",
        ),
        # 56 + 20 × 2 + 20 × 2 + 10 × 4 are 176, and nothing takes the rest
        (
            (("share = 3\n", "count = 20\n"), ("share = 2\n", "count = 10\n")),
            "blocks for 176 cells on leaf whole",
            "Change counts by 22 cells, or leave the count of one footprint out.",
        ),
    ],
)
def test_counts_that_are_not_the_grid_say_by_how_much(
    changes: tuple[tuple[str, str], ...], found: str, remedy: str
) -> None:
    assert fault_of(MIXED, *changes) == ("footprint", found, "198: 17 × 12 less 6 open", remedy)


def test_cells_that_no_whole_blocks_make_up_are_told() -> None:
    # 198 less 55, 10 × 2 and 10 × 4 are 83, for blocks of two cells
    changes = (
        ("count = 56\nquotas = [11, 11, 12, 11, 11]", "count = 55"),
        ("cells = [1, 2]\nshare = 3", "cells = [1, 2]\ncount = 10"),
        ("cells = [2, 2]\nshare = 2", "cells = [2, 2]\ncount = 10"),
    )
    assert fault_of(MIXED, *changes) == (
        "footprint",
        "83 cells left on leaf whole for blocks of 2 cells",
        "cells that whole blocks make up",
        "Change a count, or add a footprint of [1, 1].",
    )


def client(name: str) -> tuple[str, str]:
    return 'unit = "mm"', f'unit = "mm"\nclient = "{name}"'


def test_a_letter_that_no_font_has_and_letters_that_none_has_together_are_told_apart() -> None:
    _, found, allowed, remedy = fault_of(FIRST, client("ab\U00010330"))
    assert found.startswith('"\U00010330" (U+10330 GOTHIC LETTER AHSA)')
    assert allowed == "letters that a font of the papers has"
    assert remedy == "Write the name in other letters."
    # an acute accent on a Devanagari letter: some font has each of the two
    _, found, _, remedy = fault_of(FIRST, client("\u0915\u0301"))
    assert "DEVANAGARI LETTER KA" in found
    assert "COMBINING ACUTE ACCENT" in found
    assert remedy.startswith("No font has these together; write the mark on a letter of its own script")


def test_where_the_fonts_of_large_scripts_are_not_installed_they_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    unset = "漢한か\u0416"

    def without(text: str) -> str | None:
        return next((letter for letter in text if letter in unset), None)

    monkeypatch.setattr("bossage.brief.spelling.unset_cluster", without)
    for letter in unset[:3]:
        remedy = fault_of(FIRST, client(f"a{letter}"))[3]
        assert remedy.startswith("Install the fonts for Chinese, Japanese and Korean (bossage[cjk])")
    assert fault_of(FIRST, client("a\u0416"))[3] == "Write the name in other letters."


@pytest.mark.parametrize("day", ["2026-02-30", "2026-13-01", "1999-12-31", "2201-01-01", "20261301", "2026-W60"])
def test_what_looks_like_a_day_must_be_one(day: str) -> None:
    field, found, allowed, _ = fault_of(FIRST, ('unit = "mm"', f'unit = "mm"\ndate = "{day}"'))
    assert (field, found) == ("piece.date", f'"{day}"')
    assert allowed == "a day of the calendar from 2000 to 2200, as 2026-12-01, or other words"


@pytest.mark.parametrize("day", ["2000-01-01", "2200-12-31", "2028-02-29", "20261201", "2026-W10-3", "in May", "12-2"])
def test_a_day_that_there_is_and_other_words_stay_as_written(day: str) -> None:
    assert read_brief(FIRST.replace('unit = "mm"', f'unit = "mm"\ndate = "{day}"')).piece.date == day
