"""Advice beside a plan: the next safer one, spares whose loss saves a stick, and ways out of a shortfall."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bossage.saw.contents.choose import fill_mix
from bossage.saw.job.numbers import Core, build_core, clear_spans, usable_nm
from bossage.saw.job.records import Cure, Piece, SawJob, SawPlan, Shortfall, StickStock
from bossage.saw.money.bound import Mixes
from bossage.saw.money.search import solve
from bossage.saw.sticks.plan import plan_of, plan_once

MOST_DROPPED = 3


def safer(job: SawJob) -> SawPlan | None:
    """The cheapest plan that leaves room to cut the longest slice once more; None when the stock has none.

    Its proof is that of the job with that slice in it.
    """
    longest = max(piece.length_nm for piece in job.pieces if piece.count)
    more = replace(job, pieces=(*job.pieces, Piece(length_nm=longest, count=1)))
    wide, core = build_core(more), build_core(job)
    solved = solve(wide, job.patience, job.seed)
    if solved.filled is None:
        return None
    # Lengths keep their index, and the longest is the first; it goes from where it stands most alone.
    homes = [
        (sum(map(sum, stick)) == 1, span[0], k, s)
        for k, stick in enumerate(solved.filled.spans)
        for s, span in enumerate(stick)
        if span[0]
    ]
    empties, _, k, s = min(homes)
    if empties:  # the room is a stick by itself: keep the slice in it, so that the stick is bought
        return plan_of(more, wide, solved)
    solved.filled.spans[k][s] = [n - (i == 0) for i, n in enumerate(solved.filled.spans[k][s])]
    places = {b.stock: i for i, b in enumerate(core.bins)}
    solved.filled.bins = [places[wide.bins[b].stock] for b in solved.filled.bins]
    return plan_of(job, core, solved)


def savings(job: SawJob, plan: SawPlan) -> tuple[Cure, ...]:
    """Bought sticks that a few spares fewer would free, checked by planning without them."""
    out: list[Cure] = []
    bought = {stick.stock: usable_nm(stick.stock, job.kerf_nm) for stick in plan.sticks if not stick.stock.owned}
    for _, room in sorted(bought.items(), key=lambda item: (-item[0].price_cents, item[0].name)):
        short = plan.need_nm - (plan.usable_nm - room)
        for drop in _drops(job, short):
            if not _cheaper(_without(job, drop), plan.money_cents):
                continue
            _, trial = plan_once(_without(job, drop))
            if trial is not None and trial.money_cents < plan.money_cents:
                freed = _bought(plan) - _bought(trial)
                out.append(
                    Cure(
                        drop=drop,
                        saves_nm=sum(n * (l_nm + job.kerf_nm) for l_nm, n in drop),
                        saves_cents=plan.money_cents - trial.money_cents,
                        frees=freed,
                    )
                )
                break
        if out:
            break
    return tuple(out)


def _cheaper(job: SawJob, money_cents: int) -> bool:
    """Whether the stock-mix bound lets a job cost less; a cheap look before a plan is made."""
    core = build_core(job)
    bound = Mixes(core.bins, core.need).bound if core.bins else None
    return bound is not None and (bound < money_cents or not core.priced)


def _bought(plan: SawPlan) -> int:
    return sum(1 for stick in plan.sticks if not stick.stock.owned)


def _drops(job: SawJob, short_nm: int) -> Iterator[tuple[tuple[int, int], ...]]:
    """Fewest spares first that free `short_nm`; among as many, the shortest that do."""
    spare: dict[int, int] = {}
    for piece in job.pieces:
        if piece.spares:
            spare[piece.length_nm] = spare.get(piece.length_nm, 0) + piece.spares
    ones = sorted(l_nm for l_nm, n in spare.items() for _ in range(min(n, MOST_DROPPED)))
    for k in range(1, min(MOST_DROPPED, len(ones)) + 1):
        # All but the last as long as they come, the last as short as it may be.
        head = ones[len(ones) - k + 1 :] if k > 1 else []
        freed = sum(l_nm + job.kerf_nm for l_nm in head)
        for last in ones[: len(ones) - k + 1]:
            if freed + last + job.kerf_nm >= short_nm:
                chosen = [*head, last]
                yield tuple((l_nm, chosen.count(l_nm)) for l_nm in sorted(set(chosen), reverse=True))
                break


def _without(job: SawJob, drop: tuple[tuple[int, int], ...]) -> SawJob:
    left = dict(drop)
    pieces: list[Piece] = []
    for piece in job.pieces:
        take = min(left.get(piece.length_nm, 0), piece.spares)
        if take:
            left[piece.length_nm] -= take
        pieces.append(replace(piece, count=piece.count - take, spares=piece.spares - take))
    return replace(job, pieces=tuple(pieces))


def shortfall(job: SawJob, core: Core) -> Shortfall:
    """What stays uncut when the stock does not suffice, and the cheapest ways out."""
    widest = max((s.capacity_nm for stock in job.sticks for s in clear_spans(stock, job.kerf_nm)), default=0)
    long = tuple(p for p in job.pieces if p.count and p.length_nm + job.kerf_nm > widest)
    endless = any(stock.count is None for stock in job.sticks)
    usable = sum(usable_nm(stock, job.kerf_nm) * (stock.count or 0) for stock in job.sticks)
    need = core.need * core.unit_nm
    trim, stub = job.ends_nm or (
        min((s.trim_nm for s in job.sticks), default=0),
        min((s.stub_nm for s in job.sticks), default=0),
    )
    out: list[Cure] = []
    for drop in _drops(job, need - usable):
        trial = build_core(_without(job, drop))
        if solve(trial, job.patience, job.seed).filled is not None:
            saved = sum(n * (l_nm + job.kerf_nm) for l_nm, n in drop)
            out.append(Cure(drop=drop, saves_nm=saved))
            break
    missing, room = _least_missing(job, core, trim, stub)
    if missing:
        out.append(Cure(buy_nm=room + trim + stub))
    short = sum((p.length_nm + job.kerf_nm) * p.count for p in missing)
    return Shortfall(
        missing=missing,
        need_nm=need,
        usable_nm=usable,
        short_nm=short,
        too_long=long,
        proven=bool(long) or (need > usable and not endless),
        cures=tuple(out),
    )


def _least_missing(job: SawJob, core: Core, trim: int, stub: int) -> tuple[tuple[Piece, ...], int]:
    """The smallest further stick with which all can be cut, and what would come out of it.

    Found between what is surely too short and all of the need, by halving; the filling is not exhaustive, so a stick
    a little shorter may do as well.
    """
    held = sum(b.fill * b.count for b in core.bins)
    least = max(core.need - held, min(core.widths), core.widths[0] if not core.bins else 0)
    widest = max((max(b.caps) for b in core.bins), default=0)
    if core.widths[0] > widest:
        least = max(least, core.widths[0])
    best = _with_one_more(job, least, core, trim, stub)
    low, high = least, core.need
    if best is None:
        best = _with_one_more(job, high, core, trim, stub)
        while best is not None and high - low > max(1, min(core.widths) // 8):
            room = (low + high) // 2
            found = _with_one_more(job, room, core, trim, stub)
            best, low, high = (best, room, high) if found is None else (found, low, room)
    return best or ((), 0)


def _with_one_more(job: SawJob, room: int, core: Core, trim: int, stub: int) -> tuple[tuple[Piece, ...], int] | None:
    """What a further stick with so much room takes over, if all can be cut then."""
    extra = StickStock(
        name="one more",
        length_nm=room * core.unit_nm + trim + stub,
        price_cents=0,
        count=1,
        trim_nm=trim,
        stub_nm=stub,
        owned=True,
    )
    wide = build_core(replace(job, sticks=(*job.sticks, extra)))
    mixes = Mixes(wide.bins, wide.need)
    if mixes.bound is None:
        return None
    filled = fill_mix(wide, mixes.bins, tuple(b.count for b in mixes.bins), job.patience, job.seed)
    if filled is None:
        return None
    rows = [
        spans[0] for b, spans in zip(filled.bins, filled.spans, strict=True) if wide.bins[b].stock == len(job.sticks)
    ]
    counts = rows[0] if rows else [0] * len(wide.widths)
    missing = tuple(Piece(length_nm=l_nm, count=n) for l_nm, n in zip(wide.lengths_nm, counts, strict=True) if n)
    return missing, sum(w * n for w, n in zip(wide.widths, counts, strict=True)) * wide.unit_nm
