"""Hours, prices and the quote, against sheets worked by hand."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.scenarios.cases import ROOT, plan_of, varied

from bossage.brief import read_brief
from bossage.cli_report import headline
from bossage.costing import materials_words
from bossage.costing.hours import compounded_shares, repeat_shares
from bossage.costing.quote import make_quote
from bossage.paint.pots import tools_of
from bossage.plan import Plan, make_plan

RATES = plan_of("S4").brief.rates


def test_repeats_down_to_their_floor() -> None:
    """5 % less each: 1, 0.95, ... ; the seventh and all after take 0.70 of the first."""
    assert repeat_shares(RATES, 8) == pytest.approx((1, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.7))
    assert compounded_shares(RATES, 3) == pytest.approx((1, 0.95, 0.9025))


def test_a_quote_by_hand() -> None:
    """10 h at 38.00 = 380.00; overhead 76.00, contingency 57.00; materials 100.00 + 25.00; in all 638.00."""
    quote = make_quote(RATES, hours=10, materials_cents=10_000, copies=2)
    assert quote is not None
    assert (quote.labour_cents, quote.overhead_cents, quote.contingency_cents) == (38_000, 7_600, 5_700)
    assert (quote.total_cents, quote.each_cents, quote.deposit_cents) == (63_800, 31_900, 31_900)


def test_no_rate_no_quote() -> None:
    assert make_quote(replace(RATES, hourly_cents=None), hours=10, materials_cents=1, copies=1) is None


@given(st.integers(0, 10**6), st.integers(0, 10**6))
def test_more_materials_never_cost_less(one: int, other: int) -> None:
    low, high = sorted((one, other))
    quotes = [make_quote(RATES, hours=3, materials_cents=cents, copies=1) for cents in (low, high)]
    assert quotes[0] is not None
    assert quotes[1] is not None
    assert quotes[0].total_cents <= quotes[1].total_cents


def test_materials_are_the_sum_of_the_list() -> None:
    for scenario in ("S1", "S2", "S3", "S4", "S7", "S8"):
        cost = plan_of(scenario).cost
        assert cost.materials_cents == sum(line.cents or 0 for line in cost.shopping)


def test_a_line_without_a_price_is_counted_not_guessed() -> None:
    plan = varied("S2", "no price of glue", lambda brief: brief["price"].pop(4))
    glue = next(line for line in plan.cost.shopping if line.for_what == "glue")
    assert glue.cents is None
    assert plan.cost.unpriced == plan_of("S2").cost.unpriced + 1


def test_a_budget_that_is_too_small_is_a_caution() -> None:
    plan = varied("S3", "budget 300", lambda brief: brief["piece"].update(budget=300))
    check = next(check for check in plan.checks if check.name == "budget")
    assert str(check.verdict) == "caution"
    assert plan.cost.budget_left_cents == -6_540
    assert check.found.startswith("Materials come to £365.40, wood for shims to £4.20 and ")


def test_a_budget_that_something_without_a_price_may_break_is_not_known_and_never_fine() -> None:
    def one_price_less(brief):
        brief["piece"].update(budget=100_000)
        brief["price"].pop(0)

    plan = varied("S3", "a price less", one_price_less)
    check = next(check for check in plan.checks if check.name == "budget")
    assert plan.cost.unpriced > 0
    assert str(check.verdict) == "caution"
    assert check.found.startswith("Not known: materials come to £")


def test_a_budget_where_nothing_has_a_price_is_not_known_nor_is_what_the_piece_costs() -> None:
    def no_price(brief):
        brief["piece"].update(budget=300)
        brief["price"] = []
        for entry in (*brief.get("stick", ()), *brief.get("sheet", ())):
            entry.pop("price", None)

    plan = varied("S3", "no prices", no_price)
    check = next(check for check in plan.checks if check.name == "budget")
    assert not plan.cost.reckoned
    assert str(check.verdict) == "caution"
    assert check.found == "Not known: nothing on the shopping list has a price."
    assert plan.cost.budget_left_cents is None
    assert materials_words(plan.cost, "£") == "not known"
    assert any("materials not known and" in line for line in headline(plan))


def test_a_line_of_wood_says_nothing_twice() -> None:
    lines = [line.what for line in plan_of("S2").cost.shopping if line.for_what == "wood"]
    assert lines[0] == "planed spruce 45 × 70"
    # a name that is not the measured section keeps the measured one beside it
    assert "2x2 fir, 1-1/2 × 1-1/2 in" in [line.what for line in plan_of("S1").cost.shopping]


def test_the_lump_that_names_a_thing_pays_for_it_before_the_one_that_names_its_group() -> None:
    notes = {line.what: line.note for line in plan_of("S2").cost.shopping if line.for_what != "lump"}
    assert notes["primer"].endswith("“primer”")
    assert notes["paint, lichen 82"].endswith("“paint”")


def test_spacers_are_bought_where_a_gap_is_asked_for() -> None:
    def lines(scenario: str) -> list[tuple[str, str]]:
        return [(line.what, line.amount) for line in plan_of(scenario).cost.shopping if "spacers" in line.what]

    # S7 has a gap of 2 mm and a bed of 8 rows of 12: 11 joints in each of 8 rows, 12 in each of 7 lines between them
    assert lines("S7") == [("spacers of 2 mm", str(11 * 8 + 12 * 7))]
    assert lines("S2") == []  # laid tight


def test_a_lump_beside_a_priced_board_draws_a_caution() -> None:
    def priced(brief):
        board = {"width": 1220, "height": 2440, "thickness": 12, "material": "plywood_birch", "price": 40}
        brief["sheet"] = [board, board | {"thickness": 18}]
        brief["price"] = [{"what": "boards", "price": 50}]

    def lump(brief):
        brief.pop("sheet", None)
        brief["price"] = [{"what": "boards", "price": 50}]

    def said(plan) -> list[str]:
        return [check.found for check in plan.cost.checks if check.name == "priced_twice"]

    twice = said(varied("S2", "priced twice", priced))
    assert twice
    assert all("lump for boards" in words for words in twice)
    assert said(varied("S2", "a lump alone", lump)) == []


@pytest.mark.parametrize("scenario", ["S1", "S7", "oiled-ash"])
def test_the_list_holds_what_the_work_uses_up(scenario: str) -> None:
    plan = _plan(scenario)
    lines = {line.what: line for line in plan.cost.shopping if line.for_what != "lump"}
    sheets = [int(n) for n in re.findall(r"(\d+) of \d+", lines["abrasives"].amount)]
    faces_m2 = sum(row.face_mm2 for row in plan.paint.rows) / 1e6
    assert len(sheets) == len(plan.paint.edge_work.grits)
    assert all(count * 0.25 >= faces_m2 for count in sheets)
    masks, pairs = map(int, re.findall(r"\d+", lines["masks and gloves"].amount))
    assert masks >= plan.brief.tools.people
    assert pairs > plan.paint.way.goes
    assert any(what.startswith("brushes") for what in lines)
    assert "cleaner for brushes" in lines
    shades = sum(len(pots.recipes) for pots in plan.paint.pots)
    if shades:
        assert int(lines["jars with lids"].amount.split()[0]) > shades
        # twelve shades, each dabbed twice at most, beside nine fields of the test card
        assert lines["white card for dabs"].amount.startswith(f"{9 + 2 * 12} pieces")
        pot_ml = max(step.before_ml for pots in plan.paint.pots for step in pots.one_pot.steps)
        assert int(lines["pots with lids and marks"].amount.split()[2]) >= pot_ml
        base = next(one for one in plan.paint.buy if one.what.startswith("paint, base"))
        assert int(lines["jug or bucket with a lid"].amount.split()[2]) >= sum(ml * n for ml, n in base.tins)
        assert {tool.name for tool in tools_of(plan.paint.pots)} <= set(lines)
    oiled = bool(plan.paint.stains)
    assert ("metal tin with a tight lid, for rags" in lines) == oiled
    assert any(what.startswith("rags") for what in lines) == oiled


def test_resinous_softwood_asks_for_a_primer_that_blocks_knots_and_two_coats_on_faces() -> None:
    for scenario, resinous in (("S2", True), ("S7", False)):  # norway spruce, yellow poplar
        plan = plan_of(scenario)
        primer = next(line for line in plan.cost.shopping if line.what == "primer" and line.for_what == "paint")
        assert ("knot- and stain-blocking" in primer.note) == resinous
        assert "water-borne, for indoors" in primer.note
        assert sum(run.step == "prime" and run.dry_h > 0 for run in plan.paint.days.blocks) == (2 if resinous else 1)


def _plan(scenario: str) -> Plan:
    if scenario == "oiled-ash":
        made = make_plan(read_brief((ROOT / "examples" / "oiled-ash.toml").read_text(encoding="utf-8")))
        assert isinstance(made, Plan)
        return made
    return plan_of(scenario)
