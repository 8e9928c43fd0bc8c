"""Fixings that carry somebody else's number: in hollow walls, and plugs in masonry."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.ranges import within

RATING_DIVISOR = 4.0
"""Ultimate rating over allowable, static load, only in the wall that was tested. Common practice, weak sources."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rated:
    """An allowable load that rests on a printed rating; `factor` is rating over allowable."""

    rating_n: float
    allowable_n: float
    factor: float
    basis: str


def packet_rating(rating_n: float, divisor: float = RATING_DIVISOR) -> Rated:
    """Allowable load of a hollow-wall fixing or a plug by the figure on its packet, in the direction of that figure.

    Args:
        rating_n: Load on the packet for this wall, above 0 N. A load along the wall says nothing of a pull out of it.
        divisor: What the rating is divided by, 1 or more.

    Returns:
        The rating over the divisor.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Another wall than the tested one, damp board, and load that works to and fro.

    Source:
        Common practice, no source: a quarter of the rating.
    """
    rating = within("Rating of the fixing", rating_n, 1e-6, 1e6, "N")
    factor = within("Divisor", divisor, 1, 20, "(ratio)", "A rating must not be made larger.")
    return Rated(
        rating_n=rating,
        allowable_n=rating / factor,
        factor=factor,
        basis=f"rating on the packet over {factor:g} (common practice, no source)",
    )
