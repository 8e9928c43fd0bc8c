"""New patterns where quick filling falls short of the bound."""

from __future__ import annotations

from bossage.saw.core import Core
from bossage.saw.fill import Filled
from bossage.saw.mix import Mixes
from bossage.saw.records import Patience
from bossage.saw.solved import Solved


def solve_by_patterns(core: Core, mixes: Mixes, best: Filled | None, patience: Patience, seed: int) -> Solved:
    """The quick answer with its bound."""
    price = 0
    if best is not None:
        price = sum(core.bins[b].price for b, s in zip(best.bins, best.spans, strict=True) if any(any(x) for x in s))
    return Solved(filled=best, price=price, bound=mixes.bound or 0, why="stock-mix bound")
