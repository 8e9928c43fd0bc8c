"""What a cut through the back of a leaf shows: outlines of the body's parts, fixtures with their air, and blocks.

An upright cut shows heights and depths, a level cut widths and depths. The cut steps sideways, as a technical drawing
may, so that it meets the cleat, what is hidden and the foot though these need not lie behind one another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bossage.body import FixtureSolid, Part, Role
from bossage.body.solids import Cuboid
from bossage.brief.records import Side
from bossage.drawing.shapes import Point
from bossage.layout.records import Leaf, Zone
from bossage.pack.words import listed
from bossage.plan import Plan

NM = 1e6
RUNS_ALONG = (Role.RIB, Role.FRAME, Role.STILE, Role.HINGE_STILE, Role.POST, Role.STRIP, Role.LIPPING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One outline of a cut: points of place along the cut and depth off the wall, mm.

    `parts` are those that look alike here; none for a fixture, its air or a block. `behind`: not cut, it runs behind.
    """

    parts: tuple[Part, ...] = ()
    name: str = ""
    points: tuple[Point, ...]
    behind: bool = False

    @property
    def words(self) -> str:
        """Its name, or that of all parts that look alike."""
        return named_together([part.name for part in self.parts]) if self.parts else self.name

    @property
    def depths(self) -> tuple[float, float]:
        """From and to, off the wall."""
        return min(z for _, z in self.points), max(z for _, z in self.points)

    @property
    def reach(self) -> tuple[float, float]:
        """From and to along the cut."""
        return min(a for a, _ in self.points), max(a for a, _ in self.points)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cuts:
    """All that a cut shows. `along` is `y` for an upright cut and `x` for a level one."""

    along: str
    parts: tuple[Cut, ...]
    fixtures: tuple[Cut, ...]
    airs: tuple[Cut, ...]
    blocks: tuple[Cut, ...]

    def within(self, low_mm: float, high_mm: float) -> Cuts:
        """The same, cut off at two places along it."""
        groups = (
            tuple(cut for cut in (_clipped(one, low_mm, high_mm) for one in group) if cut is not None)
            for group in (self.parts, self.fixtures, self.airs, self.blocks)
        )
        parts, fixtures, airs, blocks = groups
        return Cuts(along=self.along, parts=parts, fixtures=fixtures, airs=airs, blocks=blocks)

    def of(self, *roles: Role) -> tuple[Cut, ...]:
        """The parts of some roles."""
        return tuple(cut for cut in self.parts if cut.parts[0].role in roles)


def cut_of(plan: Plan, leaf: Leaf) -> Cuts:
    """The cut that says most of a leaf: upright through its cleat, or level where it turns about an upright axis."""
    hung = next(one for one in plan.hang.leaves if one.leaf == leaf.name and one.copy == leaf.copy)
    level = hung.hinges is not None and plan.brief.access.hinge in (Side.LEFT, Side.RIGHT)
    along = "x" if level else "y"
    parts = plan.body.of(leaf.name, leaf.copy)
    fixtures = hidden_by(plan, leaf)
    at_nm = _where(parts, fixtures, along)
    return Cuts(
        along=along,
        parts=tuple(_parts(parts, along, at_nm)),
        fixtures=tuple(Cut(name=one.name, points=_box(one.box, along)) for one in fixtures),
        airs=tuple(Cut(name=f"air round {one.name}", points=_box(one.air_box, along)) for one in fixtures),
        blocks=tuple(_blocks(plan, leaf, along, at_nm)),
    )


def hidden_by(plan: Plan, leaf: Leaf) -> tuple[FixtureSolid, ...]:
    """What a leaf hangs before."""
    return tuple(one for one in plan.body.fixtures if one.copy == leaf.copy and _behind(leaf, one.box))


def named_together(names: Sequence[str]) -> str:
    """`rib 1 and 2`, `upper and lower edge strip`: what names share is said once."""
    if len(names) < 2:
        return "".join(names)
    split = [name.split(" ") for name in names]
    if len({tuple(parts[:-1]) for parts in split}) == 1 and len(split[0]) > 1:
        return f"{' '.join(split[0][:-1])} {listed([parts[-1] for parts in split])}"
    if len({tuple(parts[1:]) for parts in split}) == 1 and len(split[0]) > 1:
        return f"{listed([parts[0] for parts in split])} {' '.join(split[0][1:])}"
    return listed(list(names))


def _behind(leaf: Leaf, box: Cuboid) -> bool:
    """Whether a leaf hangs before it."""
    across = box.x0 < leaf.x_nm + leaf.width_nm and box.x1 > leaf.x_nm
    return across and box.y0 < leaf.y_nm + leaf.height_nm and box.y1 > leaf.y_nm


def _where(parts: Sequence[Part], fixtures: Sequence[FixtureSolid], along: str) -> int:
    """Where backer and blocks are cut: through the cleat or a hinge, and through a fixture if one place does both."""
    roles = (Role.HINGE,) if along == "x" else (Role.PANEL_HALF,)
    through = [p for p in parts if p.role in roles] or [p for p in parts if p.role is Role.BACKER]
    spans = [_across(p.box, along) for p in through]
    for fixture in fixtures:
        for low, high in spans:
            f_low, f_high = _across(fixture.box, along)
            if max(low, f_low) < min(high, f_high):
                return (max(low, f_low) + min(high, f_high)) // 2
    return sum(spans[0]) // 2


