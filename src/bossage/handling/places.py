"""Where feet can stand to hold a load at a wall, with what stands before that wall. Knows nothing of a relief.

Plan view: x along the wall, z out of it, y over the floor, nm. The person looks straight at the wall, so hands that are
off to a side ask the body to turn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, degrees, hypot

from bossage.units import NM_PER_MM

STAND_NM = 500 * NM_PER_MM
"""Room that somebody needs before the load to stand close: ours."""

WIDE_NM = 500 * NM_PER_MM
"""Room along the wall that somebody takes: ours, about the breadth of the shoulders."""

TOES_NM = 150 * NM_PER_MM
"""From the ankles to the front of a thing that the toes touch: ours."""

ASIDE_NM = 100 * NM_PER_MM
"""So far from the middle of the hands the feet are as good as before them: ours."""

HEAD_NM = 2000 * NM_PER_MM
"""What hangs higher is in nobody's way: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Something that stands before the wall. `knelt_on`: a bed, a sofa or a bench, on which somebody would kneel."""

    name: str
    x0_nm: int
    x1_nm: int
    z0_nm: int
    z1_nm: int
    y0_nm: int
    y1_nm: int
    knelt_on: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A load as it is held: the middle of the hands, its front off the wall, its lower edge, and how close one can be.

    `close_nm` is the reach H of somebody whom nothing hinders.
    """

    x_nm: int
    z_nm: int
    front_nm: int
    foot_nm: int
    close_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The floor before the wall: from corner to corner, and as deep as a passage is; None where nothing bounds it."""

    wide_nm: int
    deep_nm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place for the feet. `why_not` says why the lifting equation does not hold there; empty where it may."""

    name: str
    horizontal_nm: int
    turn_deg: float = 0.0
    why_not: str = ""


def places(held: Held, things: Sequence[Thing], floor: Floor) -> tuple[Place, ...]:
    """Every place from which the load can be held, on free floor, over what stands before it, and kneeling on that.

    Args:
        held: Where the hands are.
        things: What stands before the wall.
        floor: How wide and how deep the floor is.

    Returns:
        The place with the shortest reach of each free stretch of floor; before what stands under the hands, over it;
        kneeling on it. One place at least.

    Source:
        `STAND_NM`, `WIDE_NM`, `TOES_NM` and `HEAD_NM` are ours.
    """
    near = [thing for thing in things if _in_way(thing, held.front_nm)]
    found = [*_on_the_floor(held, near, floor), *_over(held, things, near, floor)]
    return tuple(found) or (Place(name="before it", horizontal_nm=held.close_nm, why_not="there is no room to stand"),)


def in_the_way(held: Held, things: Sequence[Thing], floor: Floor) -> tuple[Thing, ...]:
    """What stands where somebody would stand right before the hands; nothing where a step aside is enough."""
    near = [thing for thing in things if _in_way(thing, held.front_nm)]
    if any(abs(feet - held.x_nm) <= ASIDE_NM for feet, _ in _free_feet(held, near, floor)):
        return ()
    return tuple(thing for thing in things if _in_way(thing, held.front_nm) and _before(thing, held.x_nm))


def _in_way(thing: Thing, front_nm: int) -> bool:
    return thing.z0_nm < front_nm + STAND_NM and thing.z1_nm > front_nm and thing.y0_nm < HEAD_NM


def _before(thing: Thing, x_nm: int) -> bool:
    return thing.x0_nm < x_nm + WIDE_NM // 2 and x_nm - WIDE_NM // 2 < thing.x1_nm


def _on_the_floor(held: Held, near: list[Thing], floor: Floor) -> Iterator[Place]:
    """The nearest place of each stretch of free floor close to the wall."""
    for feet, side in _free_feet(held, near, floor):
        off = abs(feet - held.x_nm)
        yield Place(
            name="before it" if off <= ASIDE_NM else side,
            horizontal_nm=round(hypot(off, held.close_nm)),
            turn_deg=degrees(atan2(off, held.close_nm)),
        )


def _free_feet(held: Held, near: list[Thing], floor: Floor) -> Iterator[tuple[int, str]]:
    """Middles of the feet in free stretches of floor close to the wall, each with what it lies beside."""
    if floor.deep_nm is not None and held.front_nm + STAND_NM > floor.deep_nm:
        return
    start, bounds = 0, ""
    ends = [(thing.x0_nm, thing.x1_nm, thing.name) for thing in sorted(near, key=lambda one: one.x0_nm)]
    for left, right, name in [*ends, (floor.wide_nm, floor.wide_nm, "")]:
        if left - start >= WIDE_NM:
            feet = min(max(held.x_nm, start + WIDE_NM // 2), left - WIDE_NM // 2)
            side = f"to the left of the {name}" if feet < held.x_nm and name else "beside it"
            yield feet, f"to the right of the {bounds}" if feet > held.x_nm and bounds else side
        if right > start:
            start, bounds = right, name


def _over(held: Held, things: Sequence[Thing], near: list[Thing], floor: Floor) -> Iterator[Place]:
    """Before what stands under the hands, reaching over it; and kneeling on it."""
    under = [thing for thing in near if _before(thing, held.x_nm)]
    if not under:
        return
    far = max(thing.z1_nm for thing in under)
    while more := [t for t in things if _before(t, held.x_nm) and t.y0_nm < HEAD_NM and t.z0_nm < far + STAND_NM]:
        reached = max(far, *(t.z1_nm for t in more))
        under = list({t.name: t for t in (*under, *more)}.values())
        if reached == far:
            break
        far = reached
    name = max(under, key=lambda thing: thing.z1_nm).name
    tall = max(thing.y1_nm for thing in under) > held.foot_nm
    shut = floor.deep_nm is not None and far + STAND_NM > floor.deep_nm
    yield Place(
        name=f"before the {name}, reaching over it",
        horizontal_nm=max(held.close_nm, far + TOES_NM - held.z_nm),
        why_not=f"the {name} is higher than the lower edge of the leaf"
        if tall
        else "there is no room to stand behind it"
        if shut
        else "",
    )
    for thing in under:
        if thing.knelt_on:
            yield Place(
                name=f"kneeling on the {thing.name}",
                horizontal_nm=held.close_nm,
                why_not="the lifting equation does not cover kneeling",
            )
