"""What `standing` finds: places to stand, each with reach, height and index."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """Furniture that is moved out into the room, how far, and by whom; empty where nobody is named."""

    name: str
    out_nm: int
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The best place of one case for so many people: its worse end, and of two people the worse placed.

    `recommended_g` is of one person; `index` that of the whole load, of two people over two thirds of the sum of both.
    They are 0 and infinite where the equation does not hold (`why_not`) and where a leaf is only pulled open.
    `governs`: the lift that the brief's furniture and people give.
    """

    leaf: str
    acts: tuple[str, ...]  # hanging, opening, taking down
    case: str  # in place, moved as the brief says, moved out of the way
    moved: tuple[Moved, ...]
    place: str
    people: int
    where: str  # at the hook, from the floor, at its grip
    horizontal_nm: int  # from the ankles to the hands
    vertical_nm: int
    travel_nm: int
    turn_deg: float
    holds: bool
    why_not: str
    carries_g: float
    recommended_g: float
    index: float
    governs: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """Every place to stand, of every leaf of one copy."""

    standing: tuple[Standing, ...]
