"""One rule for short slices, blocks and shims; and shims that are levels, by hand."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest

from bossage.checks import Verdict
from bossage.press.short_slices import check_short_slices, is_short
from tests.layout.factory import change, mm
from tests.press.cases import check, made, pressed, pressing, saw_of


@pytest.mark.parametrize("scenario", ["S1", "S2", "S3", "S4", "S7", "S8"])
def test_no_shim_is_a_short_slice(scenario):
    brief, _, _ = made(scenario)
    for need in pressed(scenario).shims:
        assert bool(need.section) is (need.thickness_nm >= mm(12)), need
        assert bool(need.section) is not is_short(brief, need.thickness_nm)


def test_the_lowest_level_of_s7_is_sliced_and_half_a_millimetre_above_its_height_draws_the_caution():
    # S7's lowest block is 13 mm: fine at 12 mm, short where the maker says 13.5
    brief, layout, relief = made("S7")
    assert check(pressed("S7"), "short_slices").verdict is Verdict.FINE
    strict = change(brief, tools__short_slice_nm=mm(13.5))
    press = pressing(strict, layout, relief, saw_of("S7"))
    found = check(press, "short_slices")
    assert found.verdict is Verdict.CAUTION
    assert "Blocks of 13 mm" in found.found
    assert "Swing the stop away" in found.care
    assert "raise the lowest level to 13.5 mm" in found.remedy
    assert any("13 mm" in one.text for one in press.cautions if one.step == "saw")
    # by hand nothing is thrown
    by_hand = change(strict, tools__saw="mitre box")
    assert check_short_slices(by_hand, relief, press.shims).verdict is Verdict.FINE


@cache
def s3_by_rows():
    brief, layout, relief = made("S3")
    return pressing(change(brief, glue__way="row by row"), layout, relief, saw_of("S3"))


def test_s3_could_bring_its_blocks_level_with_shims_that_are_levels():
    # levels 20 26 32 38 44 50: 70 less any of them is one of them. Shims up to 50 are 6, 12, 18, 24 and 30: of these
    # the saw has no setting for 12, 18, 24 and 30, and 6 comes out of board.
    usual, levels = s3_by_rows().shim_ways
    assert (usual.settings_added, levels.settings_added) == (4, 0)
    assert levels.sliced == levels.count > usual.count
    # every row needs a shim for each of its blocks: at least as many of each level as its fullest row has of the
    # level that it goes with
    cards = s3_by_rows().rows
    most = Counter()
    for card in cards:
        most |= Counter(one.shim_nm + mm(20) for batch in card.batches for one in batch.blocks)
    assert levels.count >= sum(most.values())


def test_levels_that_are_not_even_have_only_one_way():
    # 18 22 26 30 35 40: 58 less 22 is 36, which is no level
    assert pressed("S2").shim_ways == ()


def test_the_wood_of_the_two_ways_re_adds():
    brief, _, _ = made("S3")
    usual, _ = s3_by_rows().shim_ways
    sliced = [need for need in s3_by_rows().shims if need.section]
    assert usual.wood_nm == sum((need.thickness_nm + brief.tools.kerf_nm) * need.to_make for need in sliced)
    assert usual.count == sum(need.to_make for need in s3_by_rows().shims)
