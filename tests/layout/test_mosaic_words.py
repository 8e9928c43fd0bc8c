"""A mosaic that cannot be laid says why and what would do, and what is advised can be laid; shares that gave way."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bossage.brief import read_brief
from bossage.checks import Verdict
from bossage.layout import Layout, NoLayout, plan_layout
from bossage.plan import NoPlan, make_plan

MIXED = (Path(__file__).parents[2] / "examples" / "mixed-sizes.toml").read_text(encoding="utf-8")
CELL_MM = 44

Print = tuple[int, int, str]  # columns and rows of cells that a block covers, and its count or share


def planned(columns: int, rows: int, *prints: Print) -> Layout | NoLayout:
    """The example of mixed sizes on another grid without open cells, with other footprints, named `2 by 1`."""
    head = MIXED[: MIXED.index("[[leaf]]")].replace("columns = 17", f"columns = {columns}")
    head = head.replace("rows = 12", f"rows = {rows}").replace("through_joints = false", "through_joints = true")
    body = "\n".join(
        f'[[footprint]]\nname = "{w} by {h}"\nwidth = {CELL_MM * w}\nheight = {CELL_MM * h}\n'
        f"cells = [{w}, {h}]\n{how}\n"
        for w, h, how in prints
    )
    return plan_layout(read_brief(head + body + MIXED[MIXED.index("[[family]]") : MIXED.index("[[stick]]")]))


def counted(layout: Layout | NoLayout) -> tuple[int, ...]:
    assert isinstance(layout, Layout), layout
    return layout.mosaics[0].counts


def test_more_blocks_of_a_size_than_fit_are_told_with_the_most_that_do() -> None:
    # 17 columns and 13 rows hold 8 by 6 blocks of two cells each way
    refused = planned(17, 13, (2, 2, "count = 49"), (1, 1, ""))
    assert isinstance(refused, NoLayout)
    assert refused.reason == (
        "2 by 2 is asked for 49 times on leaf whole, but at most 48 of 2 × 2 cells fit on 17 × 13, open cells left out"
    )
    assert refused.remedy == "ask for at most 48, or make the grid larger"
    assert counted(planned(17, 13, (2, 2, "count = 48"), (1, 1, ""))) == (48, 17 * 13 - 48 * 4)


def test_counts_that_no_filling_has_are_told_with_the_nearest_that_one_has() -> None:
    # 13 is odd both ways, so rows and columns of single cells are left that one alone cannot fill
    refused = planned(13, 13, (2, 2, "count = 30"), (3, 2, "count = 8"), (1, 1, "count = 1"))
    assert isinstance(refused, NoLayout)
    assert refused.reason == (
        "leaf whole cannot be filled with 30 2 by 2, 8 3 by 2, 1 1 by 1: it is proven that none lies so"
    )
    advised = re.fullmatch(
        r"take (\d+) 2 by 2, (\d+) 3 by 2, (\d+) 1 by 1(, the nearest counts that do|, which can be laid)",
        refused.remedy,
    )
    assert advised is not None
    many = tuple(int(advised[n]) for n in (1, 2, 3))
    prints = zip(((2, 2), (3, 2), (1, 1)), many, strict=True)
    assert counted(planned(13, 13, *((w, h, f"count = {n}") for (w, h), n in prints))) == many


def test_a_grid_that_no_whole_blocks_fill_is_told_with_a_footprint_that_would() -> None:
    # 34 blocks of 3 × 2 cells have the area of 17 × 12, but 17 columns are no whole number of threes
    refused = planned(17, 12, (3, 2, ""))
    assert isinstance(refused, NoLayout)
    assert refused.reason == (
        "no filling of leaf whole with 34 3 by 2 and no cell left bare was found: it is proven that there is none"
    )
    assert refused.remedy == "add a footprint of one cell, or change columns and rows"
    assert refused.proven
    assert sum(counted(planned(17, 12, (3, 2, ""), (1, 1, "")))) > 34


@pytest.mark.parametrize("unproven", ["bare", "counts"])
def test_what_is_not_proven_is_said_so(unproven: str, monkeypatch: pytest.MonkeyPatch) -> None:
    from bossage.layout.mosaic import NoMosaic

    nearest = None if unproven == "bare" else (3, 5)
    found = NoMosaic(kind=None, most=0, nearest=nearest, proven=False)
    monkeypatch.setattr("bossage.layout.mosaic_field.lay_mosaic", lambda board, key: found)
    refused = planned(8, 8, (2, 2, "count = 4"), (1, 1, ""))
    assert isinstance(refused, NoLayout)
    if unproven == "bare":
        assert refused.reason.endswith("was found; that there is none is not proven")
    else:
        assert refused.reason.endswith("none was found that lies so; that is not proven")
        assert refused.remedy == "take 3 2 by 2, 5 1 by 1, which can be laid"
    assert not refused.proven


def test_shares_that_gave_way_are_told_with_what_was_asked() -> None:
    layout = planned(17, 12, (4, 1, ""), (3, 1, ""))
    four, three = counted(layout)
    assert 4 * four + 3 * three == 17 * 12
    # as asked, 30 and 28 would fill the cells; blocks that all lie leave rows of 17 only as 4 a + 3 b
    (said,) = (check for check in layout.checks if check.name == "shares")
    assert said.verdict is Verdict.FINE
    assert said.found.startswith(f"{four} 4 by 1 in place of 30, {three} 3 by 1 in place of 28: ")
    kept = planned(9, 7, (2, 1, ""), (3, 1, "share = 3"))
    assert isinstance(kept, Layout)
    assert not any(check.name == "shares" for check in kept.checks)


def test_a_plan_that_has_no_layout_says_why_in_sentences_and_whether_that_is_proven() -> None:
    text = MIXED.replace("count = 56\nquotas = [11, 11, 12, 11, 11]", "share = 1").replace("share = 2", "count = 49")
    plan = make_plan(read_brief(text))
    assert isinstance(plan, NoPlan)
    assert re.fullmatch(r"Large is asked for 49 times on leaf whole, but at most \d+ of 2 × 2 .+\.", plan.reason)
    assert re.fullmatch(r"Ask for at most \d+, or make the grid larger\.", plan.remedy)
    assert (plan.stage, plan.proven) == ("layout", True)
