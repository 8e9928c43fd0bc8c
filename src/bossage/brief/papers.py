"""What a maker wants of the papers: the sticker sheets there are, and whether backs are notched."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.settling import Who

PAPER_NM = {"A4": (210_000_000, 297_000_000), "Letter": (215_900_000, 279_400_000)}


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelGrid:
    """A sheet of stickers: how many across and down, the margins round all of them, the gaps between them."""

    across: int = 5
    down: int = 13
    left_nm: int = 5_000_000
    right_nm: int = 5_000_000
    top_nm: int = 11_000_000
    bottom_nm: int = 11_000_000
    gap_across_nm: int = 2_500_000
    gap_down_nm: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Papers:
    """Wishes about the papers. `notches`: backs are notched, so that blocks can be sorted by touch."""

    labels: LabelGrid = LabelGrid()
    notches: bool = False
    ask: tuple[Who, ...] = ()  # who has to agree, besides those whom the checks call for


def label_size_nm(grid: LabelGrid, paper: str) -> tuple[int, int]:
    """Width and height of one sticker, whole nanometres, rounded down."""
    width, height = PAPER_NM[paper]
    wide = width - grid.left_nm - grid.right_nm - (grid.across - 1) * grid.gap_across_nm
    high = height - grid.top_nm - grid.bottom_nm - (grid.down - 1) * grid.gap_down_nm
    return wide // grid.across, high // grid.down


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew:
    """Those who paint together: everyone by name, those who stay away, how many helpers look after them.

    `footprint` names the blocks that are dealt out; empty means all.
    """

    names: tuple[str, ...] = ()
    absent: tuple[str, ...] = ()
    helpers: int = 1
    footprint: str = ""
