"""Finders alone, on one plan with one thing changed: which changes they try, and in which order."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from bossage.brief import read_brief
from bossage.brief.records import Brief, EdgeStyle, Pin
from bossage.checks import Check, Verdict
from bossage.examples import example_text
from bossage.plan import Plan, make_plan
from bossage.remedies import hanging, making
from bossage.remedies.way import Way

CHECK = Check(
    stage="a", name="b", title="c", verdict=Verdict.STOP, found="d", allowed="e", why="f", remedy="", source="g"
)


@cache
def planned() -> Plan:
    """The example S2: three footprints with quotas on six levels, a cleat with screws in studs."""
    plan = make_plan(read_brief(example_text("s2")))
    assert isinstance(plan, Plan)
    return plan


def with_blocks(**changes: Any) -> Plan:
    brief: Brief = planned().brief
    return replace(planned(), brief=replace(brief, blocks=replace(brief.blocks, **changes)))


def weakest(name: str, **fixings: Any) -> Plan:
    """The plan with a link of this name as its weakest."""
    plan = planned()
    link = replace(plan.hang.links[0], name=name)
    brief = replace(plan.brief, fixings=replace(plan.brief.fixings, **fixings))
    return replace(plan, brief=brief, hang=replace(plan.hang, links=(link, *plan.hang.links[1:])))


def changes(ways: Any) -> list[tuple[str, Any]]:
    """The last key of each way's first change, and what it is set to."""
    return [(str(way.edits[0].path[-1]), way.edits[0].value) for way in ways]


def test_clamps_are_borrowed_a_pair_at_a_time_and_come_to_those_there_are() -> None:
    have = planned().brief.tools.clamps
    ways = list(making.more_clamps(planned(), CHECK))
    assert changes(ways) == [("clamps", have + n) for n in (2, 4, 6, 10, 16)]
    assert [way.words for way in ways][:2] == ["Borrow 2 clamps more", "Borrow 4 clamps more"]


def fixings_n() -> int:
    return max(len(leaf.cleat.fixings) for leaf in planned().hang.leaves if leaf.cleat is not None)


@pytest.mark.parametrize(
    "name", ["fixings in the wall", "screws by the brief's allowable", "fixings behind the hinges"]
)
def test_where_fixings_are_weakest_more_are_used(name: str) -> None:
    have = fixings_n()
    # the brief gives a number: first it is left to the plan
    more = [("count", have + n) for n in (1, 2, 3, 4, 6)]
    assert changes(hanging.stronger(weakest(name), CHECK)) == [("count", None), *more]


def test_where_screws_in_studs_are_weakest_a_stud_takes_more_up_to_four() -> None:
    plan = weakest("screws in the studs", per_stud=2)
    assert changes(hanging.stronger(plan, CHECK)) == [("per_stud", 3), ("per_stud", 4)]
    assert changes(hanging.stronger(weakest("screws in the studs", per_stud=4), CHECK)) == []


def test_where_the_panel_half_is_weakest_it_is_glued_once_and_takes_more_screws() -> None:
    have = max(len(leaf.cleat.panel.screws) for leaf in planned().hang.leaves if leaf.cleat is not None)
    more = [("panel_count", have + n) for n in (2, 4, 8)]
    assert changes(hanging.stronger(weakest("panel half's screws", panel_glued=False), CHECK)) == [
        ("panel_glued", True),
        *more,
    ]
    assert changes(hanging.stronger(weakest("panel half's screws", panel_glued=True), CHECK)) == more


def test_where_the_wall_half_is_weakest_it_is_ripped_thicker_or_held_at_more_places() -> None:
    thick_mm = planned().brief.cleat.thickness_nm / 1e6
    found = changes(hanging.stronger(weakest("wall half"), CHECK))
    assert found[0] == ("thickness", pytest.approx(thick_mm + 6))
    assert [key for key, _ in found[1:]] == ["count"] * 6