def _across(box: Cuboid, along: str) -> tuple[int, int]:
    """The reach across the cut's plane."""
    return (box.x0, box.x1) if along == "y" else (box.y0, box.y1)


def _runs(part: Part, along: str) -> bool:
    """Whether a long part lies lengthwise in the cut, where it would hide all others."""
    box = part.box
    tall = box.y1 - box.y0 > box.x1 - box.x0
    return part.role in RUNS_ALONG and tall == (along == "y")


def _parts(parts: Sequence[Part], along: str, at_nm: int) -> Iterator[Cut]:
    cut = [part for part in parts if not _runs(part, along)]
    alike: dict[tuple[object, ...], list[Part]] = {}
    for part in cut:
        alike.setdefault((part.role, _outline(part, along)), []).append(part)
    for same in alike.values():
        for points in _solid(same[0], along, at_nm):
            yield Cut(parts=tuple(same), points=points)
    shown = {(part.role, part.box.z0, part.box.z1) for part in cut}
    behind: dict[tuple[object, ...], list[Part]] = {}
    for part in parts:
        if _runs(part, along) and (part.role, part.box.z0, part.box.z1) not in shown:
            behind.setdefault((part.role, _outline(part, along)), []).append(part)
    for same in behind.values():
        yield Cut(parts=tuple(same), points=_outline(same[0], along), behind=True)


def _outline(part: Part, along: str) -> tuple[Point, ...]:
    if along == "y":
        return tuple((y / NM, z / NM) for y, z in part.outline_nm)
    return _box(part.box, along)


def _solid(part: Part, along: str, at_nm: int) -> Iterator[tuple[Point, ...]]:
    """Its outline, with what an opening at that place leaves of it."""
    holes = sorted(
        (y0, y1) if along == "y" else (x0, x1)
        for x0, y0, x1, y1 in part.openings_nm
        if (x0 < at_nm < x1 if along == "y" else y0 < at_nm < y1)
    )
    if not holes:
        yield _outline(part, along)
        return
    box = part.box
    low, high = (box.y0, box.y1) if along == "y" else (box.x0, box.x1)
    for start, end in zip([low, *(b for _, b in holes)], [*(a for a, _ in holes), high], strict=True):
        if end > start:
            yield _rectangle(start, end, box.z0, box.z1)


def _box(box: Cuboid, along: str) -> tuple[Point, ...]:
    low, high = (box.y0, box.y1) if along == "y" else (box.x0, box.x1)
    return _rectangle(low, high, box.z0, box.z1)


def _rectangle(low: int, high: int, z0: int, z1: int) -> tuple[Point, ...]:
    return ((low / NM, z0 / NM), (low / NM, z1 / NM), (high / NM, z1 / NM), (high / NM, z0 / NM))


def _blocks(plan: Plan, leaf: Leaf, along: str, at_nm: int) -> Iterator[Cut]:
    """The blocks of the leaf through which the cut goes, each as long as it is sawn."""
    blocks, number = plan.layout.blocks, plan.layout.leaves.index(leaf)
    across, wide = (blocks.x_nm, blocks.width_nm) if along == "y" else (blocks.y_nm, blocks.height_nm)
    run, long = (blocks.y_nm, blocks.height_nm) if along == "y" else (blocks.x_nm, blocks.width_nm)
    back = plan.layout.stand_off.stand_off_nm
    for n in np.flatnonzero((blocks.leaf == number) & (across <= at_nm) & (at_nm < across + wide)):
        foot = back if int(blocks.zone[n]) == int(Zone.RING) else back + plan.layout.backer_nm
        low = int(run[n])
        yield Cut(
            name="block",
            points=_rectangle(low, low + int(long[n]), foot, foot + int(plan.relief.length_nm[n])),
        )


def _clipped(cut: Cut, low_mm: float, high_mm: float) -> Cut | None:
    points = cut.points
    for limit, keeps_over in ((low_mm, True), (high_mm, False)):
        points = _half(points, limit, keeps_over=keeps_over)
        if len(points) < 3:
            return None
    return Cut(parts=cut.parts, name=cut.name, points=points, behind=cut.behind)


def _half(points: tuple[Point, ...], limit: float, *, keeps_over: bool) -> tuple[Point, ...]:
    """A convex outline on one side of a line across it (Sutherland and Hodgman's way)."""
    found: list[Point] = []
    for (a0, z0), (a1, z1) in zip(points, (*points[1:], points[0]), strict=True):
        inside = a0 > limit if keeps_over else a0 < limit
        if inside:
            found.append((a0, z0))
        if (a0 - limit) * (a1 - limit) < 0:
            found.append((limit, z0 + (z1 - z0) * (limit - a0) / (a1 - a0)))
        elif a0 == limit:
            found.append((a0, z0))
    return tuple(found)
