"""Ways that move the piece, or give it another size."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from bossage.brief.records import Fixture, KeepClear
from bossage.checks import Check, Edit, EditValue
from bossage.handling import ONE_PERSON_G
from bossage.layout.edits import size_edits, toml_length
from bossage.layout.grid import fixture_rect, plan_grid, spread_places
from bossage.layout.rect import Rect
from bossage.layout.rough import leaf_size
from bossage.layout.split import Split, smallest_split
from bossage.layout.suggest import Change, smallest_lightening, smallest_move, smallest_resize
from bossage.layout.wall_rules import gap_band, off_eye_level
from bossage.plan import Plan
from bossage.remedies.making import without_top_level
from bossage.remedies.way import Way, Ways, deed
from bossage.units import format_length

LIGHTER = (1.0, 0.85, 0.7)


def moved(plan: Plan, dx_nm: int, dy_nm: int) -> Ways:
    """The piece moved, right and up."""
    say = [
        f"{format_length(abs(nm), plan.brief.piece.unit.value)} {word}"
        for nm, word in ((dx_nm, "right" if dx_nm > 0 else "left"), (dy_nm, "up" if dy_nm > 0 else "down"))
        if nm
    ]
    grid = plan_grid(plan.brief)
    places = [(x + dx_nm, y + dy_nm) for x, y in grid.places]
    if say:
        edits = size_edits(plan.brief, grid.columns, grid.rows, places)
        yield Way(words=f"Move it {' and '.join(say)}", edits=edits)


def resized(plan: Plan, changes: Iterable[tuple[int, int]]) -> Ways:
    """So many more columns and rows, about the same middle."""
    brief, grid = plan.brief, plan_grid(plan.brief)
    for columns, rows in changes:
        if min(grid.columns + columns, grid.rows + rows) < 3:
            continue
        size = leaf_size(brief, grid.columns + columns, grid.rows + rows)
        wider, taller = size.face.width - grid.width_nm, size.face.height - grid.height_nm
        places = spread_places(grid.places, grid.width_nm, grid.height_nm, wider, taller)
        words = [
            f"{'one' if abs(count) == 1 else abs(count)} {what if abs(count) == 1 else what + 's'} "
            f"{'more' if count > 0 else 'fewer'}"
            for count, what in ((columns, "column"), (rows, "row"))
            if count
        ]
        edits = size_edits(brief, size.columns, size.rows, places)
        yield Way(words=f"Take {' and '.join(words)}", edits=edits)


def sound_place(plan: Plan, check: Check) -> Ways:
    """The shortest move to a sound place, else the smallest resize."""
    for change in (smallest_move(plan.brief), smallest_resize(plan.brief)):
        if isinstance(change, Change) and change.edits:
            yield Way(words=deed(change.text), edits=change.edits)


def wider_cover(plan: Plan, check: Check) -> Ways:
    """A better place, or a size that reaches further."""
    yield from sound_place(plan, check)
    yield from resized(plan, ((1, 0), (0, 1), (1, 1), (2, 1), (2, 2)))


def furniture_gap(plan: Plan, check: Check) -> Ways:
    """The least move up or down into the band that suits the furniture below."""
    item = next((thing for thing in plan.brief.furniture if thing.name == check.subject), None)
    if item is not None:
        gap = plan.layout.y_nm - item.top_nm
        lower, upper = gap_band(item.kind)
        if gap < lower:
            yield from moved(plan, 0, lower - gap)
        elif upper is not None and gap > upper:
            yield from moved(plan, 0, upper - gap)
    yield from sound_place(plan, check)


def eye_level(plan: Plan, check: Check) -> Ways:
    """The least move that brings the middle to the eye."""
    middle = plan.layout.y_nm + plan.layout.height_nm // 2
    off, band = off_eye_level(plan.brief, middle)
    yield from moved(plan, 0, off if middle < band[0] else -off)


def suited_width(plan: Plan, check: Check) -> Ways:
    """Some columns more or fewer."""
    yield from resized(plan, ((-1, 0), (1, 0), (-2, 0), (2, 0), (-3, 0), (3, 0)))


def lighter(plan: Plan, check: Check) -> Ways:
    """Fewer columns and rows, a lower relief, or a split into leaves."""
    cap = plan.brief.piece.mass_cap_g
    wanted = min(ONE_PERSON_G, cap) if cap is not None else ONE_PERSON_G
    yield from lighter_than(plan, *(share * wanted for share in LIGHTER))
    yield from without_top_level(plan, check)
    split = smallest_split(plan.brief)
    if isinstance(split, Split) and split.edits:
        yield Way(words=deed(split.text), edits=split.edits)


def lighter_than(plan: Plan, *most_g: float) -> Ways:
    """Fewer columns and rows until a leaf weighs no more than that, for each such mass."""
    for most in most_g:
        change = smallest_lightening(plan.brief, most)
        if isinstance(change, Change) and change.edits:
            yield Way(words=deed(change.text), edits=change.edits)


def left_free(plan: Plan, check: Check) -> Ways:
    """What must not be covered taken out of the brief and kept clear, and the piece moved or resized to suit."""
    brief = plan.brief
    number = next((n for n, fixture in enumerate(brief.fixtures) if fixture.name == check.subject), None)
    if number is None or len(brief.fixtures) == 1:
        return  # nothing would be left to hide
    fixture, unit = brief.fixtures[number], brief.piece.unit
    rest = replace(
        brief,
        fixtures=(*brief.fixtures[:number], *brief.fixtures[number + 1 :]),
        keep_clear=(
            *brief.keep_clear,
            KeepClear(
                name=fixture.name,
                why="",
                x_nm=fixture.x_nm,
                y_nm=fixture.y_nm,
                width_nm=fixture.width_nm,
                height_nm=fixture.height_nm,
            ),
        ),
    )
    area: dict[str, EditValue] = {
        "name": fixture.name,
        "x": toml_length(fixture.x_nm, unit),
        "y": toml_length(fixture.y_nm, unit),
        "width": toml_length(fixture.width_nm, unit),
        "height": toml_length(fixture.height_nm, unit),
    }
    freed = (
        Edit(op="remove", path=("fixture", number)),
        Edit(op="append", path=("keep_clear",), value=area),
    )
    words = f"Leave {fixture.name} free and keep the piece clear of it"
    if not plan_is_over(plan, fixture):
        yield Way(words=words, edits=freed)
    for change in (smallest_move(rest), smallest_resize(rest)):
        if isinstance(change, Change) and change.edits:
            yield Way(words=f"{words}: {_small(deed(change.text))}", edits=(*freed, *change.edits))


def plan_is_over(plan: Plan, fixture: Fixture) -> bool:
    """Whether the piece stands in front of some of a fixture."""
    layout = plan.layout
    outline = Rect(layout.x_nm, layout.y_nm, layout.width_nm, layout.height_nm)
    return bool(outline.overlap(fixture_rect(fixture)))


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]
