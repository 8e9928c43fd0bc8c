"""What somebody agreed to is quiet, and speaks up again exactly where its figure got worse or it was moved."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from bossage.asking import AnswerState, answer_of, is_worse, to_settle
from bossage.brief import BriefFaults, read_brief
from bossage.brief.amend import amend_text
from bossage.checks import Check, Edit, Measure, Verdict, worst
from bossage.plan import Plan, make_plan
from bossage.remedies import advised
from bossage.settling import SETTLEABLE, Who
from bossage.stakes import KINDS, Kind
from tests.check_calls import check_calls

BRIEF = """
[piece]
name = "settled"
unit = "{unit}"
[rules]
country = "United States"
[wall]
width = "3000 mm"
height = "2500 mm"
build = "masonry"
circulation = {circulation}
below = "{below}"
[[fixture]]
name = "hatch"
kind = "hatch"
x = "{fixture_x} mm"
y = "1400 mm"
width = "150 mm"
height = "100 mm"
proud = "5 mm"
opened_per_year = {often}
[[keep_clear]]
name = "heater"
x = "1700 mm"
y = "1300 mm"
width = "200 mm"
height = "500 mm"
margin = "100 mm"
[cleat]
thickness = "18 mm"
packer = "12 mm"
[fixings]
allowable = "40 kg"
pull_allowable = "40 kg"
[backer]
thickness = "12 mm"
[edge]
overhang = "10 mm"
[blocks]
columns = 6
rows = 10
levels = [{levels}]
[[leaf]]
name = "whole"
x = "{leaf_x} mm"
y = "1300 mm"
[[footprint]]
width = "50 mm"
height = "50 mm"
spread = "0 mm"
[[family]]
name = "moss"
colour = "#5F7A55"
lightness = [46, 54, 62, 70]
home = "left"
"""

PLAIN = {
    "unit": "mm", "circulation": "false", "below": "none", "often": 2, "fixture_x": 1275, "leaf_x": 1200, "lift_mm": 0,
}  # fmt: skip


def text_of(**told: object) -> str:
    values = PLAIN | told
    levels = ", ".join(f'"{level + int(str(values["lift_mm"]))} mm"' for level in (20, 26, 32, 38))
    return BRIEF.format(**values, levels=levels)


def plan_of(text: str) -> Plan:
    made = make_plan(read_brief(text))
    assert isinstance(made, Plan), made
    return made


def the(plan: Plan, name: str) -> Check:
    (check,) = [one for one in plan.checks if one.name == name]
    return check


def settled(text: str, plan: Plan, check: Check, **said: str) -> str:
    value = {**answer_of(check, plan.brief, plan.hang), "by": "R. Voss", "on": "2026-03-02", **said}
    return amend_text(text, [Edit(op="append", path=("settled",), value=value)])


def case(number: int) -> tuple[str, dict[str, object], dict[str, object], bool]:
    """A check, a brief in which it speaks, a changed one, and whether its figure is worse: by inputs, not by a plan."""
    lot = random.Random(number)
    name = ("lift_off", "keep_clear", "protrusion", "over_bed", "cover_margin")[number % 5]
    way = (-1, 0, 1)[number // 5 % 3]
    step = way * lot.randint(2, 15)
    before: dict[str, object] = {"unit": lot.choice(("mm", "in"))}
    after: dict[str, object] = {"unit": lot.choice(("mm", "in"))}
    if name == "lift_off":
        often = lot.randint(80, 300)
        return name, before | {"often": often}, after | {"often": often + step}, step > 0
    if name == "keep_clear":  # the piece of 300 mm ends that far from the heater at 1700
        near = lot.randint(20, 80)
        return name, before | {"leaf_x": 1400 - near}, after | {"leaf_x": 1400 - near - step}, step < 0
    if name == "protrusion":
        lift = lot.randint(60, 80)
        one, other = {"circulation": "true", "lift_mm": lift}, {"circulation": "true", "lift_mm": lift + step}
        return name, one, other, step > 0
    if name == "over_bed":  # every block longer: heavier
        lift = lot.randint(20, 40)
        return name, {"below": "bed", "lift_mm": lift}, {"below": "bed", "lift_mm": lift + step}, step > 0
    past = lot.randint(20, 60)  # the hatch shows by that much at the left
    return name, before | {"leaf_x": 1275 + past}, after | {"leaf_x": 1275 + past - step}, step < 0


@pytest.mark.parametrize("number", range(30))
def test_the_stop_comes_back_exactly_where_its_figure_got_worse(number: int) -> None:
    name, before, after, worse = case(number)
    text = text_of(**before)
    plan = plan_of(text)
    assert the(plan, name).verdict is Verdict.STOP
    assert to_settle(the(plan, name))

    quiet = the(plan_of(settled(text, plan, the(plan, name))), name)
    assert quiet.verdict is Verdict.FINE
    assert quiet.settled is not None
    assert quiet.settled.was is Verdict.STOP

    changed = text_of(**after)
    again = plan_of(settled(changed, plan, the(plan, name)))
    assert the(plan_of(changed), name).verdict is Verdict.STOP  # whatever was agreed, it has not healed
    assert (the(again, name).verdict is Verdict.STOP) == worse
    assert [one.state for one in again.settled] == [AnswerState.WORSE if worse else AnswerState.HOLDS]
    if worse:
        assert "R. Voss agreed on 2026-03-02, but " in the(again, name).found


def test_the_thirty_hold_better_equal_and_worse_of_every_check() -> None:
    seen = {(case(n)[0], case(n)[3]) for n in range(30)}
    assert len(seen) == 10


@pytest.mark.parametrize(("moved_mm", "stops"), [(0, False), (1, False), (3, True), (-40, True)])
def test_what_was_agreed_is_asked_again_when_the_thing_is_moved(moved_mm: int, stops: bool) -> None:
    plan = plan_of(text_of(often=100))
    text = settled(text_of(often=100, fixture_x=1275 + moved_mm), plan, the(plan, "lift_off"))
    check = the(plan_of(text), "lift_off")
    assert (check.verdict is Verdict.STOP) is stops


def test_a_lock_that_is_taken_off_again_is_asked_about_again_and_one_that_is_fitted_is_not() -> None:
    bare = text_of(below="bed")
    locked = bare + '\n[access]\nlock = true\nlock_allowable = "40 kg"\n'
    with_lock, without = plan_of(locked), plan_of(bare)
    taken_off = settled(bare, with_lock, the(with_lock, "over_bed"))
    assert the(plan_of(taken_off), "over_bed").verdict is Verdict.STOP
    light = {"for": "20 kg"}
    fitted = settled(locked, without, the(without, "over_bed"), **light)
    assert the(plan_of(fitted), "over_bed").settled is not None


def test_an_answer_that_does_not_say_how_it_was_settles_nothing() -> None:
    text = (
        text_of(often=100) + '\n[[settled]]\ncheck = "lift_off"\nby = "R. Voss"\non = 2026-03-02\nfor = "200 a year"\n'
    )
    plan = plan_of(text)
    assert the(plan, "lift_off").verdict is Verdict.STOP
    assert plan.settled[0].state is AnswerState.UNSAID
    assert plan.settled[0].why.endswith("add place")


def test_an_answer_to_what_says_nothing_is_idle() -> None:
    text = text_of() + '\n[[settled]]\ncheck = "two_people"\nby = "R. Voss"\non = 2026-03-02\nfor = "24 lb"\n'
    assert [one.state for one in plan_of(text).settled] == [AnswerState.IDLE]


def test_a_settled_stop_is_said_quietly_and_does_not_stop_the_plan() -> None:
    text = text_of(often=100)
    plan = plan_of(text)
    assert worst(plan.checks) is Verdict.STOP
    quiet = plan_of(settled(text, plan, the(plan, "lift_off"), words="we like it", **{"with": "a hook beside it"}))
    assert worst(quiet.checks) is not Verdict.STOP
    check = the(quiet, "lift_off")
    assert check.found.endswith(
        "settled by R. Voss on 2026-03-02, for 100 times a year, with a hook beside it (“we like it”)"
    )
    assert check.care == check.remedy == ""


def test_a_stop_that_may_be_asked_about_says_whom_to_ask() -> None:
    stop = the(plan_of(text_of(often=100)), "lift_off")
    assert "a yes from those who live with it lifts this stop" in stop.care
    assert "knowing choice" not in " ".join(one.care for one in plan_of(text_of()).checks if _who(one) is not Who.MAKER)
    assert "knowing choice" in " ".join(one.care for one in plan_of(text_of(leaf_x=1250)).checks)


def _who(check: Check) -> Who | None:
    return SETTLEABLE[check.name].who if check.name in SETTLEABLE else None


def test_no_remedy_is_advised_that_would_break_what_somebody_agreed_to() -> None:
    text = text_of(leaf_x=1350)
    plan = plan_of(text)
    text = settled(text, plan, the(plan, "keep_clear"))
    for check in advised(text, plan_of(text)).checks:
        if check.advice.value == "remedy":
            tried = make_plan(read_brief(text, check.edits))
            assert isinstance(tried, Plan)
            assert all(one.settled or one.verdict is Verdict.FINE for one in tried.checks if one.name == "keep_clear")


def test_only_checks_of_the_product_can_be_settled_and_each_gives_its_figure() -> None:
    assert set(SETTLEABLE) <= set(KINDS)
    later = {
        "ready_access",
        "meter_reach",
        "gas_reach",
        "pipes_reach",
        "escape_route",
    }  # the mass is known when all is planned
    for call in check_calls():
        if set(call.names) & set(SETTLEABLE) - later and "figure" not in call.words:
            assert call.verdict == "Verdict.FINE", call
        assert "figure" not in call.words or set(call.names) <= set(SETTLEABLE)


def test_what_is_taste_or_the_makers_own_risk_alone_is_the_makers_to_choose() -> None:
    for name, may in SETTLEABLE.items():
        if may.who is Who.MAKER:
            assert KINDS[name] is not Kind.HARM


@pytest.mark.parametrize(
    "name", ["load_path", "studs", "tug", "drill_zones", "refusal", "furniture_clash", "stock_missing", "body_path"]
)
def test_no_answer_is_taken_to_what_nobody_can_agree_to(name: str) -> None:
    text = text_of() + f'\n[[settled]]\ncheck = "{name}"\nby = "R. Voss"\non = 2026-03-02\nfor = 1\n'
    with pytest.raises(BriefFaults, match="No answer changes what bossage refuses, a load path"):
        read_brief(text)


def test_a_figure_of_another_unit_and_an_answer_without_a_day_are_faults() -> None:
    text = text_of() + '\n[[settled]]\ncheck = "lift"\nby = "R. Voss"\non = ""\nfor = "24 mm"\n'
    with pytest.raises(BriefFaults) as told:
        read_brief(text)
    assert {fault.field for fault in told.value.faults} == {"settled[1].on", "settled[1].for"}


@pytest.mark.parametrize(
    ("check", "now", "agreed", "worse"),
    [
        ("lift", Measure(value=10_900.0, unit="g"), 10_886.22, False),  # 24 lb, as it is printed
        ("lift", Measure(value=10_950.0, unit="g"), 10_886.22, True),  # 24.1 lb
        ("swing_angle", Measure(value=80.0, unit="deg"), 80.0, False),
        ("swing_angle", Measure(value=79.0, unit="deg"), 80.0, True),
        ("cover_margin", Measure(value=-30.0, unit="mm"), -30.0, False),
        ("cover_margin", Measure(value=-32.0, unit="mm"), -30.0, True),
    ],
)
def test_worse_is_what_is_printed_worse(check: str, now: Measure, agreed: float, worse: bool) -> None:
    assert is_worse(check, now, agreed) is worse


def test_an_answer_for_one_of_several_must_say_which() -> None:
    plan = plan_of(text_of(often=100))
    stop = the(plan, "lift_off")
    assert replace(stop, subject="other").subject not in answer_of(stop, plan.brief, plan.hang).values()
    assert answer_of(stop, plan.brief, plan.hang)["of"] == "hatch"


def test_a_board_behind_a_piece_that_lifts_off_is_settled_by_mass_and_by_how_it_opens() -> None:
    text = text_of().replace('kind = "hatch"', 'kind = "electrical enclosure"')
    plan = plan_of(text)
    stop = the(plan, "ready_access")
    assert stop.verdict is Verdict.STOP
    assert "a yes from electrician or authority lifts this stop" in stop.care
    heaviest_g = max(one.total_g for one in plan.hang.leaf_masses)
    assert stop.figure == Measure(value=heaviest_g, unit="g")
    assert the(plan_of(settled(text, plan, stop)), "ready_access").settled is not None
    tool = plan_of(settled(text + "\n[access]\ntool = true\n", plan, stop))
    assert the(tool, "ready_access").verdict is Verdict.STOP
    assert tool.settled[0].why == "it was to be: lift-off; it is: lift-off with a tool"


@pytest.mark.parametrize(("out_mm", "up_mm", "state"), [
    (0, 0, AnswerState.HOLDS), (-50, 0, AnswerState.HOLDS), (50, 0, AnswerState.MOVED), (0, 120, AnswerState.MOVED),
])  # fmt: skip
def test_a_lift_is_asked_about_again_where_the_hands_are_further_off(
    out_mm: int, up_mm: int, state: AnswerState
) -> None:
    text = text_of(lift_mm=60) + '\n[lift]\nhorizontal = "620 mm"\nper_minute = 5\n'
    plan = plan_of(text)
    lift = the(plan, "lift")
    assert lift.verdict is not Verdict.FINE
    (now,) = plan.hang.liftings
    hands = [now.horizontal_nm / 1e6 - out_mm, now.vertical_nm / 1e6 - up_mm]
    answer = {**answer_of(lift, plan.brief, plan.hang), "by": "R. Voss", "on": "2026-03-02"}
    answer["hands"] = [f"{one} mm" for one in hands]
    after = plan_of(amend_text(text, [Edit(op="append", path=("settled",), value=answer)]))
    assert [one.state for one in after.settled] == [state]
