"""Ribs, rails, stiles and lipping: how long, how many, and which stock of the brief they come out of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from bossage.brief.records import Brief, EdgeStyle
from bossage.layout.records import Layout
from bossage.timber import board_keys

# Boards that are alike along and across, so that a rib may lie either way in them. Common practice, no source.
GRAINLESS = ("mdf", "particleboard")


@dataclass(frozen=True, slots=True, kw_only=True)
class LongPart:
    """Parts of one name, section and length, over all leaves."""

    role: str  # rib, frame, stile, lipping
    name: str
    material: str
    width_nm: int
    depth_nm: int
    length_nm: int
    count: int

    @property
    def section_nm(self) -> tuple[int, int]:
        """Both sizes of the section, the smaller first."""
        return min(self.width_nm, self.depth_nm), max(self.width_nm, self.depth_nm)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPart:
    """Rectangles out of a board; `length_nm` runs along its grain where `turn` is False."""

    serves: str
    material: str
    thickness_nm: int
    width_nm: int
    length_nm: int
    count: int
    turn: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Allotted:
    """Long parts by where they come from: sticks of a section, boards, or lengths that the brief does not name."""

    by_section: dict[str, tuple[LongPart, ...]]
    from_boards: tuple[BoardPart, ...]
    bought: tuple[LongPart, ...]


def allot_parts(brief: Brief, layout: Layout) -> Allotted:
    """Sticks of that section and wood first, then boards of that material and thickness; what is owned before all.

    Sticks come before boards, because they need no ripping; but boards that lie in the shop before sticks that must be
    bought. What is itself a board (plywood and its like) is never bought as a length.
    """
    by_section: dict[str, list[LongPart]] = {}
    from_boards: list[BoardPart] = []
    bought: list[LongPart] = []
    for part in _long_parts(brief, layout):
        section, section_owned = _section_for(brief, part)
        thickness, board_owned = _thickness_for(brief, part)
        if section and not (thickness and board_owned and not section_owned):
            by_section.setdefault(section, []).append(part)
        elif thickness:
            from_boards.append(_ripped(part, thickness))
        else:
            bought.append(part)
    return Allotted(
        by_section={name: tuple(parts) for name, parts in by_section.items()},
        from_boards=tuple(from_boards),
        bought=tuple(bought),
    )


def _long_parts(brief: Brief, layout: Layout) -> Iterator[LongPart]:
    leaves = len(layout.leaves)
    for part in brief.behind:
        yield LongPart(
            role=part.role,
            name=part.name,
            material=part.species,
            width_nm=part.width_nm,
            depth_nm=part.depth_nm,
            length_nm=part.length_nm,
            count=part.count * leaves,
        )
    if brief.edge.style is EdgeStyle.BANDED:
        for strip in layout.strips:
            yield LongPart(
                role="lipping",
                name="lipping",
                material=strip.material,
                width_nm=strip.width_nm,
                depth_nm=strip.thickness_nm,
                length_nm=strip.length_nm,
                count=strip.count * leaves,
            )


def _section_for(brief: Brief, part: LongPart) -> tuple[str, bool]:
    """The section of sticks with this profile and wood, one in the shop before others; and whether it is there."""
    found: list[tuple[bool, str]] = []
    for name in dict.fromkeys(stick.name for stick in brief.sticks):
        sticks = [stick for stick in brief.sticks if stick.name == name]
        size = sorted((sticks[0].section_width_nm, sticks[0].section_height_nm))
        if tuple(size) == part.section_nm and {stick.species for stick in sticks} == {part.material}:
            found.append((any(stick.owned for stick in sticks), name))
    owned, name = next((one for one in found if one[0]), found[0] if found else (False, ""))
    return name, owned


def _thickness_for(brief: Brief, part: LongPart) -> tuple[int, bool]:
    """Which of the two sizes is a board's thickness, 0 for neither; and whether such a board is in the shop."""
    boards = [s for s in brief.backer.sheets if s.material == part.material and s.thickness_nm in part.section_nm]
    if boards:
        first = min(boards, key=lambda s: (not s.owned, s.thickness_nm))
        return first.thickness_nm, first.owned
    if part.material not in board_keys():
        return 0, False
    others = Counter(
        {
            brief.backer.thickness_nm: brief.backer.material == part.material,
            brief.cleat.thickness_nm: brief.cleat.material == part.material,
        }
    )
    return next((size for size in part.section_nm if others[size]), part.section_nm[0]), False


def _ripped(part: LongPart, thickness_nm: int) -> BoardPart:
    return BoardPart(
        serves=part.name,
        material=part.material,
        thickness_nm=thickness_nm,
        width_nm=sum(part.section_nm) - thickness_nm,
        length_nm=part.length_nm,
        count=part.count,
        turn=part.material in GRAINLESS,
    )
