"""Shades that no way of mixing can measure out are named, with the largest scale that can."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from tests.scenarios.cases import plan_of

from bossage.checks import Verdict
from bossage.colour.coats import coat_of_hex
from bossage.colour.measuring import measures_of
from bossage.colour.mixing import mix_lab, paint_from_colours
from bossage.colour.recipes import PotNeed, separate_recipes
from bossage.colour.scales import MEASURED_TIMES, even_fractions, scale_at_lightness
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheet import Table
from bossage.pack.sheets.days import calendar_of
from bossage.paint.dabs import card_primer_ml
from bossage.paint.pot_checks import pot_checks

FERN = paint_from_colours("fern", coat_of_hex("#F2EFE6").lab, coat_of_hex("#4A6B4E").lab)
VOLUME_ML = 26.0


def needs_of(scale) -> list[PotNeed]:
    return [PotNeed(shade=shade.name, shares=shade.shares, volume_ml=VOLUME_ML) for shade in scale.shades]


def pots_without_one_pot(resolution_ml: float = 0.1):
    """The break room's fern as though one pot were out of the question."""
    pots = next(pots for pots in plan_of("S7").paint.pots if pots.family == "fern")
    needs = needs_of(scale_at_lightness("fern", FERN, [52, 60, 68, 76, 84, 92]))
    recipes = separate_recipes([FERN], needs, tools=measures_of(resolution_ml))
    return replace(pots, recipes=recipes, one_pot=None, resolution_ml=resolution_ml, why="No order can."), needs


def test_what_one_pot_can_measure_is_no_caution() -> None:
    assert [check for check in plan_of("S7").checks if check.name == "pot_unmeasurable"] == []


@pytest.mark.parametrize("resolution_ml", [0.1, 0.15, 0.2])
def test_lost_shades_are_named_with_the_largest_scale_that_can_be_measured_out(resolution_ml: float) -> None:
    pots, needs = pots_without_one_pot(resolution_ml)
    (check,) = pot_checks(pots, [FERN], needs)
    assert check.verdict is Verdict.CAUTION
    assert check.subject == ", ".join(r.shade for r in pots.recipes if not r.measurable)
    assert "fern 92" in check.subject
    told = re.search(r"is lightness (\S+); from there to the darkest, at most (\d+) even shades", check.care)
    assert told is not None
    least_ml = MEASURED_TIMES * resolution_ml
    assert mix_lab(FERN, least_ml / VOLUME_ML)[0] == pytest.approx(float(told[1]), abs=0.05)
    for count in range(2, 12):
        amounts = VOLUME_ML * even_fractions(FERN, least_ml / VOLUME_ML, needs[0].fraction, count)
        good = min(*amounts, *np.diff(amounts)) >= least_ml - 1e-9
        assert good == (count <= int(told[2]))


def test_the_same_is_said_of_no_family_whose_shades_all_measure() -> None:
    pots, needs = pots_without_one_pot()
    assert pot_checks(replace(pots, recipes=pots.recipes[:2]), [FERN], needs[:2]) == ()


def test_a_pot_full_of_tinter_is_a_caution_and_what_is_bought_holds_jars_and_cards() -> None:
    plan = plan_of("S7")
    over = [check for check in plan.checks if check.name == "tinter_share"]
    assert {check.subject for check in over} == {"fern 52, fern 60, fern 68", "umber 68, umber 60, umber 52"}
    assert all("full-tone" in check.care for check in over)
    base = next(one for one in plan.paint.buy if one.what.startswith("paint, base"))
    pots = [one.one_pot for one in plan.paint.pots if one.one_pot is not None]
    # By hand: what starts in each pot, what is kept by, 5 mL in each jar, and 10 + 15 + 20 mL of base for each card.
    assert base.need_ml >= sum(pot.start_ml + pot.hold_back_ml for pot in pots) + 2 * 5 + 2 * 45 - 1e-9
    sheet = next(sheet for sheet in pack_sheets(plan) if sheet.name == "onepot")
    rows = next(part.rows for part in sheet.parts if isinstance(part, Table))
    jar = next(row for row in rows if any("set aside in a jar" in cell for cell in row))
    assert jar[2] == ""
    card, dabs = (entry for entry in calendar_of(plan).entries if entry.step == "mix")
    # by hand: three coats of 4 h are two days, a day till the card is judged; later a dab for each of six shades and
    # for every second of them another
    assert card.to_s - card.from_s == 3 * 86_400
    assert dabs.to_s - dabs.from_s == (6 + 3) * 86_400
    # the field of tinter alone is rubbed a week after day 1, and no pot is begun before
    (rub,) = (entry for entry in calendar_of(plan).entries if entry.title.startswith("Rub the test card"))
    assert rub.from_s - card.from_s == 7 * 86_400
    assert dabs.from_s >= rub.to_s
    assert "has been rubbed" in repr(sheet)
    assert sum("rub it a week later" in check.care for check in over) == 2
    # 33 cards of 60 mm, one coat at 5 m² a litre: 9 fields, and 12 shades dabbed twice at most
    assert card_primer_ml(plan.brief, plan.paint.pots, 0) == pytest.approx(33 * 0.06**2 / 5 * 1000)
    for tinter in ("fern", "umber"):
        first, later = (one for one in plan.paint.buy if one.what.startswith(f"paint, tinter {tinter}"))
        assert first.what.endswith("for the test card")
        assert first.need_ml == 4  # 2 mL let down, 2 mL neat
        assert "first of all" in first.note
        assert "after the card and its rub" in later.note
        assert all("L* " in one.note for one in (first, base))
    colour = next(entry for entry in calendar_of(plan).entries if entry.step == "paint")
    assert colour.from_s >= dabs.to_s
