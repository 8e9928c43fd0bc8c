"""A leaf is put down on battens: never on the blocks that hang below its backer."""

from __future__ import annotations

import pytest

from bossage.hang.put_down import put_down_words
from bossage.pack.catalogue import pack_sheets
from bossage.pack.printed import runs
from bossage.pack.sheet import Care, Steps, parts_of
from bossage.pack.sheets.common import words_of
from tests.scenarios.cases import plan_of


def said(scenario: str) -> str:
    plan = plan_of(scenario)
    return put_down_words(plan.layout, plan.body, plan.brief.piece.unit, words_of(plan).length)


def test_blocks_that_hang_lower_than_the_backer_bear_nothing() -> None:
    # by hand: blocks reach 10 mm past the backer, which stands 24 mm off the wall; 1/2 in and 2-1/2 in
    assert "battens at least 24 mm thick" in said("S2")
    assert "batten at least 20 mm thick" in said("S2")
    assert "they reach 10 mm lower" in said("S2")
    assert "battens at least 2-1/2 in thick" in said("S1")
    assert "batten at least 1 in thick" in said("S1")
    assert "they reach" not in said("S8")  # level with the lipping
    assert "batten at least 1/2 in thick" in said("S8")


def test_a_leaf_with_a_ring_right_under_its_backer_is_only_laid() -> None:
    assert "stand the lower edge" not in said("S7")
    assert "Never stand it up" in said("S7")


@pytest.mark.parametrize("scenario", ["S1", "S2"])
def test_cards_and_caution_say_the_same(scenario: str) -> None:
    plan = plan_of(scenario)
    told = [caution.text for caution in plan.hang.cautions if caution.step == "lift"]
    assert said(scenario) in told[0]
    assert not any("on its foot" in text for text in told)
    sheets = {sheet.name: parts_of(sheet) for sheet in pack_sheets(plan)}
    # one card is glued to the back; those who stand before the piece read the other
    for name in ("access", "household"):
        steps = [text for part in sheets[name] if isinstance(part, Steps) for text in part.texts]
        assert steps.count(said(scenario)) == 1
        assert not any("on its foot" in text for text in steps)


@pytest.mark.parametrize("scenario", ["S1", "S2", "S7", "S8"])
def test_both_cards_tell_how_it_opens_and_share_no_page(scenario: str) -> None:
    plan = plan_of(scenario)
    opening = {words for caution in plan.cautions if caution.step == "open" for words in caution.text.split(". ")[:1]}
    for name in ("access", "household"):
        (run,) = [run for run in runs(pack_sheets(plan)) if name in {sheet.name for sheet in run}]
        titles = [part.title.removesuffix(".") for part in parts_of(run[0]) if isinstance(part, Care)]
        assert len(run) == 1
        assert opening
        assert opening <= {*titles, *(f"{title}." for title in titles)}
