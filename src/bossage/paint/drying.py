"""How blocks stand while they dry: strips on edge, room for a batch, which shades make it, where it is parked after."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from bossage.brief.records import Brief
from bossage.fade.records import Fade
from bossage.layout.records import Layout
from bossage.paint.areas import FloatArray
from bossage.paint.extras import TEST_SPARES
from bossage.saw.section_cuts import spares_by_section

APART_MM = 20.0
"""Between blocks that dry. Ours."""

PARKED_MM = 5.0
"""Between dry blocks of one batch while the next one has the drying room. Ours."""

STRIP_HIGH_NM, STRIP_WIDE_NM = 20_000_000, 10_000_000
"""Strips of wood that blocks dry on, two under a row; on edge, for a screw to hang between them. Ours."""


INSIDE_NM = 3_000_000
"""So far a strip stays inside the block's wet sides: paint runs on to what lies under an edge. Ours."""


def strip_gap_nm(brief: Brief) -> int:
    """Clear between the two strips of a pair: half the narrowest block, which then bears on both, and a screw fits;
    less where the strips would reach out to the wet sides."""
    narrowest = min(min(one.width_nm, one.height_nm) for one in brief.blocks.footprints)
    inside = narrowest - 2 * STRIP_WIDE_NM - 2 * INSIDE_NM
    return max(STRIP_WIDE_NM, min(narrowest // 2, inside) // 1_000_000 * 1_000_000)


def room_mm2(width_mm: FloatArray, height_mm: FloatArray, apart_mm: float) -> float:
    """Room for all these blocks, each with its distance to the next."""
    return float(((width_mm + apart_mm) * (height_mm + apart_mm)).sum())


def strips_length_mm(width_mm: FloatArray) -> float:
    """Two strips under every row of all blocks: those of one batch dry on theirs, the others are parked on theirs."""
    return 2 * float((width_mm + APART_MM).sum())


def parked_share(shades: Sequence[tuple[str, int, float]], batches: Sequence[Sequence[tuple[str, int]]]) -> float:
    """The most of all blocks, by their room, that stand parked while one batch dries."""
    return 1 - min(batch_shares(shades, batches))


def coated_spares(brief: Brief, fade: Fade) -> dict[str, int]:
    """Spare slices that dry with the blocks, by footprint: all where spares are primed, else two for the blocking
    test."""
    found: dict[str, int] = {}
    for section, count in spares_by_section(brief, fade.count_table).items():
        footprint = next(one for one in brief.blocks.footprints if one.section == section)
        found[footprint.name] = count
    if any(not family.clear for family in brief.families) and brief.paint.primer_coats:
        return found
    left = TEST_SPARES
    tested = {}
    for name, count in found.items():
        tested[name] = min(left, count)
        left -= tested[name]
    return tested


def spare_sizes_mm(brief: Brief, fade: Fade) -> tuple[FloatArray, FloatArray]:
    """Widths and heights of those spares, one entry each."""
    sizes = {one.name: (one.width_nm / 1e6, one.height_nm / 1e6) for one in brief.blocks.footprints}
    each = [sizes[name] for name, count in coated_spares(brief, fade).items() for _ in range(count)]
    return np.array([one[0] for one in each]), np.array([one[1] for one in each])


def shade_rooms(brief: Brief, layout: Layout, fade: Fade) -> list[tuple[str, int, float]]:
    """Every shade in the order of painting, family by family from light to dark, the spares last: name, blocks, drying
    room in mm²."""
    families = list(dict.fromkeys(shade.family for shade in fade.shades))
    order = sorted(
        range(len(fade.shades)),
        key=lambda n: (families.index(fade.shades[n].family), -fade.shades[n].lightness),
    )
    wide_mm, high_mm = layout.blocks.width_nm / 1e6, layout.blocks.height_nm / 1e6
    found = []
    for number in order:
        mine = np.asarray(fade.shade == number)
        found.append((fade.shades[number].name, int(mine.sum()), room_mm2(wide_mm[mine], high_mm[mine], APART_MM)))
    spares = spare_sizes_mm(brief, fade)
    if spares[0].size:
        found.append(("the spares", int(spares[0].size), room_mm2(*spares, APART_MM)))
    return found


def batch_shares(
    shades: Sequence[tuple[str, int, float]], batches: Sequence[Sequence[tuple[str, int]]]
) -> tuple[float, ...]:
    """What share of all work on a coat each batch is, by the room that it takes."""
    each = {name: room / max(blocks, 1) for name, blocks, room in shades}
    rooms = [sum(count * each[name] for name, count in batch) for batch in batches]
    return tuple(room / sum(rooms) for room in rooms)


def drying_batches(
    shades: Sequence[tuple[str, int, float]], batches: int, rack_mm2: float
) -> tuple[tuple[tuple[str, int], ...], ...]:
    """Which shades, and how many blocks of each, dry together.

    Whole shades where so many batches hold them; else a batch is filled up, and a shade goes on in the next one.

    Args:
        shades: Name, blocks and drying room in mm² of each, in the order of painting.
        batches: How many the drying room makes of all blocks.
        rack_mm2: Drying room.
    """
    whole: list[list[tuple[str, int]]] = [[]]
    taken = 0.0
    for name, blocks, room in shades:
        if whole[-1] and taken + room > rack_mm2:
            whole.append([])
            taken = 0.0
        whole[-1].append((name, blocks))
        taken += room
    fits = all(room <= rack_mm2 for _, _, room in shades)
    if batches == 1 or (fits and len(whole) <= batches):
        return tuple(map(tuple, whole))
    return _filled(shades, batches, rack_mm2)


def _filled(
    shades: Sequence[tuple[str, int, float]], batches: int, rack_mm2: float
) -> tuple[tuple[tuple[str, int], ...], ...]:
    """Batch by batch to the last block that has room; the last one takes what is left."""
    found: list[list[tuple[str, int]]] = [[]]
    left = rack_mm2
    for name, blocks, room in shades:
        each, wait = room / max(blocks, 1), blocks
        while wait:
            takes = wait if len(found) == batches else min(wait, int(left / each + 1e-9))
            if takes:
                found[-1].append((name, takes))
            wait -= takes
            left -= takes * each
            if wait:
                found.append([])
                left = rack_mm2
    return tuple(map(tuple, found))
