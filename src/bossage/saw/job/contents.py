"""What lies in which stick, in whole numbers; and what is compared where two plans cost the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bossage.saw.job.numbers import Bin, Core


@dataclass(slots=True)
class Filled:
    """Contents by stick: which bin, and for each span how many of each type."""

    bins: list[int]
    spans: list[list[list[int]]]

    def kinds(self) -> int:
        """Σ over sticks of distinct lengths."""
        return sum(len({i for span in stick for i, n in enumerate(span) if n}) for stick in self.spans)


def drop_empty(filled: Filled) -> Filled:
    """Without sticks that nothing is cut from."""
    keep = [k for k, stick in enumerate(filled.spans) if any(any(span) for span in stick)]
    return Filled(bins=[filled.bins[k] for k in keep], spans=[filled.spans[k] for k in keep])


def paid(bins: Sequence[Bin], filled: Filled) -> int:
    """Price of the sticks that are cut."""
    return sum(bins[b].price for b, s in zip(filled.bins, filled.spans, strict=True) if any(any(x) for x in s))


def rank(core: Core, filled: Filled) -> tuple[int, int, int]:
    """What is compared at equal money: Σ(k−1) over sticks of k lengths, sticks, and the longest rest (negative)."""
    used = [k for k, stick in enumerate(filled.spans) if any(any(span) for span in stick)]
    longest = max((rest_nm(core, filled.bins[k], filled.spans[k]) for k in used), default=0)
    return filled.kinds() - len(used), len(used), -longest


def rest_nm(core: Core, b: int, spans: list[list[int]]) -> int:
    """What stays in one length after the last cut, the stub in it."""
    last = max(k for k, span in enumerate(spans) if any(span))
    used = sum(w * n for w, n in zip(core.widths, spans[last], strict=True))
    return core.bins[b].length_nm - core.bins[b].starts_nm[last] - core.unit_nm * used


def fewest_kinds(core: Core) -> int:
    """Lower bound for Σ over sticks of distinct lengths: each length needs so many sticks, if it had them alone."""
    out = 0
    for w, d in zip(core.widths, core.demand, strict=True):
        most = max((sum(cap // w for cap in b.caps) for b in core.bins), default=0)
        out += -(-d // most) if most else 0
    return out
