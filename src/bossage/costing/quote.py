"""A price for a client, rounded to the cent once, at the end of each line."""

from __future__ import annotations

from fractions import Fraction

from bossage.brief.records import Rates
from bossage.costing.records import Quote
from bossage.units import round_cents


def make_quote(rates: Rates, *, hours: float, materials_cents: int, copies: int) -> Quote | None:
    """Labour, overhead and contingency as shares of labour, materials with markup, deposit; None without a rate.

    Every line is rounded for itself from exact figures, so the total is right to the cent even where lines that are
    printed beside it would add up to a cent more or less.
    """
    if rates.hourly_cents is None:
        return None
    # hours are a float of printed minutes; to a millionth of an hour they are what the sheet says
    labour = Fraction(round(hours * 10**6), 10**6) * rates.hourly_cents
    overhead, contingency = labour * _pct(rates.overhead_pct), labour * _pct(rates.contingency_pct)
    markup = materials_cents * _pct(rates.markup_pct)
    total = labour + overhead + contingency + materials_cents + markup
    return Quote(
        hourly_cents=rates.hourly_cents,
        labour_cents=round_cents(labour),
        overhead_cents=round_cents(overhead),
        contingency_cents=round_cents(contingency),
        materials_cents=materials_cents,
        markup_cents=round_cents(markup),
        total_cents=round_cents(total),
        each_cents=round_cents(total / copies),
        deposit_cents=round_cents(total * _pct(rates.deposit_pct)),
    )


def _pct(share_pct: float) -> Fraction:
    return Fraction(str(share_pct)) / 100
