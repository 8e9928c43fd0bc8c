"""Fixings that carry somebody else's number: in hollow walls, and plugs in masonry."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.ranges import within

HOLLOW_WALL_DIVISOR = 4.0
"""Ultimate rating over allowable, static load, only in the wall thickness tested. Common practice, weak sources."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rated:
    """An allowable load that rests on a printed rating; `factor` is rating over allowable."""

    rating_n: float
    allowable_n: float
    factor: float
    basis: str


def hollow_wall_fixing(rating_n: float, divisor: float = HOLLOW_WALL_DIVISOR) -> Rated:
    """Allowable load of a fixing that holds in the board of a hollow wall.

    Args:
        rating_n: Load on the packet for this wall thickness, above 0 N. Read whether it is ultimate or working.
        divisor: What the rating is divided by, 1 or more.

    Returns:
        The rating over the divisor.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Another wall thickness than the tested one, damp board, and load that works to and fro.

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


def masonry_plug(allowable_n: float) -> Rated:
    """Allowable load of a plug and screw in masonry, by its own rating.

    Args:
        allowable_n: Recommended load of its maker for this masonry, factor inside, above 0 N.

    Returns:
        The same load; nothing is added and nothing taken off.

    Raises:
        OutOfRange: The load is not above 0.

    Leaves out:
        Old, soft or hollow masonry, plaster thickness, and distance to a joint or an edge.

    Source:
        The maker of the plug.
    """
    load = within("Recommended load of the plug", allowable_n, 1e-6, 1e6, "N")
    return Rated(rating_n=load, allowable_n=load, factor=1.0, basis="recommended load of the plug's maker")
