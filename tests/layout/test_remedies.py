"""Remedies as changes of the brief's text: made, read again, and healed."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from bossage.brief import read_brief
from bossage.brief.amend import amend_text
from bossage.brief.records import Brief, LengthUnit
from bossage.checks import Check, Verdict
from bossage.layout import Candidate, Change, NoHeal, Split, candidate_sizes, own_size, smallest_split, too_large
from bossage.layout.edits import in_proportion, toml_length
from bossage.layout.grid import plan_grid
from bossage.layout.remedies import check_remedies
from bossage.layout.suggest import smallest_lightening, smallest_move, smallest_resize, troubles
from bossage.layout.words import Voice
from bossage.units import parse_length_nm
from tests.brief.generate import made_up, mosaic

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
GRILLE = """
[[keep_clear]]
name = "grille"
x = {x}
y = 800
width = 200
height = 1600
"""
HATCH = """
[piece]
name = "Hatch beside a grille"

[wall]
width = 4000
height = 2500
studs = [1160, 1560, 1960]

[[fixture]]
name = "hatch"
x = 1300
y = 1300
width = 300
height = 300
proud = 5

[blocks]
columns = 10
rows = 10
levels = [20, 30, 40]

[[leaf]]
x = {left}
y = 1250

[[footprint]]
width = 60
height = 60

[[family]]
name = "moss"
lightness = [50, 60]
colour = "#5F7A55"
"""


def named(brief: Brief, name: str) -> list[Check]:
    return [check for check in check_remedies(brief, Voice(brief)) if check.name == name]


def test_a_move_clears_the_grille_and_meets_a_second_stud() -> None:
    text = HATCH.format(left=1245) + GRILLE.format(x=1720)
    (check,) = named(read_brief(text), "place")
    assert check.verdict is Verdict.CAUTION
    assert check.remedy == "Would it help to move it 125 mm left: clears grille and meets a second stud?"
    assert [(edit.op, edit.path, edit.value) for edit in check.edits] == [("set", ("leaf", 0, "x"), 1120)]
    (after,) = named(read_brief(amend_text(text, check.edits)), "place")
    assert after.verdict is Verdict.FINE
    (without,) = named(read_brief(HATCH.format(left=1120)), "place")
    assert without.verdict is Verdict.FINE


def test_fewer_rows_for_one_person_and_gone_when_the_piece_is_light() -> None:
    heavy = HATCH.format(left=1120).replace("levels = [20, 30, 40]", "levels = [80, 100, 120]")
    (check,) = named(read_brief(heavy), "lighter")
    assert "one person can lift it" in check.remedy
    assert not named(read_brief(amend_text(heavy, check.edits)), "lighter")
    assert not named(read_brief(HATCH.format(left=1120)), "lighter")


def test_the_mass_cap_is_what_a_lighter_piece_keeps() -> None:
    capped = HATCH.format(left=1120).replace('grille"\n', 'grille"\nmass_cap = "6 kg"\n', 1)
    (check,) = named(read_brief(capped), "lighter")
    assert check.allowed == "6 kg as the brief asks"
    assert "it keeps the mass cap" in check.remedy
    assert not named(read_brief(amend_text(capped, check.edits)), "lighter")


def test_a_wide_piece_is_split_and_the_split_heals() -> None:
    wide = HATCH.format(left=700).replace("columns = 10", "columns = 24").replace("x = 1300", "x = 800")
    brief = read_brief(wide)
    (check,) = named(brief, "leaf_split")
    split = smallest_split(brief)
    assert isinstance(split, Split)
    assert (split.leaves, split.columns, split.rows) == (2, 12, 10)
    assert "split it into 2 leaves of 12 columns each, 3 mm apart: 2 × 720 mm" in check.remedy
    after = read_brief(amend_text(wide, check.edits))
    assert too_large(after) == ()
    assert len(after.blocks.leaves) == 2
    assert plan_grid(after).places == split.places


def test_a_split_that_cuts_a_fixture_says_so() -> None:
    wide = HATCH.format(left=700).replace("columns = 10", "columns = 24")
    split = smallest_split(read_brief(wide))
    assert isinstance(split, Split)
    assert any("hatch lies behind a gap" in words for words in split.gives_up)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_candidate_and_change_of_the_examples_is_a_brief_that_leads_there(path: Path) -> None:
    text = path.read_text()
    brief = read_brief(text)
    for candidate in candidate_sizes(brief)[:8]:
        if candidate.edits:
            leads_there(text, candidate)
    for check in check_remedies(brief, Voice(brief)):
        if check.edits:
            after = named(read_brief(amend_text(text, check.edits)), check.name)
            assert all(one.verdict is Verdict.FINE for one in after), check.name


def leads_there(text: str, wanted: Candidate) -> None:
    own = own_size(read_brief(amend_text(text, wanted.edits)))
    assert (own.columns, own.rows, own.leaves) == (wanted.columns, wanted.rows, wanted.leaves)
    assert (own.x_nm, own.y_nm, own.width_nm, own.height_nm) == (
        wanted.x_nm,
        wanted.y_nm,
        wanted.width_nm,
        wanted.height_nm,
    )


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 5000), st.booleans(), st.integers(0, 3))
@example(1319, False, 0)  # an open cell leaves the grid with the move, and a block more is to be counted
def test_changes_of_made_up_briefs_are_briefs_that_are_healed(seed: int, mixed: bool, kind: int) -> None:
    text = (mosaic(seed) if mixed else made_up(seed)).text
    brief = read_brief(text)
    if kind == 0:
        found: Change | NoHeal | Split | None = smallest_move(brief)
    elif kind == 1:
        found = smallest_resize(brief)
    elif kind == 2:
        found = smallest_lightening(brief, 4000.0)
    else:
        found = smallest_split(brief)
    assume(isinstance(found, Change | Split) and found.edits)
    assert isinstance(found, Change | Split)
    after = read_brief(amend_text(text, found.edits))
    if isinstance(found, Split):
        assert too_large(after) == ()
        assert plan_grid(after).places == found.places
        return
    grid, before = plan_grid(after), plan_grid(brief)
    assert (grid.columns, grid.rows) == (before.columns + found.columns, before.rows + found.rows)
    assert not set(troubles(after)) & set(found.heals)


@given(st.lists(st.integers(0, 50), min_size=1, max_size=8), st.integers(0, 500))
def test_proportions_are_kept_to_a_whole(counts: list[int], total: int) -> None:
    new = in_proportion(counts, total)
    assert sum(new) == total
    whole = sum(counts)
    if whole:
        assert all(abs(n - c * total / whole) < 1 for n, c in zip(new, counts, strict=True))


@given(st.integers(0, 10**10), st.sampled_from(list(LengthUnit)))
def test_a_length_in_an_edit_reads_back_to_the_nanometre(nm: int, unit: LengthUnit) -> None:
    assert parse_length_nm(toml_length(nm, unit), unit.value) == nm
