"""What the search for the least money hands on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bossage.saw.contents.fill import Filled
from bossage.saw.job.numbers import Bin


@dataclass(slots=True)
class Solved:
    """Contents by stick (None: the stock does not suffice, or nothing was found), with the bound on its price."""

    filled: Filled | None
    price: int
    bound: int
    why: str
    impossible: bool = False


def paid(bins: Sequence[Bin], filled: Filled) -> int:
    """Price of the sticks that are cut."""
    return sum(bins[b].price for b, s in zip(filled.bins, filled.spans, strict=True) if any(any(x) for x in s))
