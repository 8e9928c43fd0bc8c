"""What to buy of every paint: whole tins, the shared base in one lot."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from bossage.brief.face import PaintColour
from bossage.brief.records import Brief, Family, Tinter
from bossage.colour.given import given_lab
from bossage.colour.pots import HELD_BACK_SHARE
from bossage.paint.cards import CARD_BASE_ML, CARD_TINTER_ML, GUESS_TIMES
from bossage.paint.coats import KIND, primer_words, stain_kind
from bossage.paint.dabs import card_primer_ml
from bossage.paint.records import FamilyPots, GroundPaint, ShadePaint
from bossage.paint.tins import tins_for
from bossage.paint.way_records import StainFamily, Tins
from bossage.units import format_volume

ONE_LOT = "all tins of one lot, lot number: ____"

TINTER_LEFT_SHARE = 0.05
"""Tinter that stays in tins and syringes: a twentieth, as base is kept by (first guess, ours)."""


def paints_to_buy(
    brief: Brief,
    rows: tuple[ShadePaint, ...],
    pots: tuple[FamilyPots, ...],
    stains: tuple[StainFamily, ...],
    ground: GroundPaint,
    *,
    labs: Mapping[str, tuple[float, float, float]],
    tries_ml: Mapping[str, float],
    primer_ml: float,
    sides_ml: float,
    topcoat_ml: float,
) -> tuple[Tins, ...]:
    """Primer, bases and tinters of mixed families, shades as bought, the ground, the topcoat; each in tins.

    A base that several families share is bought together, with a twentieth kept by to mend an overshoot, what goes
    into jars of stock, and what the test cards take. `labs` are the shades' colours, `tries_ml` is what the test pieces
    of each clear family take.
    """
    mixed = {recipe.shade for family in pots for recipe in family.recipes}
    mixed |= {one.shade for family in stains for one in family.shades}
    ready = sum(row.shade not in mixed for row in rows if row.blocks)
    cards_ml = card_primer_ml(brief, pots, ready) if primer_ml else 0.0
    wood = primer_ml + cards_ml + ground.seal_ml
    found = (
        [
            tins_for(
                brief,
                "primer",
                "primer",
                wood,
                note=f"{_primed(primer_ml, cards_ml)}; {primer_words(brief)}",
            )
        ]
        if wood > 0
        else []
    )
    found += _bases(brief, pots)
    found += _clear(brief, stains, tries_ml)
    found += [
        tins_for(
            brief,
            "paint",
            f"paint, {row.shade}",
            row.mix_ml,
            note=f"tinted to {_lab_figures(labs[row.shade])} when dry; {_kind(brief)}; lot number: ____",
        )
        for row in rows
        if row.blocks and row.shade not in mixed
    ]
    for one in pots:
        family = next(family for family in brief.families if family.name == one.family)
        for number, tinter in enumerate(family.tinters, 1):
            found += _tinter(brief, one, tinter, _tinter_ml(one, number), measured=family.hex_measured)
    if ground.dye_ml > 0:
        on = "front of the backer" + (" and of the edge strips" if ground.strips_mm2 > 0 else "")
        note = f"{on}; a water dye or thin stain without binder"
        found.append(tins_for(brief, "stain", f"stain, ground {ground.name}", ground.dye_ml, note=note))
    if ground.colour_ml + sides_ml > 0:
        places = ["edges"] if ground.dye_ml > 0 else ["backer"]
        note = f"{', '.join([*places, *(['sides of the blocks'] if sides_ml else [])])}; {_kind(brief)}"
        what = f"paint, ground {ground.name}"
        found.append(tins_for(brief, "ground", what, ground.colour_ml + sides_ml, note=note))
    if topcoat_ml > 0:
        found.append(tins_for(brief, "topcoat", f"topcoat, {brief.paint.topcoat}", topcoat_ml, note=brief.paint.gloss))
    return tuple(found)


def _primed(blocks_ml: float, cards_ml: float) -> str:
    return ", ".join(["blocks"] * (blocks_ml > 0) + ["cards"] * (cards_ml > 0) + ["backer"])


def _clear(brief: Brief, stains: tuple[StainFamily, ...], tries_ml: Mapping[str, float]) -> Iterator[Tins]:
    """Each finish, and the thinner that its shades are let down with."""
    need_ml: dict[str, float] = defaultdict(float)
    words: dict[str, str] = {}
    thinner_ml = 0.0
    for family in stains:
        need_ml[family.name] += sum(one.finish_ml for one in family.shades) + tries_ml[family.family]
        words[family.name] = family.finish
        thinner_ml += sum(one.mix_ml - one.finish_ml for one in family.shades)
    for name, need in need_ml.items():
        if need > 0:
            kind = f"{stain_kind(brief)}; " if words[name] == "stain" else ""
            yield tins_for(brief, name, f"{words[name]}, {name}", need, note=f"{kind}{ONE_LOT}")
    if thinner_ml > 0.5:
        yield tins_for(brief, "thinner", "thinner, as the stain's label names it", thinner_ml)


def _kind(brief: Brief) -> str:
    """Which paint to ask for: the gloss is the brief's, the rest our default."""
    return f"{brief.paint.gloss}, {KIND}"


