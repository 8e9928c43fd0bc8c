"""What is behind the wall, as the page draws it."""

from __future__ import annotations

from bossage.web.models.common import Out


class ZoneOut(Out):
    """A part of the wall where nothing is drilled, as polygons on it. `depth_mm` behind its face; null: all of it."""

    cause: str
    source: str
    parts_mm: list[list[tuple[float, float]]]
    depth_mm: float | None
    hollow: bool
    text: str


class RunOut(Out):
    """A cable, pipe or duct in the wall, from one place on it to another. `index` is its place in the brief."""

    index: int
    name: str
    kind: str
    found: str
    from_mm: tuple[float, float]
    to_mm: tuple[float, float]
    clear_mm: float
    words: str
    text: str


class FixingOut(Out):
    """Where a fixing goes into the wall."""

    x_mm: float
    y_mm: float
    into: str
