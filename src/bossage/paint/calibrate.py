"""What readings of test cards teach: the families refitted, what that gained, and what the brief should say.

A reading of a base or a neat tinter replaces what the brief says of it; a reading of a mix becomes a test card. What
was refused teaches nothing. Names of shades come from the lightness that the brief asks for, so no reading changes
one; pots that are mixed already keep their recipes as well, and only the colours shown for them change.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bossage.brief.face import PaintColour, TestCard
from bossage.brief.records import Brief, Family
from bossage.colour.blends import blend_lab
from bossage.colour.difference import delta_e
from bossage.colour.given import given_lab, moved_de
from bossage.colour.mixing import Paint
from bossage.colour.scales import Scale
from bossage.colour.spaces import lab_to_hex
from bossage.colour.stains import stained_lab
from bossage.errors import BossageError
from bossage.fade.scales import family_paints, family_scale, family_stain
from bossage.paint.cards import CardField, FieldKind

Lab = tuple[float, float, float]
SAME_MIX = 1e-4
"""Two cards whose share of tinter differs by less than this part of it are one card painted twice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One field as read: by photo, by meter, by eye."""

    field: CardField
    colour: PaintColour
    uncertainty_de: float | None  # None: not said, as good as a colour meter
    refused: str = ""  # why it must not be used, in a maker's words

    @property
    def lab(self) -> Lab:
        """The reading as CIELAB of a surface."""
        return given_lab(self.colour, measured=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """How far one reading lies from what was expected of it, CIEDE2000."""

    reading: Reading
    before_de: float  # by the brief as it was
    after_de: float | None  # by the family as refitted; None for a cross mix, which no fit uses
    left_out_de: float | None  # by the fit to all other cards of that tinter; None with no other card


@dataclass(frozen=True, slots=True, kw_only=True)
class ShadeChange:
    """One shade of a family that is mixed: its recipe before and after, and what the old recipe would look like."""

    name: str
    before: tuple[float, ...]  # share of each tinter
    after: tuple[float, ...] | None  # None: out of reach by now
    old_pot_lab: Lab  # the old recipe by the refitted paint
    old_pot_de: float  # from the colour that the old plan showed


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyReading:
    """What the readings taught of one family."""

    family: Family  # as the brief should have it
    gains: tuple[Gain, ...]
    shades: tuple[ShadeChange, ...]  # none for a family as bought
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """All of it, and the brief that follows from it."""

    brief: Brief
    families: tuple[FamilyReading, ...]  # those that something was read of
    refused: tuple[Reading, ...]


def calibrate(brief: Brief, readings: Sequence[Reading], *, mixed: bool = False) -> Calibration:
    """Refit every family that something was read of.

    Args:
        brief: As it was when the cards were painted.
        readings: Fields of its test cards.
        mixed: Whether the scales of the brief as it was are in their pots: recipes then stay as they are.

    Raises:
        BossageError: No reading is good, or one is a colour that no paint can have.
    """
    good = [reading for reading in readings if not reading.refused]
    if not good:
        why = "; ".join(f"{reading.field.name}: {reading.refused}" for reading in readings)
        raise BossageError(f"No field can be used ({why or 'none was given'}). Take the photo again.")
    families, taught = [], []
    for family in brief.families:
        mine = [reading for reading in good if family.name in reading.field.families]
        if not mine:
            families.append(family)
            continue
        if family.clear:
            lesson = _clear_family(family, mine)
        else:
            lesson = _mixed_family(family, mine, mixed) if family.base else _bought_family(family, mine)
        families.append(lesson.family)
        taught.append(lesson)
    return Calibration(
        brief=replace(brief, families=tuple(families)),
        families=tuple(taught),
        refused=tuple(reading for reading in readings if reading.refused),
    )


def _mixed_family(family: Family, readings: list[Reading], mixed: bool) -> FamilyReading:
    base = next((r for r in readings if r.field.kind is FieldKind.BASE), None)
    neat = {r.field.tinter.casefold(): r for r in readings if r.field.kind is FieldKind.NEAT}
    mixes = [r for r in readings if r.field.kind is FieldKind.MIX]
    notes = []
    if base is None and not isinstance(family.base, tuple):
        notes.append("The base was not read: its colour stands as in the brief.")
    tinters = tuple(
        replace(tinter, colour=_kept(read.colour), uncertainty_de=read.uncertainty_de)
        if (read := neat.get(tinter.name.casefold()))
        else tinter
        for tinter in family.tinters
    )
    new_cards = tuple(
        TestCard(
            tinter=r.field.tinter,
            fraction=r.field.fraction,
            colour=_kept(r.colour),
            uncertainty_de=r.uncertainty_de,
        )
        for r in mixes
    )
    old_cards = tuple(card for card in family.cards if not any(_same_mix(card, new) for new in new_cards))
    scale = family_scale(family)
    fresh = replace(
        family,
        base=family.base if base is None else _kept(base.colour),
        tinters=tinters,
        cards=tuple(sorted((*old_cards, *new_cards), key=lambda card: (card.tinter, card.fraction))),
    )
    if mixed and family.mixed is None:
        fresh = replace(fresh, mixed=tuple(tuple(float(f"{v:.6g}") for v in shade.shares) for shade in scale.shades))
    old_paints, paints = family_paints(family), family_paints(fresh)
    notes += [note for paint in paints for note in paint.assumptions]
    shades = tuple(_shade_change(fresh, scale, number, paints) for number in range(len(scale.shades)))
    lost = [shade.name for shade in shades if shade.after is None]
    if lost:
        ends = np.array([lab[0] for paint in paints for lab in (paint.base_lab, paint.tinter_lab)])
        notes.append(
            f"{', '.join(lost)} cannot be mixed any more: the paints run from L* {ends.min():.1f} to {ends.max():.1f}. "
            "Change `lightness` before the next plan."
        )
    return FamilyReading(
        family=fresh,
        gains=tuple(_gain(fresh, r, old_paints, paints) for r in readings),
        shades=shades,
        notes=tuple(dict.fromkeys(notes)),
    )


def _gain(family: Family, reading: Reading, before: tuple[Paint, ...], after: tuple[Paint, ...]) -> Gain:
    field = reading.field
    shares = np.array(field.parts[1:]) / sum(field.parts) if field.parts else np.zeros(len(after))
    left_out = None
    if field.kind is FieldKind.MIX:
        rest = tuple(
            card
            for card in family.cards
            if card.tinter.casefold() != field.tinter.casefold() or not _same_fraction(card.fraction, field.fraction)
        )
        if any(card.tinter.casefold() == field.tinter.casefold() for card in rest):
            left_out = _off(family_paints(replace(family, cards=rest)), shares, reading)
    return Gain(
        reading=reading,
        before_de=_off(before, shares, reading),
        after_de=None if field.kind is FieldKind.CROSS else _off(after, shares, reading),
        left_out_de=left_out,
    )


def _off(paints: tuple[Paint, ...], shares: np.ndarray[tuple[int], np.dtype[np.float64]], reading: Reading) -> float:
    return float(delta_e(blend_lab(paints, shares), reading.lab))


def _shade_change(family: Family, scale: Scale, number: int, paints: tuple[Paint, ...]) -> ShadeChange:
    shade = scale.shades[number]
    one = replace(
        family,
        lightness=(family.lightness[number],),
        mixed=None if family.mixed is None else (family.mixed[number],),
    )
    after: tuple[float, ...] | None
    try:
        # A scale of several tinters bends over its whole length, so one shade of it cannot be asked for alone.
        after = family_scale(family).shades[number].shares if len(paints) > 1 else family_scale(one).shades[0].shares
    except BossageError:
        after = None
    lab = blend_lab(paints, np.array(shade.shares))
    return ShadeChange(
        name=shade.name,
        before=shade.shares,
        after=after,
        old_pot_lab=(float(lab[0]), float(lab[1]), float(lab[2])),
        old_pot_de=float(delta_e(lab, shade.lab)),
    )


def _clear_family(family: Family, readings: list[Reading]) -> FamilyReading:
    """A clear finish learns the wood's own colour, and from coats on faces of end grain how much these drink."""
    bare = next((r for r in readings if r.field.kind is FieldKind.BASE), None)
    coats = [r for r in readings if r.field.kind is not FieldKind.BASE]
    new = tuple(
        TestCard(
            tinter=r.field.tinter, fraction=r.field.fraction, colour=_kept(r.colour), uncertainty_de=r.uncertainty_de
        )
        for r in coats
    )
    old = tuple(card for card in family.cards if not any(_same_mix(card, one) for one in new))
    fresh = replace(
        family,
        base=family.base if bare is None else _kept(bare.colour),
        cards=tuple(sorted((*old, *new), key=lambda card: card.fraction)),
        end_grain=None if new else family.end_grain,
    )
    before, after = family_stain(family), family_stain(fresh)
    gains = tuple(
        Gain(
            reading=r,
            before_de=float(delta_e(stained_lab(before, r.field.fraction), r.lab)),
            after_de=float(delta_e(stained_lab(after, r.field.fraction), r.lab)),
            left_out_de=None,
        )
        for r in readings
    )
    drinks = f"Faces of end grain drink {after.end_grain:.2g} times as much as sides." if new else ""
    notes = (drinks, *after.assumptions) if drinks else after.assumptions
    return FamilyReading(family=fresh, gains=gains, shades=(), notes=notes)


