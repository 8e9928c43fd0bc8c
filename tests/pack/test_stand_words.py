"""What is moved first, who stands where, and what somebody does who is alone, in the words of cards and sheets."""

from __future__ import annotations

from dataclasses import replace

from tests.scenarios.cases import plan_of

from bossage.checks import Agreement, Verdict
from bossage.pack.drawings.behind import hiding
from bossage.pack.sheet import Steps, Table, parts_of
from bossage.pack.sheets.cards import access_sheet
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.stand_words import (
    alone_parts,
    move_steps,
    people_to_lift,
    seconds_to_open,
    stand_steps,
    stand_table,
)
from bossage.plan import Plan, make_plan
from bossage.units import NM_PER_MM


def moved_s2() -> Plan:
    brief = plan_of("S2").brief
    bench = replace(brief.furniture[0], moved_nm=600 * NM_PER_MM, moved_by="Ida and Jo")
    plan = make_plan(replace(brief, furniture=(bench,)))
    assert isinstance(plan, Plan)
    return plan


def test_what_is_moved_is_the_first_step_and_costs_time():
    stays, moved = plan_of("S2"), moved_s2()
    words, leaf = words_of(moved), moved.layout.leaves[0].name
    steps = next(part for part in access_sheet(moved).parts if isinstance(part, Steps))
    assert "Move the bench out into the room by 600 mm, Ida and Jo" in steps.texts[0]
    assert "stays where it is" in move_steps(stays, leaf, words)[0]
    assert seconds_to_open(moved, leaf) > seconds_to_open(stays, leaf)


def test_two_people_are_told_their_half_and_what_is_over_the_limit():
    plan = plan_of("S2")
    leaf = plan.layout.leaves[0].name
    assert people_to_lift(plan, leaf) == 2
    (step,) = stand_steps(plan, leaf, words_of(plan))
    half = words_of(plan).mass(plan.hang.leaf_masses[0].total_g / 2)
    assert f"Each carries about {half}" in step
    assert "over the 1 that is asked for" in step
    assert "over the 1" not in stand_steps(moved_s2(), leaf, words_of(plan))[0]


def test_both_cases_stand_in_the_table_and_one_counts():
    table = next(part for part in stand_table(plan_of("S2"), words_of(plan_of("S2"))) if isinstance(part, Table))
    assert {"in place", "bench"} == {("bench" if "bench out" in row[0] else "in place") for row in table.rows}
    assert sum(row[-1] == "counts" for row in table.rows) == 1


def test_somebody_alone_is_told_where_else_it_is_shut_off():
    plan = plan_of("S2")
    two = [part for part in alone_parts(plan, 2, hiding(plan)) if isinstance(part, Table)]
    assert two[0].rows[0][0] == "main stop cock of the water"
    assert not [part for part in alone_parts(plan, 1, hiding(plan)) if isinstance(part, Table)]


def test_a_card_promises_no_empty_space_that_falls_short():
    narrow = plan_of("S7")  # with its leaf standing open
    fine = tuple(replace(c, verdict=Verdict.FINE) if c.name == "open_space" else c for c in narrow.checks)
    plan = replace(narrow, checks=fine)
    said = [
        row[1] for part in parts_of(access_sheet(plan)) if isinstance(part, Table) for row in part.rows if len(row) > 1
    ]
    assert any("kept empty" in text for text in said)
    short = tuple(replace(c, verdict=Verdict.STOP) if c.name == "space" else c for c in plan.checks)
    sheet = access_sheet(replace(plan, checks=short))
    said = [row[1] for part in parts_of(sheet) if isinstance(part, Table) for row in part.rows if len(row) > 1]
    assert any("nobody has agreed to" in text for text in said)
    assert not any("kept empty" in text for text in said)


def test_a_second_person_who_was_promised_stays_on_the_card():
    plan = plan_of("S2")
    leaf = plan.layout.leaves[0].name
    agreement = Agreement(was=Verdict.CAUTION, by="R. Voss", on="2026-03-02", agreed="19 kg", condition="", words="")
    settled = tuple(
        replace(c, verdict=Verdict.FINE, settled=agreement) if c.name in ("two_people", "lift") else c
        for c in plan.checks
    )
    assert people_to_lift(replace(plan, checks=settled), leaf) == 2
