"""Which zones follow from what hangs on the wall, from what runs in it, and from a country's rule set.

What the rules of wiring ask for is read in pages that quote them; what follows from it for a wall where nobody has
looked is ours, and every zone says so in its source. The cautions of `zones.words` stand beside each of them, and the
local code goes first.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.brief.records import (
    Brief,
    ClearKind,
    Fixture,
    FixtureKind,
    KeepClear,
    Medium,
    Run,
    Side,
    Wall,
    WallBuild,
    Wiring,
)
from bossage.units import NM_PER_MM
from bossage.zones.records import Point, Zone

STUD_REACH_NM = 300 * NM_PER_MM
"""A box's studs are kept clear so far below and above it: cables are secured within 300 mm (12 in) of a box."""

TOP_BAND_NM = CORNER_BAND_NM = 150 * NM_PER_MM
BAND_DEEP_NM = 50 * NM_PER_MM
BS = "BS 7671:2018, 522.6.202, read in pages that quote it"
DIN_LEVEL_NM = (150 * NM_PER_MM, 450 * NM_PER_MM)
DIN_UPRIGHT_NM = (100 * NM_PER_MM, 300 * NM_PER_MM)
DIN = "DIN 18015-3:2016-09, read in a summary; bands of kitchens and utility rooms are left out"
BOX = "NEC 334.30, read in pages that quote it: cables are secured within 300 mm of a box; the rest is ours"
STRIP = "ours, after BS 7671:2018, 522.6.202: straight up and down from what they lead to"
PIPES = "ours: pipes come up from the floor, or down from the storey above"
DUCTS = "ours: a duct runs up or down between the studs"
NOT_KNOWN = "ours: its kind does not say what leads to it"
RUN = "the brief, with the clear distance that it gives or that we take by how it was found"

LEVEL = "ours, after BS 7671:2018, 522.6.202: level with what they lead to"

EXTRA_LOW_VOLTS = 50.0
"""Up to here a cable counts as bell wire: extra-low voltage, IEC 61140, from memory."""

BY_SIGNAL = frozenset({FixtureKind.THERMOSTAT, FixtureKind.CHIME, FixtureKind.KEYPAD, FixtureKind.ROUTER})
"""Their thin cables come in the hollow beside the studs, where their voltage is that of bell wire: ours."""

BOXES = frozenset({FixtureKind.ELECTRICAL, FixtureKind.CABLE_BOX, FixtureKind.ACCESSORY})
DUCTED = frozenset({FixtureKind.SUPPLY_GRILLE, FixtureKind.RETURN_GRILLE})
PIPED = frozenset({FixtureKind.MANIFOLD, FixtureKind.VALVES, FixtureKind.METER})
UNKNOWN = frozenset({FixtureKind.OTHER, FixtureKind.HATCH, FixtureKind.CLEANOUT})
"""What leads to them nobody can tell from their kind."""

UP_AND_DOWN = (Side.TOP, Side.BOTTOM)
ALL_ROUND = (*UP_AND_DOWN, Side.LEFT, Side.RIGHT)

WHERE = {Side.TOP: "above", Side.BOTTOM: "below", Side.LEFT: "left of", Side.RIGHT: "right of"}

_STUDDED = (WallBuild.TIMBER_STUDS, WallBuild.METAL_STUDS)


def zones_of(brief: Brief, copy: int | None = None) -> tuple[Zone, ...]:
    """Every part of the wall where nothing is drilled.

    Args:
        brief: Wall, fixtures, what stays clear, runs in the wall.
        copy: Of a series, which; all zones with the copies that each is of, if left out.

    Returns:
        Convex zones in wall coordinates, those of fixtures first.

    Leaves out:
        What lies on the other side of a thin wall, and whatever no rule led there: old houses follow none.
    """
    wall = brief.wall
    found: list[Zone] = []
    for fixture in brief.fixtures:
        if copy is None or not fixture.copies or copy in fixture.copies:
            found += _of_fixture(wall, fixture)
    for kept in brief.keep_clear:
        found += _of_kept(wall, kept)
    found += (_of_run(run) for run in brief.runs)
    found += _bands(brief)
    return tuple(found)


