"""The families of a brief as scales of real colours, in the order of the fade."""

from __future__ import annotations

from bossage.brief.records import Brief, FadeShape, Family
from bossage.colour.mixing import TestCard, paint_from_colours, surface_lab
from bossage.colour.scales import Scale, scale_at_lightness, scale_from_colour


def family_scales(brief: Brief) -> tuple[Scale, ...]:
    """One scale a family, in the order of the brief; on a path the last one runs towards its home.

    A family with base and tinter gets a paint model (fitted to its test cards, if any); one known by its colour
    alone is shown, and no mix is predicted.

    Raises:
        BossageError: A lightness is out of the paint's reach; the message gives the range there is.

    Leaves out:
        A second tinter: the first one's paint model stands for the family here.
    """
    return tuple(
        _scale(family, tuple(reversed(family.lightness)) if turned(brief, number) else family.lightness)
        for number, family in enumerate(brief.families)
    )


def turned(brief: Brief, number: int) -> bool:
    """Whether a family's shades run against the brief's order: the last family of a path ends at its home."""
    last = number == len(brief.families) - 1
    return brief.fade.shape is FadeShape.PATH and last and number > 0


def _scale(family: Family, lightness: tuple[float, ...]) -> Scale:
    if not (family.base_hex and family.tinters):
        return scale_from_colour(family.name, lightness, family.colour_hex)
    tinter = family.tinters[0]
    cards = [
        TestCard(fraction=card.fraction, lab=_lab(card.colour_hex))
        for card in family.cards
        if card.tinter == tinter.name
    ]
    paint = paint_from_colours(tinter.name, _lab(family.base_hex), _lab(tinter.colour_hex), cards)
    return scale_at_lightness(family.name, paint, lightness)


def _lab(colour_hex: str) -> tuple[float, float, float]:
    lab = surface_lab(colour_hex)
    return (float(lab[0]), float(lab[1]), float(lab[2]))
