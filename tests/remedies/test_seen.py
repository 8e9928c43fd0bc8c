"""Advice that was once wrong: each case as it was seen, and what is said now."""

from __future__ import annotations

from dataclasses import replace

from tests.remedies.judge import assert_heals, assert_nothing_worse

from bossage.brief import read_brief
from bossage.brief.amend import amend_text
from bossage.checks import Advice, Check, Edit, Verdict, asked, deed_of
from bossage.examples import example_text
from bossage.layout.grid import hidden_rect, obstacles_of
from bossage.layout.rough import Stock, cheapest_cents
from bossage.layout.suggest import NoHeal, smallest_lightening
from bossage.plan import Memory, Plan, make_plan
from bossage.remedies import advised
from bossage.remedies.finders import ways
from bossage.saw import Piece, SawJob, SawPlan, Shortfall, StickStock, plan_sticks

GRILLE = {"name": "grille", "kind": "supply grille", "width": 60, "height": 60, "proud": 5}


def put(*path: str | int, to: str | float | bool) -> Edit:
    return Edit(op="set", path=path, value=to)


def planned(text: str, memory: Memory | None = None) -> Plan:
    plan = make_plan(read_brief(text), memory=memory)
    assert isinstance(plan, Plan)
    return plan


def shown(text: str, name: str) -> tuple[Plan, Check]:
    memory = Memory()
    plan = planned(text, memory)
    checks = advised(text, plan, memory=memory, names=(name,)).checks
    return plan, next(check for check in checks if check.name == name)


def test_a_move_that_uncovers_what_is_hidden_is_no_remedy() -> None:
    _, check = shown(example_text("s2"), "bench_gap")
    assert check.advice is Advice.QUESTION
    assert check.remedy.startswith("Would it help to move it 90 mm up? It heals this, but then “")
    assert check.remedy.endswith("says stop.")


def test_a_lock_is_not_offered_with_more_columns_to_weigh_less() -> None:
    text = amend_text(example_text("s8"), [put("access", "lock", to=False)])
    plan = planned(text)
    over = next(check for check in plan.checks if check.name == "over_bed")
    said = [way.words for way in ways(plan, over)]
    assert said[0] == "Fit an anti-lift lock"
    assert not any("column" in words or "weigh" in words for words in said)
    light = read_brief(example_text("first"))
    assert isinstance(smallest_lightening(light, 1e6), NoHeal)


def test_what_must_not_be_covered_is_kept_clear_by_every_remedy() -> None:
    brief = read_brief(example_text("first"))
    cupboard = brief.fixtures[0]
    place = {"x": cupboard.x_nm / 1e6 + 520, "y": cupboard.y_nm / 1e6}
    text = amend_text(example_text("first"), [Edit(op="append", path=("fixture",), value={**GRILLE, **place})])
    both = read_brief(text)
    assert hidden_rect(both) == hidden_rect(brief)
    assert len(obstacles_of(both)) == len(obstacles_of(brief)) + 1
    plan, check = shown(text, "refusal")
    assert not [cover for cover in plan.layout.covers if cover.fixture == "grille"]
    assert (check.verdict, check.advice) == (Verdict.STOP, Advice.REMEDY)
    after = planned(amend_text(text, check.edits))
    assert [fixture.name for fixture in after.brief.fixtures] == [cupboard.name]
    assert after.brief.keep_clear[-1].name == "grille"
    assert_heals(plan, after, check)
    assert_nothing_worse(plan, after)


def test_two_fixtures_in_one_place_are_said() -> None:
    brief = read_brief(example_text("first"))
    cupboard = brief.fixtures[0]
    lid = {"name": "lid", "width": 50, "height": 40, "proud": 5}
    for inside, found in ((-30, "share 20 mm × 40 mm of the wall"), (-50, "")):
        place = {"x": cupboard.x_nm / 1e6 + inside, "y": cupboard.y_nm / 1e6 + 100}
        edits = [Edit(op="append", path=("fixture",), value={**lid, **place})]
        plan = planned(amend_text(example_text("first"), edits))
        (check,) = [check for check in plan.layout.checks if check.name == "fixtures_apart"]
        assert check.verdict is (Verdict.CAUTION if found else Verdict.FINE)
        assert found in check.found


