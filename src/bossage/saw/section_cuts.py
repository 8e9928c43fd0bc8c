"""The slices of each section of stock: blocks by cut length, spares, and the job for the saw."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Mapping

from bossage.brief.records import Brief, StickStock
from bossage.fade.records import CountRow
from bossage.saw.job.records import Piece, SawJob, Shortfall, TimeModel
from bossage.saw.job.records import StickStock as Stick
from bossage.saw.parts import LongPart, numbered
from bossage.saw.records import SectionCut, SliceRow
from bossage.saw.sticks.advise import plan_sticks
from bossage.units import format_length


def cut_sections(
    brief: Brief, count_table: tuple[CountRow, ...], parts: Mapping[str, tuple[LongPart, ...]]
) -> tuple[SectionCut, ...]:
    """Cut every section that a block or a long part comes from: in the order of the footprints, then of the sticks."""
    section_of = {footprint.name: footprint.section for footprint in brief.blocks.footprints}
    rows: dict[str, list[CountRow]] = defaultdict(list)
    for row in count_table:
        rows[section_of[row.footprint]].append(row)
    used = [section for section in dict.fromkeys(section_of.values()) if rows[section]]
    used += [name for name in dict.fromkeys(s.name for s in brief.sticks) if parts.get(name) and name not in used]
    return tuple(_cut_section(brief, section, rows[section], parts.get(section, ())) for section in used)


def _cut_section(brief: Brief, section: str, counts: list[CountRow], parts: tuple[LongPart, ...]) -> SectionCut:
    stocks = tuple(stick for stick in brief.sticks if stick.name == section)
    slices = _slice_rows(brief, stocks[0].spares_pct, counts, parts)
    answer = plan_sticks(
        SawJob(
            pieces=tuple(
                Piece(
                    length_nm=row.length_nm,
                    count=row.slices,
                    name=" and ".join((*row.levels, *(numbered(name, mark) for name, mark, _ in row.named))),
                    spares=row.spares,
                )
                for row in slices
            ),
            sticks=tuple(stick for stick, _ in stick_stocks(brief, section)),
            kerf_nm=brief.tools.kerf_nm,
            keep_offcut_nm=brief.tools.keep_offcut_nm,
            time=time_model(brief),
            seed=brief.piece.seed,
            ends_nm=ends_of_bought_nm(brief, section),
        )
    )
    short = isinstance(answer, Shortfall)
    return SectionCut(
        section=section,
        bought_as=stocks[0].bought_as,
        species=stocks[0].species,
        section_width_nm=stocks[0].section_width_nm,
        section_height_nm=stocks[0].section_height_nm,
        kerf_nm=brief.tools.kerf_nm,
        rows=slices,
        plan=None if isinstance(answer, Shortfall) else answer,
        shortfall=answer if isinstance(answer, Shortfall) else None,
        priced=not short and all(stock.price_cents is not None or stock.owned for stock in stocks),
    )


def stick_stocks(brief: Brief, section: str) -> tuple[tuple[Stick, bool], ...]:
    """The sticks of a section as the saw takes them, each with whether it costs nothing or its price is known."""
    stocks = tuple(stick for stick in brief.sticks if stick.name == section)
    return tuple(
        (_stick(stock, price), stock.owned or stock.price_cents is not None)
        for stock, price in zip(stocks, stick_prices_cents(stocks), strict=True)
    )


def ends_of_bought_nm(brief: Brief, section: str) -> tuple[int, int] | None:
    """Trim and stub of a stick that would be bought for a section: as of those that are bought, else of the first."""
    stocks = [stick for stick in brief.sticks if stick.name == section]
    like = next((stick for stick in stocks if not stick.owned), next(iter(stocks), None))
    return None if like is None else (like.trim_nm, like.stub_nm)


def time_model(brief: Brief) -> TimeModel:
    """The maker's own seconds at the saw."""
    tools = brief.tools
    return TimeModel(
        change_s=round(tools.set_s),
        load_s=round(tools.load_s),
        cut_s=round(tools.cut_s),
        at_once=tools.sticks_at_once,
    )


def stick_prices_cents(stocks: tuple[StickStock, ...]) -> tuple[int, ...]:
    """What each stock counts as in the choice of sticks: its price, nothing if owned.

    Where the brief leaves a price open, a millimetre counts as much as in the sticks that have one (a cent where
    none has), so that the plan with the least wood is taken.
    """
    priced = [(s.price_cents, s.length_nm) for s in stocks if s.price_cents is not None and not s.owned]
    per_nm = sum(price for price, _ in priced) / sum(length for _, length in priced) if priced else 1e-6
    return tuple(
        0 if s.owned else s.price_cents if s.price_cents is not None else max(1, round(s.length_nm * per_nm))
        for s in stocks
    )


def _stick(stock: StickStock, price_cents: int) -> Stick:
    return Stick(
        name=stock.bought_as,
        length_nm=stock.length_nm,
        price_cents=price_cents,
        count=stock.count,
        owned=stock.owned,
        trim_nm=stock.trim_nm,
        stub_nm=stock.stub_nm,
        no_go=stock.no_go_nm,
    )


def spares_by_section(brief: Brief, count_table: tuple[CountRow, ...]) -> Counter[str]:
    """Spare slices of each section, of all lengths together."""
    section_of = {footprint.name: footprint.section for footprint in brief.blocks.footprints}
    spares_pct = {stick.name: stick.spares_pct for stick in reversed(brief.sticks)}
    blocks: Counter[tuple[str, int]] = Counter()
    for row in count_table:
        blocks[section_of[row.footprint], row.length_nm] += row.count
    spares: Counter[str] = Counter()
    for (section, _), count in blocks.items():
        spares[section] += _spares(count, spares_pct.get(section, 0.0))
    return spares


def _spares(blocks: int, spares_pct: float) -> int:
    """A percent of a count, rounded up to whole slices; 1e-9 forgives 8 % of 25 for being 2.0000000000000004."""
    return math.ceil(blocks * spares_pct / 100 - 1e-9)


def _slice_rows(
    brief: Brief, spares_pct: float, counts: list[CountRow], parts: tuple[LongPart, ...]
) -> tuple[SliceRow, ...]:
    blocks: Counter[int] = Counter()
    levels: dict[int, dict[str, None]] = defaultdict(dict)
    for row in counts:
        blocks[row.length_nm] += row.count
        ring = " ring" if row.zone == "ring" else ""
        levels[row.length_nm][format_length(row.level_nm, brief.piece.unit) + ring] = None
    long: dict[int, list[LongPart]] = defaultdict(list)
    for part in parts:
        long[part.length_nm].append(part)
    return tuple(
        SliceRow(
            length_nm=length,
            blocks=blocks[length],
            spares=_spares(blocks[length], spares_pct),
            levels=tuple(levels[length]),
            parts=tuple(key for part in long[length] for key in part.parts),
            named=tuple((part.name, part.mark, part.count) for part in long[length]),
        )
        for length in sorted({*blocks, *long}, reverse=True)
    )
