"""In the shops and on the desk: what to buy, what the checks say in full, what was assumed."""

from __future__ import annotations

from collections import Counter
from itertools import groupby

from bossage.asking import AnswerState
from bossage.checks import Check, Verdict
from bossage.costing import materials_words
from bossage.costing.records import ShoppingLine
from bossage.costing.shopping import PAID_IN
from bossage.pack.sheet import Beside, Column, Figure, Figures, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import words_of
from bossage.pack.words import Words, count_of, full, hours
from bossage.plan import Plan
from bossage.stakes import AT_STAKE, TASTE_ALONE, Kind

GROUPS = {
    "wood": "Wood",
    "boards": "Boards",
    "paint": "Paint",
    "glue": "Glue",
    "fixings": "Fixings",
    "other": "Other",
}

AMOUNT_MM, PRICE_MM = 47.0, 16.0
"""Width of amounts and prices on paper: a list of tins breaks in there, and leaves the names of things their room."""


def shopping_sheet(plan: Plan) -> Sheet:
    """What to buy, by shop, with the prices of the brief and what they come to."""
    words, cost = words_of(plan), plan.cost
    order = list(GROUPS)
    bought = sorted(
        (line for line in cost.shopping if line.for_what in order), key=lambda line: order.index(line.for_what)
    )
    parts: list[Part] = []
    for name, group in groupby(bought, key=lambda line: line.for_what):
        parts += _bought(GROUPS[name], list(group), words, headed=not parts)
    if cost.shims:
        parts += _bought("For shims", list(cost.shims), words)
    total = f"{materials_words(cost, plan.brief.piece.currency)} in all" if cost.reckoned else "no price is known"
    missing = f"; {count_of(cost.unpriced, 'line')} without a price" if cost.unpriced and cost.reckoned else ""
    parts.append(Para(lead="Materials:", text=f"{total}{missing}. The sheet 'costs' has them shop by shop."))
    return Sheet(
        name="shopping",
        title="Shopping list",
        todo=(
            "Buy all of one shade's paint and all sticks of one section at once. Take calipers: the measured "
            "section counts, not its name."
        ),
        wrong="The yard has another section or length? Put what it has into the brief and plan again before you pay.",
        parts=tuple(parts),
    )


def costs_sheet(plan: Plan) -> Sheet:
    """What it costs, shop by shop, and the hours; the price of the job, if asked for."""
    words, cost, order = words_of(plan), plan.cost, list(GROUPS)
    lumps = tuple(
        (line.what, words.money(line.cents)) for line in cost.shopping if line.for_what not in order and line.cents
    )
    sums = tuple((GROUPS[name].lower(), words.money(cents)) for name, cents in _sums(plan).items())
    costs: list[Part] = [
        Heading(text="What it costs"),
        Table(
            columns=(Column(kind="text", mm=40.0), Column(align="right")),
            rows=(*sums, *lumps),
            total=("materials", materials_words(cost, plan.brief.piece.currency)),
            tight=True,
        ),
        *_shim_money(plan, words),
    ]
    if cost.unpriced:
        costs.append(Para(text=f"{cost.unpriced} of these lines have no price in the brief; they are not in the sum."))
    parts: list[Part] = [
        Beside(left=tuple(costs), right=tuple(_hours(plan)), left_mm=66.0),
        *_quote(plan, words),
    ]
    return Sheet(
        name="costs",
        title="Costs and hours",
        todo="See what the materials come to, and where the hours go, before you promise a price or a day.",
        wrong="A price or a time is another in your shop? Write yours into the brief and plan again.",
        parts=tuple(parts),
    )


