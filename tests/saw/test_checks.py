"""The stage's own words and checks: what the saw cuts, the maker's seconds, shelf first, cures as a maker says them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bossage.brief import read_brief
from bossage.checks import Verdict
from bossage.saw import Piece, SawJob, SawPlan, Shortfall, StickStock, plan_sticks
from bossage.saw.cautions import saw_cautions
from bossage.saw.checks import section_checks
from bossage.saw.section_cuts import time_model
from tests.scenarios.cases import ROOT, found, plan_of, varied, verdict

MM = 1_000_000
FIRST = (ROOT / "examples" / "first.toml").read_text()


def told(plan, name):
    (check,) = found(plan, name)
    return check


def test_the_makers_seconds_reach_the_saw():
    tools = '\n[tools]\nset_time = 90\nload_time = "0.5 min"\ncut_time = 12\nsticks_at_once = 3\n'
    model = time_model(read_brief(FIRST + tools))
    assert (model.change_s, model.load_s, model.cut_s, model.at_once) == (90, 30, 12, 3)


def test_a_slow_stop_makes_runs_and_a_slow_fetch_goes_stick_by_stick():
    runs = varied("S2", "slow stop", lambda b: b["tools"].update(set_time=900, load_time=1))
    sticks = varied("S2", "slow fetch", lambda b: b["tools"].update(set_time=1, load_time=900))
    for cut in runs.saw.sections:
        assert cut.bought.handling.changes == len(cut.rows)
        assert cut.bought.handling.seconds <= cut.bought.other_handling.seconds
    assert {cut.bought.handling.mode for cut in sticks.saw.sections if len(cut.bought.sticks) > 1} == {"by_stick"}


@pytest.mark.parametrize(
    ("capacity", "wanted"),
    [((90, 60), "fine"), ((45, 95), "fine"), ((95, 45), "fine"), ((94, 45), "stop"), ((120, 44), "stop")],
)
def test_a_section_that_the_saw_does_not_cut_is_refused_with_its_cure(capacity, wanted):
    plan = varied("S2", f"capacity {capacity}", lambda b: b["tools"].update(capacity=list(capacity)))
    # the widest of S2's sections is 45 × 95
    assert verdict(plan, "saw_capacity") == ("fine" if min(capacity) >= 45 and max(capacity) >= 95 else "stop")
    if wanted == "stop" and capacity == (94, 45):
        check = next(c for c in found(plan, "saw_capacity") if c.verdict is Verdict.STOP)
        assert "1 mm too wide" in check.found
        assert "94 × 45 mm" in check.allowed
        assert "smaller section" in check.remedy
    assert verdict(plan_of("S2"), "saw_capacity") == "none"


def test_cures_are_said_as_a_maker_says_them():
    check = told(plan_of("S2"), "short_stock")
    assert "cut one spare less of 18 mm; that frees 20.2 mm and saves a stick of the blocks" in check.remedy
    assert "5 mm too long" in check.found
    one = varied("S2", "one 45 stick", lambda b: b["stick"][2].update(count=1))
    (short,) = list(found(one, "stock_missing"))
    assert "cut one spare less of 18 mm; that frees 20.2 mm" in short.remedy
    assert "buy one more length of" in short.remedy


def test_what_lies_on_the_shelf_is_used_first_and_a_limited_count_is_kept():
    def shelf(brief):
        brief["stick"].append({**brief["stick"][0], "owned": True, "count": 1, "length": 2000, "price": 0})
        brief["stick"][0]["count"] = 1

    plan = varied("S2", "shelf", shelf)
    cut = next(cut for cut in plan.saw.sections if cut.section == plan.brief.sticks[0].name)
    used = [(stick.stock.owned, stick.stock.length_nm) for stick in cut.bought.sticks]
    assert used.count((True, 2000 * 10**6)) == 1
    assert sum(not owned for owned, _ in used) == 1
    assert not [c for c in section_checks(plan.brief, cut) if c.name == "stock_missing"]


def test_each_cure_of_a_shortfall_lets_the_job_be_sawn():
    short = SawJob(
        pieces=(
            Piece(length_nm=40 * MM, count=30, spares=2),
            Piece(length_nm=22 * MM, count=24, spares=2),
        ),
        sticks=(
            StickStock(name="a", length_nm=1900 * MM, price_cents=100, count=1, trim_nm=20 * MM, stub_nm=150 * MM),
        ),
        kerf_nm=2 * MM,
    )
    answer = plan_sticks(short)
    assert isinstance(answer, Shortfall)
    assert answer.need_nm - answer.usable_nm <= answer.short_nm
    drops = [cure for cure in answer.cures if cure.drop]
    buys = [cure for cure in answer.cures if cure.buy_nm]
    assert drops
    assert buys
    for cure in drops:
        dropped = dict(cure.drop)
        less = replace(
            short,
            pieces=tuple(replace(p, count=p.count - dropped.get(p.length_nm, 0), spares=0) for p in short.pieces),
        )
        assert sum(n * (length + short.kerf_nm) for length, n in cure.drop) == cure.saves_nm
        assert isinstance(plan_sticks(less), SawPlan)
    more = StickStock(name="more", length_nm=buys[0].buy_nm, price_cents=1, count=1, trim_nm=20 * MM, stub_nm=150 * MM)
    assert isinstance(plan_sticks(replace(short, sticks=(*short.sticks, more))), SawPlan)
    # half of what it must hold is not enough
    room = (buys[0].buy_nm - 170 * MM) // 2
    less = replace(more, length_nm=170 * MM + min(room, answer.need_nm - answer.usable_nm - 1))
    assert isinstance(plan_sticks(replace(short, sticks=(*short.sticks, less))), Shortfall)


def test_each_saving_that_is_named_saves_what_it_says():
    cut = next(cut for cut in plan_of("S2").saw.sections if cut.section == "45")
    (saving,) = cut.plan.savings
    stock = cut.plan.sticks[0].stock
    job = SawJob(
        pieces=tuple(
            Piece(length_nm=row.length_nm, count=row.slices - dict(saving.drop).get(row.length_nm, 0))
            for row in cut.rows
        ),
        sticks=(stock,),
        kerf_nm=cut.kerf_nm,
    )
    after = plan_sticks(job)
    assert len(after.sticks) == len(cut.plan.sticks) - saving.frees
    assert after.money_cents == cut.plan.money_cents - saving.saves_cents


def test_a_mitre_box_holds_a_shorter_stub_and_has_cautions_of_its_own():
    by_hand = FIRST + '\n[tools]\nsaw = "mitre box"\n'
    stick = "\n[[stick]]\nlength = 2400\n"
    for text, stub in ((FIRST, 200), (by_hand, 80), (FIRST + stick, 200), (by_hand + stick, 80)):
        assert {one.stub_nm for one in read_brief(text).sticks} == {stub * MM}
    said = [(used.field, used.value) for used in read_brief(by_hand + stick).defaults if "stub" in used.field]
    assert said == [("stick[1].stub", "80 mm")]
    assert {one.stub_nm for one in read_brief(by_hand + stick + "stub = 60\n").sticks} == {60 * MM}
    heeded = saw_cautions(read_brief(by_hand), bevels=False, cut_outs=False, strips=False)
    texts = " ".join(caution.text for caution in heeded if caution.step == "saw")
    assert "Clamp the stick in the mitre box" in texts
    assert "Never trap" not in texts
    assert "The last 80 mm" in texts
    at_a_saw = saw_cautions(read_brief(FIRST), bevels=False, cut_outs=False, strips=False)
    assert "Never trap" in " ".join(caution.text for caution in at_a_saw)
