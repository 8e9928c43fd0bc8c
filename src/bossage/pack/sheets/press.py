"""At the glue bench: shims and sets first, then a card for each row; the edge ring as a job of its own."""

from __future__ import annotations

import math

from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.drawings.ring import ring_drawing
from bossage.pack.drawings.rowcard import row_drawing, row_lines
from bossage.pack.sheet import Card, Column, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.bed import STEPS_OF, TODO_OF, bed_sheet, screw_sheet
from bossage.pack.sheets.common import cares, check_cares, checks_of, room, words_of
from bossage.pack.sheets.days import calendar_of
from bossage.pack.sheets.rest import rest_parts
from bossage.pack.sheets.shims import source_words
from bossage.pack.words import Words, count_of, sentence, split_unit
from bossage.plan import Plan
from bossage.press.bed import BAG_G, bag_cards
from bossage.press.caul import caul_words
from bossage.press.records import RingJob, RowCard

ELSEWHERE = ("cleat_bow", "clamp_reach", "clamp_opening")
"""Checks whose care is said otherwise: on the sheet 'Hang', and by the paragraph on the caul."""


def press_sheets(plan: Plan) -> list[Sheet]:
    """The bench sheet, the cards of the way that is chosen or advised, leaf by leaf; the ring."""
    sheets = [_bench_sheet(plan)]
    way = plan.press.way.name
    if way in ("face down", "screws"):
        sheets += [bed_sheet(plan, bed) if way == "face down" else screw_sheet(plan, bed) for bed in plan.press.beds]
    else:
        for leaf in range(len(plan.layout.leaves)):
            cards = [card for card in plan.press.rows if card.leaf == leaf]
            if cards:
                sheets.append(_cards_sheet(plan, leaf, cards))
    if plan.press.ring is not None:
        sheets.append(_ring_sheet(plan))
    return sheets


def _bench_sheet(plan: Plan) -> Sheet:
    words, press, glue = words_of(plan), plan.press, plan.brief.glue
    wet, unit = split_unit(words.mass(press.glue_wet_g))
    parts: list[Part] = [
        *cares(plan, "glue", "press"),
        *check_cares(plan, tuple(c for c in checks_of(plan, "press", "relief") if c.name not in ELSEWHERE)),
        Figures(
            items=(
                Figure(value=f"{glue.open_min:g}", unit="min", words="open time"),
                Figure(value=str(press.batch_most), unit="", words="blocks a go, at most"),
                Figure(value=f"{glue.clamp_min:g}", unit="min", words="in the clamps"),
                Figure(value=wet, unit=unit, words="glue, wet"),
            )
        ),
        Para(lead="These cards are for:", text=f"{press.way.title[:1].lower()}{press.way.title[1:]}. {press.way.why}"),
        *_caul(plan),
        *rest_parts(plan, words),
        *_shims(plan, words),
        Heading(text=STEPS_OF[press.way.name][0]),
        Steps(texts=STEPS_OF[press.way.name][1]),
    ]
    return Sheet(
        name="press",
        title="Glue bench",
        todo=TODO_OF[press.way.name],
        wrong=(
            "A block slipped in the clamps? Within the open time loosen, push it back, tighten; after that cut it "
            "out with a fine saw."
        ),
        parts=tuple(parts),
    )


def _caul(plan: Plan) -> list[Part]:
    """The caul, where its clamps sit, and its camber where it needs one; for the ways that press with a caul."""
    if plan.press.way.name not in ("row by row", "several sets"):
        return []
    return [Para(lead="The caul:", text=caul_words(plan.brief, plan.press.caul))]


def _shims(plan: Plan, words: Words) -> list[Part]:
    """How many of which thickness, from what."""
    press = plan.press
    if not press.shims:
        return []
    face_down = press.way.name == "face down"
    return [
        Heading(text="Shims to make"),
        Table(
            columns=(
                Column(head=f"thickness, {words.unit}", kind="figure", align="right"),
                Column(head="make", kind="figure", align="right"),
                Column(head="most on one bed" if face_down else "most in one row", align="right"),
                Column(head="from"),
                Column(head="done", kind="tick"),
            ),
            rows=tuple(
                (
                    words.bare(s.thickness_nm),
                    str(s.to_make),
                    str(s.most_in_a_row),
                    source_words(plan, s),
                    "",
                )
                for s in press.shims
            ),
            tight=True,
        ),
        Para(text="A shim on its block is as high as the highest level: so one straight board presses them all."),
        *_shim_ways(plan, words),
    ]


def _shim_ways(plan: Plan, words: Words) -> list[Part]:
    """What shims that are all levels would cost beside those that are planned."""
    if not plan.press.shim_ways:
        return []
    text = " ".join(
        f"{way.name[:1].upper()}{way.name[1:]}: {count_of(way.count, 'shim')}, {way.sliced} of them sliced from "
        f"{words.length(way.wood_nm)} of stick, {count_of(way.settings_added, 'setting')} of the stop added."
        for way in plan.press.shim_ways
    )
    return [
        Para(
            lead="Two ways to be level:",
            text=f"{text} With the second every block lies under a shim, and a shim is a block of that level. Block "
            "and shim are as high as the lowest and the highest level together.",
            small=True,
        )
    ]


