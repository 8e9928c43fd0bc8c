"""Tins that are sold: they hold what is needed, and no other choice of them is cheaper."""

from __future__ import annotations

import itertools
from dataclasses import replace
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import read_brief
from bossage.brief.records import Brief, Tin
from bossage.paint.tins import tins_for
from bossage.paint.way_records import Tins

FIRST = (Path(__file__).parents[2] / "examples" / "first.toml").read_text(encoding="utf-8")
BRIEF = read_brief(FIRST)


def held_ml(bought: Tins) -> float:
    return sum(size * count for size, count in bought.tins)


def with_tins(*tins: tuple[float, int | None]) -> Brief:
    paint = replace(BRIEF.paint, tins=tuple(Tin(what="primer", size_ml=size, cents=cents) for size, cents in tins))
    return replace(BRIEF, paint=paint)


@settings(deadline=None, max_examples=60)
@given(
    need_ml=st.floats(1, 6000),
    tins=st.lists(
        st.tuples(st.sampled_from([100.0, 250.0, 500.0, 1000.0, 2500.0]), st.integers(100, 9000)),
        min_size=1,
        max_size=3,
        unique_by=lambda tin: tin[0],
    ),
)
def test_no_choice_is_cheaper(need_ml, tins):
    found = tins_for(with_tins(*tins), "primer", "primer", need_ml)
    assert held_ml(found) >= need_ml - 1e-6
    most = [range(int(need_ml // size) + 2) for size, _ in tins]
    best = min(
        sum(n * cents for n, (_, cents) in zip(counts, tins, strict=True))
        for counts in itertools.product(*most)
        if sum(n * size for n, (size, _) in zip(counts, tins, strict=True)) >= need_ml
    )
    assert found.cents == best


def test_usual_sizes_go_by_the_unit_and_have_no_price():
    found = tins_for(BRIEF, "primer", "primer", 800)
    assert found.tins == ((750.0, 1), (125.0, 1))
    assert found.cents is None
    inch = replace(BRIEF, piece=replace(BRIEF.piece, unit="in"))
    assert tins_for(inch, "primer", "primer", 800).tins == ((946.353, 1),)


def test_the_makers_tins_come_from_the_brief():
    text = FIRST + '\n[paint]\ntins = [{ what = "primer", size = "500 mL", price = "7.50" }]\n'
    brief = read_brief(text)
    assert tins_for(brief, "primer", "primer", 600).tins == ((500.0, 2),)
    assert tins_for(brief, "primer", "primer", 600).cents == 1500