def _tinter(brief: Brief, one: FamilyPots, tinter: Tinter, need_ml: float, *, measured: bool) -> Iterator[Tins]:
    """One tinter of a family; of one that nobody knows a small tin for the test card, and the rest after it."""
    kind = tinter.name if any(tin.what.casefold() == tinter.name.casefold() for tin in brief.paint.tins) else "tinter"
    dry = lab_words(tinter.colour, measured=measured)
    asked = (
        f"for {one.family}; a full-tone paint with a binder of its own, no universal tinter: of the shop's fan the one "
        f"nearest to {dry} when dry; {_kind(brief)}"
    )
    what = f"paint, tinter {tinter.name}"
    if tinter.name not in one.guessed:
        yield tins_for(brief, kind, what, need_ml, note=asked)
        return
    yield tins_for(brief, kind, f"{what}, for the test card", CARD_TINTER_ML, note=f"first of all; {asked}")
    least, most = (format_volume(need_ml * times, brief.piece.unit) for times in GUESS_TIMES)
    note = f"the same; {ONE_LOT}; buy it after the card and its rub; the card may make it {least} to {most}"
    yield tins_for(brief, kind, what, need_ml, note=note)


def _bases(brief: Brief, pots: tuple[FamilyPots, ...]) -> Iterator[Tins]:
    """One line for each base, whatever number of families it serves."""
    families = {family.name: family for family in brief.families}
    need_ml: dict[str, float] = defaultdict(float)
    serves: dict[str, list[Family]] = defaultdict(list)
    for one in pots:
        base = base_words(families[one.family])
        need_ml[base] += _base_ml(one)
        serves[base].append(families[one.family])
    for base, need in need_ml.items():
        first = serves[base][0]
        tint = f"have it tinted to {lab_words(first.base, measured=first.hex_measured)} when dry"
        names = ", ".join(family.name for family in serves[base])
        note = f"for {names}; {tint}; {_kind(brief)}; {ONE_LOT}"
        yield tins_for(brief, "base", f"paint, base {base}", need, note=note)


def _base_ml(one: FamilyPots) -> float:
    """Base for the pots of a family with what is kept by, from one pot with its stocks in jars if that takes more; and
    for the cards of tinters that are not known yet."""
    need = sum(recipe.amounts[0].volume_ml for recipe in one.recipes) * (1 + HELD_BACK_SHARE)
    pot = one.one_pot
    if pot is not None:
        need = max(need, pot.start_ml + pot.hold_back_ml + sum(stock.base_ml for stock in pot.stocks))
    return need + CARD_BASE_ML * len(one.guessed)


def _tinter_ml(one: FamilyPots, number: int) -> float:
    """Tinter `number` of a family, 1 for the first: from recipes or from one pot with its stocks; not for cards."""
    need = sum(recipe.amounts[number].volume_ml for recipe in one.recipes)
    pot = one.one_pot
    if pot is not None:
        need = max(need, pot.neat_ml + sum(stock.tinter_ml for stock in pot.stocks))
    return need * (1 + TINTER_LEFT_SHARE)


def base_words(family: Family) -> str:
    """Which white it is: the colour of its dry coat, as the brief gives it."""
    return family.base if isinstance(family.base, str) else lab_words(family.base)


def lab_words(colour: PaintColour, *, measured: bool = False) -> str:
    """`L* 94.4, a* 0.0, b* 4.6`: a dry coat as a counter's instrument reads it."""
    return _lab_figures(given_lab(colour, measured=measured))


def _lab_figures(lab: Iterable[float]) -> str:
    L, a, b = (round(value, 1) + 0.0 for value in lab)
    return f"L* {L:.1f}, a* {a:.1f}, b* {b:.1f}"
