"""The smallest change with which a cleat finds fixings outside every zone: another height, a longer cleat, a move."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bossage.checks import Edit
from bossage.hang.case import Case
from bossage.layout.edits import toml_length
from bossage.layout.grid import bevel_rise_nm, lift_room_wanted
from bossage.units import NM_PER_IN, NM_PER_MM
from bossage.zones import free_spans, free_studs, heeded

MOST_NM = 1500 * NM_PER_MM
"""No change is looked for that is larger: ours."""


@dataclass(frozen=True, slots=True)
class _Change:
    """Moves of the cleat, and how much longer it gets; `leaf` where the leaf moves or grows with it."""

    right_nm: int = 0
    up_nm: int = 0
    longer_nm: int = 0
    leaf: bool = False


def smallest_change(case: Case) -> tuple[str, tuple[Edit, ...]]:
    """The smallest change in words, with its edits where they are known; nothing where none was found.

    The height of the cleat and its length come before a move of the piece and a wider piece.
    """
    if case.swings:
        return (
            "hinge it on the other side, or move the piece until its hinge post stands outside the zones, or "
            "have a licensed person see where cables and pipes come from and write it as fixture.fed_from"
        ), ()
    for kinds in ((_heights, _lengths), (_moves, _widths)):
        found = [one for kind in kinds if (one := next((c for c in kind(case) if _holds(case, c)), None))]
        if found:
            return _words(case, min(found, key=_size))
    return "", ()


def _size(one: _Change) -> int:
    return abs(one.right_nm) + abs(one.up_nm) + one.longer_nm


def _step_nm(case: Case) -> int:
    return NM_PER_IN // 4 if case.brief.piece.unit.value == "in" else 5 * NM_PER_MM


def _steps(case: Case) -> range:
    step = _step_nm(case)
    return range(step, MOST_NM, step)


def _heights(case: Case) -> Iterator[_Change]:
    """The cleat higher or lower on its backer, clear of what is hidden."""
    leaf, foot, high = case.leaf, *_half_nm(case)
    top = high + case.brief.cleat.strip_nm - bevel_rise_nm(case.brief)
    air = [
        solid.air_box
        for solid in case.body.fixtures
        if solid.copy == leaf.copy and solid.air_from_x_nm < case.cleat.to_nm and solid.air_to_x_nm > case.cleat.from_nm
    ]
    for step in _steps(case):
        for up in (step, -step):
            inside = leaf.backer_y_nm <= foot + up and top + up <= leaf.backer_y_nm + leaf.backer_height_nm
            lifted = top + up + lift_room_wanted(case.brief)
            if inside and not any(box.y0 < lifted and box.y1 > foot + up for box in air):
                yield _Change(up_nm=up)


def _lengths(case: Case) -> Iterator[_Change]:
    """A single cleat made longer about its middle, as far as the backer goes."""
    leaf = case.leaf
    if len(case.cleat.pieces) > 1:
        return
    room = min(case.cleat.from_nm - leaf.backer_x_nm, leaf.backer_x_nm + leaf.backer_width_nm - case.cleat.to_nm)
    for step in _steps(case):
        if step <= 2 * room:
            yield _Change(longer_nm=step)


def _moves(case: Case) -> Iterator[_Change]:
    """The piece moved along or up, on the wall."""
    leaf, wall = case.leaf, case.brief.wall
    for step in _steps(case):
        for right, up in ((step, 0), (-step, 0), (0, step), (0, -step)):
            along = leaf.x_nm + right >= 0 and leaf.x_nm + leaf.width_nm + right <= wall.width_nm
            level = leaf.y_nm + up >= 0 and leaf.y_nm + leaf.height_nm + up <= wall.height_nm
            if along and level and _still_covers(case, right, up):
                yield _Change(right_nm=right, up_nm=up, leaf=True)


def _widths(case: Case) -> Iterator[_Change]:
    """The piece wider about its middle, its cleat with it."""
    leaf, wall = case.leaf, case.brief.wall
    if len(case.cleat.pieces) > 1:
        return
    for step in _steps(case):
        if leaf.x_nm >= step // 2 and leaf.x_nm + leaf.width_nm + step // 2 <= wall.width_nm:
            yield _Change(longer_nm=step, leaf=True)


def _still_covers(case: Case, right: int, up: int) -> bool:
    """Whether the moved leaf still hides what it hid with its whole outline."""
    leaf = case.leaf
    x, y = leaf.x_nm + right, leaf.y_nm + up
    for one in case.brief.fixtures:
        apart = one.x_nm >= leaf.x_nm + leaf.width_nm or one.right_nm <= leaf.x_nm
        apart = apart or one.y_nm >= leaf.y_nm + leaf.height_nm or one.top_nm <= leaf.y_nm
        within = x <= one.x_nm and one.right_nm <= x + leaf.width_nm
        if not apart and not (within and y <= one.y_nm and one.top_nm <= y + leaf.height_nm):
            return False
    return True


def _half_nm(case: Case) -> tuple[int, int]:
    """Lower edge of the wall half and of its bevel over the floor."""
    rise, strip = bevel_rise_nm(case.brief), case.brief.cleat.strip_nm
    high = case.cleat.line_nm + rise // 2
    return high - strip, high - rise


def _holds(case: Case, one: _Change) -> bool:
    """Whether two fixings or more find a place there, on both sides of the centre of gravity."""
    brief, end = case.brief, case.brief.cleat.end_distance_nm
    foot, bevel = (edge + one.up_nm for edge in _half_nm(case))
    half = one.longer_nm // 2
    spans = [(a + one.right_nm - half + end, b + one.right_nm + half - end) for a, b in case.cleat.on_wall]
    if brief.into_studs:
        studs = free_studs(brief.wall, case.zones, foot, bevel)
        on = [[x for x in studs if a <= x <= b] for a, b in spans]
    else:
        held = heeded(case.zones, brief.wall, into_stud=False)
        on = [[x for part in free_spans(held, span, (foot + bevel) // 2) for x in part] for span in spans]
    if not all(on):
        return False
    places = [x for mine in on for x in mine]
    at = case.at_nm + (one.right_nm if one.leaf else 0)
    return len(set(places)) > 1 and min(places) <= at <= max(places)


def _words(case: Case, one: _Change) -> tuple[str, tuple[Edit, ...]]:
    brief, say, unit = case.brief, case.voice.say, case.brief.piece.unit
    if one.leaf and one.longer_nm:
        return f"make the piece about {say(one.longer_nm)} wider, so that its cleat reaches two studs that are free", ()
    if one.leaf:
        way = f"{say(abs(one.right_nm))} {'right' if one.right_nm > 0 else 'left'}"
        if one.up_nm:
            way = f"{say(abs(one.up_nm))} {'up' if one.up_nm > 0 else 'down'}"
        return f"move the piece {way}", ()
    if one.longer_nm:
        nm = case.cleat.length_nm + one.longer_nm
        edit = Edit(op="set", path=("cleat", "length"), value=toml_length(nm, unit))
        return f"make the cleat {say(nm)} long, centred as it is", (edit,)
    below = case.leaf.y_nm + case.leaf.height_nm - case.cleat.line_nm - one.up_nm
    edit = Edit(op="set", path=("cleat", "line_below_top"), value=toml_length(below, unit))
    gone = (Edit(op="remove", path=("cleat", "arm")),) if brief.cleat.arm_nm is not None else ()
    way = "up" if one.up_nm > 0 else "down"
    return f"move the cleat {say(abs(one.up_nm))} {way} on the piece", (*gone, edit)