def _bought_family(family: Family, readings: list[Reading]) -> FamilyReading:
    """A family as bought is known by one hue: the mean of what was read."""
    mean = np.mean([reading.lab for reading in readings], axis=0)
    fresh = replace(family, colour_hex=lab_to_hex(mean))
    before, after = ({s.name: s.lab for s in family_scale(one).shades} for one in (family, fresh))
    gains = tuple(
        Gain(
            reading=r,
            before_de=float(delta_e(before[r.field.name], r.lab)),
            after_de=float(delta_e(after[r.field.name], r.lab)),
            left_out_de=None,
        )
        for r in readings
    )
    return FamilyReading(family=fresh, gains=gains, shades=(), notes=())


def _same_mix(one: TestCard, other: TestCard) -> bool:
    return one.tinter.casefold() == other.tinter.casefold() and _same_fraction(one.fraction, other.fraction)


def _same_fraction(one: float, other: float) -> bool:
    return abs(one - other) <= SAME_MIX * max(one, other)


def _kept(colour: PaintColour) -> PaintColour:
    """As it will stand in the brief: a hundredth is finer than any reading.

    A hex colour that would be moved there is written as the CIELAB that was read.
    """
    if isinstance(colour, str) and moved_de(colour) == 0:
        return colour
    L, a, b = (round(v, 2) for v in given_lab(colour, measured=True))
    return (L, a, b)
