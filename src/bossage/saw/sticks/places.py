"""From counts by stick and span to the plan: where each slice lies, what is left, and in which order to cut."""

from __future__ import annotations

from dataclasses import replace

from bossage.saw.job.contents import Filled
from bossage.saw.job.numbers import Core, clear_spans, usable_nm
from bossage.saw.job.records import CutStick, SawJob, Setting, Slice
from bossage.saw.sticks.sequence import Contents, Sequence, by_setting, by_stick


def sort_sticks(core: Core, filled: Filled) -> Filled:
    """Sticks by stock, those with the longest slices first: one job gives one order."""
    order = sorted(
        range(len(filled.bins)),
        key=lambda k: (core.bins[filled.bins[k]].stock, [[-n for n in span] for span in filled.spans[k]]),
    )
    return Filled(bins=[filled.bins[k] for k in order], spans=[filled.spans[k] for k in order])


def sequences(core: Core, job: SawJob, filled: Filled) -> tuple[Sequence, Sequence]:
    """Both ways through the saw, the quicker one first (by setting when they tie)."""
    contents: list[Contents] = [
        tuple(tuple(i for i, n in enumerate(span) if n) for span in stick) for stick in filled.spans
    ]
    slices = sum(sum(span) for stick in filled.spans for span in stick)
    squaring = sum(
        1 for b, stick in zip(filled.bins, filled.spans, strict=True) if job.sticks[core.bins[b].stock].trim_nm
    ) + sum(max(0, sum(1 for span in stick if any(span)) - 1) for stick in filled.spans)
    one = by_setting(contents, slices + squaring, job.time)
    other = by_stick(contents, slices + squaring, job.time)
    return (one, other) if one.handling.seconds <= other.handling.seconds else (other, one)


def cut_sticks(core: Core, job: SawJob, filled: Filled, within: tuple[Contents, ...]) -> tuple[CutStick, ...]:
    """Each stick with its slices from the squared end on; sticks cut alike share their slices."""
    out: list[CutStick] = []
    alike: dict[tuple[int, Contents, tuple[tuple[int, ...], ...]], CutStick] = {}
    for number, (b, spans) in enumerate(zip(filled.bins, filled.spans, strict=True), start=1):
        key = (b, within[number - 1], tuple(map(tuple, spans)))
        if key not in alike:
            alike[key] = _cut_stick(core, job, b, spans, within[number - 1])
        out.append(replace(alike[key], number=number))
    return tuple(out)


def _cut_stick(core: Core, job: SawJob, b: int, spans: list[list[int]], within: Contents) -> CutStick:
    stock = job.sticks[core.bins[b].stock]
    slices: list[Slice] = []
    runs = iter(within)
    for span, counts in zip(clear_spans(stock, job.kerf_nm), spans, strict=True):
        at = span.from_nm
        if not any(counts):
            continue
        for i in next(runs):
            for _ in range(counts[i]):
                slices.append(Slice(length_nm=core.lengths_nm[i], from_nm=at, to_nm=at + core.lengths_nm[i]))
                at += core.lengths_nm[i] + job.kerf_nm
    end = slices[-1].to_nm + job.kerf_nm
    used = sum(s.length_nm + job.kerf_nm for s in slices)
    usable = usable_nm(stock, job.kerf_nm)
    rest = stock.length_nm - end
    return CutStick(
        stock=stock,
        number=0,
        slices=tuple(slices),
        usable_nm=usable,
        used_nm=used,
        kerfs_nm=job.kerf_nm * len(slices),
        passed_nm=end - stock.trim_nm - used,
        left_nm=usable - used,
        offcut_nm=rest,
        keep=rest >= job.keep_offcut_nm > 0,
    )


def settings(core: Core, job: SawJob, filled: Filled) -> tuple[Setting, ...]:
    """The stop's positions, longest first, with what each owes and from which sticks."""
    names = {
        l_nm: tuple(p.name for p in job.pieces if p.length_nm == l_nm and p.count and p.name)
        for l_nm in core.lengths_nm
    }
    per: list[list[tuple[int, int]]] = [[] for _ in core.lengths_nm]
    for number, stick in enumerate(filled.spans, start=1):
        for i in range(len(core.lengths_nm)):
            n = sum(span[i] for span in stick)
            if n:
                per[i].append((number, n))
    return tuple(
        Setting(length_nm=l_nm, count=core.demand[i], names=names[l_nm], per_stick=tuple(per[i]))
        for i, l_nm in enumerate(core.lengths_nm)
    )
