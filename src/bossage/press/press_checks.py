"""The verdicts on pressing itself: open time, time in the clamps, clamps enough."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.press.bed_records import BedCard
from bossage.press.caul import end_caul_words
from bossage.press.method_records import Caul
from bossage.press.records import RowCard
from bossage.press.rows import batch_most
from bossage.units import format_length

CLAMP_LEAST_MIN, CLAMP_MOST_MIN = 30, 60


def rows_in_open_time(brief: Brief, cards: tuple[RowCard, ...]) -> Check:
    """`open_time`: whether the longest row is laid in one go."""
    longest = max(len(batch.blocks) for card in cards for batch in card.batches)
    parts = max(len(card.batches) for card in cards)
    return Check(
        stage="press",
        name="open_time",
        title="Laying within the open time",
        verdict=Verdict.FINE if parts == 1 else Verdict.CAUTION,
        found=f"The longest row is laid in {'one go' if parts == 1 else f'{parts} parts'}, {longest} blocks at most.",
        allowed=f"{batch_most(brief)} blocks in {brief.glue.open_min:g} min of open time, {brief.rates.lay_s:g} s a "
        "block.",
        why="Glue that has skinned over holds nothing.",
        care="Press the row in the parts shown on its card.",
        remedy="take a slower glue",
        source="The brief's open time.",
    )


def beds_in_open_time(brief: Brief, beds: tuple[BedCard, ...]) -> Check:
    """`open_time`: whether the hands that are there spread the glue over a whole leaf and close it."""
    glue, people = brief.glue, brief.tools.people
    worst = max(beds, key=lambda bed: bed.spread_min)
    takes = worst.spread_min / people + glue.close_min
    fine = worst.hands <= people
    return Check(
        stage="press",
        name="open_time",
        title="Spreading within the open time",
        verdict=Verdict.FINE if fine else Verdict.CAUTION,
        found=f"The glue on a whole leaf is spread and closed in {takes:.1f} min by {people} pair"
        f"{'s' * (people > 1)} of hands.",
        allowed=f"{glue.open_min:g} min of open time.",
        why="Glue that has skinned over holds nothing, and face down everything hangs on one spreading.",
        remedy=f"let {worst.hands} people spread, take a slower glue, or press row by row",
        source="The brief's open time; spread by roller, ours.",
    )


def clamp_checks(brief: Brief, cards: tuple[RowCard, ...], caul: Caul) -> Iterator[Check]:
    """`clamp_time`, and `clamps` where there are too few for a row."""
    glue, unit = brief.glue, brief.piece.unit
    usual = CLAMP_LEAST_MIN <= glue.clamp_min <= CLAMP_MOST_MIN
    yield Check(
        stage="press",
        name="clamp_time",
        title="Time in the clamps before the next row",
        verdict=Verdict.FINE if usual else Verdict.CAUTION,
        found=f"{glue.clamp_min:g} minutes.",
        allowed=f"{CLAMP_LEAST_MIN} to {CLAMP_MOST_MIN} minutes for ordinary glue.",
        why="Too short and blocks creep; much longer wastes the day.",
        care="Follow the glue's label, and give its time in the brief.",
        remedy="",
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
            remedy=f"borrow {needed - brief.tools.clamps}, or clamp only its ends: {end_caul_words(brief, caul)}",
            source="Common practice, no source.",
        )
