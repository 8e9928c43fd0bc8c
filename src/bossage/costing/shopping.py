"""The shopping list: every amount from the stages, prices from the brief, what has no price said so."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from bossage.body import Body, How
from bossage.brief.records import Brief, LengthUnit
from bossage.costing.records import ShoppingLine
from bossage.costing.supplies import supplies
from bossage.costing.trial import for_the_trial
from bossage.hang import Hang
from bossage.layout.records import Layout
from bossage.paint.records import Paint
from bossage.press import Press
from bossage.saw import BoardCut, LengthCut, Saw, SectionCut
from bossage.units import format_length, format_mass, format_size, format_thin, format_volume

PAID_IN = "paid in "  # in the note of a line that a lump price pays for, before the lump's name
GROUPS = ("wood", "boards", "paint", "glue", "fixings", "other")


def shopping_list(
    brief: Brief, layout: Layout, body: Body, saw: Saw, paint: Paint, press: Press, hang: Hang
) -> tuple[ShoppingLine, ...]:
    """Everything to buy, in the order of the shops: wood, boards, paint, glue, fixings, the rest.

    A lump price of the brief pays for the computed lines that it covers: it stands as a line of its own, and the
    lines it covers carry their amounts and the word 'in' with its name, so that no money is counted twice.
    """
    glue_g = press.glue_wet_g + _behind_g(brief, body)
    lines = [
        *(_section(brief, cut) for cut in saw.sections),
        *(_board(brief, cut) for cut in saw.boards),
        *(_length(brief, cut) for cut in saw.lengths),
        *_paints(brief, paint),
        _line("glue", format_mass(glue_g, brief.piece.unit), "glue", note=brief.glue.name),
        *_fixings(brief, layout, hang),
        *for_the_trial(brief, hang),
        *_spacers(brief, layout, press),
        *_roller(brief, press),
        *supplies(
            brief,
            paint,
            faces_mm2=sum(row.face_mm2 for row in paint.rows),
            blocks=layout.blocks.count,
            pressed=press.way.name != "screws",
            backer_edge_nm=sum(2 * (leaf.backer_width_nm + leaf.backer_height_nm) for leaf in layout.leaves),
        ),
    ]
    return (*_covered([line for line in lines if line], brief), *_lumps(brief))


def _behind_g(brief: Brief, body: Body) -> float:
    """Wet glue of the joints behind the blocks."""
    glued = sum(joint.area_mm2 for joint in body.joints if joint.how in (How.GLUE, How.GLUE_AND_SCREWS))
    return glued / 1e6 * brief.glue.spread_g_per_m2


def shim_list(brief: Brief, press: Press) -> tuple[ShoppingLine, ...]:
    """Sticks and boards that must be bought for shims, because no rest and nothing in the shop suffices."""
    unit = brief.piece.unit
    lines = []
    cut = press.shim_cut
    if cut is not None and cut.plan is not None and cut.bought:
        bought = [one.stock for one in cut.plan.sticks if not one.stock.owned]
        lengths = Counter(stock.length_nm for stock in bought)
        lines.append(
            ShoppingLine(
                what=f"{bought[0].name or cut.section}, for shims",
                amount=" and ".join(f"{n} of {format_length(length, unit)}" for length, n in sorted(lengths.items())),
                for_what="shims",
                each_cents=bought[0].price_cents if cut.priced and len(set(bought)) == 1 else None,
                cents=sum(stock.price_cents for stock in bought) if cut.priced else None,
                note=f"{cut.count} shims take {format_length(cut.need_nm, unit)}",
            )
        )
    for one in press.shim_panels:
        if one.plan is None or not one.bought:
            continue
        sheets = [
            (board.material, sheet.stock)
            for board, sheet in zip(one.boards, one.plan.sheets, strict=True)
            if not sheet.stock.owned
        ]
        sizes = Counter((stock.width_nm, stock.length_nm) for _, stock in sheets)
        lines.append(
            ShoppingLine(
                what=f"{_words(sheets[0][0])}, {format_length(one.thickness_nm, unit)}, for shims",
                amount=" and ".join(f"{n} of {format_size(*size, unit)}" for size, n in sorted(sizes.items())),
                for_what="shims",
                each_cents=sheets[0][1].price_cents if one.priced and len(sizes) == 1 else None,
                cents=sum(stock.price_cents for _, stock in sheets) if one.priced else None,
                note=f"{one.count} shims",
            )
        )
    return tuple(lines)


def _section(brief: Brief, cut: SectionCut) -> ShoppingLine | None:
    plan = cut.bought
    if plan is None:
        return None
    unit = brief.piece.unit
    bought = [stick for stick in plan.sticks if not stick.stock.owned]
    lengths = sorted({stick.stock.length_nm for stick in bought}, reverse=True)
    amount = " and ".join(
        f"{sum(s.stock.length_nm == length for s in bought)} of {format_length(length, unit)}" for length in lengths
    )
    owned = len(plan.sticks) - len(bought)
    each = {stick.stock.price_cents for stick in bought}
    return ShoppingLine(
        what=_section_words(cut, format_size(cut.section_width_nm, cut.section_height_nm, unit)),
        amount=amount or "none: all from the shelf",
        for_what="wood",
        each_cents=each.pop() if cut.priced and len(each) == 1 else None,
        cents=sum(stick.stock.price_cents for stick in bought) if cut.priced else None,
        note="; ".join(_stick_notes(cut, owned)),
    )


def _stick_notes(cut: SectionCut, owned: int) -> Iterator[str]:
    """How many lie in the shop, and which long parts come out of them as well."""
    if owned:
        yield f"{owned} from the shelf"
    parts = list(dict.fromkeys(name for row in cut.rows for name, _, _ in row.named))
    if parts:
        blocks = ["blocks"] if any(row.blocks for row in cut.rows) else []
        yield "for " + ", ".join([*blocks, *parts])


def _section_words(cut: SectionCut, size: str) -> str:
    """The yard's name, and after it only what that name leaves open: the species, the measured section."""
    named = cut.bought_as.casefold()
    words = [cut.bought_as] if cut.bought_as else []
    if not set(_words(cut.species).casefold().split()) & set(re.split(r"[^a-z]+", named)):
        words.append(_words(cut.species))
    numbers = re.findall(r"\d[\d./-]*", named)
    if not all(number in numbers for number in re.findall(r"\d[\d./-]*", size)):
        words.append(size)
    return ", ".join(words)


