"""The stage: row cards, shims, glue, hours, the ring."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief
from bossage.checks import Caution, Check, Verdict
from bossage.layout.records import Layout
from bossage.press.bow import backer_bow, bow_figures, check_bow
from bossage.press.caul import check_caul, end_caul_words, plan_caul
from bossage.press.clock import press_hours, press_schedule
from bossage.press.house import check_gap, house_figures, wood_in_house
from bossage.press.method_records import Caul
from bossage.press.methods import compare_methods
from bossage.press.records import Press, RowCard
from bossage.press.ring import check_ring, ring_figures, ring_job
from bossage.press.rows import batch_most, row_cards
from bossage.press.screws import screw_fits
from bossage.press.shims import cut_shims, shim_needs
from bossage.relief.records import Relief
from bossage.units import format_length

CLAMP_LEAST_MIN, CLAMP_MOST_MIN = 30, 60

CAUTIONS = (
    Caution(
        step="glue",
        text=(
            "Gloves, air, and the label: some glues irritate skin and lungs. "
            "Wipe squeeze-out off painted sides at once."
        ),
        source="Common practice, no source",
    ),
    Caution(
        step="press",
        text="A caul under clamps can spring off: stand aside while tightening, tighten from the middle outwards.",
        source="Common practice, no source",
    ),
)


def plan_press(brief: Brief, layout: Layout, relief: Relief) -> Press:
    """Glue and press the piece row by row, face up, with shims that level each row under a caul.

    Source:
        Open and clamp times are the brief's; the defaults are this project's own choice among figures that disagree
        (docs/decisions). 30 to 60 minutes in the clamps before the next row: common practice, no source.
    """
    cards = row_cards(brief, layout, relief)
    ring = ring_job(brief, layout, relief)
    wet = sum(card.glue_g for card in cards) + (0.0 if ring is None else ring.glue_g)
    sets = max(1, brief.tools.cauls)
    found = press_schedule(brief, cards, sets)
    shims = shim_needs(brief, layout, cards, found)
    caul, fits = plan_caul(brief, layout, relief, cards), screw_fits(brief, layout, relief)
    house, bow = wood_in_house(brief, layout), backer_bow(brief, layout)
    return Press(
        rows=cards,
        shims=shims,
        glue_wet_g=wet,
        glue_dry_g=wet / brief.glue.spread_g_per_m2 * brief.glue.dry_g_per_m2,
        batch_most=batch_most(brief),
        hours=tuple(press_hours(brief, cards, n) for n in sorted({1, 2, sets})),
        ring=ring,
        schedule=found,
        shim_cut=cut_shims(brief, layout, shims),
        caul=caul,
        screws=fits,
        methods=compare_methods(brief, layout, relief, cards, caul, fits),
        house=house,
        bow=bow,
        figures=house_figures(brief, house) | bow_figures(bow) | ring_figures(ring),
        cautions=CAUTIONS,
        checks=(
            *_checks(brief, cards, caul),
            *check_caul(brief, caul),
            check_gap(brief, house),
            check_bow(brief, bow),
            *(() if ring is None else (check_ring(brief, ring),)),
        ),
    )


def _checks(brief: Brief, cards: tuple[RowCard, ...], caul: Caul) -> Iterator[Check]:
    glue, unit = brief.glue, brief.piece.unit
    most = batch_most(brief)
    longest = max(len(batch.blocks) for card in cards for batch in card.batches)
    parts = max(len(card.batches) for card in cards)
    yield Check(
        stage="press",
        name="open_time",
        title="Laying within the open time",
        verdict=Verdict.FINE if parts == 1 else Verdict.CAUTION,
        found=f"The longest row is laid in {'one go' if parts == 1 else f'{parts} parts'}, {longest} blocks at most.",
        allowed=f"{most} blocks in {glue.open_min:g} min of open time, {brief.rates.lay_s:g} s a block.",
        why="Glue that has skinned over holds nothing.",
        remedy="" if parts == 1 else "Press the row in the parts shown on its card, or take a slower glue.",
        source="The brief's open time.",
    )
    usual = CLAMP_LEAST_MIN <= glue.clamp_min <= CLAMP_MOST_MIN
    yield Check(
        stage="press",
        name="clamp_time",
        title="Time in the clamps before the next row",
        verdict=Verdict.FINE if usual else Verdict.CAUTION,
        found=f"{glue.clamp_min:g} minutes.",
        allowed=f"{CLAMP_LEAST_MIN} to {CLAMP_MOST_MIN} minutes for ordinary glue.",
        why="Too short and blocks creep; much longer wastes the day.",
        remedy="" if usual else "Follow the glue's label; give its time in the brief.",
        source="Common practice, no source.",
    )
    needed = max(card.clamps for card in cards)
    if brief.tools.clamps < needed:
        yield Check(
            stage="press",
            name="clamps",
            title="Clamps for one row",
            verdict=Verdict.CAUTION,
            found=f"{brief.tools.clamps} clamps.",
            allowed=f"{needed} for a caul of {format_length(max(c.caul_length_nm for c in cards), unit)}.",
            why="A caul that is held only at its ends bows up in the middle.",
            remedy=f"Borrow {needed - brief.tools.clamps}, or clamp only its ends: {end_caul_words(brief, caul)}.",
            source="Common practice, no source.",
        )
