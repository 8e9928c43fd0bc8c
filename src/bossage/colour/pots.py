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
from typing import Final

import numpy as np

from bossage.colour.difference import delta_e
from bossage.colour.measuring import Measure, Measured, measured
from bossage.colour.mixing import Paint, mix_lab
from bossage.colour.recipes import PotNeed
from bossage.colour.scales import MEASURED_TIMES
from bossage.colour.strays import Strays
from bossage.errors import BossageError

# Stocks that a maker can mix: parts of base to one of tinter.
STOCK_PARTS: Final = (5, 10, 20, 50, 100, 200, 500, 1000)
# Base kept out of the pot to mend an overshoot (common practice, no source).
HELD_BACK_SHARE: Final = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class PotStep:
    """Add, stir, pour: one shade."""

    shade: str
    add_ml: float  # rounded to the marks of its tool
    measured: Measured | None  # with what it is measured out; None where nothing is added
    add_exact_ml: float  # before rounding, from what is really in the pot
    add_g: float | None
    stock_parts: int  # 0: neat tinter; else parts of base to one of tinter in the stock to add
    white_ml: float  # base in the pot
    before_ml: float  # in the pot once added
    pour_ml: float
    poured: Measured  # the pour to the marks of its tool
    left_ml: float
    wanted_fraction: float
    fraction: float  # as it comes out with rounded additions
    rounding_de: float
    relative_error: float  # of tinter per base, when each measure is off by what its tool may be
    error_de: float  # what that does to the colour, rounding included
    mend_ml_per_ml: float  # base that makes good one millilitre too much of this addition


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Tinter let down with base before anything else."""

    parts: int  # of base to one of tinter
    tinter_ml: float
    base_ml: float
    needed_ml: float
    measured: tuple[Measured, Measured]  # the tinter, the base

    @property
    def relative_error(self) -> float:
        """How far the stock's strength may be off, as a share of it: both amounts are measured."""
        tinter, base = self.measured
        off = np.array([tinter.error_ml / tinter.ml, base.error_ml / base.ml, base.ml / (tinter.ml * self.parts) - 1])
        return self.parts / (1 + self.parts) * float(np.sqrt((off**2).sum()))


