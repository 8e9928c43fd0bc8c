"""What is left of the working space before a board while the leaf before it stands open.

The space has to be clear while somebody works at the board (as NEC 110.26(A) asks; `countries` says whose rule
counts), and then the leaf stands open: it is in the room, at the angle to which it opens. The rule lets the doors of
the board itself turn in that space; a piece on hinges is none of these.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from bossage.body.moves import RELEASED, Thing, blocks_of, plane_of, turned
from bossage.body.records import Part
from bossage.body.site import Site
from bossage.body.solids import Corner
from bossage.brief.records import Fixture, FixtureKind, Furniture, LengthUnit, Opens
from bossage.checks import Check
from bossage.layout.cover import copies_of, leaf_rect
from bossage.layout.grid import fixture_rect
from bossage.layout.words import Voice
from bossage.layout.working_space import FreeSpace, check_open_space, free_space, wanted_depth_nm
from bossage.units import NM_PER_IN, NM_PER_MM

MARK_NM = {LengthUnit.MM: NM_PER_MM, LengthUnit.IN: NM_PER_IN // 16}
"""What is left is told by whole marks of a rule, rounded down."""


def check_spaces(sites: Iterable[Site], leaves: Iterable[Iterable[Part]], voice: Voice) -> Iterator[Check]:
    """`open_space`: for each board behind leaves that swing, with all of these open."""
    whole = [(site, tuple(parts)) for site, parts in zip(sites, leaves, strict=True)]
    brief = whole[0][0].brief
    if brief.access.opens is not Opens.SWING:
        return
    for fixture in brief.fixtures:
        copy = copies_of(brief, fixture)[0]
        face = fixture_rect(fixture)
        before = [one for one in whole if one[0].leaf.copy == copy and leaf_rect(one[0].leaf).overlap(face)]
        if fixture.kind is FixtureKind.ELECTRICAL and before:
            yield check_open_space(brief, fixture, space_beside(before, fixture), voice)


def space_beside(before: Iterable[tuple[Site, Iterable[Part]]], fixture: Fixture) -> FreeSpace:
    """The free space before a fixture with the leaves before it standing open at the angle to which they open.

    Args:
        before: Each leaf before it, which swings, with its parts.
        fixture: What is behind them.

    Returns:
        Width and height rounded down to a mark of the rule.

    Leaves out:
        A leaf that is opened further than the brief says, and one that is taken off its hinges.
    """
    before = tuple(before)
    brief = before[0][0].brief
    near, far = fixture.proud_nm, fixture.proud_nm + wanted_depth_nm(brief, fixture)
    stood: list[Furniture] = []
    low_nm = brief.wall.height_nm
    for site, parts in before:
        swing = site.swing
        for shape, span in _open(site, parts):
            there = _between(shape, near, far)
            along, out = [a for a, _ in there], [z for _, z in there]
            if there and swing.upright:
                stood.append(_item((min(along), max(along)), span, (min(out), max(out))))
            elif there:
                low_nm = min(low_nm, *along)
    space, mark = free_space(brief, fixture, stood), MARK_NM[brief.piece.unit]
    high_nm = max(0, min(space.height_nm, low_nm))
    return replace(space, width_nm=space.width_nm // mark * mark, height_nm=high_nm // mark * mark)


def _open(site: Site, parts: Iterable[Part]) -> Iterator[tuple[list[Corner], tuple[int, int]]]:
    """Every part of an open leaf: its outline at right angles to the axis, and its stretch along the axis."""
    swing, angle = site.swing, site.brief.access.angle_deg
    axis = swing.axis_nm, swing.axis_z_nm
    mine = [Thing(p.name, p.from_x_nm, p.to_x_nm, p.outline_nm) for p in parts if p.moves and p.role not in RELEASED]
    for thing in (*mine, blocks_of(site)):
        shape, span = plane_of(thing, swing.upright)
        yield [turned(point, axis, angle, swing.sign < 0) for point in shape], span


def _item(x_nm: tuple[int, int], y_nm: tuple[int, int], z_nm: tuple[int, int]) -> Furniture:
    """A part of the open leaf as something that stands in the room."""
    return Furniture(
        name="the open leaf",
        kind="other",
        x_nm=x_nm[0],
        width_nm=x_nm[1] - x_nm[0],
        bottom_nm=y_nm[0],
        top_nm=y_nm[1],
        near_nm=z_nm[0],
        far_nm=z_nm[1],
    )


def _between(shape: list[Corner], near_nm: int, far_nm: int) -> list[Corner]:
    """What of a convex outline lies between two distances from the wall; empty where nothing does."""
    for bound, sign in ((near_nm, 1), (far_nm, -1)):
        kept: list[Corner] = []
        for one, other in zip(shape, shape[1:] + shape[:1], strict=True):
            inside, next_inside = (sign * (point[1] - bound) > 0 for point in (one, other))
            if inside:
                kept.append(one)
            if inside != next_inside:
                share = (bound - one[1]) / (other[1] - one[1])
                kept.append((round(one[0] + share * (other[0] - one[0])), bound))
        shape = kept
    return shape
