from __future__ import annotations

import tomllib

import pytest

from bossage.brief import read_brief
from bossage.brief.amend import amend_text
from bossage.brief.resize import length_value, place_edits, size_edits
from bossage.examples import example_names, example_text
from bossage.layout import Layout, candidate_sizes, plan_layout
from bossage.layout.grid import plan_grid
from bossage.units import parse_length_nm


@pytest.mark.parametrize("name", sorted(example_names()))
def test_a_chosen_size_is_the_size_that_is_planned(name: str) -> None:
    text = example_text(name)
    brief = read_brief(text)
    for candidate in candidate_sizes(brief, more=3)[:4]:
        gap = brief.blocks.leaf_gap_nm
        wide = (candidate.width_nm + gap) // candidate.leaves
        places = [(candidate.x_nm + number * wide, candidate.y_nm) for number in range(candidate.leaves)]
        edits = size_edits(tomllib.loads(text), brief, columns=candidate.columns, rows=candidate.rows, places=places)
        changed = read_brief(amend_text(text, edits))
        layout = plan_layout(changed)
        assert isinstance(layout, Layout)
        assert (layout.x_nm, layout.y_nm) == (candidate.x_nm, candidate.y_nm)
        assert (layout.width_nm, layout.height_nm) == (candidate.width_nm, candidate.height_nm)
        assert {(leaf.columns, leaf.rows) for leaf in layout.leaves} == {(candidate.columns, candidate.rows)}


def test_a_move_keeps_all_but_the_place() -> None:
    text = example_text("s2")
    brief = read_brief(text)
    ((x, y),) = plan_grid(brief).places
    moved = amend_text(text, place_edits(tomllib.loads(text), brief, [(x + 1_500_000, y)]))
    assert moved == text.replace("x = 890\n", "x = 891.5\n")


@pytest.mark.parametrize("nm", [0, 396_875, 25_400_000 * 3, 89_000_000, 123_456_789])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_length_is_written_exactly(nm: int, unit: str) -> None:
    assert parse_length_nm(length_value(nm, unit), unit) == nm


def test_counted_fills_are_shared_out_anew() -> None:
    text = example_text("s2")
    edits = size_edits(tomllib.loads(text), read_brief(text), columns=7, rows=13, places=[(890_000_000, 480_000_000)])
    fills = tomllib.loads(amend_text(text, edits))["fill"]
    counts = [fill["count"] for fill in fills]
    assert sum(counts) == 91
    assert counts[0] == pytest.approx(91 / 2, abs=1)
