"""One pot from light to dark: add tinter, stir, pour off a shade, add more.

The whole base of a family starts in one pot. Amounts come from the last pot backwards: what must be in it after the
pour decides how much goes in before. Additions too small to measure are made from a diluted stock. Rounding is carried
on: each addition is worked out from what is then really in the pot. Against a pot a shade the totals are the same, but
additions are larger, the order of shades cannot be upset, and one pot is washed.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt
from typing import Final

import numpy as np

from bossage.colour.difference import delta_e
from bossage.colour.mixing import Paint, mix_lab
from bossage.colour.recipes import PotNeed
from bossage.colour.scales import MEASURED_TIMES
from bossage.errors import BossageError

# Stocks that a maker can mix: parts of base to one of tinter.
STOCK_PARTS: Final = (5, 10, 20, 50, 100, 200, 500, 1000)
# Base kept out of the pot to mend an overshoot (common practice, no source).
HELD_BACK_SHARE: Final = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class PotStep:
    """Add, stir, pour: one shade."""

    shade: str
    add_ml: float  # rounded to what can be measured
    add_exact_ml: float  # before rounding, from what is really in the pot
    add_g: float | None
    stock_parts: int  # 0: neat tinter; else parts of base to one of tinter in the stock to add
    white_ml: float  # base in the pot
    before_ml: float  # in the pot once added
    pour_ml: float
    left_ml: float
    wanted_fraction: float
    fraction: float  # as it comes out with rounded additions
    rounding_de: float
    relative_error: float  # of tinter per base, when every addition is off by the measuring error
    error_de: float  # what that does to the colour, rounding included
    mend_ml_per_ml: float  # base that makes good one millilitre too much of this addition


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Tinter let down with base before anything else."""

    parts: int  # of base to one of tinter
    tinter_ml: float
    base_ml: float
    needed_ml: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OnePot:
    """The whole family in one pot, shades from light to dark."""

    start_ml: float  # base to begin with
    hold_back_ml: float  # base to keep at hand for an overshoot, beyond `start_ml`
    stocks: tuple[Stock, ...]
    steps: tuple[PotStep, ...]
    base_ml: float  # base in all, stocks included, without what is held back
    tinter_ml: float
    left_ml: float  # in the pot after the last pour, from rounding

    @property
    def neat_ml(self) -> float:
        """Tinter that goes into the pot as it is, not by way of a stock."""
        return sum(step.add_ml for step in self.steps if step.stock_parts == 0)


def one_pot(
    paint: Paint,
    needs: Sequence[PotNeed],
    *,
    resolution_ml: float,
    measuring_error_ml: float | None = None,
    stock_parts: Sequence[int] = STOCK_PARTS,
    tinter_g_per_ml: float | None = None,
    base_g_per_ml: float | None = None,
) -> OnePot:
    """The one-pot procedure for one tinter.

    Args:
        paint: Base and tinter; decides what an error looks like.
        needs: Shades in any order; they are poured light to dark.
        resolution_ml: The least that can be measured; additions are whole multiples of it.
        measuring_error_ml: Error of each addition; by default half the resolution.
        stock_parts: Stocks that may be mixed, in parts of base to one of tinter.
        tinter_g_per_ml: Density of the tinter, if known.
        base_g_per_ml: Density of the base, if known.

    Raises:
        BossageError: A shade needs more than one tinter, two shades are the same mix, or no stock makes an addition
            measurable.
    """
    ordered = _light_to_dark(needs, resolution_ml)
    c = [need.fraction for need in ordered]
    P, parts = _backwards(ordered, resolution_ml, sorted(stock_parts))
    start_ml = _up(P[0], resolution_ml)
    base, tinter = start_ml, 0.0  # what is really in the pot
    error_ml = resolution_ml / 2 if measuring_error_ml is None else measuring_error_ml
    variance, steps = 0.0, []
    for i, need in enumerate(ordered):
        tau = _strength(parts[i])
        exact_ml = max(((base + tinter) * c[i] - tinter) / (tau - c[i]), 0.0) if c[i] > 0 else 0.0
        add_ml = _near(exact_ml, resolution_ml)
        if exact_ml > 0:
            # The pot only darkens: a step of nothing would make two shades one.
            add_ml = max(add_ml, resolution_ml)
            variance += (tau * error_ml / base) ** 2
        base, tinter = base + add_ml * (1 - tau), tinter + add_ml * tau
        fraction = tinter / (base + tinter)
        ratio = tinter / base if base > 0 else inf
        relative = sqrt(variance) / ratio if 0 < ratio < inf else 0.0
        pour_ml = min(need.volume_ml, base + tinter)
        left = 1 - pour_ml / (base + tinter)
        steps.append(
            PotStep(
                shade=need.shade,
                add_ml=add_ml,
                add_exact_ml=exact_ml,
                add_g=_mass_g(add_ml, tau, base_g_per_ml, tinter_g_per_ml),
                stock_parts=parts[i],
                white_ml=base,
                before_ml=base + tinter,
                pour_ml=pour_ml,
                left_ml=(base + tinter) * left,
                wanted_fraction=c[i],
                fraction=fraction,
                rounding_de=_off_de(paint, c[i], fraction),
                relative_error=relative,
                error_de=float(
                    np.hypot(
                        _off_de(paint, c[i], _strayed(c[i], relative)),
                        _off_de(paint, c[i], fraction),
                    )
                ),
                mend_ml_per_ml=max(tau * (1 - c[i]) / c[i] - (1 - tau), 0.0) if c[i] > 0 else 0.0,
            )
        )
        base, tinter = base * left, tinter * left
    stocks = _stocks(steps, resolution_ml)
    neat_ml = sum(step.add_ml for step in steps if step.stock_parts == 0)
    return OnePot(
        start_ml=start_ml,
        hold_back_ml=_up(HELD_BACK_SHARE * start_ml, resolution_ml),
        stocks=stocks,
        steps=tuple(steps),
        base_ml=start_ml + sum(step.add_ml * (1 - _strength(step.stock_parts)) for step in steps),
        tinter_ml=neat_ml + sum(step.add_ml * _strength(step.stock_parts) for step in steps if step.stock_parts),
        left_ml=base + tinter,
    )


