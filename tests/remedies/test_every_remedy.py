"""Every remedy that is printed, applied: for all examples, and for made-up briefs with faults planted in them."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Callable
from typing import Any

import pytest
from tests.brief.generate import made_up
from tests.remedies.judge import assert_heals, assert_nothing_worse, assert_priced

from bossage.brief import BriefFaults, read_brief
from bossage.brief.amend import amend_text
from bossage.checks import Advice, Check, Edit, Verdict
from bossage.examples import example_names, example_text
from bossage.plan import Memory, NoPlan, Plan, make_plan
from bossage.remedies import advised

Brief = dict[str, Any]
Fault = Callable[[Brief, random.Random], list[Edit]]


def put(*path: str | int, to: Any) -> Edit:
    return Edit(op="set", path=path, value=to)


def often(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("fixture", 0, "opened_per_year", to=rng.choice((60, 365)))]


def capped(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("piece", "mass_cap", to=f"{rng.choice((2, 4, 6))} kg")]


def bare(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("fixture", 0, "proud", to=f"{rng.choice((20, 30, 40))} mm")]


def wandering(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("footprint", 0, "spread", to=f"{rng.choice((0.4, 0.8))} mm")]


def few_clamps(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("tools", "clamps", to=rng.choice((1, 2, 3)))]


def quick_glue(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("glue", "open_time", to=rng.choice((3, 4)))]


def wide_margin(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("blocks", "cover_margin", to=f"{rng.choice((40, 80, 120))} mm")]


def in_the_way(brief: Brief, rng: random.Random) -> list[Edit]:
    """A switch that the piece covers by a little at one of its sides."""
    plan = make_plan(read_brief(DOCUMENT["text"]))
    assert isinstance(plan, Plan)
    layout = plan.layout
    x = layout.x_nm + rng.choice((-70, layout.width_nm / 1e6 - 10)) * 1_000_000
    area = {"name": "switch", "x": f"{max(0, x) / 1e6:.1f} mm", "y": f"{layout.y_nm / 1e6:.1f} mm"}
    return [Edit(op="append", path=("keep_clear",), value={**area, "width": "80 mm", "height": "80 mm"})]


def few_fixings(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("fixings", "count", to=2), put("fixings", "allowable", to="0.4 kg")]


def one_face(brief: Brief, rng: random.Random) -> list[Edit]:
    return [put("backer", "sealed_faces", to=1), put("backer", "thickness", to="6 mm")]


DOCUMENT: dict[str, str] = {}
FAULTS: tuple[Fault, ...] = (
    often, capped, bare, wandering, few_clamps, quick_glue, wide_margin, in_the_way, few_fixings, one_face,
)  # fmt: skip


def planted(seed: int) -> str:
    """A made-up brief with two faults in it."""
    rng = random.Random(f"remedies {seed}")
    text = made_up(seed).text
    for plant in rng.sample(FAULTS, 2):
        DOCUMENT["text"] = text
        try:
            changed = amend_text(text, plant(tomllib.loads(text), rng))
            read_brief(changed)
        except BriefFaults:
            continue
        text = changed
    return text


def every_remedy_heals(text: str) -> list[Check]:
    """Apply each remedy of a brief and judge it; the remedies."""
    memory = Memory()
    plan = make_plan(read_brief(text), memory=memory)
    if isinstance(plan, NoPlan):
        return []
    shown = advised(text, plan, memory=memory)
    for check in shown.checks:
        if check.verdict is Verdict.FINE:
            assert (check.remedy, check.care, check.edits, check.advice) == ("", "", (), Advice.NONE)
        elif check.advice is Advice.QUESTION:
            assert "?" in check.remedy
            assert check.price is None
    remedies = [check for check in shown.checks if check.advice is Advice.REMEDY]
    for check in remedies:
        after = make_plan(read_brief(amend_text(text, check.edits)), memory=memory)
        assert isinstance(after, Plan)
        assert_heals(plan, after, check)
        assert_nothing_worse(plan, after)
        assert_priced(plan, after, check)
    return remedies


@pytest.mark.parametrize("name", example_names())
def test_remedies_of_the_examples(name: str) -> None:
    every_remedy_heals(example_text(name))


@pytest.mark.parametrize("first", [0, 4, 8])
def test_remedies_of_made_up_briefs(first: int) -> None:
    assert [check for seed in range(first, first + 4) for check in every_remedy_heals(planted(seed))]


@pytest.mark.slow
@pytest.mark.parametrize("first", range(100, 130, 10))
def test_remedies_of_many_made_up_briefs(first: int) -> None:
    assert [check for seed in range(first, first + 10) for check in every_remedy_heals(planted(seed))]