def test_where_the_backer_or_a_bond_is_weakest_the_one_grows_and_less_hangs_over() -> None:
    backer = changes(hanging.stronger(weakest("backer"), CHECK))
    thick_mm = planned().brief.backer.thickness_nm / 1e6
    assert backer == [("thickness", pytest.approx(thick_mm + n)) for n in (3, 6, 9)]
    bond = changes(hanging.stronger(weakest("block's bond"), CHECK))
    assert bond == changes(making.smaller_overhang(weakest("block's bond"), CHECK))
    assert changes(hanging.stronger(weakest("a link that nobody knows"), CHECK)) == []


def test_outer_blocks_hang_over_by_a_little_more_or_a_share_less_where_they_do() -> None:
    edge = replace(planned().brief.edge, style=EdgeStyle.INSET, overhang_nm=20_000_000)
    inset = replace(planned(), brief=replace(planned().brief, edge=edge))
    assert changes(making.larger_overhang(inset, CHECK)) == [("overhang", mm) for mm in (25, 30, 35, 40)]
    assert changes(making.smaller_overhang(inset, CHECK)) == [("overhang", mm) for mm in (15, 10, 5)]
    banded = replace(inset, brief=replace(inset.brief, edge=replace(edge, style=EdgeStyle.BANDED)))
    assert changes(making.larger_overhang(banded, CHECK)) == changes(making.smaller_overhang(banded, CHECK)) == []


def edits_by_path(way: Way) -> dict[tuple[str | int, ...], Any]:
    return {edit.path: edit.value for edit in way.edits}


def test_without_the_top_level_its_blocks_go_to_the_others_in_proportion() -> None:
    blocks = planned().brief.blocks
    (way,) = making.without_top_level(planned(), CHECK)
    edits = edits_by_path(way)
    assert edits["blocks", "levels"] == [18, 22, 26, 30, 35]
    assert way.words == "Leave out the highest level, 40 mm"
    quotas = [footprint.quotas for footprint in blocks.footprints]
    for number, before in enumerate(quotas):
        after = edits["footprint", number, "quotas"]
        assert before is not None
        assert (len(after), sum(after)) == (5, sum(before))
        share = sum(before) / sum(before[:-1])
        assert all(abs(new - old * share) < 1 for new, old in zip(after, before, strict=False))
    assert ("blocks", "ring_quotas") not in edits


def test_without_the_top_level_the_ring_and_the_weights_lose_theirs() -> None:
    first = planned().brief.blocks.footprints[0]
    weighed = replace(first, quotas=None, weights=(1.0, 2.0, 3.0, 4.0, 5.0, 6.0))
    alike = replace(first, quotas=None, weights=(2.0,) * 6)
    (way,) = making.without_top_level(with_blocks(footprints=(weighed, alike), ring_quotas=(6, 5, 4, 3, 2, 10)), CHECK)
    edits = edits_by_path(way)
    # 30 blocks in the proportion 6 : 5 : 4 : 3 : 2
    assert edits["blocks", "ring_quotas"] == [9, 8, 6, 4, 3]
    assert edits["footprint", 0, "weights"] == [1.0, 2.0, 3.0, 4.0, 5.0]
    assert ("footprint", 1, "weights") not in edits


def test_the_top_level_stays_where_three_would_be_left_or_somebody_wants_it() -> None:
    blocks = planned().brief.blocks
    three = tuple(replace(f, allowed=(0, 1, 2), quotas=None) for f in blocks.footprints)
    assert list(making.without_top_level(with_blocks(levels_nm=blocks.levels_nm[:3], footprints=three), CHECK)) == []
    four = tuple(replace(f, allowed=(0, 1, 2, 3), quotas=None) for f in blocks.footprints)
    assert list(making.without_top_level(with_blocks(levels_nm=blocks.levels_nm[:4], footprints=four), CHECK))
    top, lower = (Pin(leaf="A", address="1·1", level=level, shade=None) for level in (5, 4))
    assert list(making.without_top_level(with_blocks(pins=(top,)), CHECK)) == []
    assert list(making.without_top_level(with_blocks(pins=(lower,)), CHECK))
    part = (replace(blocks.footprints[0], allowed=(0, 1, 2, 3, 4)), *blocks.footprints[1:])
    assert list(making.without_top_level(with_blocks(footprints=part), CHECK)) == []
