"""The smallest change that heals: a move, columns or rows more or fewer, or a piece light enough for one person.

A place is sound when the piece is on the wall with room to lift it off, covers every fixture with the margin, stands
clear of what is kept clear and of furniture, leaves rows to open for what must breathe, and its cleats meet two studs
where screws go into studs. Moves are exact: the least |dx| + |dy| over all places, or the word that there is none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bossage.brief.records import Brief, EdgeStyle, Need
from bossage.checks import Edit
from bossage.layout.edits import size_edits
from bossage.layout.grid import (
    Grid,
    covering_room,
    fixture_rect,
    hidden_rect,
    lift_room_wanted,
    obstacles_of,
    plan_grid,
    spread_places,
)
from bossage.layout.place import Room, nearest_place, stud_spans
from bossage.layout.rect import Rect, around
from bossage.layout.refused import to_hide, to_leave_free
from bossage.layout.rough import LeafSize, fits_a_sheet, leaf_size, rough_mass_g
from bossage.layout.sizes_rules import STUDS_LEAST, cleat_span, wants_studs
from bossage.layout.words import Voice
from bossage.units import format_mass

GRID_STEPS = 12  # columns and rows together, that a resize may add or take


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A change of the brief's size and place, and what it heals. Moves are to the right and up."""

    columns: int  # more, or fewer when negative
    rows: int
    dx_nm: int
    dy_nm: int
    heals: tuple[str, ...]
    text: str
    edits: tuple[Edit, ...] = ()  # the same for the brief's text; none where counts cannot be kept in proportion


@dataclass(frozen=True, slots=True, kw_only=True)
class NoHeal:
    """Why no change of this kind heals, and what stands in the way."""

    reason: str
    remedy: str


def troubles(brief: Brief) -> dict[str, str]:
    """What is amiss with the brief's own size and place: a key for each, with the words for its healing."""
    grid = plan_grid(brief)
    return _troubles(brief, leaf_size(brief, grid.columns, grid.rows), grid.places)


def smallest_move(brief: Brief) -> Change | NoHeal:
    """The shortest move, up and across added, after which the piece's place is sound.

    Returns:
        The move, of no length when the place is sound already; `NoHeal` names what to give up so that a move heals.
    """
    grid = plan_grid(brief)
    size = leaf_size(brief, grid.columns, grid.rows)
    place = sound_place(brief, size, grid.places)
    if place is None:
        return _no_move(brief, size, grid.places)
    before = _troubles(brief, size, grid.places)
    first_x, first_y = grid.places[0]  # `sound_place` gives the first leaf's new place, which may be none at the corner
    dx, dy = place[0] - first_x, place[1] - first_y
    after = _troubles(brief, size, _shifted(grid.places, dx, dy))
    moved = _change(brief, (0, 0), (dx, dy), before, after)
    return replace(moved, edits=size_edits(brief, grid.columns, grid.rows, _shifted(grid.places, dx, dy)))


def smallest_resize(brief: Brief, *, most_g: float | None = None) -> Change | NoHeal:
    """The fewest columns and rows more or fewer, then the shortest move, after which size and place are sound.

    Args:
        brief: What the maker said.
        most_g: What a leaf may weigh; the brief's own cap when None.

    Returns:
        The change; `NoHeal` when `GRID_STEPS` columns and rows either way do not do it.
    """
    cap = brief.piece.mass_cap_g if most_g is None else most_g
    grid = plan_grid(brief)
    size = leaf_size(brief, grid.columns, grid.rows)
    before = _troubles(brief, size, grid.places)
    for steps in range(GRID_STEPS + 1):
        best: tuple[tuple[int, ...], Change] | None = None
        for columns, rows in _steps(steps):
            changed = _resized(brief, grid, columns, rows)
            if changed is None:
                continue
            other, start = changed
            if not fits_a_sheet(brief, other) or (cap is not None and rough_mass_g(brief, other) > cap):
                continue
            place = sound_place(brief, other, start)
            if place is None:
                continue
            dx, dy = place[0] - start[0][0], place[1] - start[0][1]
            order = (abs(dx) + abs(dy), abs(dy), -columns - rows, columns)
            if best is None or order < best[0]:
                places = _shifted(start, dx, dy)
                found = _change(brief, (columns, rows), (dx, dy), before, _troubles(brief, other, places))
                best = order, replace(found, edits=size_edits(brief, other.columns, other.rows, places))
        if best is not None:
            return best[1]
    return NoHeal(
        reason=f"no change of up to {GRID_STEPS} columns and rows gives a sound place",
        remedy="lower the cover margin, or free what is in the way",
    )


