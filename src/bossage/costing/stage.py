"""What the whole job costs in money and hours."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.body import Body
from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.costing.hours import compounded_shares, minutes_per_block, repeat_shares, step_hours
from bossage.costing.quote import make_quote
from bossage.costing.records import Cost, ShoppingLine
from bossage.costing.shopping import lump_of, shim_list, shopping_list
from bossage.hang import Hang
from bossage.layout.records import Layout
from bossage.paint.records import Paint
from bossage.press import Press
from bossage.saw import Saw
from bossage.units import format_money


def plan_cost(brief: Brief, layout: Layout, body: Body, saw: Saw, paint: Paint, press: Press, hang: Hang) -> Cost:
    """Shopping list, hours by step, and a quote where the brief has an hourly rate.

    Materials are the sum of the priced lines; what has no price is counted, never guessed. Wood that is bought for
    shims alone stands apart: shims outlast the piece, as clamps and cauls do. The budget bears both. Fixed hours count
    once for the whole job.

    Source:
        Minutes a block and the rates are the brief's; their defaults are this project's own first guess
        (practice, no source), to be replaced by the maker's log.
    """
    copies = brief.piece.copies
    per_copy = layout.blocks.count // copies
    paint_min = paint.way.attended_h * 60 / layout.blocks.count
    shopping = shopping_list(brief, layout, body, saw, paint, press, hang)
    materials = sum(line.cents for line in shopping if line.cents is not None)
    shims = shim_list(brief, press)
    shims_cents = sum(line.cents for line in shims if line.cents is not None)
    first_h = minutes_per_block(brief.rates, paint_min) * per_copy / 60
    hours = first_h * sum(repeat_shares(brief.rates, copies)) + brief.rates.fixed_h
    unpriced = sum(line.cents is None for line in (*shopping, *shims))
    budget = brief.piece.budget_cents
    left = None if budget is None or unpriced == len(shopping) + len(shims) else budget - materials
    return Cost(
        shopping=shopping,
        materials_cents=materials,
        shims=shims,
        shims_cents=shims_cents,
        unpriced=unpriced,
        steps=step_hours(brief.rates, paint_min, per_copy, copies),
        fixed_h=brief.rates.fixed_h,
        first_h=first_h,
        hours=hours,
        if_compounded_h=first_h * sum(compounded_shares(brief.rates, copies)) + brief.rates.fixed_h,
        budget_left_cents=left,
        quote=make_quote(brief.rates, hours=hours, materials_cents=materials, copies=copies),
        checks=(
            *(
                ()
                if budget is None
                else (_budget(budget, brief.piece.currency, materials + shims_cents, shims_cents, unpriced),)
            ),
            *_priced_twice(brief, shopping),
        ),
    )


def _priced_twice(brief: Brief, shopping: tuple[ShoppingLine, ...]) -> Iterator[Check]:
    """`priced_twice`: boards that have their own price while a lump of the brief is for them.

    A lump that covers wood may be for the sticks that have no price, so sticks are not looked at.
    """
    for line in shopping:
        lump = lump_of(line, brief) if line.cents and line.for_what == "boards" else None
        if lump is None:
            continue
        yield Check(
            stage="costing",
            name="priced_twice",
            title="One thing, one price",
            subject=line.what,
            verdict=Verdict.CAUTION,
            found=f"{line.what} comes to {format_money(line.cents or 0, brief.piece.currency)} by its own price, and "
            f"the lump for {lump} is counted as well.",
            allowed="One of the two.",
            why="The same money is counted twice.",
            remedy=f"take out the price of {line.what}, or the lump for {lump}",
            source="The brief.",
        )


def _budget(budget: int, currency: str, costs: int, shims: int, unpriced: int) -> Check:
    """`budget`: over, within, or not known because something has no price. `costs` counts the wood for shims."""
    over = costs - budget
    for_shims = f", wood for shims to {format_money(shims, currency)}" if shims else ""
    priced = f"materials come to {format_money(costs - shims, currency)}{for_shims}"
    lines = f"{unpriced} line{'' if unpriced == 1 else 's'} of the shopping list without a price"
    if unpriced:
        priced = f"{priced} and {lines}" if costs else "nothing on the shopping list has a price"
    if unpriced and over <= 0:
        priced = f"not known: {priced}"
    return Check(
        stage="costing",
        name="budget",
        title="Budget for materials",
        verdict=Verdict.CAUTION if over > 0 or unpriced else Verdict.FINE,
        found=f"{priced[:1].upper()}{priced[1:]}.",
        allowed=f"The budget is {format_money(budget, currency)}.",
        why="What is bought half way costs a second trip and a second batch of paint.",
        care="write what things cost into the brief, and plan again" if unpriced else "",
        remedy=f"find {format_money(over, currency)} more, or leave something out" if over > 0 else "",
        source="The brief.",
    )
