"""A leaf that bows lies on a part of its cleat: the caution, by hand, and the briefs that turn it."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from bossage.brief.records import Opens
from bossage.checks import Verdict
from bossage.hang import BowedHold
from bossage.press.cleat_bow import check_cleat_bow
from tests.layout.factory import mm, plain
from tests.scenarios.cases import plan_of

HELD = BowedHold(cleat_nm=mm(500), middle_margin=0.9, ends_margin=0.4)


def bowed(likely_mm, *, hollow=True, **brief):
    strip = SimpleNamespace(way="across", likely_mm=likely_mm, span_nm=mm(1000), hollow=hollow)
    return check_cleat_bow(plain(**brief), SimpleNamespace(strips=(strip,)), HELD)


def test_half_as_long_bows_a_quarter_as_much():
    # 3.9 mm over a metre are 0.975 mm over half a metre, within 1 mm; 4.1 mm are 1.025 mm
    assert bowed(3.9).verdict is Verdict.FINE
    assert bowed(4.1).verdict is Verdict.CAUTION
    assert "0.40" in bowed(4.1).found
    assert "at its ends" in bowed(4.1).found
    assert "0.90" in bowed(4.1, hollow=False).found
    assert bowed(40.0, access__opens=Opens.SWING) is None


@pytest.mark.parametrize("scenario", ["S1", "S2", "S8"])
def test_margins_of_a_part_of_the_cleat_add_up_to_that_of_the_whole(scenario):
    plan = plan_of(scenario)
    held, cleat = plan.hang.bowed, plan.hang.leaves[0].cleat
    whole = min(link.margin for link in plan.hang.links if link.pull_n is not None)
    assert held.middle_margin + held.ends_margin == pytest.approx(whole)
    low, high = cleat.from_nm + cleat.length_nm / 4, cleat.to_nm - cleat.length_nm / 4
    inside = sum(one.load_share for one in cleat.fixings if low <= one.x_nm <= high)
    assert held.middle_margin == pytest.approx(whole * inside)
    assert any(check.name == "cleat_bow" for check in plan.press.checks)
