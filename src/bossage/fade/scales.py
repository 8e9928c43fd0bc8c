"""The families of a brief as scales of real colours, in the order of the fade."""

from __future__ import annotations

import numpy as np

from bossage.brief.records import Brief, FadeShape, Family
from bossage.colour.blends import bent_scale, blend_lab
from bossage.colour.given import given_paint, given_stain
from bossage.colour.mixing import Paint
from bossage.colour.scales import Scale, scale_at_lightness, scale_from_colour, scale_of_labs, shade_names
from bossage.colour.stains import MOST_COATS, Stain, StainMix, stain_mix, stained_lab, strengths_at_lightness
from bossage.errors import BossageError


def family_scales(brief: Brief) -> tuple[Scale, ...]:
    """One scale a family, in the order of the brief; on a path the last one runs towards its home.

    A family with base and tinters gets a paint model (fitted to its test cards, if any); with several tinters its
    scale bends from the first one's colour to the last one's as it darkens. A family known by its colour alone is
    shown, and no mix is predicted. Pots that are mixed already keep their names and are shown as they are predicted.

    Raises:
        BossageError: A lightness is out of the paint's reach; the message gives the range there is.
    """
    return tuple(family_scale(family, backwards=turned(brief, number)) for number, family in enumerate(brief.families))


def turned(brief: Brief, number: int) -> bool:
    """Whether a family's shades run against the brief's order: the last family of a path ends at its home."""
    last = number == len(brief.families) - 1
    return brief.fade.shape is FadeShape.PATH and last and number > 0


def family_scale(family: Family, *, backwards: bool = False) -> Scale:
    """One family's shades, from its home outward or the other way round."""
    order = slice(None, None, -1) if backwards else slice(None)
    lightness = family.lightness[order]
    if family.clear:
        return _clear_scale(family, lightness)
    paints = family_paints(family)
    if not paints:
        return scale_from_colour(family.name, lightness, family.colour_hex)
    if family.mixed is not None:
        shares = np.array(family.mixed[order])
        notes = tuple(dict.fromkeys(note for paint in paints for note in paint.assumptions))
        names = shade_names(family.name, lightness)
        labs = blend_lab(paints, shares)
        return scale_of_labs(family.name, labs, shares, paints=paints, names=names, assumptions=notes)
    if len(paints) == 1:
        return scale_at_lightness(family.name, paints[0], lightness)
    return bent_scale(family.name, paints, lightness).scale


def family_paints(family: Family) -> tuple[Paint, ...]:
    """The paint of each tinter in the family's base, fitted to its test cards; none for a family without a base.

    A clear finish is no paint: see `family_stain`.
    """
    if not family.base or family.clear:
        return ()
    return tuple(
        given_paint(
            tinter.name,
            family.base,
            tinter.colour,
            tuple(
                (card.fraction, card.colour, card.uncertainty_de)
                for card in family.cards
                if card.tinter.casefold() == tinter.name.casefold()
            ),
            tinter_uncertainty_de=tinter.uncertainty_de,
            measured=family.hex_measured,
        )
        for tinter in family.tinters
    )


def family_stain(family: Family) -> Stain:
    """The finish of a family that is stained, oiled or waxed."""
    (tinter,) = family.tinters
    return given_stain(
        tinter.name,
        family.base,
        tinter.colour,
        tuple((card.fraction, card.colour, card.uncertainty_de) for card in family.cards),
        end_grain=family.end_grain,
        measured=family.hex_measured,
    )


def family_mixes(family: Family) -> tuple[StainMix, ...]:
    """Coats and dilution of each shade of a clear finish, in the order of the brief.

    Raises:
        BossageError: A lightness is out of reach, or two shades come out as the same coats.
    """
    stain = family_stain(family)
    strengths = strengths_at_lightness(stain, family.lightness)
    mixes = tuple(stain_mix(float(strength), dilutes=family.finish == "stain") for strength in strengths)
    if len(set(mixes)) < len(mixes):
        reach = ", ".join(f"{float(L):.0f}" for L in stained_lab(stain, np.arange(1, MOST_COATS + 1))[:, 0])
        raise BossageError(
            f"{family.name}: two shades come out as the same coats of {stain.name}. One to {MOST_COATS} full coats "
            f"give lightness {reach}{': ask for those' if family.finish != 'stain' else '; take shades further apart'}."
        )
    return mixes


def _clear_scale(family: Family, lightness: tuple[float, ...]) -> Scale:
    stain = family_stain(family)
    by_lightness = dict(zip(family.lightness, family_mixes(family), strict=True))
    strengths = np.array([by_lightness[L].strength for L in lightness])
    names = shade_names(family.name, lightness)
    notes = (*stain.assumptions, f"{family.name} is {family.finish} on bare wood: it darkens, and wood differs.")
    return scale_of_labs(family.name, stained_lab(stain, strengths), names=names, assumptions=notes)
