"""What to say of the colours that the brief gives of its paints, before any shade is worked out."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief, Family
from bossage.checks import Check, Verdict
from bossage.colour.coats import COAT_MOST
from bossage.colour.difference import JUST_SEEN_DE
from bossage.colour.given import given_lab, moved_de

NOT_OPAQUE_COLOUR = ("metallic", "pearl", "fluorescent", "neon", "iridescent", "interference", "glitter", "luminous")
"""Words on a pot that tell of an effect beyond colour and hiding; no model of a plain opaque coat covers it."""


def paint_colour_checks(brief: Brief) -> tuple[Check, ...]:
    """Hex colours that no dry coat can have, with how far they were moved; paints whose look is more than a colour."""
    moved: dict[tuple[str, str], Check] = {}
    for family in brief.families:
        for what, text in _hexes(family):
            off = moved_de(text, measured=family.hex_measured)
            if off > 0:
                moved.setdefault((what, text), _moved(family, what, text, off))
    return (*moved.values(), *(_effect(name) for name in _effects(brief)))


def _hexes(family: Family) -> Iterator[tuple[str, str]]:
    """Every hex colour of a paint in a family, with what it is the colour of."""
    if isinstance(family.base, str) and family.base:
        yield "base", family.base
    for tinter in family.tinters:
        if isinstance(tinter.colour, str):
            yield tinter.name, tinter.colour
    for card in family.cards:
        if isinstance(card.colour, str):
            yield f"card of {card.tinter}, {card.fraction:g}", card.colour


def _moved(family: Family, what: str, text: str, off: float) -> Check:
    L, a, b = given_lab(text)
    seen = off >= JUST_SEEN_DE
    return Check(
        stage="fade",
        name="drawn_in",
        title="A screen's colour that no coat can have",
        subject=f"{family.name}, {what}",
        verdict=Verdict.CAUTION if seen else Verdict.FINE,
        found=f"{text} lies {off:.1f} (CIEDE2000) beyond any dry coat. It is planned as L* {L:.1f}, a* {a:.1f}, "
        f"b* {b:.1f}, the nearest on the way in.",
        allowed=f"A coat returns from 3.3 % of the light, off its surface alone, to {100 * COAT_MOST:.0f} %.",
        why="A recipe from a colour that no coat has asks for many times too little or too much tinter.",
        remedy="Give the colour of a dry coat as [L, a, b], or say `measured = true` where a meter gave the hex."
        if seen
        else "",
        source="docs/decisions/0011.",
    )


def _effects(brief: Brief) -> list[str]:
    names = [name for family in brief.families for name in (family.name, *(tinter.name for tinter in family.tinters))]
    return list(dict.fromkeys(name for name in names if any(word in name.casefold() for word in NOT_OPAQUE_COLOUR)))


def _effect(name: str) -> Check:
    return Check(
        stage="fade",
        name="effect_paint",
        title="Paint whose look is more than a colour",
        subject=name,
        verdict=Verdict.CAUTION,
        found=f"{name} is metallic, pearl or fluorescent by its name.",
        allowed="Plain opaque paint.",
        why="Its colour changes with the angle or with the lamp; no mix of it is foretold here, card or no card.",
        remedy="Take a plain paint of that hue, or mix by eye on cards and write the pots into the brief as bought.",
        source="The paint model covers opaque coats alone (Kubelka and Munk).",
    )
