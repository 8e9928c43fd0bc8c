"""The job as whole numbers without names: widths with demand, and bins with a capacity for each clear span.

Piece l costs w = l + kerf in its stick. Everything is divided by the greatest common divisor of the widths;
a capacity may be rounded down to it, because no sum of widths lies between.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce
from math import gcd

from bossage.saw.job.records import FaultyJob, SawJob, StickStock
from bossage.saw.whole.subset_sums import best_fill


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Clear wood between zones; the last kerf may bite into the zone behind it, not past it."""

    from_nm: int
    capacity_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """One kind of stick that can hold something: capacities by span, and the most that the demand can fill."""

    stock: int  # index in the job
    caps: tuple[int, ...]
    price: int
    count: int  # never more than could be of use
    fill: int
    length_nm: int = 0
    starts_nm: tuple[int, ...] = (0,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """Widths longest first, their demand, the bins, and what one unit is."""

    unit_nm: int
    lengths_nm: tuple[int, ...]
    widths: tuple[int, ...]
    demand: tuple[int, ...]
    bins: tuple[Bin, ...]
    priced: bool  # False: no stick has a price, so the length bought stands in for it

    @property
    def need(self) -> int:
        """All slices with their kerfs."""
        return sum(w * d for w, d in zip(self.widths, self.demand, strict=True))


def clear_spans(stock: StickStock, kerf_nm: int) -> tuple[Span, ...]:
    """Clear spans of a stick from its squared start to its stub."""
    end = stock.length_nm - stock.stub_nm
    at = stock.trim_nm
    spans: list[Span] = []
    for a, b in sorted(stock.no_go):
        if a >= end:
            break
        last = min(a + kerf_nm, b, end)
        if last > at and a > at:
            spans.append(Span(from_nm=at, capacity_nm=last - at))
        at = max(at, b)
    if at < end:
        spans.append(Span(from_nm=at, capacity_nm=end - at))
    return tuple(spans)


def usable_nm(stock: StickStock, kerf_nm: int) -> int:
    """Length less trim and stub, less what no-go zones take."""
    return sum(span.capacity_nm for span in clear_spans(stock, kerf_nm))


def check_job(job: SawJob) -> None:
    """Refuse what cannot be sawn, in a maker's words.

    Raises:
        FaultyJob: A length, count, price, trim, stub, kerf or zone makes no sense.
    """
    for piece in job.pieces:
        if piece.length_nm <= 0 or piece.count < 0 or not 0 <= piece.spares <= piece.count:
            raise FaultyJob(
                f"Piece '{piece.name}' is {piece.length_nm / 1e6:g} mm, {piece.count} of it, {piece.spares} spare; "
                "a length must be above 0 and the spares lie between 0 and the count."
            )
    if job.kerf_nm < 0:
        raise FaultyJob(f"The kerf is {job.kerf_nm / 1e6:g} mm; it cannot be below 0.")
    for stock in job.sticks:
        if min(stock.trim_nm, stock.stub_nm, stock.price_cents) < 0 or stock.length_nm <= 0:
            raise FaultyJob(f"Stick '{stock.name}' has a length, trim, stub or price below 0.")
        if stock.count is not None and stock.count < 0:
            raise FaultyJob(f"Stick '{stock.name}' has a count of {stock.count}; use 0 or more.")
        for a, b in stock.no_go:
            if not 0 <= a < b <= stock.length_nm:
                raise FaultyJob(
                    f"A no-go zone of stick '{stock.name}' runs from {a / 1e6:g} to {b / 1e6:g} mm; it must lie on the "
                    f"stick, 0 to {stock.length_nm / 1e6:g} mm, and end after it starts."
                )


def build_core(job: SawJob) -> Core:
    """Merge equal lengths, scale, and drop sticks that can hold nothing."""
    check_job(job)
    counts: dict[int, int] = {}
    for piece in job.pieces:
        if piece.count:
            counts[piece.length_nm] = counts.get(piece.length_nm, 0) + piece.count
    lengths = tuple(sorted(counts, reverse=True))
    unit = reduce(gcd, (l_nm + job.kerf_nm for l_nm in lengths), 0) or 1
    widths = tuple((l_nm + job.kerf_nm) // unit for l_nm in lengths)
    demand = tuple(counts[l_nm] for l_nm in lengths)
    priced = any(s.price_cents > 0 for s in job.sticks)
    fills: dict[tuple[int, ...], int] = {}
    bins: list[Bin] = []
    need = sum(w * d for w, d in zip(widths, demand, strict=True))
    for index, stock in enumerate(job.sticks):
        spans = clear_spans(stock, job.kerf_nm)
        caps = tuple(span.capacity_nm // unit for span in spans)
        caps = tuple(min(c, need) for c in caps)
        if caps not in fills:
            fills[caps] = sum(best_fill(widths, demand, cap) for cap in caps)
        fill = fills[caps]
        useful = -(-need // fill) + sum(demand) if fill else 0  # never a stick without a slice
        count = min(useful, sum(demand), stock.count if stock.count is not None else useful)
        if fill and count:
            price = stock.price_cents if priced else (0 if stock.owned else stock.length_nm // 1_000_000 + 1)
            starts = tuple(span.from_nm for span in spans)
            bins.append(
                Bin(
                    stock=index,
                    caps=caps,
                    price=price,
                    count=count,
                    fill=fill,
                    length_nm=stock.length_nm,
                    starts_nm=starts,
                )
            )
    return Core(unit_nm=unit, lengths_nm=lengths, widths=widths, demand=demand, bins=tuple(bins), priced=priced)
