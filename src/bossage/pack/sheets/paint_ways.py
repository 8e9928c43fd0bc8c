"""At the desk before a tin is bought: ways to paint side by side, what each takes and risks, and what to buy."""

from __future__ import annotations

from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import all_clear, coats_words, words_of
from bossage.pack.words import Words, listed, sentence
from bossage.paint.coats import KIND, primer_words, stain_kind
from bossage.paint.way_records import PaintWay, Tins
from bossage.plan import Plan


def paint_ways_sheet(plan: Plan) -> Sheet:
    """Every way to paint, the advised one said first; what touches when wet and what can go wrong; tins to buy."""
    words, paint = words_of(plan), plan.paint
    advised = next(way for way in paint.ways if way.advised)
    rack = words.area_mm2(plan.brief.paint.rack_m2 * 1e6)
    parts: list[Part] = [
        Para(lead=f"Advised here: {advised.title[:1].lower()}{advised.title[1:]}.", text=advised.why),
        *_not_as_advised(plan, advised),
        _ways(paint.ways, words),
        Para(
            text=f"Hours of hands, for {coats_words(plan)}. Drying "
            f"room: blocks stand apart; {rack} are there. When the ways are weighed an hour of drying counts an eighth "
            "of an hour of work. Minutes and rates are first guesses: time twenty blocks and write yours down.",
            small=True,
        ),
        *_own_figures(plan, words),
        Heading(text="What touches while it is wet, what can go wrong"),
    ]
    parts += [Para(lead=f"{way.title}.", text=_of(way)) for way in paint.ways]
    parts += [Heading(text="To buy"), _tins(paint.buy, words), *_kinds(plan), *_white(plan)]
    return Sheet(
        name="paintways",
        title="Ways to paint, and what to buy",
        todo=(
            f"Choose one way for all blocks before a tin is bought. Amounts are for {paint.way.name}; "
            'paint.way = "…" in the brief makes them for another.'
        ),
        wrong="The way does not work in your shop? Change it between two shades, and plan again for the amounts.",
        parts=tuple(parts),
    )


def _not_as_advised(plan: Plan, advised: PaintWay) -> list[Part]:
    """Why the sheets are for another way than the one advised, and how they become the advised one's."""
    way, asked = plan.paint.way, plan.brief.paint
    if way.name == advised.name:
        return []
    why = (
        f'the brief names it (paint.way = "{asked.way}")'
        if asked.way
        else "the brief has a count of its own of the sides (paint.side_share), which is a count of whole sides"
    )
    return [
        Para(
            lead=f"All sheets are for {way.name}:",
            text=f"{why}. Amounts, days and list go by it. To follow the advice, do not only paint otherwise: write "
            f'paint.way = "{advised.name}" and plan again.',
        )
    ]


def _own_figures(plan: Plan, words: Words) -> list[Part]:
    """Why the maker's own count of paint, and the maker's own minutes, differ from the way that is taken."""
    paint, minutes = plan.paint, plan.brief.rates.paint_min
    told: list[Part] = []
    if paint.counted is not None:
        one = paint.counted
        told.append(
            Para(
                lead="Your own count of the sides",
                text=f"({100 * one.share:.0f} %, from earlier pieces) comes to {words.area_mm2(one.painted_mm2)}, "
                f"{words.volume(one.primer_ml)} of primer and {words.volume(one.colour_ml)} of colour. "
                f"{_upper(paint.way.name)} covers {words.area_mm2(paint.painted_mm2)}, so pots, primer and tins hold "
                "what the table says: a pot that runs dry half way cannot be matched.",
                small=True,
            )
        )
    if minutes is not None:
        hours_h = next(step.hours for step in plan.cost.steps if step.step == "prime and paint")
        told.append(
            Para(
                lead="Cost and days count your own minutes:",
                text=f"{minutes:g} a block (rates.paint), {hours_h:.2f} h in all for this job. The table's hours are "
                f"first guesses, {paint.way.attended_h:.2f} h for {paint.way.name}: they weigh the ways.",
                small=True,
            )
        )
    return told


