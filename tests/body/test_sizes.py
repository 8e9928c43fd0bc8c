"""Sizes to choose from are sizes that can be built, and what cannot be says why."""

from __future__ import annotations

import pytest

from bossage.body import Wants, amended, own_size_tried, plan_body, sizes_to_choose
from bossage.brief import read_brief
from bossage.brief.amend import amend_text
from bossage.checks import Edit, Verdict
from bossage.examples import example_text
from bossage.layout import candidate_sizes, plan_layout


def built(text):
    """Brief and body as a plan makes them."""
    brief = read_brief(text)
    for _ in range(3):
        body = plan_body(brief, plan_layout(brief))
        if not isinstance(body, Wants):
            return brief, body
        brief = amended(brief, body)
    raise AssertionError("the body goes on asking")


@pytest.mark.parametrize("name", ["first", "oiled-ash", "s8-gannet-row"])
def test_every_size_that_is_offered_has_a_place_for_everything(name):
    text = example_text(name)
    sizes = sizes_to_choose(read_brief(text))
    assert sizes
    for size in sizes:
        brief, body = built(amend_text(text, size.edits))
        assert (brief.blocks.columns, brief.blocks.rows) == (size.columns, size.rows)
        assert not body.left_over
        assert [c.name for c in body.checks if c.verdict is Verdict.STOP] == []


def test_a_size_tells_the_studs_that_its_cleat_meets_and_not_those_behind_the_backer():
    # a frame and a thermostat leave S1's cleat less than the backer's width
    text = example_text("s1")
    for size in sizes_to_choose(read_brief(text)):
        brief, body = built(amend_text(text, size.edits))
        pieces, end = body.choices[0].wall_pieces_nm, brief.cleat.end_distance_nm
        met = [x for x in brief.wall.studs_nm if any(a + end <= x <= b - end for a, b in pieces)]
        assert min(3, len(met)) == size.studs >= 2


def test_what_cannot_be_built_says_so_first():
    # a cleat as high as this has no place over or under what S8 hides
    brief = read_brief(amend_text(example_text("s8"), [Edit(op="set", path=("cleat", "strip"), value=12)]))
    sizes = sizes_to_choose(brief)
    assert [(s.columns, s.rows) for s in sizes] == [(s.columns, s.rows) for s in candidate_sizes(brief)]
    assert all(size.gives_up[0].startswith("cannot be built as it is: no place for the cleat") for size in sizes)
    assert own_size_tried(brief).gives_up[0].startswith("cannot be built as it is")