def bench_clock(plan: Plan) -> list[Part]:
    """Hours of the row ways by sets, or of the way that is taken."""
    press = plan.press
    if press.way.name not in ("row by row", "several sets"):
        return [
            Para(
                lead="How long it takes:",
                text=f"{press.way.elapsed_h:.1f} h by the clock, {press.way.attended_h:.1f} h of them at the bench; "
                f"{press.way.prepare_h:.1f} h before, to prepare.",
            ),
        ]
    said = "; ".join(
        f"{count_of(h.sets, 'set')} of caul and clamps: {h.elapsed_h:.1f} h by the clock, {h.attended_h:.1f} h of them "
        f"at the bench, nothing is quicker than {h.bound_h:.1f} h"
        for h in press.hours
    )
    return [Para(lead="How long it takes:", text=sentence(said))]


def _cards_sheet(plan: Plan, leaf: int, cards: list[RowCard]) -> Sheet:
    words, space, place = words_of(plan), room(plan), plan.layout.leaves[leaf]
    width_mm = space.width_mm - 1.0
    scale_n = math.ceil(10 * place.width_nm / 1e6 / width_mm) / 10
    times, parts = _clocks(plan), list[Part]()
    for card in cards:
        parts += _card(plan, card, words, width_mm, scale_n, times[card.leaf, card.row])
    several = len(plan.layout.leaves) > 1
    which = f", leaf {place.name}" if several else ""
    copy = f" of piece {place.copy}" if plan.brief.piece.copies > 1 else ""
    return Sheet(
        name="cards",
        title=f"Press cards{which}{copy}",
        todo=(
            f"Left to right, seen from the front. Large: level in {words.unit_name}; under it the shade"
            + (". " if plan.press.way.name == "bags" else "; framed: the shim that goes on its face. ")
            + "On and off: the clamps, or the bags; the calendar's clock stands beside the row."
        ),
        wrong=(
            "Two like levels beside each other, or a gap at the end? Stop before the glue: a block is in the wrong "
            "place. Look at the map."
        ),
        parts=tuple(parts),
    )


def _card(plan: Plan, card: RowCard, words: Words, width_mm: float, scale_n: float, clocks: list[str]) -> list[Part]:
    bags = plan.press.way.name == "bags"
    lines = row_lines(plan, card, words, width_mm=width_mm)
    drawings = [
        row_drawing(plan, part, words, first_go=first, shims=not bags)(scale_n / len(lines)) for part, first in lines
    ]
    blocks = sum(len(batch.blocks) for batch in card.batches)
    goes = "" if len(card.batches) == 1 else f" in {len(card.batches)} goes"
    note = f"{count_of(blocks, 'block')}{goes}, glue {words.mass(card.glue_g)}, "
    if bags:
        over = [one.bags for one in bag_cards(plan.brief, (card,))]
        note += f"{' and '.join(str(n) for n in over)} bags of {words.mass(BAG_G)}."
    else:
        note += f"{count_of(card.clamps, 'clamp')}, caul {words.length(card.caul_length_nm)}, with its shim "
        note += f"{words.length(card.constant_nm)}."
    goes_at = [clock if len(clocks) == 1 else f"go {n}, {clock}" for n, clock in enumerate(clocks, start=1)]
    said = "; ".join(goes_at)
    note += f" {said[:1].upper()}{sentence(said[1:])}"
    return [
        Card(
            title=f"Row {card.row}",
            blanks=("on", "off"),
            parts=(Para(text=note, small=True), *(Drawn(drawing=drawing) for drawing in drawings)),
        )
    ]


def _clocks(plan: Plan) -> dict[tuple[int, int], list[str]]:
    """Day and clock of each go of each row, by leaf and row."""
    times = iter(calendar_of(plan).batches)
    return {(card.leaf, card.row): [next(times).clock for _ in card.batches] for card in plan.press.rows}


def _longest(ring: RingJob, words: Words) -> list[Figure]:
    """The longest screw that is sold for a ring block; none where none bites."""
    if ring.fixing_usual_nm is None:
        return []
    return [Figure(value=words.bare(ring.fixing_usual_nm), unit=words.unit, words="longest screw or brad")]


def _ring_sheet(plan: Plan) -> Sheet:
    words, space, ring = words_of(plan), room(plan), plan.press.ring
    assert ring is not None
    drawing = fitted(ring_drawing(plan, words), width_mm=space.width_mm, height_mm=0.33 * space.height_mm)
    glue, unit = split_unit(words.mass(ring.glue_g))
    return Sheet(
        name="ring",
        title="Edge ring",
        todo=(
            "Draw this out at full size on the bench, lay the piece face down on its bed, then set the ring on its "
            "strips."
        ),
        wrong=(
            "The ring stands proud of the field or behind it? The bed is not level: take the strip off before the "
            "glue has set."
        ),
        parts=(
            *cares(plan, "glue"),
            *check_cares(plan, tuple(c for c in checks_of(plan, "press") if c.name == "ring_strip")),
            Drawn(
                drawing=drawing, caption=f"Seen from the back. Dashed: the backer's edge. Lengths in {words.unit_name}."
            ),
            Figures(
                items=(
                    Figure(value=str(ring.blocks_per_leaf), unit="", words="ring blocks a leaf"),
                    Figure(value=words.bare(ring.support_nm), unit=words.unit, words="bed under the face"),
                    *_longest(ring, words),
                    Figure(value=glue, unit=unit, words="glue, wet"),
                )
            ),
            Steps(texts=tuple(step.text for step in ring.steps)),
        ),
        scale=scale_words(drawing.scale_n),
    )
