"""The sheet of questions: only what the piece gives cause for, with its figures; an answer that can be used."""

from __future__ import annotations

import tomllib
from functools import cache

from tests.scenarios.cases import ROOT
from tests.scenarios.cases import plan_of as example
from tests.scenarios.cases import source as example_text
from tests.test_settled import plan_of, text_of, the

from bossage.checks import Verdict
from bossage.pack.sheet import Drawn, Heading, NewPage, Table
from bossage.pack.sheets.ask import answers_sheet, ask_sheet, brief_lines
from bossage.pack.sheets.stand_words import OPENS_IN_S
from bossage.plan import Plan
from bossage.settling import OPENED_AS


@cache
def stopped() -> Plan:
    return plan_of(text_of(often=100, leaf_x=1350))


def said(plan: Plan) -> str:
    sheet = ask_sheet(plan)
    return "" if sheet is None else repr(sheet)


def heads(plan: Plan) -> list[str]:
    sheet = ask_sheet(plan)
    assert sheet is not None
    found = [part.text for part in sheet.parts if isinstance(part, Heading) and part.level == 2]
    assert found.pop() == "The drawing to show with it"
    return found


def test_only_those_are_asked_whom_the_checks_call_for() -> None:
    assert heads(stopped()) == ["For the landlord", "For those who live with it"]
    assert "electrician" not in said(stopped())


def test_a_piece_that_asks_for_nobodys_word_has_no_sheet_unless_the_brief_names_somebody() -> None:
    calm = text_of()
    assert ask_sheet(plan_of(calm)) is None
    named = plan_of(calm + '\n[papers]\nask = ["landlord", "school"]\n')
    assert heads(named) == ["For the landlord", "For the school"]
    assert "May the piece hang here as it is told above?" in said(named)


def test_wall_and_section_are_drawn_once_with_their_figures_on_a_page_of_their_own() -> None:
    sheet = ask_sheet(example("S7"))
    assert sheet is not None
    front, section = (part.drawing for part in sheet.parts if isinstance(part, Drawn))
    assert isinstance(sheet.parts[-4], NewPage)
    written = {getattr(shape, "text", "") for shape in front.shapes}
    assert {"851", "838", "1090", "360", "1230", "440"} <= written  # the piece and the board, by the scenario
    deep = {getattr(shape, "text", "") for shape in section.shapes}
    assert {"22", "34", "11", "35"} <= deep


def test_what_is_settled_is_not_asked_again() -> None:
    text = text_of(often=100) + "\n".join(
        ["", "[[settled]]", 'check = "lift_off"', 'by = "R. Voss"', "on = 2026-03-02", 'for = "100 a year"',
         'place = ["1275 mm", "1400 mm", "150 mm", "100 mm"]', ""]
    )  # fmt: skip
    plan = plan_of(text)
    assert the(plan, "lift_off").settled is not None
    assert "lift_off" not in said(plan)


def test_an_answer_is_copied_from_the_sheet_into_the_brief_and_settles() -> None:
    sheet = answers_sheet(stopped())
    assert sheet is not None
    columns = [list(column) for part in sheet.parts if isinstance(part, Table) and part.columns[0].kind == "small"
               for column in zip(*part.rows, strict=True)]  # fmt: skip
    lines = [line for column in columns for line in column]
    text = text_of(often=100, leaf_x=1350) + "\n"
    text += "\n".join(lines).replace('by = ""', 'by = "A. Wong"').replace('on = ""', 'on = "2026-03-02"')
    assert len(tomllib.loads(text)["settled"]) >= 2
    after = plan_of(text)
    for name in ("lift_off", "keep_clear"):
        assert the(stopped(), name).verdict is Verdict.STOP
        assert the(after, name).settled is not None


def test_the_piece_is_told_with_its_own_figures() -> None:
    told = said(stopped())
    assert "hatch, 150 × 100 mm, 5 mm proud, opened 100 times a year" in told
    assert "It lifts up and off without a tool" in told
    assert f"{len(stopped().hang.leaves[0].cleat.fixings)} fixings in the wall" in told


def test_every_way_to_open_has_its_guess_and_text_is_quoted() -> None:
    assert set(OPENS_IN_S) == set(OPENED_AS)
    assert brief_lines({"of": 'the "old" board', "lock": True})[1:3] == ('of = "the \\"old\\" board"', "lock = true")


FIRST = (ROOT / "examples" / "first.toml").read_text()
WATER = 'medium = "water"'


def with_meter(keys: str) -> Plan:
    assert WATER in FIRST
    return plan_of(FIRST.replace(WATER, keys))


def test_the_trade_whose_thing_is_covered_is_asked_where_it_is_fed_and_who_drills() -> None:
    assert heads(with_meter(WATER)) == ["For the supplier of the meter"]
    told = said(with_meter('medium = "gas"'))
    for word in ("gas fitter", "supplier of the meter", "fed_from", "300 mm", "who drills", "smells of gas"):
        assert word in told
    gas = with_meter('medium = "gas"')
    places = {point.x_nm // 10**6 for point in gas.hang.leaves[0].cleat.fixings}
    assert all(f"{x}" in told for x in places)
    assert the(gas, "gas_reach").verdict is Verdict.STOP


def test_the_sweep_and_the_heating_engineer_are_asked() -> None:
    assert "For the chimney sweep" in heads(example("S8"))
    assert "For the heating engineer or plumber" in heads(example("S2"))


def test_working_space_is_for_the_authority_alone() -> None:
    board = example_text("S7").replace("x = 1480", "x = 1400")
    asked = heads(plan_of(board))
    assert the(plan_of(board), "space").verdict is Verdict.STOP
    assert "For the local authority" in asked
    page = said(plan_of(board))
    assert page.index("May the room before it be that much less?") > page.index("For the local authority")


def test_a_gas_valve_that_swings_open_by_hand_is_asked_about_and_stops_nothing() -> None:
    text = FIRST.replace(WATER, 'medium = "gas"') + '\n[access]\nopens = "swing"\n'
    assert the(plan_of(text), "gas_reach").verdict is Verdict.CAUTION
    assert the(plan_of(text + "tool = true\n"), "gas_reach").verdict is Verdict.STOP
