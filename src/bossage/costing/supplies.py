"""What the work uses up or is done with beside wood, paint and glue: paper, brushes, masks, jars, cards, rags.

Rates are common practice without a source, or this project's own first guesses; each is said beside its number.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.brief.records import Brief, EdgeStyle, LengthUnit
from bossage.costing.records import ShoppingLine
from bossage.paint.cards import card_fields
from bossage.paint.records import Paint
from bossage.units import format_length, format_volume

# Ours, to be replaced by a log: a sheet of 230 × 280 mm on end grain, edges broken with one sheet, an hour of a mask.
FACE_MM2_A_SHEET = 250_000.0
EDGE_MM_A_SHEET = 50_000.0
MASK_H = 8.0
RAG_MM2 = 300_000.0  # wiped off with one rag before it is full
JAR_ROOM = 1.15  # a jar is filled to a hand's breadth below the lid, and stirred


def supplies(
    brief: Brief, paint: Paint, *, faces_mm2: float, blocks: int, backer_edge_nm: int
) -> Iterator[ShoppingLine]:
    """Lines of the shop's other shelves, each with how many.

    Args:
        brief: Who works, in which unit shops sell.
        paint: The way of painting, pots, clear finishes, edges.
        faces_mm2: All faces together.
        blocks: How many there are.
        backer_edge_nm: Round all backers.
    """
    inches = brief.piece.unit is LengthUnit.IN
    yield _line("abrasives", *_paper(paint, faces_mm2, inches=inches))
    yield from _tools(brief, paint)
    yield _masks_and_gloves(brief, paint, blocks)
    mixed = [row for row in paint.rows if any(row.shade == r.shade for pots in paint.pots for r in pots.recipes)]
    if mixed:
        most = format_volume(JAR_ROOM * max(row.colour_ml for row in mixed), brief.piece.unit)
        stocks = sum(len(pots.one_pot.stocks) for pots in paint.pots if pots.one_pot is not None)
        count = len(mixed) + stocks + len(paint.pots)
        stock = f", {stocks} for stocks" if stocks else ""
        yield _line(
            "jars with lids", f"{count} of {most} or more", f"one a shade{stock}, one a family for the base kept by"
        )
    if brief.edge.style is EdgeStyle.OUTRIGGER:
        # round the back, inside the bare margin for the strips, and a roll is never used up to its core
        yield _line("masking tape", format_length(round(1.1 * backer_edge_nm), brief.piece.unit), "round the margin")
    fields = sum(len(sheet) for sheet in card_fields(brief))
    if mixed:
        yield _line(
            "white card for dabs",
            f"{fields + len(mixed)} pieces of {'2-1/2 in' if inches else '60 mm'} square",
            "primed like the blocks",
        )
    if paint.stains:
        wiped = sum(row.painted_mm2 for row in paint.rows) * max(s.coats for f in paint.stains for s in f.shades)
        yield _line("rags, lint-free, to wipe off the rest", str(max(4, math.ceil(wiped / RAG_MM2))), "cotton")
        yield _line("metal tin with a tight lid, for rags", "1", "half full of water, kept outdoors")


def _paper(paint: Paint, faces_mm2: float, *, inches: bool) -> tuple[str, str]:
    """Sheets of each grit: the first one breaks the edges as well, the last one denibs as well."""
    work = paint.edge_work
    each = math.ceil(faces_mm2 / FACE_MM2_A_SHEET)
    counts = [each] * len(work.grits)
    counts[0] += math.ceil(work.front_edges_mm / EDGE_MM_A_SHEET)
    if paint.primer_ml:
        counts[-1] += math.ceil(each / 2)
    told = ", ".join(f"{count} of {grit}" for count, grit in zip(counts, work.grits, strict=True))
    return told, f"sheets of {'9 × 11 in' if inches else '230 × 280 mm'} by grit; our first guess"


def _tools(brief: Brief, paint: Paint) -> Iterator[ShoppingLine]:
    """What the way of painting is done with, and what cleans it."""
    way, broad = paint.way, "1 to 1-1/2 in" if brief.piece.unit is LengthUnit.IN else "25 to 40 mm"
    small = 1 + (paint.primer_ml + paint.ground.seal_ml > 0)  # the ground, and what primes or seals
    if way.name in ("roll", "sticks first"):
        yield _line("rollers of fine foam, 100 mm (4 in), with trays", str(2 * way.hands), "faces and sides apart")
    elif way.name == "spray":
        yield _line("strainers for the sprayer", str(len(paint.rows)), "one a shade")
    elif way.name == "dip":
        yield _line("pins and a line to hang blocks from", "one a block", "")
    brushes = small + (way.hands if way.name.startswith("brush") else 0)
    yield _line(f"brushes, {broad}, soft", str(brushes), "shades, primer and ground each their own")
    cleaner = "as its tin names it" if paint.stains else "soap and water, unless the tin says otherwise"
    yield _line("cleaner for brushes", "1", cleaner)


def _masks_and_gloves(brief: Brief, paint: Paint, blocks: int) -> ShoppingLine:
    """A mask for each day of sawing and sanding, gloves for each go of a coat; for everybody who works."""
    hours_h = (brief.rates.saw_min + brief.rates.sand_min) * blocks / 60
    people = max(1, brief.tools.people)
    masks = max(people, math.ceil(hours_h / MASK_H))
    pairs = people * (paint.way.goes * paint.way.batches + 1)
    kind = "N95" if brief.piece.unit is LengthUnit.IN else "FFP2"
    note = f"masks for fine dust ({kind}); gloves of nitrile, as the labels ask"
    return _line("masks and gloves", f"{masks} mask{'s' * (masks > 1)}, {pairs} pairs of gloves", note)


def _line(what: str, amount: str, note: str) -> ShoppingLine:
    return ShoppingLine(what=what, amount=amount, for_what="other", each_cents=None, cents=None, note=note)
