"""A drawing: shapes with what a reader who cannot see them needs, its scale and its frame."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bossage.drawing.box import Box
from bossage.drawing.extent import bounds
from bossage.drawing.shapes import Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Shapes with what a reader who cannot see them needs: a title and a sentence or two.

    `scale_n` is the n of 1 : n on paper. `frame` is what the page shows; without it, all that is drawn. `reading`
    says line by line what is drawn, where a sentence or two cannot: every block of a map.
    """

    title: str
    description: str
    shapes: tuple[Shape, ...]
    scale_n: float = 1.0
    frame: Box | None = None
    reading: tuple[str, ...] = ()

    def extent(self) -> Box:
        """The frame, or the box round all shapes with half a heavy line to spare."""
        if self.frame is not None:
            return self.frame
        return bounds(self.shapes, self.scale_n).grown(0.3 * self.scale_n)

    def framed(self) -> Drawing:
        """The same with its extent as its frame, so that it is measured once."""
        return self if self.frame is not None else replace(self, frame=self.extent())

    @property
    def paper_width_mm(self) -> float:
        """Width on paper."""
        return self.extent().width_mm / self.scale_n

    @property
    def paper_height_mm(self) -> float:
        """Height on paper."""
        return self.extent().height_mm / self.scale_n