def _of(way: PaintWay) -> str:
    lacks = f" Not there: {listed(way.missing)}." if way.missing else ""
    return f"{way.touch} {' '.join(way.risks)}{lacks}"


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _ways(ways: tuple[PaintWay, ...], words: Words) -> Table:
    return Table(
        columns=(
            Column(head="way", kind="strong", mm=27.0),
            Column(head="hours at work", kind="figure", align="right", mm=17.0),
            Column(head="drying, h", align="right", mm=13.0),
            Column(head="primer", align="right", mm=19.0),
            Column(head="shades", align="right", mm=19.0),
            Column(head="ground, on sides", align="right", mm=19.0),
            Column(head="bare wood seen", align="right", mm=17.0),
            Column(head="drying room", align="right", mm=20.0),
            Column(head="goes, batches", align="right", mm=15.0),
        ),
        rows=tuple(
            (
                way.name,
                f"{way.attended_h:.2f}",
                f"{way.wait_h:.0f}",
                words.volume(way.primer_ml),
                words.volume(way.shade_ml),
                words.volume(way.ground_ml) if way.ground_ml else "",
                words.area_mm2(way.bare_mm2) if way.bare_mm2 > 1 else "none",
                words.area_mm2(way.rack_mm2),
                f"{way.goes} × {way.batches}" if way.batches > 1 else str(way.goes),
            )
            for way in ways
        ),
        tight=True,
    )


def _tins(buy: tuple[Tins, ...], words: Words) -> Table:
    """Tins, with what they cost where any has a price of its own."""
    priced = any(one.cents is not None for one in buy)
    return Table(
        columns=(
            Column(head="what", kind="strong", wide=True),
            Column(head="needed", align="right"),
            Column(head="tins", kind="strong", align="right", mm=46.0),
            *((Column(head="costs", align="right"),) if priced else ()),
            Column(head="lot number", kind="blank", mm=30.0),
            Column(kind="tick"),
        ),
        rows=tuple(
            (
                one.what.removeprefix("paint, "),
                words.volume(one.need_ml),
                " and ".join(f"{count} of {words.volume(size)}" for size, count in one.tins),
                *((words.money(one.cents) if one.cents is not None else "",) if priced else ()),
                "",
                "",
            )
            for one in buy
        ),
        tight=True,
    )


def _kinds(plan: Plan) -> list[Part]:
    """Which primer and which paint to ask for, in words."""
    asked = plan.brief.paint
    told = [f"primer: {primer_words(plan.brief)}"] if plan.paint.primer_ml + plan.paint.ground.seal_ml else []
    if any(one.finish == "stain" for one in plan.paint.stains):
        told.append(f"stain: {stain_kind(plan.brief)}")
    if not all_clear(plan):
        told.append(
            f"colour: {asked.gloss}, {KIND}, each tinted to the L*, a*, b* on the paint sheet; where a shop tints no "
            "tin so small, the next size"
        )
    return (
        [
            Para(
                lead="Which kind:",
                text=f"{'; '.join(told)}. The gloss is the brief's; water-borne and indoors are our default, and "
                f"every tin must agree with {'what is' if all_clear(plan) else 'the primer'} under it.",
            )
        ]
        if told
        else []
    )


def _white(plan: Plan) -> list[Part]:
    """Which white the families are mixed from, and that it is bought together."""
    bases = [one for one in plan.paint.buy if one.what.startswith("paint, base")]
    if not bases:
        return []
    told = "; ".join(f"{one.what.removeprefix('paint, base ')} {', '.join(one.note.split('; ')[:2])}" for one in bases)
    return [
        Para(
            lead="Which white:",
            text=f"{told}, in the gloss of all else ({plan.brief.paint.gloss}): an untinted base is another white. "
            "Tins of one lot are one white: buy them together, write the lot number down, and pour two tins into one "
            "another before the first mix.",
        ),
        Para(text=sentence("Sizes without a price are usual ones (common practice, no source)"), small=True),
    ]
