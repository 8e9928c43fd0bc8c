"""One leaf on its wall as the body sees it: how deep things go there, and what stands in the way of a part."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from bossage.body.records import FixtureSolid, Part
from bossage.body.solids import Cuboid, rectangle
from bossage.body.swing import END_PLAY_NM, LEAST_WIDTH_NM, Swing, swing_of
from bossage.brief.records import Brief, EdgeStyle, Fixture, Opens
from bossage.brief.terms import LengthUnit
from bossage.layout.grid import bevel_rise_nm, lift_room_wanted, plan_grid
from bossage.layout.planner import open_cells_of, plan_leaves
from bossage.layout.records import Layout, Leaf, OpenCell, StandOff
from bossage.layout.rect import Rect
from bossage.layout.stand_off import stand_off_of
from bossage.units import NM_PER_IN, NM_PER_MM
from bossage.zones import Zone, free_studs, zones_of

PASS_NM = {LengthUnit.MM: 3 * NM_PER_MM, LengthUnit.IN: NM_PER_IN // 8}
"""Clear at the side of what stays on the wall, where a part of the leaf moves past, as a rule shows it: ours."""

BESIDE_NM = 5 * NM_PER_MM
"""Air at the sides of a fixture, besides the brief's air before it: ours."""

HOLDS_OFF = ("frame", "stile")  # ribs stiffen the backer and need not reach the wall


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """As much of a layout as the body is placed by, before any block lies on it."""

    leaves: tuple[Leaf, ...]
    open_cells: tuple[OpenCell, ...]
    stand_off: StandOff


def outline_of(brief: Brief) -> Outline:
    """The outline that a brief leads to."""
    leaves = plan_leaves(brief, plan_grid(brief))
    return Outline(leaves=leaves, open_cells=open_cells_of(brief, leaves), stand_off=stand_off_of(brief))


@dataclass(frozen=True)
class Site:
    """A leaf with its wall. Everything is in wall coordinates."""

    brief: Brief
    layout: Layout | Outline
    leaf: Leaf
    number: int  # of the leaf in the layout

    @property
    def stand_off_nm(self) -> int:
        """Wall to the back of the backer."""
        return self.layout.stand_off.stand_off_nm

    @property
    def lifts(self) -> bool:
        """Whether the leaf hangs on a cleat."""
        return self.brief.access.opens is Opens.LIFT_OFF

    @property
    def lift_nm(self) -> int:
        """How far the leaf is lifted until it comes off the wall half."""
        return lift_room_wanted(self.brief)

    @property
    def rise_nm(self) -> int:
        """How high the bevel rises over the cleat's thickness."""
        return bevel_rise_nm(self.brief)

    @property
    def backer(self) -> Rect:
        """The backer's rectangle."""
        leaf = self.leaf
        return Rect(leaf.backer_x_nm, leaf.backer_y_nm, leaf.backer_width_nm, leaf.backer_height_nm)

    @property
    def mount(self) -> Rect:
        """Where parts may lie on the back: the backer, less what edge strips lap of it."""
        b, lap = self.backer, 0
        if self.brief.edge.style is EdgeStyle.OUTRIGGER:
            lap = self.brief.edge.strip_behind_nm + (0 if self.lifts else END_PLAY_NM)
        return Rect(b.x + lap, b.y + lap, b.width - 2 * lap, b.height - 2 * lap)

    @cached_property
    def swing(self) -> Swing:
        """Where a leaf that swings turns."""
        return swing_of(self.brief, self.leaf, self.stand_off_nm)

    @cached_property
    def hinge_inner_nm(self) -> int:
        """Inner edge of post and stile of the hinges: narrower where the air of what is hidden needs the room."""
        swing, sign = self.swing, self.swing.sign
        least = swing.inner_nm
        for one in self._hidden_beside:
            least = sign * min(sign * least, sign * one)
        return sign * max(sign * least, sign * swing.inward(LEAST_WIDTH_NM))

    @property
    def _hidden_beside(self) -> list[int]:
        """Where the air of what is hidden beside post and stile begins, as seen from the hinges."""
        swing, boxes = self.swing, [one.air_box for one in self.hidden]
        rects = [Rect(box.x0, box.y0, box.x1 - box.x0, box.y1 - box.y0) for box in boxes]
        return [swing.across(rect)[0 if swing.sign > 0 else 1] for rect in rects if swing.beside(rect)]

    @cached_property
    def hidden(self) -> tuple[FixtureSolid, ...]:
        """The fixtures of this copy that stand behind this leaf or reach into its outline."""
        leaf = self.leaf
        face = Rect(leaf.x_nm, leaf.y_nm, leaf.width_nm, leaf.height_nm)
        return tuple(
            solid
            for solid in fixture_solids(self.brief, leaf.copy)
            if face.overlap(
                Rect(
                    solid.air_box.x0,
                    solid.air_box.y0,
                    solid.air_box.x1 - solid.air_box.x0,
                    solid.air_box.y1 - solid.air_box.y0,
                )
            )
        )

    @cached_property
    def openings(self) -> tuple[Rect, ...]:
        """Openings sawn through the backer: its open cells, those that touch joined where they make a rectangle."""
        return joined(
            clipped
            for cell in self.layout.open_cells
            if cell.leaf == self.number
            for clipped in _clipped(Rect(cell.x_nm, cell.y_nm, cell.width_nm, cell.height_nm), self.backer)
        )

    @cached_property
    def zones(self) -> tuple[Zone, ...]:
        """Parts of the wall where nothing is drilled, in this copy."""
        return zones_of(self.brief, self.leaf.copy)

    @cached_property
    def _free_studs(self) -> dict[int, tuple[int, ...]]:
        return {}

    def free_studs(self, line_nm: int) -> tuple[int, ...]:
        """Studs that no zone takes behind the wall half of a cleat on that line, left to right."""
        found = self._free_studs.get(line_nm)
        if found is None:
            foot, bevel = self.wall_half_nm(line_nm)
            found = self._free_studs[line_nm] = free_studs(self.brief.wall, self.zones, foot, bevel)
        return found

    def wall_half_nm(self, line_nm: int) -> tuple[int, int]:
        """Lower edge of the wall half and of its bevel, over the floor: between them its fixings stand."""
        high = line_nm + self.rise_nm // 2
        return high - self.brief.cleat.strip_nm, high - self.rise_nm

    @property
    def wants_studs(self) -> bool:
        """Whether the wall half must meet studs: screws in a studded wall."""
        return self.brief.into_studs


