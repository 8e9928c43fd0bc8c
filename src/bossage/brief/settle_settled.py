"""From tables to records: what somebody has agreed to."""

from __future__ import annotations

from bossage.brief.faults import Bad
from bossage.brief.sections import Tables
from bossage.brief.settled import Settled
from bossage.brief.tables_settled import read_agreed


def settle_settled(tables: Tables) -> tuple[Settled, ...]:
    """Answers in the order of the file; a figure of the wrong unit and an answer without a day are faults."""
    out = []
    for path, table in tables.many("settled"):
        if not table.on:
            tables.fault(f"{path}.on", "no day", "the day on which it was agreed, as 2026-12-01", "Write the day.")
        try:
            figure = read_agreed(table.check, getattr(table, "for"), tables.unit)
        except Bad as bad:
            _, found, allowed, remedy = bad.items[0]
            tables.fault(f"{path}.for", found, allowed, remedy)
            continue
        out.append(
            Settled(
                check=table.check,
                of=table.of,
                by=table.by,
                on=table.on,
                figure=figure,
                condition=getattr(table, "with"),
                words=table.words,
                place_nm=table.place,
                opens=table.opens or "",
                lock=table.lock,
                hands_nm=table.hands,
            )
        )
    return tuple(out)