def _bought(head: str, lines: list[ShoppingLine], words: Words, *, headed: bool = False) -> list[Part]:
    """What one shop sells; what is alike of most lines stands once, over them."""
    notes = [_note(line) for line in lines]
    each = [
        text for text, count in Counter(one for note in notes for one in note).items() if 2 * count > len(lines) > 2
    ]
    priced = any(line.cents for line in lines)
    title = f"{head}; each {'; '.join(each)}" if each else head
    rows = []
    for line, note in zip(lines, notes, strict=True):
        own = "; ".join(one for one in note if one not in each)
        named = line.what + (f" ({own})" if own else "")
        rows.append((named, line.amount, *((words.money(line.cents) if line.cents else "",) if priced else ()), ""))
    columns = (
        Column(head="what" if headed else "", wide=True),
        Column(head="how much" if headed else "", kind="strong", mm=AMOUNT_MM),
        *((Column(head="price" if headed else "", align="right", mm=PRICE_MM),) if priced else ()),
        Column(head="got it" if headed else "", kind="tick"),
    )
    return [Heading(text=title), Table(columns=columns, rows=tuple(rows), tight=True)]


def _note(line: ShoppingLine) -> list[str]:
    """A line's note in its pieces, without the lump that pays for it."""
    return [one for one in line.note.partition(PAID_IN)[0].split("; ") if one]


def _shim_money(plan: Plan, words: Words) -> list[Part]:
    if not plan.cost.shims:
        return []
    cost = plan.cost
    price = f"{words.money(cost.shims_cents)} more for shims" if cost.shims_cents else "Wood for shims comes on top"
    both = f", {words.money(cost.materials_cents + cost.shims_cents)} in all" if cost.shims_cents else ""
    return [Para(text=f"{price}{both}. Shims stay in the shop, as clamps do; scrap of the same thickness spares it.")]


def _sums(plan: Plan) -> dict[str, int]:
    """Money by shop, for lines that have a price of their own."""
    found: dict[str, int] = {}
    for line in plan.cost.shopping:
        if line.for_what in GROUPS and line.cents:
            found[line.for_what] = found.get(line.for_what, 0) + line.cents
    return found


def _hours(plan: Plan) -> list[Part]:
    cost = plan.cost
    rows = tuple((step.step, f"{round(step.minutes_per_block, 2):g}", f"{step.hours:.2f}") for step in cost.steps)
    return [
        Heading(text="Hours"),
        Table(
            columns=(
                Column(head="step", kind="strong"),
                Column(head="minutes a block", align="right"),
                Column(head="hours", kind="strong", align="right"),
            ),
            rows=(*rows, ("the rest, once", "", f"{cost.fixed_h:.2f}")),
            total=("all", "", f"{cost.hours:.2f}"),
            tight=True,
        ),
        Para(text=_basis_of_hours(plan)),
    ]


def _basis_of_hours(plan: Plan) -> str:
    """Where the minutes come from; why those of painting differ from the sheet of ways, where they do."""
    told = "First guesses until you have timed twenty blocks of your own."
    way = plan.paint.way
    if plan.brief.rates.paint_min is None:
        return f"{told} Prime and paint: as the way {way.name} takes."
    return (
        f"{told} Prime and paint: your own minutes (rates.paint). The sheet of ways guesses {way.attended_h:.2f} h for "
        f"{way.name}, to weigh the ways."
    )


def _quote(plan: Plan, words: Words) -> list[Part]:
    quote = plan.cost.quote
    if quote is None:
        return []
    lines = (
        (f"labour, {hours(plan.cost.hours)} at {words.money(quote.hourly_cents)}", quote.labour_cents),
        ("overhead", quote.overhead_cents),
        ("contingency", quote.contingency_cents),
        ("materials", quote.materials_cents),
        ("markup on materials", quote.markup_cents),
    )
    figures = [Figure(value=words.money(quote.total_cents), unit="", words="price of the job")]
    if plan.brief.piece.copies > 1:
        figures.append(Figure(value=words.money(quote.each_cents), unit="", words="each piece"))
    figures.append(Figure(value=words.money(quote.deposit_cents), unit="", words="deposit"))
    return [
        Heading(text="Quote"),
        Figures(items=tuple(figures)),
        Table(
            columns=(Column(wide=True), Column(align="right")),
            rows=tuple((what, words.money(cents)) for what, cents in lines),
            total=("price of the job", words.money(quote.total_cents)),
        ),
    ]