def base_to_mend_ml(base_in_pot_ml: float, ratio_found: float, ratio_wanted: float) -> float:
    """Base to add after an overshoot: base in the pot x (found / wanted - 1), ratios being tinter per base.

    Raises:
        BossageError: There was no overshoot; the pot then needs tinter.
    """
    if not ratio_found >= ratio_wanted > 0:
        raise BossageError(
            f"The pot holds {ratio_found:g} of tinter to one of base and should hold {ratio_wanted:g}: that is no "
            "overshoot. Add tinter."
        )
    return base_in_pot_ml * (ratio_found / ratio_wanted - 1)


def addition_from_rest_ml(rest_ml: float, ratio_before: float, ratio_wanted: float) -> float:
    """Neat tinter to add to a weighed or measured rest of the pot; whatever was poured too much costs nothing.

    Ratios are tinter per base: rest x (wanted - before) / (1 + before).
    """
    return rest_ml * (ratio_wanted - ratio_before) / (1 + ratio_before)


def _light_to_dark(needs: Sequence[PotNeed], resolution_ml: float) -> list[PotNeed]:
    for need in needs:
        if len(need.shares) != 1:
            raise BossageError(
                f"{need.shade} mixes {len(need.shares)} tinters; one pot from light to dark takes one. "
                "Mix that family in separate pots."
            )
    if not resolution_ml > 0 or any(not need.volume_ml > 0 for need in needs):
        raise BossageError("One pot needs a volume above 0 for each shade and a measuring resolution above 0.")
    ordered = sorted(needs, key=lambda need: need.fraction)
    for first, second in itertools.pairwise(ordered):
        if first.fraction == second.fraction:
            raise BossageError(f"{first.shade} and {second.shade} are the same mix; pour them as one shade.")
    if ordered and ordered[-1].fraction >= 1:
        raise BossageError(
            f"{ordered[-1].shade} is neat tinter, which no addition to a pot of base can reach; use it from its tin."
        )
    return ordered


def _backwards(needs: Sequence[PotNeed], resolution_ml: float, stocks: Sequence[int]) -> tuple[list[float], list[int]]:
    """Pot before each pour (the start first), and the stock of each addition (0: neat)."""
    after, parts = needs[-1].volume_ml, [0] * len(needs)
    pots = [after]
    for i in range(len(needs) - 1, -1, -1):
        c, c_before = needs[i].fraction, needs[i - 1].fraction if i else 0.0
        rest = after
        if c > 0:
            chosen = None
            for stock in (0, *stocks):
                tau = _strength(stock)
                if tau < 2 * c and stock:
                    break
                add_ml = after * (c - c_before) / (tau - c_before)
                if chosen is None or add_ml >= chosen[0]:
                    chosen = (add_ml, stock)
                if add_ml >= MEASURED_TIMES * resolution_ml:
                    break
            assert chosen is not None  # neat tinter is always tried
            add_ml, parts[i] = chosen
            if add_ml < resolution_ml:
                raise BossageError(
                    f"{needs[i].shade} lies so near the shade before it that its tinter, {add_ml:.2g} mL even from a "
                    f"diluted stock, cannot be measured to {resolution_ml:g} mL. Mix more of it, or use fewer shades."
                )
            rest = after - add_ml
        after = rest + (needs[i - 1].volume_ml if i else 0.0)
        pots.append(after)
    return pots[::-1], parts


def _stocks(steps: Sequence[PotStep], resolution_ml: float) -> tuple[Stock, ...]:
    stocks = []
    for parts in sorted({step.stock_parts for step in steps if step.stock_parts}):
        needed = sum(step.add_ml for step in steps if step.stock_parts == parts)
        # Enough that its own tinter can be measured, and a little over for what clings to the jar.
        tinter = max(_up(needed * 1.1 / (1 + parts), resolution_ml), MEASURED_TIMES * resolution_ml)
        stocks.append(Stock(parts=parts, tinter_ml=tinter, base_ml=tinter * parts, needed_ml=needed))
    return tuple(stocks)


def _strength(stock_parts: int) -> float:
    return 1.0 / (1 + stock_parts) if stock_parts else 1.0


def _near(value_ml: float, resolution_ml: float) -> float:
    return float(np.rint(value_ml / resolution_ml)) * resolution_ml


def _up(value_ml: float, resolution_ml: float) -> float:
    # A hair of slack, so that 5.000000001 is not taken for more than 5.
    return float(np.ceil(value_ml / resolution_ml - 1e-9)) * resolution_ml


def _mass_g(add_ml: float, tau: float, base: float | None, tinter: float | None) -> float | None:
    if tinter is None or (tau < 1 and base is None):
        return None
    return add_ml * (tau * tinter + (1 - tau) * (base or 0.0))


def _off_de(paint: Paint, wanted: float, found: float) -> float:
    labs = mix_lab(paint, np.array([wanted, found]))
    return float(delta_e(labs[0], labs[1]))


def _strayed(fraction: float, relative: float) -> float:
    ratio = fraction / (1 - fraction) * (1 + relative)
    return ratio / (1 + ratio)
