"""Rectangles on the wall, in whole nanometres."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle by its lower left corner; x right, y up."""

    x: int
    y: int
    width: int
    height: int

    @property
    def right(self) -> int:
        """Its right edge."""
        return self.x + self.width

    @property
    def top(self) -> int:
        """Its upper edge."""
        return self.y + self.height

    @property
    def area(self) -> int:
        """Its area, nm²."""
        return self.width * self.height

    def overlap(self, other: Rect) -> int:
        """Area that both share, nm²; edges that only touch share nothing."""
        across = min(self.right, other.right) - max(self.x, other.x)
        up = min(self.top, other.top) - max(self.y, other.y)
        return max(0, across) * max(0, up)


def around(rects: Iterable[Rect]) -> Rect:
    """The smallest rectangle that holds all; at least one must be given."""
    held = tuple(rects)
    x, y = min(r.x for r in held), min(r.y for r in held)
    return Rect(x, y, max(r.right for r in held) - x, max(r.top for r in held) - y)
