"""Ways that move the piece, or give it another size."""

from __future__ import annotations

from collections.abc import Iterable

from bossage.checks import Check
from bossage.layout.edits import size_edits
from bossage.layout.grid import plan_grid
from bossage.layout.split import smallest_split
from bossage.layout.suggest import Change, NoHeal, smallest_lightening, smallest_move, smallest_resize
from bossage.layout.wall_rules import gap_band, off_eye_level
from bossage.plan import Plan
from bossage.remedies.way import Way, Ways, deed
from bossage.units import format_length, format_mass

ONE_PERSON_G = 15_000.0
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
    blocks = brief.blocks
    pitch_x, pitch_y = blocks.module_width_nm + blocks.gap_nm, blocks.module_height_nm + blocks.gap_nm
    leaves = len(grid.places)
    for columns, rows in changes:
        if min(grid.columns + columns, grid.rows + rows) < 3:
            continue
        places = [
            (x + number * columns * pitch_x - leaves * columns * pitch_x // 2, y - rows * pitch_y // 2)
            for number, (x, y) in enumerate(grid.places)
        ]
        words = [
            f"{abs(count)} {what if abs(count) == 1 else what + 's'} {'more' if count > 0 else 'fewer'}"
            for count, what in ((columns, "column"), (rows, "row"))
            if count
        ]
        edits = size_edits(brief, grid.columns + columns, grid.rows + rows, places)
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
    """Fewer columns and rows, or a split into leaves."""
    cap = plan.brief.piece.mass_cap_g
    wanted = min(ONE_PERSON_G, cap) if cap is not None else ONE_PERSON_G
    unit = plan.brief.piece.unit.value
    for share in LIGHTER:
        change = smallest_lightening(plan.brief, share * wanted)
        if isinstance(change, Change) and change.edits:
            words = deed(change.text)
            yield Way(words=f"{words}, to weigh under {format_mass(share * wanted, unit)}", edits=change.edits)
    split = smallest_split(plan.brief)
    if split is not None and not isinstance(split, NoHeal) and split.edits:
        yield Way(words=deed(split.text), edits=split.edits)
