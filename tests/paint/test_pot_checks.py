"""Shades that no way of mixing can measure out are named, with the largest scale that can."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from tests.scenarios.cases import plan_of

from bossage.checks import Verdict
from bossage.colour.coats import coat_of_hex
from bossage.colour.mixing import mix_lab, paint_from_colours
from bossage.colour.recipes import PotNeed, separate_recipes
from bossage.colour.scales import MEASURED_TIMES, even_fractions, scale_at_lightness
from bossage.paint.pot_checks import pot_checks

FERN = paint_from_colours("fern", coat_of_hex("#F2EFE6").lab, coat_of_hex("#4A6B4E").lab)
VOLUME_ML = 26.0


def needs_of(scale) -> list[PotNeed]:
    return [PotNeed(shade=shade.name, shares=shade.shares, volume_ml=VOLUME_ML) for shade in scale.shades]


def pots_without_one_pot(resolution_ml: float = 0.1):
    """The break room's fern as though one pot were out of the question."""
    pots = next(pots for pots in plan_of("S7").paint.pots if pots.family == "fern")
    needs = needs_of(scale_at_lightness("fern", FERN, [52, 60, 68, 76, 84, 92]))
    recipes = separate_recipes([FERN], needs, resolution_ml=resolution_ml)
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
