"""How much of a screw's thread holds in the part that receives it, and the length of screw that this asks for."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.fasteners.gauges import thread_length_mm
from bossage.ranges import within

TIP_DIAMETERS = 2.0
"""The tapered tip, which holds nothing: NDS 2018 12.3.5.3 and Appendix L (read in a public transcription)."""

LEAST_THREAD_DIAMETERS = {"thin": 4.0, "thick": 6.0}
"""Least length of thread in the receiving part, tip included, of a screw that is drawn out. From 6 mm on 6 d
(EN 1995-1-1 8.7.2(3)). Below 4 d, which is ours and for screws beside sound glue alone: DIN 1052:2008 has it for
solid wood and screws of 4 mm or more. Both from memory. A screw that is loaded sideways, as every screw without glue
is, needs 6 d in any case (NDS 2018 12.1.5.6, read)."""

THICK_FROM_MM = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bite:
    """A screw in the part that receives it."""

    screw_mm: float  # length under the head
    thread_mm: float  # of thread in the receiving part, tip included where the tip ends there
    holds_mm: float  # of it that counts: without the tip
    least_mm: float  # of `thread_mm` that is asked for
    comes_through: bool

    @property
    def enough(self) -> bool:
        """Whether the thread goes as deep as it must before anything is counted on it."""
        return self.thread_mm >= self.least_mm - 1e-9


def least_thread_mm(diameter_mm: float) -> float:
    """Thread that must lie in the receiving part before anything is counted on it, tip included, mm."""
    return LEAST_THREAD_DIAMETERS["thick" if diameter_mm >= THICK_FROM_MM else "thin"] * diameter_mm


def bite(screw_mm: float, diameter_mm: float, through_mm: float, receiving_mm: float) -> Bite:
    """Thread of one screw in the part that receives it.

    Args:
        screw_mm: Length under the head, 5 to 300 mm.
        diameter_mm: Shank diameter, 1 to 12 mm.
        through_mm: What the screw passes before that part, 0 mm or more: countersinking taken off.
        receiving_mm: Thickness of that part, above 0 mm.

    Returns:
        Thread and what of it holds. A tip that stands out behind the part takes nothing away.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Screws threaded to the head (they have no less).

    Source:
        NDS 2018 Table L3 (two thirds of the length are threaded, read), `TIP_DIAMETERS`, `LEAST_THREAD_DIAMETERS`.
    """
    length = within("Screw length", screw_mm, 5, 300, "mm")
    D = within("Screw diameter", diameter_mm, 1, 12, "mm")
    before = within("What the screw passes", through_mm, 0, 1000, "mm")
    part = within("Thickness of the receiving part", receiving_mm, 1e-3, 1e4, "mm")
    begins = max(before, length - thread_length_mm(length, D))
    behind = before + part
    return Bite(
        screw_mm=length,
        thread_mm=max(0.0, min(length, behind) - begins),
        holds_mm=max(0.0, min(length - TIP_DIAMETERS * D, behind) - begins),
        least_mm=least_thread_mm(D),
        comes_through=length >= behind,
    )


def shortest_that_holds(
    sold_mm: tuple[float, ...],
    diameter_mm: float,
    through_mm: float,
    receiving_mm: float,
    *,
    wanted_mm: float = 0.0,
    keep_back_mm: float = 3.0,
) -> Bite | None:
    """The shortest length on the shelf whose thread goes deep enough into the receiving part and stays inside.

    Args:
        sold_mm: Lengths that are sold.
        diameter_mm: Shank diameter, 1 to 12 mm.
        through_mm: What the screw passes before the receiving part.
        receiving_mm: Thickness of that part.
        wanted_mm: Thread that has to hold there, tip not counted; the least depth is asked for in any case.
        keep_back_mm: How far before the part's far face the tip must end.

    Returns:
        That screw's bite, or None where no length does both.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Whether a thinner screw would do.

    Source:
        `bite`.
    """
    most = through_mm + receiving_mm - keep_back_mm
    for length in sorted(one for one in sold_mm if one <= most):
        found = bite(length, diameter_mm, through_mm, receiving_mm)
        if found.enough and found.holds_mm >= wanted_mm:
            return found
    return None