def led_from(one: Fixture) -> tuple[Side, ...]:
    """Sides from which something leads to a fixture in the wall: the brief's own, else every one that its kind allows.

    A cable may come from every side, so that nothing round it counts as free; a pipe or duct from above or below.
    """
    return led_without_word(one) if one.fed_from is None else one.fed_from


def led_without_word(one: Fixture) -> tuple[Side, ...]:
    """The same where the brief says nothing of it."""
    if _is_wired(one):
        return ALL_ROUND
    return () if one.kind in (FixtureKind.HATCH, FixtureKind.CLEANOUT) else UP_AND_DOWN


def _is_wired(one: Fixture) -> bool:
    """Whether a cable leads to it; to a meter of which nobody says what it counts, too."""
    metered = one.kind is FixtureKind.METER and one.medium in (None, Medium.ELECTRICITY)
    return metered or one.kind in BOXES | BY_SIGNAL


def _is_thin(one: Fixture) -> bool:
    """Whether bell wire leads to it, in the hollow beside the studs."""
    return one.kind in BY_SIGNAL and one.volts <= EXTRA_LOW_VOLTS


def _is_sunk(one: Fixture) -> bool:
    """Whether it sits between studs with its cables on them: every box, unless the brief says that it sits on the wall.

    A gas or water meter does so only where the brief gives its depth in the wall.
    """
    if _is_wired(one) and not _is_thin(one):
        return one.recess_nm != 0
    return one.kind is FixtureKind.METER and bool(one.recess_nm)


def _of_fixture(wall: Wall, one: Fixture) -> Iterator[Zone]:
    studded, sides = wall.build in _STUDDED, led_from(one)
    # gas and water come up beside a stud, as signals and ducts come in the hollow
    piped = one.kind is FixtureKind.METER and not _is_wired(one)
    hollow = studded and (one.kind in DUCTED | UNKNOWN or piped or _is_thin(one))
    if studded and _is_sunk(one):
        yield from _bay(wall, one)
    else:
        yield from (_leading(wall, one, side, hollow=hollow) for side in sides if side in UP_AND_DOWN)
    by_rule = _is_wired(one) and wall.wiring is Wiring.BS_7671
    both = Side.LEFT in sides and Side.RIGHT in sides
    if by_rule or both:
        source, deep = (BS, BAND_DEEP_NM) if by_rule else (LEVEL, None)
        cause = f"beside {one.name}"
        yield _rect(cause, 0, wall.width_nm, one.y_nm, one.top_nm, source, deep, hollow=hollow, copies=one.copies)
    else:
        yield from (_leading(wall, one, side, hollow=hollow) for side in sides if side not in UP_AND_DOWN)


def _leading(wall: Wall, one: Fixture, side: Side, *, hollow: bool) -> Zone:
    """The strip as wide as the fixture, or as high, from it to that edge of the wall; the fixture itself is in it."""
    x0, x1, y0, y1 = one.x_nm, one.right_nm, one.y_nm, one.top_nm
    x0, x1 = (0 if side is Side.LEFT else x0), (wall.width_nm if side is Side.RIGHT else x1)
    y0, y1 = (0 if side is Side.BOTTOM else y0), (wall.height_nm if side is Side.TOP else y1)
    known = one.fed_from is not None
    source = STRIP
    if not _is_wired(one):
        source = PIPES if one.kind in PIPED else DUCTS if one.kind in DUCTED else STRIP if known else NOT_KNOWN
    return _rect(f"{one.name} and {WHERE[side]} it", x0, x1, y0, y1, source, hollow=hollow, copies=one.copies)


