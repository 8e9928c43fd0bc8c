"""What the rules of density take and refuse, and laws between them; printed values are in tests/published."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from bossage.errors import OutOfRange
from bossage.timber import (
    density_kg_m3,
    design_density_kg_m3,
    ovendry_gravity_from_density,
    specific_gravity_from_basic,
)

Rule = Callable[[float, float], float]


@pytest.mark.parametrize(
    ("rule", "gravity_least", "gravity_most", "moisture_most_pct"),
    [
        (specific_gravity_from_basic, 0.1, 1.2, 30),
        (density_kg_m3, 0.1, 1.4, 200),
        (design_density_kg_m3, 0.1, 1.4, 30),
    ],
)
def test_a_rule_holds_up_to_its_limits_and_refuses_what_lies_beyond(
    rule: Rule, gravity_least: float, gravity_most: float, moisture_most_pct: float
) -> None:
    assert rule(gravity_least, 0) < rule(gravity_most, 0)
    assert rule(gravity_least, moisture_most_pct) < rule(gravity_most, moisture_most_pct)
    for gravity, moisture_pct in (
        (gravity_least * 0.99, 12),
        (gravity_most * 1.01, 12),
        (0.5, -0.1),
        (0.5, moisture_most_pct + 0.1),
        (float("nan"), 12),
    ):
        with pytest.raises(OutOfRange):
            rule(gravity, moisture_pct)


def test_dry_wood_weighs_its_gravity_by_both_rules() -> None:
    assert density_kg_m3(0.45, 0) == design_density_kg_m3(0.45, 0) == 450


def test_a_gravity_worked_back_from_a_density_is_the_one_that_went_in_rounded_down() -> None:
    for hundredths in range(11, 140):
        density = design_density_kg_m3(hundredths / 100, 12)
        if density <= 1300:
            assert ovendry_gravity_from_density(density) == hundredths / 100
    for density in (99, 1301):
        with pytest.raises(OutOfRange):
            ovendry_gravity_from_density(density)
