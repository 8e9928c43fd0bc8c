"""What must be sawn new, out of what lies in the shop: rests of the plan's sticks first, then what has to be bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from bossage.replan.records import FromStick, InShop, NewBlocks, Recut, Short, Standing
from bossage.saw import CutStick, Piece, SawJob, SawPlan, StickStock, plan_sticks

MM = 1_000_000


def new_blocks(standing: Standing, rests: Sequence[InShop], recuts: Sequence[Recut]) -> NewBlocks:
    """Fit new blocks into the sticks that are there, so that the least has to be bought.

    Args:
        standing: The plan's sections, its kerf, and the sticks that can be bought.
        rests: What lies in the shop now.
        recuts: What goes to the saw; only blocks off a stick are looked at.

    Leaves out:
        A grain or a colour that has to go with the blocks beside it.
    """
    wanted: dict[str, Counter[int]] = {}
    for one in recuts:
        if one.from_nm is None:
            wanted.setdefault(standing.sections[one.footprint], Counter())[one.to_nm] += one.count
    cuts: list[FromStick] = []
    short: list[Short] = []
    for section, lengths in wanted.items():
        here = [rest for rest in rests if rest.section == section]
        mine, missing = _fitted(standing, section, here, lengths)
        cuts += mine
        short += missing
    return NewBlocks(cuts=tuple(cuts), short=tuple(short))


def _fitted(
    standing: Standing, section: str, here: list[InShop], wanted: Counter[int]
) -> tuple[list[FromStick], list[Short]]:
    """One section: as much as finds room in the sticks of the shop, then as few sticks as can be for what is left."""
    # what finds no room costs its own length, so that the least is left over
    lone = [StickStock(name=f"#{nm}", length_nm=nm + standing.kerf_nm, price_cents=max(1, nm // MM)) for nm in wanted]
    owned = [replace(rest.stock, price_cents=0, owned=True) for rest in here]
    answer = _sawn(wanted, [*owned, *lone], standing.kerf_nm)
    # rests of equal length are one stock to the search; each is taken in its turn
    alike: dict[StickStock, list[InShop]] = {}
    for rest, stock in zip(here, owned, strict=True):
        alike.setdefault(stock, []).extend([rest] * (stock.count or 1))
    cuts = [
        FromStick(section=section, stick=_next(alike[stick.stock]), lengths=_lengths([stick]))
        for stick in answer.sticks
        if stick.stock in alike
    ]
    left = Counter(piece.length_nm for stick in answer.sticks if stick.stock not in alike for piece in stick.slices)
    if not left:
        return cuts, []
    stock = _to_buy(standing, section, max(left)).stock
    new = _sawn(left, [stock], standing.kerf_nm).sticks
    told = Short(
        section=section, lengths=_lengths(new), bought_as=stock.name, stick_nm=stock.length_nm, sticks=len(new)
    )
    return cuts, [told]


def _sawn(wanted: Counter[int], sticks: Sequence[StickStock], kerf_nm: int) -> SawPlan:
    pieces = tuple(Piece(length_nm=nm, count=n) for nm, n in sorted(wanted.items(), reverse=True))
    answer = plan_sticks(SawJob(pieces=pieces, sticks=tuple(sticks), kerf_nm=kerf_nm))
    assert isinstance(answer, SawPlan)  # among the sticks is one without end that has room for each
    return answer


def _next(queue: list[InShop]) -> InShop:
    return queue.pop(0) if len(queue) > 1 else queue[0]


def _to_buy(standing: Standing, section: str, longest_nm: int) -> InShop:
    """A stick of the section as the plan bought or found it, long enough for the longest block, without end."""
    known = [one for one in standing.sold if one.section == section]
    room = {one: one.stock.length_nm - one.stock.trim_nm - one.stock.stub_nm for one in known}
    first = next((one for one in known if room[one] >= longest_nm), max(known, key=lambda one: room[one]))
    length = max(first.stock.length_nm, longest_nm + first.stock.trim_nm + first.stock.stub_nm + standing.kerf_nm)
    stock = replace(first.stock, length_nm=length, price_cents=max(1, length // 1_000_000), count=None, owned=False)
    return replace(first, stock=replace(stock, no_go=()))


def _lengths(sticks: Sequence[CutStick]) -> tuple[tuple[int, int], ...]:
    """What is sawn from them, the longest first, each with how many."""
    found = Counter(piece.length_nm for stick in sticks for piece in stick.slices)
    return tuple(sorted(found.items(), reverse=True))
