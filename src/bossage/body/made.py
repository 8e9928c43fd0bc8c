"""Where a long part comes from: a section of sticks, a board, or a length that must be bought."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from bossage.brief.records import Brief
from bossage.timber import board_keys


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Exactly one of the two is set, or neither where the brief names no stock: then a length is bought."""

    section: str = ""  # of sticks, by its name in the brief
    board_nm: int = 0  # the board's thickness


def source_of(brief: Brief, material: str, section_nm: tuple[int, int]) -> Source:
    """Sticks of that section and wood first, then boards of that material and thickness; what is owned before all.

    Sticks come before boards, because they need no ripping; but boards that lie in the shop before sticks that must be
    bought. What is itself a board (plywood and its like) is never bought as a length.

    Args:
        brief: Sticks and boards that it names.
        material: Species or board.
        section_nm: Both sizes of the section, the smaller first.
    """
    section, section_owned = _section_for(brief, material, section_nm)
    thickness, board_owned = _thickness_for(brief, material, section_nm)
    if section and not (thickness and board_owned and not section_owned):
        return Source(section=section)
    return Source(board_nm=thickness)


def _section_for(brief: Brief, material: str, section_nm: tuple[int, int]) -> tuple[str, bool]:
    """The section of sticks with this profile and wood, one in the shop before others; and whether it is there."""
    found: list[tuple[bool, str]] = []
    for name in dict.fromkeys(stick.name for stick in brief.sticks):
        sticks = [stick for stick in brief.sticks if stick.name == name]
        size = sorted((sticks[0].section_width_nm, sticks[0].section_height_nm))
        if tuple(size) == section_nm and {stick.species for stick in sticks} == {material}:
            found.append((any(stick.owned for stick in sticks), name))
    owned, name = next((one for one in found if one[0]), found[0] if found else (False, ""))
    return name, owned


def _thickness_for(brief: Brief, material: str, section_nm: tuple[int, int]) -> tuple[int, bool]:
    """Which of the two sizes is a board's thickness, 0 for neither; and whether such a board is in the shop."""
    boards = [s for s in brief.backer.sheets if s.material == material and s.thickness_nm in section_nm]
    if boards:
        first = min(boards, key=lambda s: (not s.owned, s.thickness_nm))
        return first.thickness_nm, first.owned
    if material not in board_keys():
        return 0, False
    others = Counter(
        {
            brief.backer.thickness_nm: brief.backer.material == material,
            brief.cleat.thickness_nm: brief.cleat.material == material,
        }
    )
    return next((size for size in section_nm if others[size]), section_nm[0]), False
