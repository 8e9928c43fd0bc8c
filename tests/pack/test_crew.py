"""A class paints together: everyone as many blocks as the others, found by name; an absentee moves nobody else."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.pack.made import CLASS, papers_of, sheets_of
from tests.pack.pdf_checks import pages_of
from tests.scenarios.cases import plan_of

from bossage.brief import BriefFaults, read_brief
from bossage.brief.papers import Crew
from bossage.pack.crew import deal, helper_groups
from bossage.pack.sheet import Table, parts_of
from bossage.pack.sheets.crew import names_sheet, where
from bossage.plan import Plan

S3 = (Path(__file__).parents[2] / "examples" / "s3-tarnwick-school.toml").read_text(encoding="utf-8")


def with_crew(**changes: object) -> Plan:
    plan = plan_of("S3")
    crew = replace(read_brief(S3).crew, **changes)
    return replace(plan, brief=replace(plan.brief, crew=crew))


def test_every_pupil_has_one_big_block_on_each_leaf():
    plan = with_crew()
    shares = deal(plan)
    assert len(shares) == 92
    dealt = [block for share in shares for block in share.blocks]
    assert len(dealt) == len(set(dealt)) == 276
    names = [footprint.name for footprint in plan.brief.blocks.footprints]
    assert {names[int(plan.layout.blocks.footprint[block])] for block in dealt} == {"big"}
    for share in shares:
        assert Counter(int(plan.layout.blocks.leaf[block]) for block in share.blocks) == {0: 1, 1: 1, 2: 1}


@settings(max_examples=12, deadline=None)
@given(st.sets(st.integers(0, 91), min_size=1, max_size=30))
def test_absentees_move_nobody_else_and_leave_no_block_over(away: set[int]):
    names = with_crew().brief.crew.names
    absent = tuple(names[number] for number in sorted(away))
    before = {share.name: set(share.blocks) for share in deal(with_crew())}
    after = {share.name: share for share in deal(with_crew(absent=absent))}
    assert set(after) == set(names) - set(absent)
    for name, share in after.items():
        assert before[name] <= set(share.blocks)
        assert set(share.blocks) - before[name] == set(share.taken_over)
    assert sorted(b for share in after.values() for b in share.blocks) == sorted(
        b for bs in before.values() for b in bs
    )
    sizes = [len(share.blocks) for share in after.values()]
    assert max(sizes) - min(sizes) <= 1


@pytest.mark.parametrize(("names", "footprint"), [(7, "small"), (31, ""), (5, "big")])
def test_nobody_is_ever_two_ahead(names: int, footprint: str):
    few = with_crew().brief.crew.names[:names]
    sizes = [len(share.blocks) for share in deal(with_crew(names=few, footprint=footprint))]
    assert max(sizes) - min(sizes) <= 1


def test_another_seed_deals_otherwise_and_the_same_one_alike():
    plan = with_crew()
    other = replace(plan, brief=replace(plan.brief, piece=replace(plan.brief.piece, seed=38)))
    assert deal(plan) == deal(with_crew())
    assert deal(plan) != deal(other)


@pytest.mark.parametrize("scenario", [CLASS])
def test_every_pupil_finds_their_blocks_by_name_on_the_printed_sheets(scenario: str):
    plan = plan_of(scenario)
    text = {"names": "", "helpers": ""}
    for page in pages_of(papers_of(scenario)):
        for name, title in (("names", "Find your block"), ("helpers", "Who paints what")):
            if any(one.startswith(title) for one in page.titles):
                text[name] += " " + " ".join(page.text.split())
    for share in deal(plan):
        assert " ".join([share.name, *(where(plan, block) for block in share.blocks)]) in text["names"]
        assert f"{share.name} {where(plan, share.blocks[0])} " in text["helpers"]
    lists = [sheet for sheet in sheets_of(scenario) if sheet.name == "helpers"]
    assert len(lists) == 4
    assert [len(group) for group in helper_groups(plan)] == [23, 23, 23, 23]


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_a_class_of_any_size_finds_its_blocks_and_absentees_leave_none_over(data: st.DataObject):
    base = plan_of(data.draw(st.sampled_from(["S2", "S3", "S4"])))
    names = tuple(f"Pupil {number}" for number in range(1, data.draw(st.integers(1, 130)) + 1))
    footprints = ("", *(footprint.name for footprint in base.brief.blocks.footprints))
    away = data.draw(st.sets(st.sampled_from(names), max_size=min(5, len(names) - 1)))
    crew = Crew(
        names=names,
        absent=tuple(name for name in names if name in away),
        helpers=data.draw(st.integers(1, 9)),
        footprint=data.draw(st.sampled_from(footprints)),
    )
    plan = replace(base, brief=replace(base.brief, crew=crew))
    shares = {share.name: share for share in deal(plan)}
    wanted = [footprint.name for footprint in base.brief.blocks.footprints]
    blocks = base.layout.blocks
    every = [
        block
        for block in range(blocks.count)
        if not crew.footprint or wanted[int(blocks.footprint[block])] == crew.footprint
    ]
    assert sorted(block for share in shares.values() for block in share.blocks) == every
    index = names_sheet(plan)
    assert index is not None
    rows = {row[0]: row[1:] for part in parts_of(index) if isinstance(part, Table) for row in part.rows}
    assert set(rows) == set(names) - away
    for name, share in shares.items():
        assert tuple(cell for cell in rows[name] if cell) == tuple(where(plan, block) for block in share.blocks)
    sizes = [len(group) for group in helper_groups(plan)]
    assert sum(sizes) == len(shares)
    assert max(sizes) - min(sizes) <= 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ('absent = ["Ada Q."]', r"crew.absent.*Ada Q.*Did you mean"),
        ('names = ["Ada", "Ada"]', r"crew.names.*more than once"),
        ('names = ["Ada"]\nabsent = ["Ada"]', r"crew.absent.*everyone"),
        ('names = ["Ada"]\nfootprint = "huge"', r"crew.footprint.*big or small"),
    ],
)
def test_a_crew_that_cannot_be_is_refused(words: str, said: str):
    start = S3.index("[crew]")
    text = S3 + words + "\n" if words.startswith("absent") else S3[:start] + "[crew]\n" + words + "\n"
    with pytest.raises(BriefFaults, match=f"(?s){said}"):
        read_brief(text)
