"""Sets of sticks as whole numbers: one digit for each kind, so that sets are compared and subtracted at once.

Sticks with the same clear spans are of one kind here, whatever they cost, because the money is fixed before.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

DIGIT = 8  # bits of a digit; the topmost stays free for borrowing
MOST_OF_A_KIND = (1 << (DIGIT - 1)) - 1
MOST_SETS = 20_000


@dataclass(slots=True)
class StickSets:
    """All sets that some sticks make, by what they hold."""

    kinds: list[tuple[int, ...]]  # clear spans
    whole: int  # the set of all
    caps: list[int]  # ascending
    sets: list[int]  # beside `caps`
    cap_of: dict[int, int]
    borrow: int

    def within(self, low: int, high: int) -> list[int]:
        """The sets that hold from `low` to `high`, least first."""
        return self.sets[bisect_left(self.caps, low) : bisect_left(self.caps, high + 1)]

    def has(self, sticks: int, part: int) -> bool:
        """Whether `part` can be taken out of `sticks`."""
        return ((sticks | self.borrow) - part) & self.borrow == self.borrow

    def counts(self, sticks: int) -> list[int]:
        """How many of each kind."""
        return [sticks >> (DIGIT * k) & MOST_OF_A_KIND for k in range(len(self.kinds))]


def stick_sets(spans: Sequence[tuple[int, ...]]) -> StickSets | None:
    """The sets of these sticks, given by their clear spans; None where there are too many of them."""
    kinds = sorted(set(spans), key=lambda caps: (-sum(caps), caps))
    counts = [spans.count(caps) for caps in kinds]
    many = 1
    for n in counts:
        many *= n + 1
    if many > MOST_SETS or max(counts, default=0) > MOST_OF_A_KIND:
        return None
    made = [(0, 0)]
    for k, (caps, n) in enumerate(zip(kinds, counts, strict=True)):
        size, one = sum(caps), 1 << (DIGIT * k)
        made = [(cap + x * size, code + x * one) for cap, code in made for x in range(n + 1)]
    made.sort()
    return StickSets(
        kinds=kinds,
        whole=made[-1][1],
        caps=[cap for cap, _ in made],
        sets=[code for _, code in made],
        cap_of={code: cap for cap, code in made},
        borrow=sum(1 << (DIGIT * k + DIGIT - 1) for k in range(len(kinds))),
    )