def smallest_lightening(brief: Brief, most_g: float) -> Change | NoHeal:
    """The fewest columns and rows fewer with which a leaf weighs no more than that and its place is sound."""
    if _leaf_mass_g(brief) <= most_g:
        return NoHeal(reason="a leaf weighs no more than that", remedy="leave its size as it is")
    change = smallest_resize(brief, most_g=most_g)
    if isinstance(change, NoHeal):
        return change
    grid = plan_grid(brief)
    mass = rough_mass_g(brief, leaf_size(brief, grid.columns + change.columns, grid.rows + change.rows))
    who = "it keeps the mass cap" if most_g == brief.piece.mass_cap_g else "one person can lift it"
    each = " in each leaf" if len(grid.places) > 1 else ""
    words = f"{_grid_words(change.columns, change.rows)}{each}: about {format_mass(mass, brief.piece.unit)}, {who}"
    return replace(change, heals=(*change.heals, "mass"), text=words + _move_words(brief, change.dx_nm, change.dy_nm))


def _shifted(places: tuple[tuple[int, int], ...], dx: int, dy: int) -> tuple[tuple[int, int], ...]:
    return tuple((x + dx, y + dy) for x, y in places)


def _leaf_mass_g(brief: Brief) -> float:
    grid = plan_grid(brief)
    return rough_mass_g(brief, leaf_size(brief, grid.columns, grid.rows))


def _steps(total: int) -> Iterator[tuple[int, int]]:
    """All changes of columns and rows that add up to so many."""
    for columns in range(-total, total + 1):
        rest = total - abs(columns)
        yield from ((columns, rows) for rows in sorted({-rest, rest}))


def _resized(brief: Brief, grid: Grid, columns: int, rows: int) -> tuple[LeafSize, tuple[tuple[int, int], ...]] | None:
    """The leaf with that many more columns and rows, and all leaves placed about the same middle."""
    least = 3 if brief.edge.style is EdgeStyle.OUTRIGGER else 1
    if grid.columns + columns < least or grid.rows + rows < least:
        return None
    size = leaf_size(brief, grid.columns + columns, grid.rows + rows)
    if min(size.backer.width, size.backer.height) <= 0:
        return None
    wider, taller = size.face.width - grid.width_nm, size.face.height - grid.height_nm
    return size, spread_places(grid.places, grid.width_nm, grid.height_nm, wider, taller)


def sound_place(brief: Brief, size: LeafSize, places: tuple[tuple[int, int], ...]) -> tuple[int, int] | None:
    """The sound place of the outline nearest to where it is; leaves keep their places to one another."""
    outline = around(Rect(x, y, size.face.width, size.face.height) for x, y in places)
    room = _sound_room(brief, size, places, outline)
    found = nearest_place((outline.x, outline.y), outline.width, outline.height, room)
    if found is None:
        return None
    # The first leaf need not be the outline's corner.
    return places[0][0] + found[0] - outline.x, places[0][1] + found[1] - outline.y


def _sound_room(
    brief: Brief, size: LeafSize, places: tuple[tuple[int, int], ...], outline: Rect, *, without: str = ""
) -> Room:
    """Every sound place of the outline's corner; `without` leaves one kind of demand out."""
    room = covering_room(brief, outline.width, outline.height)
    if without == "cover":
        room = replace(
            room,
            x_low=0,
            x_high=brief.wall.width_nm - outline.width,
            y_low=0,
            y_high=brief.wall.height_nm - lift_room_wanted(brief) - outline.height,
        )
    else:
        low, high = _breathing_room(brief, outline)
        room = replace(room, y_low=max(room.y_low, low), y_high=min(room.y_high, high))
    if without == "clear":
        room = replace(room, obstacles=())
    if wants_studs(brief) and without != "studs":
        room = replace(room, x_spans=_stud_room(brief, size, places, outline))
    return room


def _stud_room(
    brief: Brief, size: LeafSize, places: tuple[tuple[int, int], ...], outline: Rect
) -> tuple[tuple[int, int], ...]:
    """Where every leaf's cleat meets two studs."""
    start, long = cleat_span(brief, size)
    spans: tuple[tuple[int, int], ...] | None = None
    for x, _ in places:
        met = stud_spans(brief.wall.studs_nm, x - outline.x + start, long, brief.cleat.end_distance_nm, STUDS_LEAST)
        spans = met if spans is None else _both(spans, met)
    return spans or ()