def checks_sheet(plan: Plan) -> Sheet:
    """Every check in full: what can hurt somebody first, taste last."""
    parts: list[Part] = []
    for head, checks in groupby(plan.checks, key=_group):
        parts.append(Heading(text=head))
        for check in checks:
            parts += _check(check)
    parts += _answers(plan)
    return Sheet(
        name="checks",
        title="Checks in full",
        todo=(
            "Read what says stop or caution, with its reason and its source. The others are here so that you can "
            "look them up."
        ),
        wrong=(
            "You see it otherwise? What somebody can agree to stands on the sheet “Ask first”, and the brief takes the "
            "answer. Nothing else is to be waved through."
        ),
        parts=tuple(parts),
    )


def _answers(plan: Plan) -> list[Part]:
    """Answers of the brief that settle nothing, or nothing any more."""
    left = [one for one in plan.settled if one.state is not AnswerState.HOLDS]
    if not left:
        return []
    rows = tuple(
        (f"{one.answer.check}{f' ({one.answer.of})' if one.answer.of else ''}", one.answer.by, full(one.why))
        for one in left
    )
    columns = (
        Column(head="answer to", mm=46.0),
        Column(head="by", mm=36.0),
        Column(head="why it settles nothing", wide=True),
    )
    return [Heading(text="Answers that settle nothing now"), Table(columns=columns, rows=rows, tight=True)]


def _group(check: Check) -> str:
    """The heading that a check stands under."""
    if check.kind is Kind.TASTE:
        return TASTE_ALONE
    if check.settled is not None:
        return "Settled"
    if check.verdict is Verdict.FINE:
        return "Fine"
    return f"{check.verdict.value.capitalize()}: {AT_STAKE[check.kind]}"


def _check(check: Check) -> list[Part]:
    subject = f" ({check.subject})" if check.subject else ""
    if check.verdict is Verdict.FINE:
        allowed = f" Allowed: {check.allowed[:1].lower()}{full(check.allowed)[1:]}" if check.allowed else ""
        said_by = " ".join(full(text) for text in (check.why, check.source) if text)
        return [
            Para(lead=f"{check.title}{subject}:", text=f"{full(check.found)}{allowed}"),
            Para(text=said_by, small=True),
        ]
    rows = (
        ("found", check.found),
        ("allowed", check.allowed),
        ("why", check.why),
        ("mind", check.care),
        (check.advice.value, check.remedy),
        ("source", check.source),
    )
    said = tuple((head, full(text)) for head, text in rows if text)
    columns = (Column(kind="small", mm=18.0), Column(wide=True))
    return [Heading(text=f"{check.title}{subject}", level=3), Table(columns=columns, rows=said, tight=True)]


def assumptions_sheet(plan: Plan) -> Sheet | None:
    """What the brief left open, and what was taken instead."""
    defaults = plan.brief.defaults
    if not defaults:
        return None
    heads = [default.field.partition(".")[0].partition("[")[0] for default in defaults]
    return Sheet(
        name="assumed",
        title="What was assumed",
        todo="The brief left these open. Correct any that do not hold in your shop, and plan again.",
        wrong="A value is wrong? Write it into the brief: one line each, under the name at the left.",
        parts=(
            Table(
                columns=(
                    Column(head="in the brief", kind="strong", mm=54.0),
                    Column(head="taken", mm=40.0),
                    Column(head="why", kind="small", wide=True),
                ),
                rows=tuple((default.field, default.value, default.reason) for default in defaults),
                groups=tuple(n for n, head in enumerate(heads) if n == 0 or head != heads[n - 1]),
                tight=True,
            ),
        ),
    )
