"""How many columns and rows, and where each leaf stands on the wall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bossage.brief.records import Brief, EdgeStyle, Fixture, LengthUnit, Opens
from bossage.layout.place import Room, nearest_place
from bossage.layout.rect import Rect, around
from bossage.layout.refused import to_hide, to_leave_free
from bossage.layout.stand_off import stand_off_of
from bossage.layout.words import mm
from bossage.units import NM_PER_IN, NM_PER_MM

LIFT_SLACK_NM = mm(3)  # beyond the bevel's rise, so that the hook clears
LIFT_ROOM_LEAST_NM = mm(20)

PLAY_NM = {LengthUnit.MM: mm(1), LengthUnit.IN: NM_PER_IN // 16}
"""Clear at each end of what stands between two others, and over a sharp edge, as a rule of that shelf reads: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Columns and rows of each leaf, and the places of all leaves of one copy."""

    columns: int
    rows: int
    places: tuple[tuple[int, int], ...]
    width_nm: int
    height_nm: int


def plan_grid(brief: Brief) -> Grid:
    """Columns, rows and places of one copy's leaves.

    What the brief leaves open is found: the smallest grid that covers every fixture with the margin, centred on
    them, moved no further than keep-clear areas, furniture against the wall, ceiling and wall edges ask for. Where
    no place is free the piece stays centred, and the checks say what it runs into.
    """
    blocks = brief.blocks
    leaves_n = max(1, len(blocks.leaves))
    hidden = hidden_rect(brief)
    pitch_x, pitch_y = blocks.module_width_nm + blocks.gap_nm, blocks.module_height_nm + blocks.gap_nm
    least = 3 if brief.edge.style is EdgeStyle.OUTRIGGER else 1
    margin = blocks.cover_margin_nm
    gaps = (leaves_n - 1) * blocks.leaf_gap_nm
    columns = blocks.columns or max(
        least, _enough(_share(hidden.width + 2 * margin - gaps, leaves_n) + blocks.gap_nm, pitch_x)
    )
    rows = blocks.rows or max(least, _enough(hidden.height + 2 * margin + blocks.gap_nm, pitch_y))
    width, height = columns * pitch_x - blocks.gap_nm, rows * pitch_y - blocks.gap_nm
    places = _places(brief, width, height)
    return Grid(columns=columns, rows=rows, places=places, width_nm=width, height_nm=height)


def fixture_rect(fixture: Fixture) -> Rect:
    """A fixture's face on the wall."""
    return Rect(fixture.x_nm, fixture.y_nm, fixture.width_nm, fixture.height_nm)