def fixture_solids(brief: Brief, copy: int) -> tuple[FixtureSolid, ...]:
    """Every fixture of one copy, and the same with the air that must stay round it."""
    return tuple(
        _fixture_solid(brief, fixture, copy)
        for fixture in brief.fixtures
        if not fixture.copies or copy in fixture.copies
    )


def _fixture_solid(brief: Brief, fixture: Fixture, copy: int) -> FixtureSolid:
    # what lies flush with the wall still needs the air before it
    deep = max(fixture.proud_nm, 1)
    return FixtureSolid(
        name=fixture.name,
        copy=copy,
        from_x_nm=fixture.x_nm,
        to_x_nm=fixture.right_nm,
        outline_nm=rectangle(fixture.y_nm, fixture.top_nm, 0, deep),
        air_from_x_nm=fixture.x_nm - BESIDE_NM,
        air_to_x_nm=fixture.right_nm + BESIDE_NM,
        air_nm=rectangle(
            fixture.y_nm - BESIDE_NM, fixture.top_nm + BESIDE_NM, 0, max(deep, fixture.proud_nm + brief.access.air_nm)
        ),
    )


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A box that a part of the leaf must keep off. `stays`: on the wall, so that the leaf also moves past it."""

    box: Cuboid
    stays: bool


def obstacles_of(parts: Iterable[Part], fixtures: Iterable[FixtureSolid]) -> list[Obstacle]:
    """What parts and fixtures are in the way of."""
    return [
        *(Obstacle(part.box, not part.moves) for part in parts),
        *(Obstacle(fixture.air_box, True) for fixture in fixtures),
    ]


def in_the_way(site: Site, obstacles: Iterable[Obstacle], z0: int, z1: int) -> Iterator[Rect]:
    """The same as rectangles on the wall, for a part of the leaf between two depths; openings are kept off too.

    What stays on the wall is also kept off on the way up: it counts as if it reached so much further down.
    """
    lift = site.lift_nm if site.lifts else 0
    for one in obstacles:
        box = one.box
        if box.z0 >= z1 or box.z1 <= z0:
            continue
        pass_nm = PASS_NM[site.brief.piece.unit] if one.stays else 0
        low = box.y0 - (lift if one.stays else 0)
        yield Rect(box.x0 - pass_nm, low, box.x1 - box.x0 + 2 * pass_nm, box.y1 - low)
    yield from site.openings


def joined(rects: Iterable[Rect]) -> tuple[Rect, ...]:
    """Rectangles of which two that share a whole side are made one, until none is left."""
    held = sorted(set(rects), key=lambda r: (r.y, r.x))
    grown = True
    while grown:
        grown = False
        for i, a in enumerate(held):
            for b in held[i + 1 :]:
                if a.y == b.y and a.height == b.height and b.x <= a.right and a.x <= b.right:
                    one = Rect(min(a.x, b.x), a.y, max(a.right, b.right) - min(a.x, b.x), a.height)
                elif a.x == b.x and a.width == b.width and b.y <= a.top and a.y <= b.top:
                    one = Rect(a.x, min(a.y, b.y), a.width, max(a.top, b.top) - min(a.y, b.y))
                else:
                    continue
                held = sorted([r for r in held if r not in (a, b)] + [one], key=lambda r: (r.y, r.x))
                grown = True
                break
            if grown:
                break
    return tuple(held)


def _clipped(rect: Rect, to: Rect) -> Iterator[Rect]:
    x, y = max(rect.x, to.x), max(rect.y, to.y)
    width, height = min(rect.right, to.right) - x, min(rect.top, to.top) - y
    if width > 0 and height > 0:
        yield Rect(x, y, width, height)