@dataclass(frozen=True, slots=True, kw_only=True)
class OnePot:
    """The whole family in one pot, shades from light to dark."""

    start_ml: float  # base to begin with
    start: Measured
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
    tools: Sequence[Measure],
    stock_parts: Sequence[int] = STOCK_PARTS,
    tinter_g_per_ml: float | None = None,
    base_g_per_ml: float | None = None,
) -> OnePot:
    """The one-pot procedure for one tinter.

    Args:
        paint: Base and tinter; decides what an error looks like.
        needs: Shades in any order; they are poured light to dark.
        tools: What is measured with, smallest first; amounts are whole marks of their tool, and off by its error.
        stock_parts: Stocks that may be mixed, in parts of base to one of tinter.
        tinter_g_per_ml: Density of the tinter, if known.
        base_g_per_ml: Density of the base, if known.

    Raises:
        BossageError: A shade needs more than one tinter, two shades are the same mix, or no stock makes an addition
            measurable.
    """
    finest_ml = tools[0].mark_ml
    ordered = _light_to_dark(needs, finest_ml)
    c = [need.fraction for need in ordered]
    P, parts, adds = _backwards(ordered, finest_ml, sorted(stock_parts))
    start = measured(P[0], tools, up=True)
    stocks = {stock.parts: stock for stock in _stocks(list(zip(parts, adds, strict=True)), tools)}
    base, tinter = start.ml, 0.0  # what is really in the pot
    strays, steps = Strays(start), []
    for i, need in enumerate(ordered):
        tau = _strength(parts[i])
        exact_ml = max(((base + tinter) * c[i] - tinter) / (tau - c[i]), 0.0) if c[i] > 0 else 0.0
        # The pot only darkens: a step of nothing would make two shades one.
        added = measured(max(exact_ml, finest_ml), tools) if exact_ml > 0 else None
        add_ml = 0.0 if added is None else added.ml
        if added is not None:
            off = stocks[parts[i]].relative_error if parts[i] else 0.0
            strays.add(added, tau, stock_parts=parts[i], stock_relative=off)
        base, tinter = base + add_ml * (1 - tau), tinter + add_ml * tau
        fraction = tinter / (base + tinter)
        relative = strays.relative(base, tinter)
        pour_ml = min(need.volume_ml, base + tinter)
        poured = measured(pour_ml, tools)
        strays.pour(base, tinter, poured)
        left = 1 - pour_ml / (base + tinter)
        off_de = _off_de(paint, c[i], fraction)
        steps.append(
            PotStep(
                shade=need.shade,
                add_ml=add_ml,
                measured=added,
                add_exact_ml=exact_ml,
                add_g=_mass_g(add_ml, tau, base_g_per_ml, tinter_g_per_ml),
                stock_parts=parts[i],
                white_ml=base,
                before_ml=base + tinter,
                pour_ml=pour_ml,
                poured=poured,
                left_ml=(base + tinter) * left,
                wanted_fraction=c[i],
                fraction=fraction,
                rounding_de=off_de,
                relative_error=relative,
                error_de=float(np.hypot(_off_de(paint, c[i], _strayed(c[i], relative)), off_de)),
                mend_ml_per_ml=max(tau * (1 - c[i]) / c[i] - (1 - tau), 0.0) if c[i] > 0 else 0.0,
            )
        )
        base, tinter = base * left, tinter * left
    neat_ml = sum(step.add_ml for step in steps if step.stock_parts == 0)
    return OnePot(
        start_ml=start.ml,
        start=start,
        hold_back_ml=measured(HELD_BACK_SHARE * start.ml, tools, up=True).ml,
        stocks=tuple(stocks.values()),
        steps=tuple(steps),
        base_ml=start.ml + sum(step.add_ml * (1 - _strength(step.stock_parts)) for step in steps),
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


def _backwards(
    needs: Sequence[PotNeed], resolution_ml: float, stocks: Sequence[int]
) -> tuple[list[float], list[int], list[float]]:
    """Pot before each pour (the start first); of each addition its stock (0: neat) and its millilitres, not rounded."""
    after, parts, adds = needs[-1].volume_ml, [0] * len(needs), [0.0] * len(needs)
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
            adds[i], parts[i] = chosen
            add_ml = adds[i]
            if add_ml < resolution_ml:
                raise BossageError(
                    f"{needs[i].shade} lies so near the shade before it that its tinter, {add_ml:.2g} mL even from a "
                    f"diluted stock, cannot be measured to {resolution_ml:g} mL. Mix more of it, or use fewer shades."
                )
            rest = after - add_ml
        after = rest + (needs[i - 1].volume_ml if i else 0.0)
        pots.append(after)
    return pots[::-1], parts, adds


def _stocks(added: Sequence[tuple[int, float]], tools: Sequence[Measure]) -> tuple[Stock, ...]:
    """Stocks for additions, each told as parts (0: neat) and millilitres."""
    stocks = []
    for parts in sorted({parts for parts, _ in added if parts}):
        needed = sum(add_ml for one, add_ml in added if one == parts)
        # Enough that its own tinter can be measured, and a little over for what clings to the jar.
        least_ml = max(needed * 1.1 / (1 + parts), MEASURED_TIMES * tools[0].mark_ml)
        tinter, base = _whole_marks(least_ml, parts, tools)
        stocks.append(
            Stock(parts=parts, tinter_ml=tinter.ml, base_ml=base.ml, needed_ml=needed, measured=(tinter, base))
        )
    return tuple(stocks)


def _whole_marks(least_ml: float, parts: int, tools: Sequence[Measure]) -> tuple[Measured, Measured]:
    """Tinter and base of a stock: the least at which both are whole marks; the nearest to it of the first twenty."""
    tinter = measured(least_ml, tools, up=True)
    tries = []
    for _ in range(20):
        base = measured(tinter.ml * parts, tools)
        tries.append((tinter, base))
        if abs(base.ml - tinter.ml * parts) < 1e-9:
            break
        tinter = measured(tinter.ml + tinter.tool.mark_ml, tools, up=True)
    return min(tries, key=lambda one: abs(one[1].ml / (one[0].ml * parts) - 1))


def _strength(stock_parts: int) -> float:
    return 1.0 / (1 + stock_parts) if stock_parts else 1.0


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
