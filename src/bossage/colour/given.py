"""Colours of paint as a maker gives them: a hex colour off a screen, or CIELAB off a meter or a photo."""

from __future__ import annotations

from typing import Final

from bossage.colour.mixing import METER_SIGMA_DE, Paint, TestCard, paint_from_colours, surface_lab

Lab = tuple[float, float, float]
GivenColour = str | Lab

# An error that is alike in three directions stays within 2.795 of its standard deviation 19 times in 20
# (chi distribution with three degrees of freedom).
COVER_SIGMAS: Final = 2.795


def given_lab(colour: GivenColour) -> Lab:
    """CIELAB of a coat: hex is drawn into the range of surfaces (`surface_lab`), CIELAB goes in as it is.

    Raises:
        BossageError: The hex colour cannot be read.
    """
    L, a, b = surface_lab(colour) if isinstance(colour, str) else colour
    return float(L), float(a), float(b)


def sigma_of(uncertainty_de: float | None) -> float:
    """Standard deviation in CIELAB units of a reading whose stated uncertainty holds 19 times in 20."""
    return METER_SIGMA_DE if uncertainty_de is None else max(uncertainty_de / COVER_SIGMAS, 0.05)


def given_paint(
    name: str,
    base: GivenColour,
    tinter: GivenColour,
    cards: tuple[tuple[float, GivenColour, float | None], ...] = (),
    *,
    tinter_uncertainty_de: float | None = None,
) -> Paint:
    """A tinter in a base, fitted to cards of (fraction, colour, uncertainty); a card that is less sure counts less.

    Raises:
        BossageError: No surface has such a colour, or a card's fraction is not between 0 and 1.
    """
    return paint_from_colours(
        name,
        given_lab(base),
        given_lab(tinter),
        [
            TestCard(fraction=fraction, lab=given_lab(colour), sigma_de=sigma_of(unsure))
            for fraction, colour, unsure in cards
        ],
        sigma_de=sigma_of(tinter_uncertainty_de),
    )
