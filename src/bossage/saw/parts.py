"""What is sawn for the body: each solid part that is not bought, as a slice of a stick or a rectangle of a board."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable
from dataclasses import dataclass

from bossage.body import MadeAt, Part, Role, Source, key_of, marks_of, source_of, word_of
from bossage.brief.records import Brief
from bossage.timber import board_keys

# Boards that are alike along and across, so that a rib may lie either way in them. Common practice, no source.
GRAINLESS = ("mdf", "particleboard")

LONG = (
    Role.LIPPING, Role.RIB, Role.FRAME, Role.STILE, Role.HINGE_STILE, Role.STOP, Role.FILLER, Role.POST,
    Role.STAY_BLOCK,
)  # fmt: skip
"""Parts that may come out of sticks as well, as a foot with a grain may; all others are as thick as their board."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LongPart:
    """Parts of one name, number, section and length, over all leaves; `parts` are they by their keys."""

    role: str  # rib, frame, stile, lipping, filler, the wood of hinges
    name: str
    mark: str
    material: str
    width_nm: int
    depth_nm: int
    length_nm: int
    parts: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many."""
        return len(self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPart:
    """Rectangles out of a board; `length_nm` runs along its grain where `turn` is False."""

    name: str
    mark: str
    material: str
    thickness_nm: int
    width_nm: int
    length_nm: int
    parts: tuple[str, ...]
    turn: bool = True

    @property
    def count(self) -> int:
        """How many."""
        return len(self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Allotted:
    """Parts by where they come from: sticks of a section, boards, or lengths that the brief does not name."""

    by_section: dict[str, tuple[LongPart, ...]]
    from_boards: tuple[BoardPart, ...]
    bought: tuple[LongPart, ...]


def allot_parts(brief: Brief, parts: tuple[Part, ...]) -> Allotted:
    """Every part of the body that is not bought, parts alike together; where each comes from says `source_of`."""
    marks = marks_of(parts)
    alike: dict[Hashable, list[Part]] = defaultdict(list)
    for part in parts:
        if part.made_at is not MadeAt.BOUGHT:
            alike[word_of(part), marks[key_of(part)], part.material, _sizes(part)].append(part)
    by_section: dict[str, list[LongPart]] = {}
    from_boards: list[BoardPart] = []
    bought: list[LongPart] = []
    for same in alike.values():
        mark, keys = marks[key_of(same[0])], tuple(key_of(part) for part in same)
        source = _source(brief, same[0])
        if source.board_nm:
            from_boards.append(_board_part(same[0], source.board_nm, mark, keys))
        elif source.section:
            by_section.setdefault(source.section, []).append(_long_part(same[0], mark, keys))
        else:
            bought.append(_long_part(same[0], mark, keys))
    return Allotted(
        by_section={name: tuple(long) for name, long in by_section.items()},
        from_boards=tuple(from_boards),
        bought=tuple(bought),
    )


def numbered(name: str, mark: str) -> str:
    """A part's name with what is pencilled on it: `rib (2)`."""
    return f"{name} ({mark})"


def _long(part: Part) -> bool:
    return part.role in LONG or (part.role is Role.FOOT and part.grain is not None)


def _sizes(part: Part) -> tuple[int, int, int]:
    """Along, across and deep: an upright part lies down to be sawn."""
    box = part.box
    wide, high = box.x1 - box.x0, box.y1 - box.y0
    if _long(part) or part.role is Role.STRIP:
        wide, high = (high, wide) if _upright(part) else (wide, high)
    return wide, high, box.z1 - box.z0


def _upright(part: Part) -> bool:
    """Whether it stands: as its grain runs; where the material has none, along its longer side."""
    box = part.box
    if part.role in (Role.FILLER, Role.FOOT):
        return False  # they lie along the cleat, however short they are
    return part.grain == "y" or (part.grain is None and box.y1 - box.y0 > box.x1 - box.x0)


def _source(brief: Brief, part: Part) -> Source:
    _, across, deep = _sizes(part)
    if not _long(part):
        return Source(board_nm=deep)
    return source_of(brief, part.material, (min(across, deep), max(across, deep)))


def _long_part(part: Part, mark: str, keys: tuple[str, ...]) -> LongPart:
    along, across, deep = _sizes(part)
    return LongPart(
        role=part.role.value,
        name=word_of(part),
        mark=mark,
        material=part.material,
        width_nm=across,
        depth_nm=deep,
        length_nm=along,
        parts=keys,
    )


def _board_part(part: Part, thickness_nm: int, mark: str, keys: tuple[str, ...]) -> BoardPart:
    """A long part is ripped along the grain; so is whatever is cut from solid wood. A backer lies as it stands."""
    along, across, deep = _sizes(part)
    long = _long(part)
    width, length = (across + deep - thickness_nm, along) if long else (across, along)
    if part.role is Role.BACKER:
        width, length = along, across
    return BoardPart(
        name=word_of(part),
        mark=mark,
        material=part.material,
        thickness_nm=thickness_nm,
        width_nm=width,
        length_nm=length,
        parts=keys,
        turn=part.material in GRAINLESS or not (long or part.material not in board_keys()),
    )
