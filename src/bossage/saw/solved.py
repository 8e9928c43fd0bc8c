"""What the search for the least money hands on."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.saw.fill import Filled


@dataclass(slots=True)
class Solved:
    """Contents by stick (None: the stock does not suffice, or nothing was found), with the bound on its price."""

    filled: Filled | None
    price: int
    bound: int
    why: str
    impossible: bool = False