def _board(brief: Brief, cut: BoardCut) -> ShoppingLine | None:
    if cut.plan is None:
        return None
    unit = brief.piece.unit
    bought = [sheet for sheet in cut.plan.sheets if not sheet.stock.owned]
    sizes = {(sheet.stock.width_nm, sheet.stock.length_nm) for sheet in bought}
    amount = " and ".join(
        f"{sum((s.stock.width_nm, s.stock.length_nm) == size for s in bought)} of {format_size(*size, unit)}"
        for size in sorted(sizes, reverse=True)
    )
    return ShoppingLine(
        what=f"{_words(cut.material)}, {format_length(cut.thickness_nm, unit)}",
        amount=amount or "none: all from the shelf",
        for_what="boards",
        each_cents=bought[0].stock.price_cents if cut.priced and len(sizes) == 1 else None,
        cents=sum(sheet.stock.price_cents for sheet in bought) if cut.priced else None,
        note="for " + ", ".join(cut.serves),
    )


NO_SUCH_SIZE = "planed to that size; where no shop has it, rip it from stock that is larger both ways"


def _length(brief: Brief, cut: LengthCut) -> ShoppingLine | None:
    if cut.plan is None:
        return None
    unit = brief.piece.unit
    lengths = sorted({stick.stock.length_nm for stick in cut.plan.sticks}, reverse=True)
    amount = " and ".join(
        f"{sum(s.stock.length_nm == length for s in cut.plan.sticks)} of {format_length(length, unit)}"
        for length in lengths
    )
    size = format_size(cut.width_nm, cut.depth_nm, unit)
    return _line(f"{cut.name}: {_words(cut.species)}, {size}", amount, "wood", note=NO_SUCH_SIZE)


