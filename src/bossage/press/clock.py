"""How long row by row takes, with one and with several sets of caul and clamps, beside what no order can beat."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.press.records import PressHours, RowCard


def press_hours(brief: Brief, cards: tuple[RowCard, ...], sets: int) -> PressHours:
    """Elapsed and attended hours with `sets` rows in the clamps at once, one pair of hands.

    Each batch is laid, closed, left for the clamp time, and taken out; the hands are free while it stands in the
    clamps. Batches are taken in the order of the cards; a batch starts as soon as hands and a set are free.

    Returns:
        Hours, and the larger of the two bounds: hands never idle, and sets never idle.
    """
    lays = [batch.lay_s / 60 + brief.glue.close_min for card in cards for batch in card.batches]
    unload, clamp = brief.glue.unload_min, brief.glue.clamp_min
    hands = 0.0
    out: list[float] = []  # when each set's batch may come out
    for lay in lays:
        if len(out) == sets:
            hands = max(hands, out.pop(0)) + unload
        hands += lay
        out.append(hands + clamp)
    for ready in out:
        hands = max(hands, ready) + unload
    attended = sum(lays) + unload * len(lays)
    by_sets = (sum(lays) + len(lays) * (clamp + unload)) / sets
    bound = max(attended, by_sets, lays[0] + clamp + unload) if lays else 0.0
    return PressHours(sets=sets, elapsed_h=hands / 60, attended_h=attended / 60, bound_h=bound / 60)
