"""Pots: the hand-derivable example, volumes that balance, stock, rounding, tools, order."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st
from tests.published.reading import read_published

from bossage.colour.coats import coat_of_hex
from bossage.colour.measuring import MOST_FILLS, Measure, measured, measures_of
from bossage.colour.mixing import mix_lab, paint_from_colours
from bossage.colour.pots import (
    addition_from_rest_ml,
    base_to_mend_ml,
    one_pot,
)
from bossage.colour.recipes import PotNeed, separate_recipes
from bossage.colour.scales import MEASURED_TIMES, scale_at_lightness
from bossage.errors import BossageError

PAINT = paint_from_colours("blue", (95.0, 0.0, 2.0), (30.0, 10.0, -40.0))
FERN = paint_from_colours("fern", coat_of_hex("#F2EFE6").lab, coat_of_hex("#4A6B4E").lab)


def marks(mark_ml: float, error_ml: float | None = None) -> tuple[Measure]:
    """One tool for every amount, as a balance is; off by half a mark where nothing else is said."""
    error = mark_ml / 2 if error_ml is None else error_ml
    return (Measure(name="balance", holds_ml=np.inf, mark_ml=mark_ml, error_ml=error),)


def needs_of(ratios, white_ml=100.0) -> list[PotNeed]:
    """Shades with `white_ml` of base in each."""
    return [
        PotNeed(shade=f"shade {i + 1}", shares=(r / (1 + r),), volume_ml=white_ml * (1 + r))
        for i, r in enumerate(ratios)
    ]


def fern_needs(volume_ml: float = 26.0) -> list[PotNeed]:
    scale = scale_at_lightness("fern", FERN, [52, 60, 68, 76, 84, 92])
    return [PotNeed(shade=s.name, shares=(s.fraction,), volume_ml=volume_ml) for s in scale.shades]


ROWS = read_published("one_pot_example.csv")


def test_the_hand_derivable_example_to_the_last_digit():
    found = one_pot(PAINT, needs_of([float(r["tint_per_white"]) for r in ROWS]), tools=marks(0.001))
    assert found.start_ml == 500
    for row, step in zip(ROWS, found.steps, strict=True):
        assert step.stock_parts == 0
        assert step.white_ml == pytest.approx(float(row["white_in_pot_ml"]), abs=1e-9)
        assert step.add_ml == pytest.approx(float(row["tint_to_add_ml"]), abs=1e-9)
        assert step.before_ml == pytest.approx(float(row["pot_before_pouring_ml"]), abs=1e-9)
        assert step.left_ml == pytest.approx(float(row["pot_after_pouring_ml"]), abs=1e-9)
        assert step.pour_ml == pytest.approx(float(row["needed_ml"]), abs=1e-9)
        assert step.fraction == pytest.approx(float(row["tint_fraction"]), abs=5e-7)
    assert found.tinter_ml == pytest.approx(38, abs=1e-9)
    assert found.tinter_ml == pytest.approx(sum(float(r["tint_if_mixed_separately_ml"]) for r in ROWS), abs=1e-9)
    assert found.left_ml == pytest.approx(0, abs=1e-9)


def test_relative_errors_of_the_example():
    needs = needs_of([0.01, 0.02, 0.05, 0.1, 0.2])
    pot = one_pot(PAINT, needs, tools=marks(0.001, 0.2))
    one = [100 * step.relative_error for step in pot.steps]
    recipes = separate_recipes([PAINT], needs, tools=marks(0.001, 0.2))
    separate = [100 * recipe.relative_error for recipe in recipes]
    # The note takes what an addition is off by for tinter alone; here it also fills the pot, which evens a little out.
    assert one == pytest.approx([4.0, 3.2, 1.9, 1.4, 1.2], abs=0.07)
    assert separate == pytest.approx([20, 10, 4, 2, 1], abs=0.05)
    assert min(step.add_ml for step in pot.steps if step.add_ml > 0) == pytest.approx(4, abs=1e-9)
    assert max(step.error_de for step in pot.steps) <= max(recipe.error_de for recipe in recipes)


ratios = st.lists(st.floats(-7, 0.5), min_size=1, max_size=10).map(
    lambda logs: [float(v) for v in np.exp(np.cumsum(0.15 + np.abs(np.diff(logs, prepend=-7.5))) - 7.5).clip(0, 40)]
)


@settings(max_examples=60, deadline=None)
@given(ratios, st.sampled_from([0.1, 0.5]), st.floats(40, 400))
def test_volumes_balance_and_no_addition_is_too_small(found_ratios, resolution, white_ml):
    needs = needs_of(sorted(set(found_ratios)), white_ml)
    pot = one_pot(PAINT, needs, tools=measures_of(resolution))
    poured = sum(step.pour_ml for step in pot.steps)
    assert pot.base_ml + pot.tinter_ml == pytest.approx(poured + pot.left_ml, rel=1e-9)
    # The base is rounded up, so the last shade is short by no more than what earlier roundings of tinter come to.
    ratio = needs[-1].fraction / (1 - needs[-1].fraction)
    marks_ml = sum(step.measured.tool.mark_ml for step in pot.steps if step.measured)
    assert pot.steps[-1].pour_ml >= needs[-1].volume_ml - marks_ml * (1 + ratio)
    # Rounding aside, totals are those of mixing each shade by itself.
    exact = one_pot(PAINT, needs, tools=marks(1e-9))
    wanted = sum(need.fraction * need.volume_ml for need in needs)
    assert exact.tinter_ml == pytest.approx(wanted, rel=1e-6)
    assert exact.base_ml == pytest.approx(sum(need.volume_ml for need in needs) - wanted, rel=1e-6)
    assert all(step.stock_parts == 0 for step in exact.steps)
    previous = 0.0
    for step in pot.steps:
        assert step.add_ml >= resolution
        assert step.measured is not None
        assert step.add_ml == step.measured.ml
        mark_ml = step.measured.tool.mark_ml
        assert step.add_ml / mark_ml == pytest.approx(round(step.add_ml / mark_ml), abs=1e-6)
        assert step.fraction > previous
        previous = step.fraction


def test_small_additions_come_from_a_stock_that_can_itself_be_measured():
    pot = one_pot(FERN, fern_needs(), tools=measures_of(0.1))
    first = pot.steps[0]
    assert first.shade == "fern 92"
    assert first.stock_parts > 0
    assert first.add_ml >= MEASURED_TIMES * 0.1
    assert [stock.parts for stock in pot.stocks] == [first.stock_parts]
    assert pot.stocks[0].tinter_ml >= MEASURED_TIMES * 0.1
    assert pot.stocks[0].tinter_ml + pot.stocks[0].base_ml >= pot.stocks[0].needed_ml
    # Rounding is carried on, so that no shade strays visibly.
    assert max(step.rounding_de for step in pot.steps) < 0.3


def test_one_pot_beats_separate_pots_where_tinter_is_scarce():
    pot = one_pot(FERN, fern_needs(), tools=measures_of(0.1))
    recipes = separate_recipes([FERN], fern_needs(), tools=measures_of(0.1))
    assert max(step.error_de for step in pot.steps) < 0.6 < max(recipe.error_de for recipe in recipes)
    assert [recipe.measurable for recipe in recipes] == [True, True, True, True, False, False]


def mixed(pot, mixings: int, seed: int, *, pours_off: float | None = 0.05) -> np.ndarray:
    """Fractions as they come out, one row a shade: base, additions and stocks off by their tools.

    Pours are off by so large a share, or by their tools where it is None.
    """
    rng = np.random.default_rng(seed)

    def drawn(one, ml=None):
        return (one.ml if ml is None else ml) + rng.uniform(-1, 1, mixings) * one.error_ml

    strength = {0: np.ones(mixings)}
    for stock in pot.stocks:
        tinter, base = (drawn(one) for one in stock.measured)
        strength[stock.parts] = tinter / (tinter + base)
    base, tinter = drawn(pot.start), np.zeros(mixings)
    found = []
    for step in pot.steps:
        tau = strength[step.stock_parts]
        added = drawn(step.measured) if step.measured else np.zeros(mixings)  # an addition of nothing is nothing
        base, tinter = base + added * (1 - tau), tinter + added * tau
        found.append(tinter / (base + tinter))
        poured = (
            drawn(step.poured, step.pour_ml)
            if pours_off is None
            else step.pour_ml * rng.uniform(1 - pours_off, 1 + pours_off, mixings)
        )
        keep = np.clip(1 - poured / (base + tinter), 1e-3, 1)
        base, tinter = base * keep, tinter * keep
    return np.array(found)


def test_order_is_never_upset_in_ten_thousand_mixings():
    pot = one_pot(FERN, fern_needs(), tools=measures_of(0.1))
    found = mixed(pot, 10_000, seed=10)
    assert (np.diff(found, axis=0) > 0).all()
    wanted = mix_lab(FERN, np.array([step.wanted_fraction for step in pot.steps]))[:, 0]
    assert np.abs(mix_lab(FERN, found[:, :200])[..., 0] - wanted[:, None]).max() < 3


@settings(max_examples=25, deadline=None)
@given(ratios, st.floats(5, 200), st.sampled_from([0.05, 0.1, 0.25, 0.5, 1.0]), st.integers(0, 2**32 - 1))
def test_order_is_never_upset_whatever_is_wanted_and_however_it_is_measured(wanted, white_ml, resolution, seed):
    try:
        pot = one_pot(PAINT, needs_of(sorted(set(wanted)), white_ml), tools=measures_of(resolution))
    except BossageError:
        reject()  # an addition that no stock makes measurable; `test_refusals` holds the words
    assert (np.diff(mixed(pot, 10_000, seed), axis=0) > 0).all()
    # What mends a millilitre too much brings the shade back to where it was.
    for step in pot.steps:
        if step.add_ml == 0:
            continue
        tau = 1 / (1 + step.stock_parts) if step.stock_parts else 1.0
        c, holds = step.wanted_fraction, 300.0
        again = (c * holds + tau) / (holds + 1 + step.mend_ml_per_ml)
        assert again == pytest.approx(c, rel=1e-9) or (step.mend_ml_per_ml == 0 and tau <= c * (1 + 1e-9))


def test_an_overshoot_is_mended_with_base_and_a_rest_with_tinter():
    base, tinter = 400.0, 9.0
    more = base_to_mend_ml(base, tinter / base, 0.02)
    assert tinter / (base + more) == pytest.approx(0.02)
    rest = 306.0 / 1.02 * 1.02
    added = addition_from_rest_ml(rest, 0.02, 0.05)
    assert added == pytest.approx(9.0)
    with pytest.raises(BossageError, match="Add tinter"):
        base_to_mend_ml(base, 0.01, 0.02)


def test_masses_follow_densities():
    pot = one_pot(FERN, fern_needs(), tools=measures_of(0.1), tinter_g_per_ml=1.4, base_g_per_ml=1.2)
    stocked, neat = pot.steps[0], pot.steps[-1]
    share = 1 / (1 + stocked.stock_parts)
    assert stocked.add_g == pytest.approx(stocked.add_ml * (share * 1.4 + (1 - share) * 1.2))
    assert neat.add_g == pytest.approx(neat.add_ml * 1.4)
    assert one_pot(FERN, fern_needs(), tools=measures_of(0.1)).steps[0].add_g is None
    recipe = separate_recipes([FERN], fern_needs(), tools=measures_of(0.1), base_g_per_ml=1.2, tinter_g_per_ml=[None])[
        0
    ]
    assert recipe.amounts[0].mass_g == pytest.approx(1.2 * recipe.amounts[0].volume_ml)
    assert recipe.amounts[1].mass_g is None


def test_base_alone_takes_nothing_of_the_tinter():
    need = PotNeed(shade="fern 93", shares=(0.0,), volume_ml=50)
    recipe = separate_recipes([FERN], [need], tools=measures_of(1))[0]
    assert [(a.what, a.volume_ml) for a in recipe.amounts] == [("base", 50.0), ("fern", 0.0)]
    assert (recipe.error_de, recipe.measurable) == (0, True)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.2, 1500), st.sampled_from([0.01, 0.1, 0.25, 1.0]))
def test_every_amount_has_a_tool_that_a_hand_can_use(ml, finest_ml):
    found = measured(ml, measures_of(finest_ml))
    assert found.fills <= MOST_FILLS
    assert found.fills * found.tool.holds_ml >= found.ml - 1e-9
    assert abs(found.ml - ml) <= found.tool.mark_ml / 2 + 1e-9
    assert found.error_ml >= found.tool.mark_ml / 2
    assert measured(ml, measures_of(finest_ml), up=True).ml >= ml - 1e-6


def test_a_pot_of_base_is_measured_by_cylinder_and_a_little_tinter_by_syringe():
    tools = measures_of(0.1)
    base, some, little = (measured(ml, tools) for ml in (189.0, 23.6, 2.37))
    assert [(one.tool.name, one.fills, round(one.ml, 6)) for one in (base, some, little)] == [
        ("100 mL cylinder", 2, 189.0),
        ("10 mL syringe", 3, 23.5),
        ("1 mL syringe", 3, 2.4),
    ]
    # By hand: two fills of a cylinder off by 1 mL each, three of a syringe off by 0.05 mL each.
    assert base.error_ml == pytest.approx(2**0.5)
    assert little.error_ml == pytest.approx(3**0.5 * 0.05)


def test_the_stated_error_of_a_shade_is_what_ten_thousand_mixings_scatter():
    pot = one_pot(FERN, fern_needs(), tools=measures_of(0.1))
    first, stock = pot.steps[0], pot.stocks[0]
    tinter, base = stock.measured
    strength = stock.parts / (stock.parts + 1) * np.hypot(tinter.error_ml / tinter.ml, base.error_ml / base.ml)
    parts = (first.measured.error_ml / first.add_ml, strength, pot.start.error_ml / pot.start.ml)
    assert first.relative_error == pytest.approx(np.sqrt(np.square(parts).sum()), rel=0.03)
    # Errors drawn evenly have a spread of 1 / sqrt(3) of their largest.
    fraction = mixed(pot, 10_000, seed=3, pours_off=None)
    ratio = fraction / (1 - fraction)
    for step, row in zip(pot.steps, ratio, strict=True):
        assert row.std() / row.mean() == pytest.approx(step.relative_error / np.sqrt(3), rel=0.1)


def test_refusals():
    with pytest.raises(BossageError, match="takes one"):
        one_pot(FERN, [PotNeed(shade="sand 60", shares=(0.1, 0.1), volume_ml=10)], tools=measures_of(0.1))
    twice = [PotNeed(shade=name, shares=(0.1,), volume_ml=10) for name in ("fern 70a", "fern 70b")]
    with pytest.raises(BossageError, match="fern 70a and fern 70b are the same mix"):
        one_pot(FERN, twice, tools=measures_of(0.1))
    with pytest.raises(BossageError, match="neat tinter"):
        one_pot(FERN, [PotNeed(shade="fern 42", shares=(1.0,), volume_ml=10)], tools=measures_of(0.1))
    close = [PotNeed(shade=f"fern {i}", shares=(c,), volume_ml=5) for i, c in enumerate((0.4, 0.4001))]
    with pytest.raises(BossageError, match=r"cannot be measured to 0\.5 mL"):
        one_pot(FERN, close, tools=measures_of(0.5))
    with pytest.raises(BossageError, match="resolution is 0 mL"):
        separate_recipes([FERN], fern_needs(), tools=measures_of(0))
    with pytest.raises(BossageError, match="volume above 0"):
        separate_recipes([FERN], [PotNeed(shade="x", shares=(0.1,), volume_ml=0)], tools=measures_of(0.1))
