"""What the cuts leave: rests of sticks and boards, and stock of the brief that they do not touch."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Sequence
from dataclasses import replace
from typing import Any

from bossage.brief.records import Brief
from bossage.saw.board_cuts import board_stocks
from bossage.saw.boards.records import SheetOffcut, SheetStock
from bossage.saw.job.records import CutStick, StickStock
from bossage.saw.records import BoardCut, BoardLeft, SectionCut, StickLeft
from bossage.saw.section_cuts import stick_stocks


def sticks_left(brief: Brief, sections: tuple[SectionCut, ...]) -> tuple[StickLeft, ...]:
    """By section: rests of the sticks that are cut, sticks in the shop that are not, sticks that can be bought.

    Where a section's stock does not suffice, nothing is left of it but what can be bought without end.
    """
    cuts = {cut.section: cut for cut in sections}
    out: list[StickLeft] = []
    for name in dict.fromkeys(stick.name for stick in brief.sticks):
        cut = cuts.get(name)
        bought = cut.bought if cut else None
        out += [
            StickLeft(section=name, of_stick=stick.number, stock=rest_of(stick), priced=True)
            for stick in (bought.sticks if bought else ())
            if stick.offcut_nm > stick.stock.stub_nm
        ]
        short = cut is not None and bought is None
        stocks = stick_stocks(brief, name)
        left = _left_of([(stock, stock.count) for stock, _ in stocks], bought.sticks if bought else (), short)
        out += [
            StickLeft(section=name, of_stick=None, stock=replace(stock, count=count), priced=priced)
            for (stock, priced), count in zip(stocks, left, strict=True)
            if count != 0
        ]
    return tuple(sorted(out, key=lambda one: (one.section, one.of_stick is None, not one.stock.owned)))


def boards_left(brief: Brief, boards: tuple[BoardCut, ...]) -> tuple[BoardLeft, ...]:
    """Rests of boards and whole boards left, by material and thickness; only of boards that the brief names."""
    cuts = {(cut.material, cut.thickness_nm): cut for cut in boards}
    out: list[BoardLeft] = []
    for material, thickness in dict.fromkeys((s.material, s.thickness_nm) for s in brief.backer.sheets):
        cut = cuts.get((material, thickness))
        plan = cut.plan if cut else None
        for sheet in plan.sheets if plan else ():
            out += [
                BoardLeft(
                    material=material,
                    thickness_nm=thickness,
                    of_board=sheet.number,
                    stock=_rest_board(sheet.stock.name, rest),
                    priced=True,
                )
                for rest in sheet.offcuts
            ]
        stocks = board_stocks(brief, material, thickness)
        short = cut is not None and plan is None
        left = _left_of([(stock, stock.count) for stock, _ in stocks], plan.sheets if plan else (), short)
        out += [
            BoardLeft(
                material=material,
                thickness_nm=thickness,
                of_board=None,
                stock=replace(stock, count=count),
                priced=priced,
            )
            for (stock, priced), count in zip(stocks, left, strict=True)
            if count != 0
        ]
    return tuple(out)


def rest_of(stick: CutStick) -> StickStock:
    """What lies beyond the last slice of a stick as a stick of its own: squared by the last cut, the stub still in it.

    Parts to leave out are measured from where it begins.
    """
    begins = stick.stock.length_nm - stick.offcut_nm
    return StickStock(
        name=f"rest of {stick.stock.name}" if stick.stock.name else "rest",
        length_nm=stick.offcut_nm,
        price_cents=0,
        count=1,
        owned=True,
        stub_nm=stick.stock.stub_nm,
        no_go=tuple((max(0, low - begins), high - begins) for low, high in stick.stock.no_go if high > begins),
    )


def _left_of(stocks: Sequence[tuple[Hashable, int | None]], cut: Sequence[Any], short: bool) -> list[int | None]:
    """How many of each stock are left, None for no end; alike ones are used up in their order."""
    used = Counter(one.stock for one in cut)
    left: list[int | None] = []
    for stock, count in stocks:
        if count is None:
            left.append(None)
            continue
        taken = min(count, used[stock])
        used[stock] -= taken
        left.append(0 if short else count - taken)
    return left


def _rest_board(name: str, rest: SheetOffcut) -> SheetStock:
    return SheetStock(name=name, width_nm=rest.width_nm, length_nm=rest.length_nm, price_cents=0, count=1, owned=True)
