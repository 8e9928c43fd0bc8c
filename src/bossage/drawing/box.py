"""An upright rectangle that says how far something reaches."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An upright rectangle that says how far something reaches."""

    left_mm: float
    bottom_mm: float
    right_mm: float
    top_mm: float

    @property
    def width_mm(self) -> float:
        """From left to right."""
        return self.right_mm - self.left_mm

    @property
    def height_mm(self) -> float:
        """From bottom to top."""
        return self.top_mm - self.bottom_mm

    def meets(self, other: Box, slack_mm: float = 0.0) -> bool:
        """Whether the two share more than an edge, or come nearer than `slack_mm`."""
        return (
            self.left_mm < other.right_mm + slack_mm
            and other.left_mm < self.right_mm + slack_mm
            and self.bottom_mm < other.top_mm + slack_mm
            and other.bottom_mm < self.top_mm + slack_mm
        )

    def holds(self, other: Box) -> bool:
        """Whether `other` lies wholly inside."""
        return (
            self.left_mm <= other.left_mm
            and self.bottom_mm <= other.bottom_mm
            and self.right_mm >= other.right_mm
            and self.top_mm >= other.top_mm
        )

    def joined(self, other: Box) -> Box:
        """The smallest box round both."""
        return Box(
            left_mm=min(self.left_mm, other.left_mm),
            bottom_mm=min(self.bottom_mm, other.bottom_mm),
            right_mm=max(self.right_mm, other.right_mm),
            top_mm=max(self.top_mm, other.top_mm),
        )

    def grown(self, by_mm: float) -> Box:
        """A box that reaches further on every side."""
        return Box(
            left_mm=self.left_mm - by_mm,
            bottom_mm=self.bottom_mm - by_mm,
            right_mm=self.right_mm + by_mm,
            top_mm=self.top_mm + by_mm,
        )
