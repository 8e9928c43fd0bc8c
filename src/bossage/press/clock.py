"""How long row by row takes, with one and with several sets of caul and clamps, beside what no order can beat."""

from __future__ import annotations

from collections import Counter
from functools import lru_cache

from bossage.brief.records import Brief
from bossage.press.records import PressHours, RowCard
from bossage.press.schedule import schedule
from bossage.press.schedule_records import Pressing, PressShop, Schedule, WorkDay


def pressings_of(brief: Brief, cards: tuple[RowCard, ...]) -> tuple[Pressing, ...]:
    """The batches of all cards as pressings, in the order of laying; a part of a second is counted as a whole one."""
    glue = brief.glue
    return tuple(
        Pressing(
            name=f"Row {card.row}" + (f", part {part} of {len(card.batches)}" if len(card.batches) > 1 else ""),
            leaf=card.leaf,
            lay_s=_whole_s(batch.lay_s),
            close_s=_whole_s(glue.close_min * 60),
            press_s=_whole_s(glue.clamp_min * 60),
            unload_s=_whole_s(glue.unload_min * 60),
            clamps=card.clamps,
            shims=tuple(sorted(Counter(b.shim_nm for b in batch.blocks if b.shim_nm).items())),
        )
        for card in cards
        for part, batch in enumerate(card.batches, 1)
    )


def press_shop(brief: Brief, sets: int, *, work: WorkDay | None = None) -> PressShop:
    """What the shop has for pressing, with so many sets of caul and clamps; shims are made to suit."""
    return PressShop(
        hands=brief.tools.people, sets=sets, bench=brief.tools.bench, open_s=int(brief.glue.open_min * 60), work=work
    )


def press_schedule(brief: Brief, cards: tuple[RowCard, ...], sets: int, *, work: WorkDay | None = None) -> Schedule:
    """When each batch is laid, pressed and taken out, with so many sets."""
    return _scheduled(pressings_of(brief, cards), press_shop(brief, sets, work=work))


def press_hours(brief: Brief, cards: tuple[RowCard, ...], sets: int) -> PressHours:
    """Elapsed and attended hours with `sets` rows in the clamps at once, hands that never stop.

    Returns:
        Hours, and their bound, rows in their order.
    """
    pressings = pressings_of(brief, cards)
    found = _scheduled(pressings, press_shop(brief, sets))
    return PressHours(
        sets=sets,
        elapsed_h=found.finish_s / 3600,
        attended_h=sum(p.hands_s for p in pressings) / 3600,
        bound_h=found.bound_s / 3600,
    )


# one plan asks for the same several times over, and the next plan mostly again
_scheduled = lru_cache(maxsize=64)(schedule)


def _whole_s(seconds: float) -> int:
    return -int(-seconds // 1)
