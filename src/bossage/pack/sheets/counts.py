"""At the trays: the count table, footprint × level × shade, from which every other sheet follows."""

from __future__ import annotations

from collections import Counter

from bossage.fade.records import CountRow, Shade
from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import room, words_of
from bossage.pack.words import Words, count_of
from bossage.plan import Plan

SHADE_MM = 18.5  # a column of the table on paper; more shades than fit beside each other go into a table below
LEVEL_MM = 34.0


DEALT = "When all blocks are sanded and free of dust, before any coat:"
"""When blocks are dealt out to their shades: said alike on the count table, the tray labels and the paint sheet."""


def counts_sheet(plan: Plan) -> Sheet:
    """One table a footprint, in the ring and in the field apart; rows are levels, columns are shades."""
    words, landscape = words_of(plan), len(plan.fade.shades) > 7
    per_table = max(3, int((room(plan, landscape=landscape).width_mm - LEVEL_MM) // SHADE_MM))
    groups: dict[tuple[str, str], list[CountRow]] = {}
    for row in plan.fade.count_table:
        groups.setdefault((row.footprint, row.zone), []).append(row)
    parts: list[Part] = []
    shown: set[str] = set()  # shades whose patch stands over a column already
    for (footprint, zone), rows in groups.items():
        parts += _tables(plan, words, (footprint, zone), rows, per_table, shown)
    total = sum(row.count for row in plan.fade.count_table)
    parts.append(Para(lead=f"{total:,} blocks", text="in all. The spares stand on the saw sheets.", small=True))
    return Sheet(
        name="trays",
        title="Count table",
        todo=(
            f"{DEALT} deal the blocks out by it: one tray a shade, slips of card between the levels. What is "
            "sawn, painted and laid must agree with this table."
        ),
        wrong=(
            "A tray is short? Take the spare of that level first; else saw one more from the offcut, before the "
            "stop is moved."
        ),
        parts=tuple(parts),
        landscape=landscape,
    )


def _tables(
    plan: Plan, words: Words, group: tuple[str, str], rows: list[CountRow], per_table: int, shown: set[str]
) -> list[Part]:
    footprint, zone = group
    size = next(f for f in plan.brief.blocks.footprints if f.name == footprint)
    counts: Counter[tuple[int, str]] = Counter()
    length_of: dict[int, int] = {}
    for row in rows:
        counts[row.level_nm, row.shade] += row.count
        length_of[row.level_nm] = row.length_nm
    used = [shade for shade in plan.fade.shades if any(shade.name == row.shade for row in rows)]
    where = " in the edge ring" if zone == "ring" else ""
    heading = f"{words.size(size.width_nm, size.height_nm)}{where}: {count_of(sum(counts.values()), 'block')}"
    parts: list[Part] = [Heading(text=heading)]
    for start in range(0, len(used), per_table):
        last = start + per_table >= len(used)
        some = used[start : start + per_table]
        patched = not {shade.name for shade in some} <= shown
        shown |= {shade.name for shade in some}
        parts.append(_table(words, counts, length_of, some, with_sum=last, patched=patched))
    return parts


def _table(
    words: Words,
    counts: Counter[tuple[int, str]],
    length_of: dict[int, int],
    shades: list[Shade],
    *,
    with_sum: bool,
    patched: bool,
) -> Table:
    levels = sorted(length_of)
    longer = any(length_of[level] != level for level in levels)
    columns = [Column(head=f"level, {words.unit}", kind="figure", align="right", mm=24.0 if words.inches else 18.0)]
    if longer:
        columns.append(Column(head=f"saw to, {words.unit}", align="right"))
    columns += [
        Column(head=shade.name, kind="figure", align="center", patch=shade.colour_hex if patched else "", mm=SHADE_MM)
        for shade in shades
    ]
    if with_sum:
        columns.append(Column(head="all", kind="strong", align="right"))
    rows = []
    for level in levels:
        row = [words.bare(level)]
        if longer:
            row.append(words.bare(length_of[level]))
        row += [str(counts[level, shade.name] or "") for shade in shades]
        if with_sum:
            row.append(str(sum(count for (at, _), count in counts.items() if at == level)))
        rows.append(tuple(row))
    total = ["all", *([""] if longer else [])]
    total += [str(sum(counts[level, shade.name] for level in levels)) for shade in shades]
    if with_sum:
        total.append(f"{sum(counts.values()):,}")
    return Table(columns=tuple(columns), rows=tuple(rows), total=tuple(total), tight=True)
