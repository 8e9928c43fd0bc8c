"""The smallest piece that there is: one block, with no neighbour to be measured against."""

from __future__ import annotations

import warnings

import numpy as np

from bossage.brief import read_brief
from bossage.colour.measures import banding
from bossage.examples import example_text
from bossage.plan import Plan, make_plan
from bossage.web.view import plan_view

ONE = example_text("first").replace("width = 70\nheight = 70", "width = 700\nheight = 700")


def test_a_piece_of_one_block_is_planned_without_a_word_of_a_library() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        plan = make_plan(read_brief(ONE))
        assert isinstance(plan, Plan)
        assert plan.layout.blocks.count == 1
        plan_view(plan)
        assert banding(np.zeros(1), np.zeros((0, 2), dtype=np.int64)) == 0.0
