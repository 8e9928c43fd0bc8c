"""At the glue bench: shims and sets first, then a card for each row; the edge ring as a job of its own."""

from __future__ import annotations

import math

from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.drawings.ring import ring_drawing
from bossage.pack.drawings.rowcard import row_drawing
from bossage.pack.sheet import Card, Column, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import cares, check_cares, checks_of, room, words_of
from bossage.pack.words import Words, count_of, split_unit
from bossage.plan import Plan
from bossage.press.records import RowCard


def press_sheets(plan: Plan) -> list[Sheet]:
    """The bench sheet, the cards leaf by leaf, the ring."""
    sheets = [_bench_sheet(plan)]
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
        *check_cares(checks_of(plan, "press", "relief")),
        Figures(
            items=(
                Figure(value=f"{glue.open_min:g}", unit="min", words="open time"),
                Figure(value=str(press.batch_most), unit="", words="blocks a go, at most"),
                Figure(value=f"{glue.clamp_min:g}", unit="min", words="in the clamps"),
                Figure(value=wet, unit=unit, words="glue, wet"),
            )
        ),
        Heading(text="Shims to make"),
        Table(
            columns=(
                Column(head=f"thickness, {words.unit}", kind="figure", align="right"),
                Column(head="make", kind="figure", align="right"),
                Column(head="most in one row", align="right"),
                Column(head="from"),
                Column(head="done", kind="tick"),
            ),
            rows=tuple(
                (
                    words.bare(s.thickness_nm),
                    str(s.to_make),
                    str(s.most_in_a_row),
                    s.section or "card or thin sheet",
                    "",
                )
                for s in press.shims
            ),
        ),
        Para(text="A shim on its block is as high as the highest level: so one straight caul presses the whole row."),
        Heading(text="How long it takes"),
        Table(
            columns=(
                Column(head="sets of caul and clamps", kind="strong", align="right"),
                Column(head="hours by the clock", kind="figure", align="right"),
                Column(head="hours at the bench", align="right"),
                Column(head="nothing is quicker than", align="right"),
            ),
            rows=tuple(
                (str(h.sets), f"{h.elapsed_h:.1f}", f"{h.attended_h:.1f}", f"{h.bound_h:.1f} h") for h in press.hours
            ),
        ),
        Heading(text="Each row"),
        Steps(
            texts=(
                "Lay the row dry against the fence, left to right as on its card, shims on the faces. Try the caul.",
                "Glue the backs, set the blocks, shims on, paper over them, caul over all.",
                "Tighten from the middle outwards. Note the time on the card.",
                "Out of the clamps: scrape squeeze-out, tick the row off, check the next row's line with a square.",
            )
        ),
    ]
    return Sheet(
        name="press",
        title="Glue bench",
        todo="Make the shims, set the fence square to the backer's datum corner, then press row by row with the cards.",
        wrong=(
            "A block slipped in the clamps? Within the open time loosen, push it back, tighten; after that cut it "
            "out with a fine saw."
        ),
        parts=tuple(parts),
    )


def _cards_sheet(plan: Plan, leaf: int, cards: list[RowCard]) -> Sheet:
    words, space, place = words_of(plan), room(plan), plan.layout.leaves[leaf]
    scale_n = math.ceil(10 * place.width_nm / 1e6 / (space.width_mm - 1.0)) / 10
    parts: list[Part] = []
    for card in cards:
        parts += _card(plan, card, words, scale_n)
    several = len(plan.layout.leaves) > 1
    which = f", leaf {place.name}" if several else ""
    copy = f" of piece {place.copy}" if plan.brief.piece.copies > 1 else ""
    return Sheet(
        name="cards",
        title=f"Press cards{which}{copy}",
        todo=(
            f"Left to right, seen from the front. Large: level in {words.unit_name}; under it the shade; framed: the "
            "shim that goes on its face."
        ),
        wrong=(
            "Two like levels beside each other, or a gap at the end? Stop before the glue: a block is in the wrong "
            "place. Look at the map."
        ),
        parts=tuple(parts),
    )


def _card(plan: Plan, card: RowCard, words: Words, scale_n: float) -> list[Part]:
    drawing = row_drawing(plan, card, words)(scale_n)
    blocks = sum(len(batch.blocks) for batch in card.batches)
    goes = "" if len(card.batches) == 1 else f" in {len(card.batches)} goes"
    caption = (
        f"{count_of(blocks, 'block')}{goes}, glue {words.mass(card.glue_g)}, {count_of(card.clamps, 'clamp')}, caul "
        f"{words.length(card.caul_length_nm)}; shim and block together {words.length(card.constant_nm)}."
    )
    return [
        Card(
            title=f"Row {card.row}",
            blanks=("in the clamps at", "out at"),
            parts=(Drawn(drawing=drawing, caption=caption),),
        )
    ]


def _ring_sheet(plan: Plan) -> Sheet:
    words, space, ring = words_of(plan), room(plan), plan.press.ring
    assert ring is not None
    drawing = fitted(ring_drawing(plan, words), width_mm=space.width_mm, height_mm=0.46 * space.height_mm)
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
            *check_cares(tuple(c for c in checks_of(plan, "press") if c.name == "ring_strip")),
            Drawn(
                drawing=drawing, caption=f"Seen from the back. Dashed: the backer's edge. Lengths in {words.unit_name}."
            ),
            Figures(
                items=(
                    Figure(value=str(ring.blocks_per_leaf), unit="", words="ring blocks a leaf"),
                    Figure(value=words.bare(ring.support_nm), unit=words.unit, words="bed under the face"),
                    Figure(value=words.bare(ring.fixing_longest_nm), unit=words.unit, words="longest screw or brad"),
                    Figure(value=glue, unit=unit, words="glue, wet"),
                )
            ),
            Steps(texts=tuple(step.text for step in ring.steps)),
        ),
        scale=scale_words(drawing.scale_n),
    )