def _bay(wall: Wall, one: Fixture) -> Iterator[Zone]:
    """The bay of a box from floor to ceiling, and the studs beside it; less where it is known not to be fed."""
    half = wall.stud_width_nm // 2
    left = max((x for x in wall.studs_nm if x <= one.x_nm), default=None)
    right = min((x for x in wall.studs_nm if x >= one.right_nm), default=None)
    start = 0 if left is None else min(left + half, one.x_nm)
    end = wall.width_nm if right is None else max(right - half, one.right_nm)
    fed = led_from(one)
    foot = 0 if Side.BOTTOM in fed else one.y_nm
    top = wall.height_nm if Side.TOP in fed else one.top_nm
    yield _rect(f"the bay of {one.name}", start, end, foot, top, BOX, hollow=True, copies=one.copies)
    low, high = max(foot, one.y_nm - STUD_REACH_NM), min(top, one.top_nm + STUD_REACH_NM)
    for x in wall.studs_nm:
        if (0 if left is None else left) <= x <= (wall.width_nm if right is None else right):
            yield _rect(f"the stud beside {one.name}", x - half, x + half, low, high, BOX, copies=one.copies)


def _of_kept(wall: Wall, one: KeepClear) -> Iterator[Zone]:
    right, top = one.x_nm + one.width_nm, one.y_nm + one.height_nm
    if one.kind in (ClearKind.SOCKET, ClearKind.SWITCH):
        yield _rect(f"above and below {one.name}", one.x_nm, right, 0, wall.height_nm, STRIP)
        yield _rect(f"beside {one.name}", 0, wall.width_nm, one.y_nm, top, STRIP)
    elif one.kind is ClearKind.TAP:
        yield _rect(f"below {one.name}", one.x_nm, right, 0, top, PIPES)
    elif one.kind in (ClearKind.DOOR, ClearKind.WINDOW) and wall.wiring is Wiring.DIN_18015:
        near, far = DIN_UPRIGHT_NM
        for start, end in ((one.x_nm - far, one.x_nm - near), (right + near, right + far)):
            if start < wall.width_nm and end > 0:
                yield _rect(f"beside {one.name}", start, end, 0, wall.height_nm, DIN)


def _of_run(run: Run) -> Zone:
    """A strip along the line, square at its ends and as far beyond them as it is clear at its sides."""
    (ax, ay), (bx, by) = run.from_nm, run.to_nm
    long = math.hypot(bx - ax, by - ay)
    along_x, along_y = run.clear_nm * (bx - ax) / long, run.clear_nm * (by - ay) / long
    corners = (
        (ax - along_x + along_y, ay - along_y - along_x),
        (bx + along_x + along_y, by + along_y - along_x),
        (bx + along_x - along_y, by + along_y + along_x),
        (ax - along_x - along_y, ay - along_y + along_x),
    )
    outline = tuple((round(x), round(y)) for x, y in corners)
    words = f"{run.kind.value} “{run.name}”" if run.name != run.kind.value else f"the {run.name}"
    return Zone(cause=f"{words}, known by: {run.found.value}", outline_nm=outline, depth_nm=None, source=RUN)


def _bands(brief: Brief) -> Iterator[Zone]:
    """Level and upright bands of a rule set."""
    wall = brief.wall
    wide, high = wall.width_nm, wall.height_nm
    if wall.wiring is Wiring.BS_7671:
        yield _rect("under the ceiling", 0, wide, high - TOP_BAND_NM, high, BS, BAND_DEEP_NM)
        yield _rect("beside the left corner", 0, CORNER_BAND_NM, 0, high, BS, BAND_DEEP_NM)
        yield _rect("beside the right corner", wide - CORNER_BAND_NM, wide, 0, high, BS, BAND_DEEP_NM)
    elif wall.wiring is Wiring.DIN_18015:
        (low, top), (near, far) = DIN_LEVEL_NM, DIN_UPRIGHT_NM
        yield _rect("the level band under the ceiling", 0, wide, high - top, high - low, DIN)
        yield _rect("the level band over the floor", 0, wide, low, top, DIN)
        yield _rect("the upright band of the left corner", near, far, 0, high, DIN)
        yield _rect("the upright band of the right corner", wide - far, wide - near, 0, high, DIN)


def _rect(
    cause: str,
    x0: int,
    x1: int,
    y0: int,
    y1: int,
    source: str,
    depth: int | None = None,
    *,
    hollow: bool = False,
    copies: tuple[int, ...] = (),
) -> Zone:
    outline: tuple[Point, ...] = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return Zone(cause=cause, outline_nm=outline, depth_nm=depth, source=source, hollow=hollow, copies=copies)
