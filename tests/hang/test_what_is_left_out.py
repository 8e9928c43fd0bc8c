"""What is not reckoned, who is below, and figures of our own: each with the brief whose verdict it turns."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from bossage.brief import read_brief
from bossage.brief.records import Below
from bossage.checks import Verdict
from bossage.plan import NoPlan, make_plan
from tests.hang.making import PLUGS, hung, verdict

EXAMPLES = Path(__file__).parents[2] / "examples"


def planned(text):
    plan = make_plan(read_brief(text))
    assert not isinstance(plan, NoPlan)
    return plan


def check(plan, name):
    return next((one for one in plan.hang.checks if one.name == name), None)


def test_a_margin_between_1_and_a_quarter_more_is_a_stop():
    # the mass that 4 plugs hold with a margin of 1.25, and some more that they still hold with a margin over 1
    one = {**PLUGS, "fixings__count": 4}
    held = next(link for link in hung(**one, piece__weighed_g=1_000.0).links if link.name == "fixings in the wall")
    most = 1_000.0 * held.margin / 1.25
    assert verdict(hung(**one, piece__weighed_g=0.99 * most), "load_path") == "fine"
    assert verdict(hung(**one, piece__weighed_g=1.01 * most), "load_path") == "stop"
    # what is left out takes no more than that: a tenth of mass, bearing 2 mm above the edge, holes 2 mm low, alone
    lever, hole, before = 66.0, 29.0, 9.0
    pull = (lever + before) / hole
    worse = [1.1 * math.hypot(pull, 1)]
    worse += [math.hypot((lever - 2 + before) / (hole - 2), 1), math.hypot((lever + before) / (hole - 2), 1)]
    assert max(worse) / math.hypot(pull, 1) < 1.25


def test_a_bench_below_is_a_seat():
    text = (EXAMPLES / "s2-brenlow-terrace.toml").read_text()
    brief = read_brief(text)
    assert brief.wall.below is Below.SEAT
    assert check(planned(text), "over_seat").verdict is Verdict.CAUTION
    # as it was: plugs of 6 kg and no lock
    old = text.replace('"12 kg"', '"6 kg"').replace("lock = true ", "lock = false")
    assert check(planned(old), "over_seat").verdict is Verdict.STOP
    assert "lock" in check(planned(old), "over_seat").found
    assert check(planned(old), "load_path").verdict is Verdict.STOP


@pytest.mark.parametrize(
    ("example", "along_n", "rated_n"),
    [
        ("s2-brenlow-terrace", 25, 12 * 9.80665 / 2),
        ("s3-tarnwick-school", 50, 15 * 9.80665),
        ("s8-gannet-row", 10.4 * 4.4482, 25 * 4.4482 / 2),
    ],
)
def test_what_is_said_of_a_plug_is_what_its_screw_carries_over_plaster(example, along_n, rated_n):
    # an engineer's table: what the screw bends at over the plaster, and what was printed instead: the figure of the
    # brief, halved over people
    text = (EXAMPLES / f"{example}.toml").read_text()
    for covering, allowed_n in ((None, along_n), (0, rated_n)):
        plan = planned(text if covering is None else re.sub(r"covering = .*", "covering = 0", text))
        held = [link for link in plan.hang.links if link.name == "fixings in the wall"]
        assert held
        for link in held:
            assert link.shear_allowable_n == pytest.approx(allowed_n, rel=0.01)
        said = check(plan, "over_seat") or check(plan, "over_bed")
        unit = f"{allowed_n / 4.4482:.1f} lbf" if plan.brief.piece.unit == "in" else f"{allowed_n:.0f} N"
        assert said is None or f"each fixing counts for half, {unit}" in said.found


@pytest.mark.parametrize("kind", ["table", "counter"])
def test_for_a_table_the_plan_asks_who_sits_there(kind):
    text = (EXAMPLES / "first.toml").read_text()
    there = text + f'[[furniture]]\nkind = "{kind}"\ncentre = 1400\nwidth = 900\ntop = 740\n'
    assert check(planned(text), "who_is_below") is None
    assert check(planned(there), "who_is_below").verdict is Verdict.CAUTION
    beside = there.replace("centre = 1400\nwidth = 900", "centre = 2700\nwidth = 900")
    assert check(planned(beside), "who_is_below") is None
    for said, over in (("none", None), ("seat", Verdict.STOP)):
        plan = planned(there.replace("[wall] ", f'[wall]\nbelow = "{said}" '))
        assert check(plan, "who_is_below") is None
        assert (found := check(plan, "over_seat")) is over or found.verdict is over


def test_a_figure_of_ours_is_never_fine():
    assumed = {**PLUGS, "fixings__allowable_g": None, "fixings__pull_allowable_g": None}
    light = hung(**assumed, piece__weighed_g=4_000.0)
    assert next(link for link in light.links if link.name == "fixings in the wall").reserve > 1
    assert verdict(light, "load_path") == "caution"
    assert verdict(hung(**PLUGS, piece__weighed_g=4_000.0), "load_path") == "fine"


def test_a_screw_that_ends_before_its_plug_holds_nothing():
    text = (EXAMPLES / "first.toml").read_text()
    # 18 of cleat, 15 of plaster and a plug of 30 ask for 68 with one diameter past it
    assert check(planned(text + "[fixings]\nlength = 70\n"), "load_path").verdict is Verdict.CAUTION
    short = check(planned(text + "[fixings]\nlength = 60\n"), "load_path")
    assert short.verdict is Verdict.STOP
    assert "68 mm" in short.found


@pytest.mark.parametrize("name", ["first", "s2-brenlow-terrace", "s8-gannet-row"])
def test_the_trial_pulls_a_quarter_harder_than_the_leaf(name):
    """By moments about the lower edge of the wall half, once more, with the friction of waxed bevels."""
    plan = planned((EXAMPLES / f"{name}.toml").read_text())
    leaf, cleat = plan.hang.leaves[0], plan.brief.cleat
    rise, strip, thick = (nm / 1e6 for nm in (leaf.cleat.engagement_nm, cleat.strip_nm, cleat.thickness_nm))
    hung_n = sum(leaf.cleat.proof.weights_g) / 1000 * 9.80665
    out = hung_n * (1 - 0.2) / (1 + 0.2)  # tan(45° - atan 0.2)
    up = (leaf.cleat.fixings[0].y_nm - leaf.cleat.wall_half_bottom_nm) / 1e6
    tried = (out * (strip - rise / 2) + hung_n * thick / 2) / up
    lasting = sum(point.pull_n for point in leaf.cleat.fixings)
    assert tried == pytest.approx(1.25 * lasting)
    assert hung_n > 1.25 * leaf.weight_n
