"""Places of screws in a row, as a rule of the shop reads them: whole millimetres, or sixteenths of an inch.

A place is rounded here, where it comes from, so that every sheet, the load path and the zones have the same one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bossage.brief.records import LengthUnit
from bossage.units import NM_PER_IN, NM_PER_MM, round_to_step

STEP_NM = {LengthUnit.MM: NM_PER_MM, LengthUnit.IN: NM_PER_IN // 16}


@dataclass(frozen=True, slots=True)
class Tape:
    """A rule laid along a row: the unit that it reads, and where it begins."""

    unit: LengthUnit
    from_nm: int = 0

    @property
    def step_nm(self) -> int:
        """The least that it reads."""
        return STEP_NM[self.unit]

    def nearest(self, nm: int) -> int:
        """The place on it that is nearest."""
        return self.from_nm + round_to_step(nm - self.from_nm, self.step_nm)

    def after(self, nm: int) -> int:
        """The first place on it that is no less."""
        return self.from_nm - (self.from_nm - nm) // self.step_nm * self.step_nm

    def before(self, nm: int) -> int:
        """The last place on it that is no more."""
        return self.from_nm + (nm - self.from_nm) // self.step_nm * self.step_nm

    def within(self, low_nm: int, high_nm: int) -> tuple[int, int]:
        """From the first to the last place on it between two; as they are where it has none there."""
        low, high = self.after(low_nm), self.before(high_nm)
        return (low, high) if low <= high else (low_nm, high_nm)


def spread_over(pieces: tuple[tuple[int, int], ...], end_nm: int, count: int, tape: Tape) -> Iterator[int]:
    """Places evenly over all pieces of the cleat, as many on each as can be, left to right."""
    for number, (start, stop) in enumerate(pieces):
        each = count * (number + 1) // len(pieces) - count * number // len(pieces)
        yield from spread(start, stop, end_nm, each, tape)


def spread(from_nm: int, to_nm: int, end_nm: int, count: int, tape: Tape) -> Iterator[int]:
    """Places evenly between the end distances; a single one in the middle."""
    first, last = from_nm + end_nm, to_nm - end_nm
    if count == 1 or last < first:
        first = last = (from_nm + to_nm) // 2
    low, high = tape.within(first, last)
    for number in range(count):
        yield min(max(tape.nearest(low + (high - low) * number // max(1, count - 1)), low), high)
