"""When hands work: the first moment at which a job fits into a working day."""

from __future__ import annotations

from bossage.errors import BossageError
from bossage.press.schedule_records import DAY_S, WorkDay


class CannotPress(BossageError):
    """A batch that cannot be pressed with what the shop has, in a maker's words."""


def fit(work: WorkDay | None, at_s: int, need_s: int) -> int:
    """The first moment from `at_s` on at which `need_s` of work fit into a working day without a break."""
    if work is None:
        return at_s
    day = at_s // DAY_S
    for k in range(day, day + 15):
        start = max(at_s, k * DAY_S + work.from_s)
        if work.works(k) and start + need_s <= k * DAY_S + work.to_s:
            return start
    hours = (work.to_s - work.from_s) / 3600
    raise CannotPress(
        f"A job of {need_s / 60:.0f} minutes without a break fits no working day of {hours:g} hours. "
        "Work longer days, or press smaller batches."
    )
