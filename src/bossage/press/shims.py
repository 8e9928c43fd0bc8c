"""Shims: how many of each thickness a schedule needs at once, and what stick they are sliced from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import TypeVar

import numpy as np

from bossage.brief.records import Brief
from bossage.layout.records import Layout
from bossage.press.bed_records import BedCard
from bossage.press.clock import pressings_of
from bossage.press.records import RowCard, ShimCut, ShimNeed
from bossage.press.schedule_records import Schedule
from bossage.saw import Patience, Piece, SawJob, SawPlan, StickStock, plan_sticks

Amount = TypeVar("Amount", int, float)

THINNEST_SLICE_NM = 6_000_000
"""A thinner shim is better cut from sheet or card than sliced. Ours."""


def shim_needs(brief: Brief, layout: Layout, cards: tuple[RowCard, ...], found: Schedule) -> tuple[ShimNeed, ...]:
    """Shims by thickness, thickest first: most in a row, and what to make for a schedule."""
    most, to_make = most_in_a_row(cards), shims_to_make(brief, cards, found)
    section = commonest_section(brief, layout)
    return tuple(
        ShimNeed(
            thickness_nm=thickness,
            most_in_a_row=most[thickness],
            to_make=to_make[thickness],
            section=section if thickness >= THINNEST_SLICE_NM else "",
        )
        for thickness in sorted(most, reverse=True)
    )


def bed_shim_needs(brief: Brief, layout: Layout, beds: tuple[BedCard, ...]) -> tuple[ShimNeed, ...]:
    """Shims for the bed of any one leaf, thickest first; leaf follows leaf on the same shims."""
    section = commonest_section(brief, layout)
    return tuple(
        ShimNeed(
            thickness_nm=thickness,
            most_in_a_row=count,
            to_make=count,
            section=section if thickness >= THINNEST_SLICE_NM else "",
        )
        for thickness, count in sorted(most_on_a_bed(beds).items(), reverse=True)
    )


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


def cut_shims(brief: Brief, layout: Layout, needs: tuple[ShimNeed, ...]) -> ShimCut | None:
    """Slice the thick shims from sticks of the commonest section, or from the rests of it; None where none is thick.

    Args:
        brief: Sticks, kerf.
        layout: Which footprint is the commonest.
        needs: As `shim_needs` gives them.

    Returns:
        How much clear stick they take, so that rests on the shelf can be tried first, and a cut plan for new sticks.
    """
    sliced = [need for need in needs if need.section]
    if not sliced:
        return None
    section, kerf = sliced[0].section, brief.tools.kerf_nm
    stocks = [stick for stick in brief.sticks if stick.name == section]
    job = SawJob(
        pieces=tuple(Piece(length_nm=need.thickness_nm, count=need.to_make, name="shim") for need in sliced),
        sticks=tuple(
            StickStock(
                name=stick.bought_as or stick.name,
                length_nm=stick.length_nm,
                price_cents=stick.price_cents or 1,
                trim_nm=stick.trim_nm,
                stub_nm=stick.stub_nm,
            )
            for stick in stocks[:1]
        ),
        kerf_nm=kerf,
        patience=Patience(settings_work=0),
        seed=brief.piece.seed,
    )
    plan = plan_sticks(job) if stocks else None
    return ShimCut(
        section=section,
        count=sum(need.to_make for need in sliced),
        need_nm=sum((need.thickness_nm + kerf) * need.to_make for need in sliced),
        stub_nm=stocks[0].stub_nm if stocks else 0,
        plan=plan if isinstance(plan, SawPlan) else None,
    )


def commonest_section(brief: Brief, layout: Layout) -> str:
    """The section that most blocks are sliced from."""
    footprint = int(np.bincount(layout.blocks.footprint).argmax())
    return brief.blocks.footprints[footprint].section
