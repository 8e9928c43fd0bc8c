"""Papers of briefs that nobody has looked at: every plan that can be made can be printed."""

from __future__ import annotations

import pytest
from tests.brief.generate import made_up

from bossage.brief import read_brief
from bossage.pack import pack_files
from bossage.plan import Plan, make_plan


@pytest.mark.parametrize("seed", range(100, 108))
def test_a_made_up_plan_is_printed(seed: int) -> None:
    plan = make_plan(read_brief(made_up(seed).text))
    assert isinstance(plan, Plan)
    files = pack_files(plan)
    assert files["pack.pdf"].startswith(b"%PDF")
    assert {"elevation.svg", "picture.png", "blocks.csv"} <= set(files)
