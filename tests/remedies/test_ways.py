"""Finders alone, on one plan with one thing changed: which changes they try, and in which order."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from bossage.brief import read_brief
from bossage.brief.records import Brief, EdgeStyle, Eye, Pin
from bossage.checks import Check, Verdict
from bossage.examples import example_text
from bossage.hang.records import StudMissed
from bossage.plan import Plan, make_plan
from bossage.remedies import hanging, making, places, stock
from bossage.remedies.way import Way

MM = 1_000_000
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


def test_the_cleats_halves_are_ripped_higher_where_screws_stand_too_near() -> None:
    strip_mm = planned().brief.cleat.strip_nm / 1e6
    ways = list(hanging.higher_strip(planned(), CHECK))
    assert changes(ways) == [("strip", strip_mm + n) for n in (15, 25, 40)]
    assert ways[0].words == "Rip the cleat's halves as high as 90 mm"


def with_missed(*missed: tuple[str, int | None, int, bool]) -> Plan:
    """The plan with leaves of these names, whose cleats miss a stud: what shift or length, mm, would meet it."""
    (leaf,) = planned().hang.leaves
    assert leaf.cleat is not None
    leaves = [
        replace(
            leaf,
            leaf=name,
            cleat=replace(
                leaf.cleat,
                missed=StudMissed(
                    x_nm=0,
                    miss_nm=5 * MM,
                    short_nm=24 * MM,
                    shortest_nm=long_mm * MM,
                    shortest_fits=fits,
                    shift_nm=None if shift_mm is None else shift_mm * MM,
                ),
            ),
        )
        for name, shift_mm, long_mm, fits in missed
    ]
    plan = planned()
    brief = replace(plan.brief, cleat=replace(plan.brief.cleat, offset_nm=10 * MM))
    return replace(plan, brief=brief, hang=replace(plan.hang, leaves=tuple(leaves)))


def test_a_cleat_that_misses_a_stud_is_moved_or_made_longer() -> None:
    plan = with_missed(("A", -24, 948, True))
    ways = [way for way in hanging.met_studs(plan, CHECK) if way.edits[0].path[0] == "cleat"]
    # the offset of 10 mm that the brief has counts, and the words tell the way from there
    assert [way.words for way in ways] == ["Move the cleat to the left by 24 mm", "Make the cleat as long as 948 mm"]
    assert changes(ways) == [("offset", -14), ("length", 948)]
    right = list(hanging.met_studs(with_missed(("A", 30, 948, False)), CHECK))
    assert [way.words for way in right if way.edits[0].path[0] == "cleat"] == ["Move the cleat to the right by 30 mm"]
    assert changes(right)[0] == ("offset", 40)


def test_the_leaf_that_a_check_names_is_looked_at_alone() -> None:
    plan = with_missed(("A", None, 948, True), ("B", None, 1012, True))
    lengths = [
        [value for key, value in changes(hanging.met_studs(plan, replace(CHECK, subject=subject))) if key == "length"]
        for subject in ("A", "B", "")
    ]
    assert lengths == [[948], [1012], [948, 1012]]


@pytest.mark.parametrize(
    ("middle_mm", "seated", "words"),
    [
        # 1448 to 1524 for those who stand, 1150 to 1300 for those who sit: the nearer band counts where both may
        (840, False, "Move it 310 mm up"),
        (1330, False, "Move it 30 mm down"),
        (1400, False, "Move it 48 mm up"),
        (1600, False, "Move it 76 mm down"),
        (1400, True, "Move it 100 mm down"),
        (1200, False, ""),
        (1500, False, ""),
    ],
)
def test_a_middle_off_eye_level_is_moved_by_the_least_that_is_missing(middle_mm: int, seated: bool, words: str) -> None:
    plan = planned()
    eyes = (Eye(name="on the sofa", x_nm=0, height_nm=1200 * MM, distance_nm=1500 * MM),) if seated else ()
    layout = replace(plan.layout, y_nm=middle_mm * MM - plan.layout.height_nm // 2)
    moved = replace(plan, brief=replace(plan.brief, eyes=eyes), layout=layout)
    assert [way.words for way in places.eye_level(moved, CHECK)] == ([words] if words else [])


def test_a_width_that_does_not_suit_changes_by_columns_about_the_same_middle() -> None:
    plan = planned()
    ways = list(places.suited_width(plan, CHECK))
    assert [way.words for way in ways[:3]] == ["Take one column fewer", "Take one column more", "Take 2 columns fewer"]
    columns = plan.brief.blocks.columns
    assert columns is not None
    assert [value for _, value in changes(ways)] == [columns + n for n in (-1, 1, -2, 2, -3, 3)]
    for way in ways:
        edits = edits_by_path(way)
        wider_mm = (edits["blocks", "columns"] - columns) * plan.brief.blocks.module_width_nm / 1e6
        assert edits["leaf", 0, "x"] == pytest.approx(plan.layout.x_nm / 1e6 - wider_mm / 2)


def thin(subject: str, **blocks: Any) -> list[Way]:
    return list(stock.thicker_lowest(with_blocks(**blocks), replace(CHECK, subject=subject)))


def test_the_lowest_level_is_raised_with_its_quotas_under_its_new_height() -> None:
    blocks = planned().brief.blocks
    levels = (6 * MM, *blocks.levels_nm[1:])
    first = replace(blocks.footprints[0], quotas=(20, 0, 22, 22, 22, 42))
    others = blocks.footprints[1:]
    # of a section of 95 × 45 an eighth of the longer side, in whole millimetres
    (way,) = thin("95", levels_nm=levels, footprints=(first, *others), ring_quotas=(6, 5, 0, 3, 2, 10))
    assert way.words == "Raise the lowest level to 12 mm"
    edits = edits_by_path(way)
    assert edits["blocks", "levels"] == [12, 22, 26, 30, 35, 40]
    assert edits["blocks", "ring_quotas"] == {"12": 6, "22": 5, "30": 3, "35": 2, "40": 10}
    assert edits["footprint", 0, "quotas"] == {"12": 20, "26": 22, "30": 22, "35": 22, "40": 42}
    assert [edits["footprint", n, "quotas"]["12"] for n in (1, 2)] == [one.quotas[0] for one in others if one.quotas]
    # where the next level is no higher than that there is nothing to raise it between
    assert thin("95", levels_nm=(6 * MM, 12 * MM, *blocks.levels_nm[2:])) == []
    assert thin("no such section", levels_nm=levels) == []


def test_a_post_without_a_stud_is_moved_to_the_nearest_two_or_hung_on_another_side() -> None:
    text = example_text("first").replace('build = "masonry"', 'build = "timber studs"\nstuds = [700, 1260, 2100]')
    plan = make_plan(read_brief(text + '\n[access]\nopens = "swing"\nhinge = "left"\n'))
    assert isinstance(plan, Plan)
    check = next(one for one in plan.checks if one.name == "load_path")
    post = plan.hang.leaves[0].hinges.post
    ways = list(hanging.post_to_a_stud(plan, check))
    asked = [way.words for way in ways]
    nearest = min(plan.brief.wall.studs_nm, key=lambda stud: abs(stud - post.line_nm))
    right = "right" if nearest > post.line_nm else "left"
    assert f"{abs(nearest - post.line_nm) // 1_000_000} mm" in asked[0]
    assert right in asked[0]
    assert [words for words in asked if words.startswith("Hinge it at the")]
