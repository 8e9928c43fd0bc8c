"""Shims: how many of each thickness a schedule needs at once, and which section they are sliced from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import TypeVar

import numpy as np

from bossage.brief.records import Brief
from bossage.press.bed_records import BedCard
from bossage.press.bench import Bench
from bossage.press.clock import pressings_of
from bossage.press.records import RowCard
from bossage.press.schedule_records import Schedule
from bossage.press.shim_records import ShimNeed

Amount = TypeVar("Amount", int, float)


def shim_needs(brief: Brief, bench: Bench, cards: tuple[RowCard, ...], found: Schedule) -> tuple[ShimNeed, ...]:
    """Shims by thickness, thickest first: most in a row, and what to make for a schedule."""
    most, to_make = most_in_a_row(cards), shims_to_make(brief, cards, found)
    section = shim_section(brief, bench)
    return tuple(
        ShimNeed(
            thickness_nm=thickness,
            most_in_a_row=most[thickness],
            to_make=to_make[thickness],
            section=_section_of(brief, section, thickness),
        )
        for thickness in sorted(most, reverse=True)
    )


def bed_shim_needs(brief: Brief, bench: Bench, beds: tuple[BedCard, ...]) -> tuple[ShimNeed, ...]:
    """Shims for the bed of any one leaf, thickest first; leaf follows leaf on the same shims."""
    section = shim_section(brief, bench)
    return tuple(
        ShimNeed(
            thickness_nm=thickness,
            most_in_a_row=count,
            to_make=count,
            section=_section_of(brief, section, thickness),
        )
        for thickness, count in sorted(most_on_a_bed(beds).items(), reverse=True)
    )


def _section_of(brief: Brief, section: str, thickness_nm: int) -> str:
    """What a shim is sliced from; nothing where it is a short slice, which board or card spares."""
    return section if thickness_nm >= brief.tools.short_slice_nm else ""


def most_on_a_bed(beds: tuple[BedCard, ...]) -> Counter[int]:
    """Most shims of each thickness that the bed of any one leaf needs."""
    most: Counter[int] = Counter()
    for bed in beds:
        most |= Counter(dict(bed.shims))
    return most


def most_in_a_row(cards: tuple[RowCard, ...]) -> Counter[int]:
    """Most shims of each thickness that any one row needs, in one go or in parts."""
    most: Counter[int] = Counter()
    for card in cards:
        most |= Counter(b.shim_nm for batch in card.batches for b in batch.blocks if b.shim_nm)
    return most


def shims_to_make(brief: Brief, cards: tuple[RowCard, ...], found: Schedule) -> Counter[int]:
    """Shims of each thickness: as many as are out at once, and enough to try any whole row dry."""
    pressings = pressings_of(brief, cards)
    # shims lie on the blocks from laying on, and come back when the batch is out
    spans = [(p.lay_s, p.done_s, dict(pressings[p.pressing].shims)) for p in found.pressed]
    return most_in_a_row(cards) | Counter(most_at_once(spans))


def most_at_once(spans: Sequence[tuple[int, int, Mapping[int, Amount]]]) -> dict[int, Amount]:
    """The greatest sum of each key over spans that are open at one time; what ends at a time is over at that time."""
    most: dict[int, Amount] = {}
    out: dict[int, Amount] = {}
    steps = sorted(
        [(end, 0, held) for _, end, held in spans] + [(start, 1, held) for start, _, held in spans], key=_when
    )
    for _, begins, held in steps:
        for key, amount in held.items():
            out[key] = out.get(key, type(amount)(0)) + (amount if begins else -amount)
            most[key] = max(most.get(key, out[key]), out[key])
    return most


def _when(step: tuple[int, int, object]) -> tuple[int, int]:
    return step[0], step[1]


def shim_section(brief: Brief, bench: Bench) -> str:
    """The section that shims are sliced from: of those whose slice lies within every face, the one of most blocks.

    A shim that reaches past its block knocks against the next one; where no section fits all, the commonest is taken.
    """
    blocks: Counter[str] = Counter()
    faces = []
    for number, count in enumerate(np.bincount(bench.blocks.footprint).tolist()):
        footprint = brief.blocks.footprints[number]
        if count:
            blocks[footprint.section] += count
            faces.append(sorted((footprint.width_nm, footprint.height_nm)))
    sizes = {name: shim_face_nm(brief, name) for name in blocks}
    within = [name for name, (low, high) in sizes.items() if all(low <= a and high <= b for a, b in faces)]
    return max(within or list(blocks), key=lambda name: blocks[name])


def shim_face_nm(brief: Brief, section: str) -> tuple[int, int]:
    """Both sizes of a section as measured, the smaller first."""
    stick = next(stick for stick in brief.sticks if stick.name == section)
    low, high = sorted((stick.section_width_nm, stick.section_height_nm))
    return low, high