def hidden_rect(brief: Brief) -> Rect:
    """The smallest rectangle around everything that may be hidden; without it a point in the wall's middle."""
    fixtures = to_hide(brief)
    if fixtures:
        return around(fixture_rect(f) for f in fixtures)
    return Rect(brief.wall.width_nm // 2, min(mm(1485), brief.wall.height_nm // 2), 0, 0)


def obstacles_of(brief: Brief) -> tuple[Rect, ...]:
    """What a piece may not stand in front of: keep-clear areas, what must not be covered, furniture in its depth."""
    depth = depth_of(brief)
    things = [Rect(*k.kept_nm) for k in brief.keep_clear]
    things += [fixture_rect(fixture) for fixture in to_leave_free(brief)]
    for item in brief.furniture:
        if item.near_nm < depth:
            things.append(Rect(item.x_nm, item.bottom_nm, item.width_nm, item.top_nm - item.bottom_nm))
    return tuple(things)


def depth_of(brief: Brief) -> int:
    """Wall to the highest level."""
    return stand_off_of(brief).stand_off_nm + brief.backer.thickness_nm + max(brief.blocks.levels_nm)


def lift_room_wanted(brief: Brief) -> int:
    """What must be clear above a piece that lifts off: the bevel's rise and a little; 0 when it swings."""
    if brief.access.opens is not Opens.LIFT_OFF:
        return 0
    return max(LIFT_ROOM_LEAST_NM, bevel_rise_nm(brief) + LIFT_SLACK_NM)


def bevel_rise_nm(brief: Brief) -> int:
    """How far the hook must rise to clear the wall half: of a bought one as it is, else from thickness and bevel."""
    from math import radians, tan

    if brief.cleat.hook_nm is not None:
        return brief.cleat.hook_nm
    return round(brief.cleat.thickness_nm * tan(radians(brief.cleat.bevel_deg)))


def packer_high_nm(brief: Brief) -> int:
    """Height of the packer: the brief's, as far as the wall half's sharp edge has its play below it.

    Else that edge would run up the packer's face into a corner that holds glue. Where the bevel takes nearly all of the
    strip, the upper half of what is left, and never nothing.
    """
    above, play = brief.cleat.strip_nm - bevel_rise_nm(brief), PLAY_NM[brief.piece.unit]
    return min(brief.cleat.packer_height_nm, max(above - play, above // 2, play))


def covering_room(brief: Brief, width: int, height: int) -> Room:
    """Where a piece of that size may stand and cover everything with the margin."""
    hidden, margin = hidden_rect(brief), brief.blocks.cover_margin_nm
    ceiling = brief.wall.height_nm - lift_room_wanted(brief)
    return Room(
        x_low=max(0, hidden.right + margin - width),
        x_high=min(brief.wall.width_nm - width, hidden.x - margin),
        y_low=max(0, hidden.top + margin - height),
        y_high=min(ceiling - height, hidden.y - margin),
        obstacles=obstacles_of(brief),
    )


def centred_place(brief: Brief, width: int, height: int) -> tuple[int, int]:
    """Centred on what is hidden, on the next whole millimetre or sixteenth."""
    hidden = hidden_rect(brief)
    step = NM_PER_MM if brief.piece.unit is LengthUnit.MM else NM_PER_IN // 16
    x = hidden.x + (hidden.width - width) // 2
    y = hidden.y + (hidden.height - height) // 2
    return _to_step(x, step), _to_step(y, step)


def _places(brief: Brief, width: int, height: int) -> tuple[tuple[int, int], ...]:
    """Lower left corners of the leaves: as given, else side by side from the free place nearest the centre."""
    given = brief.blocks.leaves
    leaves_n = max(1, len(given))
    gap = brief.blocks.leaf_gap_nm
    total = leaves_n * width + (leaves_n - 1) * gap
    wish = centred_place(brief, total, height)
    found = nearest_place(wish, total, height, covering_room(brief, total, height)) or wish
    if not given:
        return (found,)
    places: list[tuple[int, int]] = []
    for number, leaf in enumerate(given):
        beside = (places[-1][0] + width + gap, places[-1][1]) if number else found
        x = beside[0] if leaf.x_nm is None else leaf.x_nm
        y = beside[1] if leaf.y_nm is None else leaf.y_nm
        places.append((x, y))
    return tuple(places)


def spread_places(
    places: Sequence[tuple[int, int]], width: int, height: int, wider: int, taller: int
) -> tuple[tuple[int, int], ...]:
    """Places of leaves of that size when each becomes wider and taller: the gaps between them and the middle stay.

    Leaves may be listed in any order, side by side or over one another.
    """
    left_of, under = _ranks([x for x, _ in places], width), _ranks([y for _, y in places], height)
    across, up = wider * (1 + max(left_of)), taller * (1 + max(under))
    return tuple(
        (x + wider * left - across // 2, y + taller * below - up // 2)
        for (x, y), left, below in zip(places, left_of, under, strict=True)
    )


def _ranks(starts: Sequence[int], size: int) -> list[int]:
    """For each stretch of one size: how many others stand wholly before it, one before the next."""
    ranks: dict[int, int] = {}
    for start in sorted(set(starts)):
        ranks[start] = max((rank + 1 for other, rank in ranks.items() if other + size <= start), default=0)
    return [ranks[start] for start in starts]


def _enough(length: int, pitch: int) -> int:
    """How many pitches reach at least that far."""
    return -(-max(length, 1) // pitch)


def _share(length: int, parts: int) -> int:
    """An equal share, rounded up to a whole nanometre."""
    return -(-length // parts)


def _to_step(value: int, step: int) -> int:
    """The nearest whole step."""
    return (2 * value + step) // (2 * step) * step