def test_what_is_owned_is_used_up_before_anything_is_paid() -> None:
    shelf = Stock(gives=10, count=3, owned=True, price_cents=500)
    bought = Stock(gives=8, count=None, owned=False, price_cents=400)
    assert cheapest_cents(30, [shelf, bought]) == 0
    assert cheapest_cents(31, [shelf, bought]) == 400
    assert cheapest_cents(47, [shelf, bought]) == 1200
    assert cheapest_cents(31, [shelf]) is None
    assert cheapest_cents(1e9, [replace(shelf, count=None)]) == 0


def test_a_further_length_holds_the_trim_and_the_stub_of_a_bought_stick() -> None:
    rest = StickStock(name="rest", length_nm=100, price_cents=0, count=1, owned=True)
    job = SawJob(pieces=(Piece(length_nm=40, count=5),), sticks=(rest,), kerf_nm=2, ends_nm=(30, 200))
    short = plan_sticks(job, advise=False)
    assert isinstance(short, Shortfall)
    (buy,) = [cure.buy_nm for cure in short.cures if cure.buy_nm is not None]
    more = StickStock(name="new", length_nm=buy, price_cents=0, count=1, trim_nm=30, stub_nm=200)
    assert isinstance(plan_sticks(replace(job, sticks=(rest, more)), advise=False), SawPlan)
    less = replace(more, length_nm=buy - 3)
    assert isinstance(plan_sticks(replace(job, sticks=(rest, less)), advise=False), Shortfall)


def test_untried_advice_is_a_question_whoever_writes_it() -> None:
    words = {"stage": "a", "name": "b", "title": "c", "found": "d", "allowed": "e", "why": "f", "source": "g"}
    check = Check(verdict=Verdict.STOP, remedy="Move it 90 mm up.", care="mind it", **words)
    assert (check.remedy, check.advice) == ("Would it help to move it 90 mm up?", Advice.QUESTION)
    assert deed_of(check.remedy) == "Move it 90 mm up"
    assert replace(check).remedy == check.remedy
    assert asked("DIN rail first. Then the rest.") == "Would it help to DIN rail first? Then the rest."
    fine = Check(verdict=Verdict.FINE, remedy="move it", care="mind it", **words)
    assert (fine.remedy, fine.care, fine.advice) == ("", "", Advice.NONE)


def test_changes_read_at_once_are_those_written_into_the_text() -> None:
    text = example_text("s2")
    edits = (put("blocks", "gap", to=0.9), Edit(op="append", path=("keep_clear",), value={**GRILLE_AREA}))
    assert read_brief(text, edits) == read_brief(amend_text(text, edits))


GRILLE_AREA = {"name": "grille", "x": 10, "y": "3.25 mm", "width": 60.5, "height": 60}


def test_what_is_left_free_is_kept_clear_of_by_the_least_move() -> None:
    # by hand: eight columns of 70 from 1120 end at 1680, so a grille at 1665 asks for 15 to the left; what is hidden
    # from 1190 to 1610 then has 85 and 55 beside it, and wants 50
    grid = example_text("first").replace("[blocks]", "[blocks]\ncolumns = 8\nrows = 10")
    grid += '\n[[leaf]]\nname = "whole"\nx = 1120\ny = 1150\n'
    place = {"x": 1665, "y": 1240}
    text = amend_text(grid, [Edit(op="append", path=("fixture",), value={**GRILLE, **place})])
    plan = planned(text)
    check = next(check for check in plan.checks if check.name == "refusal")
    way = next(way for way in ways(plan, check) if "keep the piece clear" in way.words)
    assert way.words == "Leave grille free and keep the piece clear of it: move it 15 mm left"
    after = planned(amend_text(text, way.edits))
    assert after.layout.x_nm == 1105 * 1_000_000
    assert [area.name for area in after.brief.keep_clear] == ["grille"]
    assert not any(check.name in ("refusal", "keep_clear") and check.verdict is Verdict.STOP for check in after.checks)
