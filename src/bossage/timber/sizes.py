"""What a nominal softwood size really measures: American Softwood Lumber Standard PS 20-20, Table 3."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from bossage.errors import BossageError
from bossage.tables import is_from_memory, table_rows

INCH_MM = 25.4
STOCKED = (*(f"{thin}x{wide}" for thin in (1, 2) for wide in (2, 3, 4, 6, 8, 10, 12)), "4x4", "4x6")
"""What most merchants have. Common practice, no source."""

SAME_MM = 0.5
_PACKAGE = "bossage.timber"
_CROSS = re.compile(r"\s*[x×*]\s*", re.IGNORECASE)


class UnknownSize(BossageError):
    """No such nominal size in the standard."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DressedSize:
    """A stick as it measures. Green sizes are larger and shrink towards the dry ones."""

    nominal: str
    thickness_in: float
    width_in: float
    source: str
    from_memory: bool

    @property
    def thickness_mm(self) -> float:
        """The smaller dimension in millimetres, to a millionth."""
        return round(self.thickness_in * INCH_MM, 6)

    @property
    def width_mm(self) -> float:
        """The larger dimension in millimetres, to a millionth."""
        return round(self.width_in * INCH_MM, 6)


def dressed_size(nominal: str, condition: Literal["dry", "green"] = "dry") -> DressedSize:
    """Dressed size of a nominal softwood stick.

    Args:
        nominal: Two nominal inch sizes such as `2x4`, `1 x 6`, `1-1/4x6`; either may come first.
        condition: `dry` (19 % moisture or less) or `green`.

    Returns:
        Thickness and width.

    Raises:
        UnknownSize: The text is no pair of sizes, or the standard does not list it.

    Leaves out:
        What a merchant really stocks: measured sizes count, not names. Hardwood is sold rough and by other rules.

    Source:
        PS 20-20 Table 3, `data/lumber_sizes.csv`: dry sizes of 1, 2 and 4 thick and 2 to 12 wide read, green and others
        from memory. Sticks with both nominal sizes 5 or more are timbers.
    """
    parts = [part.removesuffix('"').removesuffix("in").strip() for part in _CROSS.split(nominal.strip())]
    if len(parts) != 2:
        raise UnknownSize(f"'{nominal}' is no nominal size. Write two inch sizes, such as 2x4 or 1x6.")
    thin, wide = sorted(parts, key=_inches)
    is_timber = _inches(thin) >= 5
    classes = ("timber",) if is_timber else ("board", "dimension")
    thickness = _row(thin, classes, "thickness/width" if is_timber else "thickness", nominal)
    width = _row(
        wide, classes if is_timber else ("board/dimension",), "thickness/width" if is_timber else "width", nominal
    )
    column = "dressed_dry_in" if condition == "dry" else "dressed_green_in"
    recalled = condition == "green" or is_from_memory(thickness) or is_from_memory(width)
    return DressedSize(
        nominal=f"{thin}x{wide}",
        thickness_in=float(thickness[column]),
        width_in=float(width[column]),
        source=thickness["source"],
        from_memory=recalled,
    )


def size_around(side_mm: float, other_mm: float) -> DressedSize | None:
    """The smallest stick of a shop that a section can be ripped from; the stick itself where one measures just that.

    Args:
        side_mm: One side of the section.
        other_mm: The other side.

    Returns:
        One of `STOCKED`, dry; None where none is large enough.
    """
    thin, wide = sorted((side_mm, other_mm))
    fits = [
        one
        for one in map(dressed_size, STOCKED)
        if one.thickness_mm >= thin - SAME_MM and one.width_mm >= wide - SAME_MM
    ]
    return min(fits, key=lambda one: one.thickness_mm * one.width_mm, default=None)


def _row(size: str, classes: tuple[str, ...], dimension: str, nominal: str) -> dict[str, str]:
    rows = [r for r in table_rows(_PACKAGE, "lumber_sizes.csv") if r["class"] in classes]
    listed = {r["nominal_in"]: r for r in rows if r["dimension"] == dimension}
    if size not in listed:
        raise UnknownSize(
            f"'{nominal}' is no standard softwood size: {size} in is not among the listed {dimension} sizes "
            f"({', '.join(listed)}). Enter the measured size."
        )
    return listed[size]


def _inches(text: str) -> float:
    whole = re.fullmatch(r"(\d+)(?:-(\d+)/(\d+))?|(\d+)/(\d+)", text)
    if whole is None:
        raise UnknownSize(f"'{text}' is no nominal inch size. Write 2, 1-1/4 or 3/4.")
    a, b, c, d, e = whole.groups()
    if "0" in (c, e):
        raise UnknownSize(f"'{text}' divides by nothing. Write 2, 1-1/4 or 3/4.")
    return int(d) / int(e) if a is None else int(a) + (int(b) / int(c) if b else 0)