def _paints(brief: Brief, paint: Paint) -> Iterator[ShoppingLine | None]:
    unit = brief.piece.unit
    for one in paint.buy:
        tins = " and ".join(f"{count} of {format_volume(size, unit)}" for size, count in one.tins)
        yield ShoppingLine(
            what=one.what,
            amount=f"{format_volume(one.need_ml, unit)}: {tins}",
            for_what="paint",
            each_cents=None,
            cents=one.cents,
            note=one.note,
        )


def _fixings(brief: Brief, layout: Layout, hang: Hang) -> Iterator[ShoppingLine | None]:
    for fixing in hang.to_buy:
        line = _line(fixing.what, f"{fixing.count * len(layout.leaves)}", "fixings", note=fixing.note)
        yield replace(line, parts=fixing.parts)


def _spacers(brief: Brief, layout: Layout, press: Press) -> Iterator[ShoppingLine]:
    """What keeps the gap open: two in every joint of the longest row and two under each block, or, face down, one in
    every joint of the largest bed."""
    gap = brief.blocks.gap_nm
    if not gap or not press.rows:
        return
    if press.way.name == "face down":
        on = [{one.block for one in bed.blocks} for bed in press.beds]
        count = max(sum(int(i) in bed and int(j) in bed for i, j in layout.blocks.edges) for bed in on)
        when = "one in every joint of the bed; they stay in until the clamps are off"
    else:
        count = 4 * max(sum(len(batch.blocks) for batch in card.batches) for card in press.rows) - 2
        when = "they come out in the clamps and serve the next row"
    note = f"strips of card, veneer or plastic of that thickness; {when}"
    yield _line(f"spacers of {format_thin(gap, brief.piece.unit)}", str(count), "other", note=note)


def _roller(brief: Brief, press: Press) -> Iterator[ShoppingLine]:
    """Glue on a whole bed within its open time is rolled, not brushed."""
    if press.way.name == "face down":
        wide = "4 in" if brief.piece.unit is LengthUnit.IN else "100 mm"
        yield _line(
            f"glue roller, {wide}, with a tray", str(max(1, brief.tools.people)), "other", note="one a pair of hands"
        )


def _line(what: str, amount: str, for_what: str, *, note: str = "") -> ShoppingLine:
    return ShoppingLine(what=what, amount=amount, for_what=for_what, each_cents=None, cents=None, note=note)


def _covered(lines: list[ShoppingLine], brief: Brief) -> Iterator[ShoppingLine]:
    """Lines that a lump price pays for cost nothing more."""
    for line in lines:
        lump = lump_of(line, brief) if line.cents is None else None
        if lump is None:
            yield line
        else:
            note = f"{line.note}; {PAID_IN}“{lump}”" if line.note else f"{PAID_IN}“{lump}”"
            yield replace(line, each_cents=None, cents=0, note=note)


def lump_of(line: ShoppingLine, brief: Brief) -> str | None:
    """The lump that pays for a line: one that says the thing itself before one that says its group."""
    own = set(_key_words(line))
    for said in (own - set(GROUPS), {line.for_what}, own):
        for price in brief.prices:
            if any(word.casefold() in said for word in price.covers or (price.what,)):
                return price.what
    return None


def _key_words(line: ShoppingLine) -> tuple[str, ...]:
    return (line.what.casefold(), *(word.strip(":,") for word in line.what.casefold().split()))


def _lumps(brief: Brief) -> Iterator[ShoppingLine]:
    for price in brief.prices:
        yield ShoppingLine(
            what=price.what, amount="as priced", for_what="lump", each_cents=None, cents=price.cents, note=""
        )


def _words(key: str) -> str:
    return key.replace("_", " ")