def _breathing_room(brief: Brief, outline: Rect) -> tuple[int, int]:
    """Lowest and highest place with enough whole rows above and below everything that needs air."""
    blocks = brief.blocks
    low, high = -outline.height, brief.wall.height_nm
    pitch = blocks.module_height_nm + blocks.gap_nm
    for fixture in to_hide(brief):
        if Need.AIR in fixture.needs:
            face = fixture_rect(fixture)
            across = -(-face.width // (blocks.module_width_nm + blocks.gap_nm))
            rows = -(-face.area // (across * blocks.module_width_nm * blocks.module_height_nm))
            low = max(low, face.top + rows * pitch - outline.height)
            high = min(high, face.y - rows * pitch)
    return low, high


def _both(one: tuple[tuple[int, int], ...], other: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
    """Where two lists of intervals overlap, single points included."""
    return tuple((max(a, c), min(b, d)) for a, b in one for c, d in other if max(a, c) <= min(b, d))


def _troubles(brief: Brief, size: LeafSize, places: tuple[tuple[int, int], ...]) -> dict[str, str]:
    """What is amiss, by key, each with the words for its healing."""
    outline = around(Rect(x, y, size.face.width, size.face.height) for x, y in places)
    wall, hidden = brief.wall, hidden_rect(brief)
    found: dict[str, str] = {}
    if outline.x < 0 or outline.right > wall.width_nm or outline.y < 0:
        found["wall"] = "hangs on the wall"
    if outline.top > wall.height_nm - lift_room_wanted(brief):
        found["lift room"] = "leaves room to lift it off"
    margin = brief.blocks.cover_margin_nm
    sides = (hidden.x - outline.x, outline.right - hidden.right, hidden.y - outline.y, outline.top - hidden.top)
    if min(sides) < margin:
        found["cover"] = "covers everything with the margin"
    low, high = _breathing_room(brief, outline)
    if not low <= outline.y <= high:
        found["air"] = "leaves rows to open for air"
    named = [(k.name, Rect(*k.kept_nm)) for k in brief.keep_clear]
    named += [(f.name, fixture_rect(f)) for f in to_leave_free(brief)]
    named += [(f.name, Rect(f.x_nm, f.bottom_nm, f.width_nm, f.top_nm - f.bottom_nm)) for f in brief.furniture]
    obstacles = set(obstacles_of(brief))
    for name, rect in named:
        if rect in obstacles and outline.overlap(rect):
            found[f"clear of {name}"] = f"clears {name}"
    if wants_studs(brief):
        spans = _stud_room(brief, size, places, outline)
        if not any(a <= outline.x <= b for a, b in spans):
            found["studs"] = "meets a second stud"
    return found


def _change(
    brief: Brief, grid: tuple[int, int], move: tuple[int, int], before: dict[str, str], after: dict[str, str]
) -> Change:
    healed = tuple(key for key in before if key not in after)
    words = " and ".join(before[key] for key in healed) or "nothing to heal"
    first = _grid_words(*grid) if any(grid) else ""
    moved = _move_words(brief, *move)
    if not first:
        moved = moved.removeprefix(" and ")
    text = f"{first}{moved}: {words}" if first or moved else words
    return Change(columns=grid[0], rows=grid[1], dx_nm=move[0], dy_nm=move[1], heals=healed, text=text)


def _grid_words(columns: int, rows: int) -> str:
    """`take one row fewer`, `take 2 columns more and one row fewer`."""
    parts = []
    for count, what in ((columns, "column"), (rows, "row")):
        if count:
            many = f"one {what}" if abs(count) == 1 else f"{abs(count)} {what}s"
            parts.append(f"{many} {'more' if count > 0 else 'fewer'}")
    return f"take {' and '.join(parts)}" if parts else "keep the size"


def _move_words(brief: Brief, dx: int, dy: int) -> str:
    """` and move it 125 mm left and 20 mm up`, or nothing."""
    say = Voice(brief).say
    parts = []
    if dx:
        parts.append(f"{say(abs(dx))} {'right' if dx > 0 else 'left'}")
    if dy:
        parts.append(f"{say(abs(dy))} {'up' if dy > 0 else 'down'}")
    return f" and move it {' and '.join(parts)}" if parts else ""


def _no_move(brief: Brief, size: LeafSize, places: tuple[tuple[int, int], ...]) -> NoHeal:
    """Which single demand, given up, would let a move heal."""
    outline = around(Rect(x, y, size.face.width, size.face.height) for x, y in places)
    ways = {
        "studs": "fix it to one stud with the fixing that the hanging sheet allows, or lengthen the cleat",
        "clear": "free what is kept clear or stands in the way",
        "cover": "lower the cover margin, or make the piece larger",
    }
    for without, remedy in ways.items():
        room = _sound_room(brief, size, places, outline, without=without)
        if nearest_place((outline.x, outline.y), outline.width, outline.height, room) is not None:
            return NoHeal(
                reason=f"no move heals everything; one would without the demand for {_DEMANDS[without]}", remedy=remedy
            )
    return NoHeal(reason="no move heals, not even with one demand given up", remedy="change the size, or the wall")


_DEMANDS = {"studs": "two studs", "clear": "clear surroundings", "cover": "the full cover margin"}
