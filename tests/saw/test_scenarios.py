"""The saw.* and sheet.* rows of our own scenarios, inputs beside the numbers that were worked out by hand script."""

from __future__ import annotations

import pytest

from bossage.saw import (
    Panel,
    Piece,
    SawJob,
    SawPlan,
    SheetJob,
    SheetPlan,
    SheetStock,
    StickStock,
    most_per_sheet,
    plan_sheets,
    plan_sticks,
)
from tests.saw.boards import checker as sheet_checker
from tests.saw.sticks import checker as stick_checker

IN = 25_400_000
MM = 1_000_000


def job_of(unit, pieces, stick, trim, stub, kerf, price, spares_pct):
    cut = []
    for length, count in pieces.items():
        spares = -(-count * spares_pct // 100)
        cut.append(Piece(length_nm=round(length * unit), count=count + spares, name=f"level {length}", spares=spares))
    return SawJob(
        pieces=tuple(cut),
        sticks=(
            StickStock(
                name="stick",
                length_nm=stick * unit,
                price_cents=price,
                trim_nm=round(trim * unit),
                stub_nm=stub * unit,
            ),
        ),
        kerf_nm=round(kerf * unit),
        keep_offcut_nm=300 * MM,
    )


S1_BIG = (IN, {0.75: 15, 1.125: 16, 1.5: 17, 2: 16, 2.5: 14}, 96, 1.5, 8, 0.098, 1500, 8)
S1_SMALL = (IN, {0.75: 24, 1.125: 24, 1.5: 24, 2: 24}, 96, 1.5, 8, 0.098, 500, 8)
S2_70 = (MM, {18: 20, 22: 22, 26: 22, 30: 22, 35: 22, 40: 20}, 3000, 30, 200, 2.2, 840, 8)
S2_95 = (MM, {18: 10, 22: 11, 26: 11, 30: 11, 35: 11, 40: 10}, 3000, 30, 200, 2.2, 1120, 8)
S2_45 = (MM, {18: 10, 22: 10, 26: 10, 30: 11, 35: 12, 40: 11}, 2400, 30, 200, 2.2, 460, 8)
S3_BIG = (MM, {20: 45, 26: 48, 32: 48, 38: 45, 44: 45, 50: 45}, 2400, 40, 250, 3.2, 1900, 6)
S3_SMALL = (MM, {20: 18, 26: 18, 32: 15, 38: 15, 44: 15, 50: 15}, 2400, 40, 200, 3.2, 420, 6)
S4 = (IN, {0.5: 156, 0.75: 156, 1: 156, 1.25: 144, 1.5: 126, 1.75: 126}, 96, 1, 10, 0.125, 480, 5)
S7 = (MM, {13: 16, 18: 16, 24: 24, 29: 24, 35: 23, 40: 23, 46: 7, 51: 7}, 2400, 25, 180, 2.6, 980, 8)
S8 = (
    IN,
    {0.625: 22, 0.875: 21, 1.125: 21, 1.375: 20, 1.625: 20, 1.875: 20, 2.125: 20},
    72,
    1,
    9,
    0.109375,
    850,
    8,
)


@pytest.mark.parametrize(
    ("inputs", "usable", "slices", "need", "sticks", "greedy", "slack", "settings"),
    [
        pytest.param(S1_BIG, 86.5, 88, 146.124, 2, 2, 26.876, 5, id="S1 big"),
        pytest.param(S1_SMALL, 86.5, 104, 149.942, 2, 2, 23.058, 4, id="S1 small"),
        pytest.param(S2_70, 2770, 140, 4296, 2, 2, 1244, 6, id="S2 70"),
        pytest.param(S2_95, 2770, 70, 2148, 1, 1, 622, 6, id="S2 95"),
        pytest.param(S2_45, 2170, 70, 2175, 2, 2, 2165, 6, id="S2 45"),
        pytest.param(S3_BIG, 2110, 294, 11194.8, 6, 6, 1465.2, 6, id="S3 big"),
        pytest.param(S3_SMALL, 2160, 104, 3876.8, 2, 2, 443.2, 6, id="S3 small"),
        pytest.param(S4, 85, 910, 1105, 13, 14, 0, 6, id="S4"),
        pytest.param(S7, 2195, 154, 4987.4, 3, 3, 1597.6, 8, id="S7"),
        pytest.param(S8, 62, 158, 232.28125, 4, 4, 15.71875, 7, id="S8"),
    ],
)
def test_rows_of_the_scenarios(inputs, usable, slices, need, sticks, greedy, slack, settings):
    job = job_of(*inputs)
    plan = plan_sticks(job)
    unit = inputs[0]
    assert isinstance(plan, SawPlan)
    assert not stick_checker.faults(job, plan)
    assert plan.sticks[0].usable_nm == round(usable * unit)
    assert plan.slices == slices
    assert plan.need_nm == round(need * unit)
    assert len(plan.sticks) == plan.bound_sticks == sticks
    assert plan.greedy is not None
    assert plan.greedy.sticks == greedy
    assert plan.slack_nm == round(slack * unit)
    assert len(plan.settings) == settings
    assert plan.proven


def test_s2_is_five_millimetres_short_of_one_stick_and_one_spare_frees_it():
    job = job_of(*S2_45)
    plan = plan_sticks(job)
    assert plan.short_for_one_fewer_nm == 5 * MM
    (cure,) = plan.savings
    assert cure.drop == ((18 * MM, 1),)
    assert cure.saves_nm == round(20.2 * MM)
    assert (cure.frees, cure.saves_cents) == (1, 460)
    assert plan.need_nm - cure.saves_nm == round(2154.8 * MM)


def test_s2_without_spares_has_nothing_to_give_up():
    inputs = list(S2_45)
    inputs[1] = {length: count + 1 for length, count in S2_45[1].items()}
    inputs[-1] = 0
    plan = plan_sticks(job_of(*inputs))
    assert plan.savings == ()


def test_s4_has_no_slack_and_fourteen_sticks_are_advised():
    plan = plan_sticks(job_of(*S4))
    assert plan.tight
    assert len(plan.advised.sticks) == 14
    assert plan.advised.slack_nm == 85 * IN
    assert plan.advised.money_cents == 14 * 480


def test_s1_is_not_tight():
    plan = plan_sticks(job_of(*S1_BIG))
    assert not plan.tight
    assert plan.advised is plan


def test_s3_two_backers_a_sheet_and_three_proven_impossible():
    panel = Panel(name="backer", width_nm=880 * MM, length_nm=880 * MM, count=3)
    sheet = SheetStock(name="ply", width_nm=1220 * MM, length_nm=2440 * MM, price_cents=4200)
    job = SheetJob(panels=(panel,), sheets=(sheet,), kerf_nm=round(3.2 * MM))
    plan = plan_sheets(job)
    assert isinstance(plan, SheetPlan)
    assert not sheet_checker.faults(job, plan)
    assert (len(plan.sheets), plan.proven, plan.money_cents) == (2, True, 8400)
    assert [(p.x_nm, p.y_nm) for p in plan.sheets[0].panels] == [(0, 0), (0, round(883.2 * MM))]
    assert plan.most_per_sheet == (("backer", "ply", 2, True),)


def test_s4_five_backers_a_sheet_and_six_proven_impossible():
    panel = Panel(name="backer", width_nm=round(20.25 * IN), length_nm=round(35.25 * IN), count=6)
    sheet = SheetStock(name="ply", width_nm=48 * IN, length_nm=96 * IN, price_cents=5800)
    n, places, proven = most_per_sheet(panel, sheet, IN // 8)
    assert (n, proven) == (5, True)
    assert [(p.x_nm / IN, p.y_nm / IN, p.turned) for p in places] == [
        (0, 0, False),
        (20.375, 0, False),
        (0, 35.375, False),
        (20.375, 35.375, False),
        (0, 70.75, True),
    ]
    job = SheetJob(panels=(panel,), sheets=(sheet,), kerf_nm=IN // 8)
    plan = plan_sheets(job)
    assert not sheet_checker.faults(job, plan)
    assert (len(plan.sheets), plan.proven) == (2, True)
