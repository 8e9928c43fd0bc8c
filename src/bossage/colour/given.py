"""Colours of paint as a maker gives them: a hex colour off a screen, or CIELAB off a meter or a photo."""

from __future__ import annotations

from typing import Final

from bossage.colour.coats import coat_of_hex
from bossage.colour.mixing import METER_SIGMA_DE, Paint, TestCard, paint_from_colours
from bossage.colour.spaces import hex_to_lab
from bossage.colour.stains import END_GRAIN, Stain, stain_from_colours

Lab = tuple[float, float, float]
GivenColour = str | Lab

# An error that is alike in three directions stays within 2.500 of its standard deviation 9 times in 10
# (chi distribution with three degrees of freedom).
COVER_SIGMAS: Final = 2.500


def given_lab(colour: GivenColour, *, measured: bool = False) -> Lab:
    """CIELAB of a coat.

    CIELAB goes in as it is, and so does a hex colour that was measured. Another hex colour goes in as it is where a dry
    coat can have it, and is moved to the edge of that range where none can (`coat_of_hex`).

    Raises:
        BossageError: The hex colour cannot be read.
    """
    if not isinstance(colour, str):
        L, a, b = colour
        return float(L), float(a), float(b)
    if not measured:
        return coat_of_hex(colour).lab
    L, a, b = (float(v) for v in hex_to_lab(colour))
    return L, a, b


def moved_de(colour: GivenColour, *, measured: bool = False) -> float:
    """How far a given colour was moved to become a dry coat's, CIEDE2000; 0 where it goes in as it is."""
    return coat_of_hex(colour).moved_de if isinstance(colour, str) and not measured else 0.0


def sigma_of(uncertainty_de: float | None) -> float:
    """Standard deviation in CIELAB units of a reading whose stated uncertainty holds 9 times in 10."""
    return METER_SIGMA_DE if uncertainty_de is None else max(uncertainty_de / COVER_SIGMAS, 0.05)


def given_paint(
    name: str,
    base: GivenColour,
    tinter: GivenColour,
    cards: tuple[tuple[float, GivenColour, float | None], ...] = (),
    *,
    tinter_uncertainty_de: float | None = None,
    measured: bool = False,
) -> Paint:
    """A tinter in a base, fitted to cards of (fraction, colour, uncertainty); a card that is less sure counts less.

    `measured` says that hex colours among them were measured on a coat.

    Raises:
        BossageError: No surface has such a colour, or a card's fraction is not between 0 and 1.
    """
    return paint_from_colours(
        name,
        given_lab(base, measured=measured),
        given_lab(tinter, measured=measured),
        [
            TestCard(fraction=fraction, lab=given_lab(colour, measured=measured), sigma_de=sigma_of(unsure))
            for fraction, colour, unsure in cards
        ],
        sigma_de=sigma_of(tinter_uncertainty_de),
    )


def given_stain(
    name: str,
    wood: GivenColour,
    coat: GivenColour,
    cards: tuple[tuple[float, GivenColour, float | None], ...] = (),
    *,
    end_grain: float | None = None,
    measured: bool = False,
) -> Stain:
    """A clear finish on bare wood, its factor of end grain by the cards unless it is given.

    Raises:
        BossageError: No surface has such a colour.
    """
    return stain_from_colours(
        name,
        given_lab(wood, measured=measured),
        given_lab(coat, measured=measured),
        []
        if end_grain is not None
        else [
            TestCard(fraction=fraction, lab=given_lab(colour, measured=measured), sigma_de=sigma_of(unsure))
            for fraction, colour, unsure in cards
        ],
        end_grain=END_GRAIN if end_grain is None else end_grain,
    )
