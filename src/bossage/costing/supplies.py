"""What the work uses up or is done with beside wood, paint and glue: paper, brushes, masks, jars, cards, rags.

Rates are common practice without a source, or this project's own first guesses; each is said beside its number.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.brief.records import Brief, EdgeStyle, LengthUnit
from bossage.costing.records import ShoppingLine
from bossage.paint.dabs import CARD_SIDE_MM, card_count
from bossage.paint.drying import STRIP_HIGH_NM, STRIP_WIDE_NM
from bossage.paint.faces import waxed_bevels
from bossage.paint.pots import tools_of
from bossage.paint.records import Paint
from bossage.press.young import PAPER
from bossage.timber import is_hardwood, species
from bossage.units import format_length, format_size, format_volume

# Ours, to be replaced by a log: a sheet of 230 × 280 mm on end grain, edges broken with one sheet, an hour of a mask.
FACE_MM2_A_SHEET = 250_000.0
EDGE_MM_A_SHEET = 50_000.0
MASK_H = 8.0
RAG_MM2 = 300_000.0  # wiped off with one rag before it is full
ROLL_NM = 50_000_000_000  # of masking tape (common practice, no source)
TAPE_NM = {  # usual widths of it (common practice, no source)
    LengthUnit.MM: (19_000_000, 25_000_000, 38_000_000, 50_000_000),
    LengthUnit.IN: (19_050_000, 25_400_000, 38_100_000, 50_800_000),
}
JAR_ROOM = 1.15  # a jar is filled to a hand's breadth below the lid, and stirred


PAPER_WIDE_MM, PAPER_MORE = 380.0, 1.25  # a kitchen roll; pieces are cut a little larger than faces


def supplies(
    brief: Brief, paint: Paint, *, faces_mm2: float, blocks: int, pressed: bool, backer_edge_nm: int
) -> Iterator[ShoppingLine]:
    """Lines of the shop's other shelves, each with how many.

    Args:
        brief: Who works, in which unit shops sell.
        paint: The way of painting, pots, clear finishes, edges.
        faces_mm2: All faces together.
        blocks: How many there are.
        pressed: Whether faces are pressed while their paint is young.
        backer_edge_nm: Round all backers.
    """
    inches = brief.piece.unit is LengthUnit.IN
    yield _line("abrasives", *_paper(paint, faces_mm2, inches=inches))
    yield from _tools(brief, paint)
    yield from _to_dry_on(brief, paint)
    yield from _for_the_backer(brief, paint)
    if pressed:
        length_nm = math.ceil(PAPER_MORE * faces_mm2 / PAPER_WIDE_MM / 1e3) * 10**9
        length = format_length(length_nm, brief.piece.unit)
        yield _line(PAPER, f"1 roll of {length} or more", "380 mm (15 in) wide; a piece on every face that is pressed")
    yield _masks_and_gloves(brief, paint, blocks)
    mixed = [row for row in paint.rows if any(row.shade == r.shade for pots in paint.pots for r in pots.recipes)]
    if mixed:
        most = format_volume(JAR_ROOM * max(row.mix_ml for row in mixed), brief.piece.unit)
        stocks = sum(len(pots.one_pot.stocks) for pots in paint.pots if pots.one_pot is not None)
        count = len(mixed) + stocks + len(paint.pots)
        stock = f", {stocks} for stocks" if stocks else ""
        yield _line(
            "jars with lids", f"{count} of {most} or more", f"one a shade{stock}, one a family for the base kept by"
        )
        yield from _mixing_tools(brief, paint, shades=len(mixed))
    if brief.edge.style is EdgeStyle.OUTRIGGER:
        yield _tape(brief, backer_edge_nm)
    if mixed:
        yield _line(
            "white card for dabs",
            f"{card_count(brief, paint.pots)} pieces of {'2-1/2 in' if inches else f'{CARD_SIDE_MM:.0f} mm'} square",
            "test card and dabs; primed like the blocks",
        )
    if paint.stains:
        goes = max(s.coats for f in paint.stains for s in f.shades)
        goes += brief.paint.topcoat_coats if brief.paint.topcoat else 0
        shades = sum(len(f.shades) for f in paint.stains)
        wiped = sum(row.painted_mm2 for row in paint.rows) * goes
        # a rag a shade at least: a full one carries the darker stain on
        count = max(4, shades * goes, math.ceil(wiped / RAG_MM2))
        yield _line("rags, lint-free, to wipe off the rest", str(count), "cotton; one a shade and coat")
        yield from _stain_tools(brief, paint)
        yield _line("metal tin with a tight lid, for rags", "1", "half full of water, kept outdoors")


def _stain_tools(brief: Brief, paint: Paint) -> Iterator[ShoppingLine]:
    """Jars for the mixes of a stain and for its two weaker test mixes, and what they are measured with."""
    mixes = [one for family in paint.stains for one in family.shades if one.parts[1]]
    if not mixes:
        return
    families = sum(family.finish == "stain" for family in paint.stains)
    most = format_volume(JAR_ROOM * max(one.mix_ml for one in mixes), brief.piece.unit)
    yield _line(
        "jars with lids, for stain", f"{len(mixes) + 2 * families} of {most} or more", "one a mix, two for the tests"
    )
    yield _line("syringe or measuring cup, 10 mL", "2", "marks every 0.5 mL; one for stain, one for thinner")


def _mixing_tools(brief: Brief, paint: Paint, *, shades: int) -> Iterator[ShoppingLine]:
    """What paint is measured with, and the vessels that hold a whole family or all tins of a base at once."""
    unit = brief.piece.unit
    for tool in tools_of(paint.pots):
        syringe = "syringe" in tool.name
        marks = f"marks every {tool.mark_ml:g} mL"
        # a syringe with tinter in it colours the next one
        many, whose = (len(paint.pots), "; one a family") if syringe else (1, "")
        yield _line(tool.name, str(many), f"{marks}{whose}")
    pots = [one.one_pot for one in paint.pots if one.one_pot is not None and one.one_pot_advised]
    if pots:
        most_ml = JAR_ROOM * max(step.before_ml for pot in pots for step in pot.steps)
        yield _line(
            "pots with lids and marks", f"{len(pots)} of {format_volume(most_ml, unit)} or more", "a family each"
        )
    poured = [one for one in paint.buy if one.what.startswith("paint, base") and sum(n for _, n in one.tins) > 1]
    for one in poured:
        all_ml = JAR_ROOM * sum(size_ml * count for size_ml, count in one.tins)
        note = f"all tins of {one.what.removeprefix('paint, ')} poured together"
        yield _line("jug or bucket with a lid", f"1 of {format_volume(all_ml, unit)} or more", note)
    yield _line("stirring sticks", str(shades + len(paint.pots)), "flat, one a shade and one a stock or pot")


def _tape(brief: Brief, backer_edge_nm: int) -> ShoppingLine:
    """For the bare margin for the strips; a roll is never used up to its core."""
    margin_nm, unit = brief.edge.strip_behind_nm, brief.piece.unit
    across = [(nm, count) for count in (1, 2, 3) for nm in TAPE_NM[unit] if nm * count >= margin_nm]
    width_nm, laps = min(across, key=lambda one: (one[1], one[0])) if across else (TAPE_NM[unit][-1], 4)
    rolls = max(1, math.ceil(1.1 * laps * backer_edge_nm / ROLL_NM))
    side = f", {laps} runs side by side" if laps > 1 else ""
    note = f"round the margin: {format_length(margin_nm, unit)} wide, {format_length(backer_edge_nm, unit)} long{side}"
    return _line("masking tape", f"{rolls} of {format_length(width_nm, unit)} or wider", note)


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
    way, broad = paint.way, "3/4 to 1 in" if brief.piece.unit is LengthUnit.IN else "20 to 25 mm"
    small = 1 + (paint.primer_ml + paint.ground.seal_ml > 0)  # the ground, and what primes or seals
    if way.name in ("roll", "sticks first"):
        yield _line("rollers of fine foam, 100 mm (4 in), with trays", str(2 * way.hands), "faces and sides apart")
    elif way.name == "spray":
        yield _line("strainers for the sprayer", str(len(paint.rows)), "one a shade")
    elif way.name == "dip":
        yield _line("pins and a line to hang blocks from", "one a block", "")
    families = sum(not family.clear for family in brief.families)
    clear = len(brief.families) - families
    painted = max(way.hands, families) if families and way.name.startswith("brush") else 0
    brushes = small + painted + clear + bool(brief.paint.topcoat)
    own = ", ".join([*(["primer"] if small > 1 else []), "ground", *(["topcoat"] if brief.paint.topcoat else [])])
    note = f"one a family, from light to dark, washed and dried between; {own} each their own"
    yield _line(f"brushes, {broad}, soft", str(brushes), note)
    cleaner = "as its tin names it" if paint.stains else "soap and water, unless the tin says otherwise"
    yield _line("cleaner for brushes", "1", cleaner)


def _to_dry_on(brief: Brief, paint: Paint) -> Iterator[ShoppingLine]:
    """Strips under the blocks of one batch, screws to hold them by, cards of the shades that are bought ready."""
    way, unit = paint.way, brief.piece.unit
    if way.name != "dip":
        strips = format_length(math.ceil(way.strips_mm / 1e3) * 10**9, unit)
        note = "in all, any lengths, used on edge"
        note += "" if way.batches == 1 else "; a batch dries on them, the others are parked on them"
        yield _line(f"drying strips, {format_size(STRIP_HIGH_NM, STRIP_WIDE_NM, unit)}", strips, note)
    if way.handles:
        size = "no. 4 × 3/4 in" if unit is LengthUnit.IN else "3 × 20 mm"
        yield _line(
            f"thin screws, {size}",
            f"{way.handles:,}",
            "a handle in the back of each block and of each spare that is coated; they come out again",
        )
        if is_hardwood(species(brief.blocks.species)):
            bit = "5/64 in" if unit is LengthUnit.IN else "2 mm"
            yield _line(f"drill bit {bit}", "1", "lead holes for the thin screws, in end grain of hardwood")
    if paint.days.card_days:
        mixed = {recipe.shade for pots in paint.pots for recipe in pots.recipes}
        mixed |= {one.shade for family in paint.stains for one in family.shades}
        count = sum(row.shade not in mixed for row in paint.rows)
        side = "2-1/2 in" if unit is LengthUnit.IN else f"{CARD_SIDE_MM:.0f} mm"
        yield _line("white card for shades", f"{count} pieces of {side} square", "one a shade, primed like the blocks")


def _for_the_backer(brief: Brief, paint: Paint) -> Iterator[ShoppingLine]:
    """What the backer lies on while it is coated and while its ring is set, the dye's own tools, wax for the bevels."""
    yield _line("battens and trestles", "2 and 2", "the backer lies on them while it is coated; any that are there")
    trays = len(paint.rows)
    yield _line("trays or flat boxes", str(trays), "one a shade; any that are there")
    if paint.ground.dye_ml:
        yield _line("brush or pad for the dye, and rags", "1 and 2", "the rags wipe off what stands on the wood")
    if brief.edge.style is EdgeStyle.OUTRIGGER:
        yield _line("cloth, clean and soft", "1 as large as the piece", "under the release paper when the ring is set")
    if waxed_bevels(brief):
        yield _line("candle or paraffin wax", "1 piece", "rubbed on both bevels and on what touches the wall")


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
