"""What to say of the cuts: stock that falls short, plans with no slack, slices too thin, sections that differ."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.saw.boards.records import SheetShortfall
from bossage.saw.job.records import Cure, SawPlan, Shortfall
from bossage.saw.records import BoardCut, SectionCut
from bossage.saw.short_parts import HELD_HANDS
from bossage.units import format_length, format_size

THINNEST_NM = 10_000_000
THINNEST_SHARE = 8  # of the face's width: a slice is at least an eighth as thick


def section_checks(brief: Brief, cut: SectionCut) -> Iterator[Check]:
    """All checks of one section of stock."""
    if cut.shortfall is not None:
        yield _too_little(brief, cut, cut.shortfall)
    if cut.plan is not None:
        if cut.plan.savings:
            yield _short_stock(brief, cut, cut.plan, cut.plan.savings[0])
        if cut.plan.tight:
            yield _no_slack(brief, cut, cut.plan)
    if brief.tools.capacity_nm is not None:
        yield _capacity(brief, cut, brief.tools.capacity_nm)
    yield from _differs(brief, cut)
    yield from _thin(brief, cut)


def board_checks(brief: Brief, cut: BoardCut) -> Iterator[Check]:
    """All checks of one board material."""
    if cut.unheld:
        yield _unheld(brief, cut)
    if cut.shortfall is None:
        return
    unit, short = brief.piece.unit, cut.shortfall
    panels = short.too_big or short.missing
    listed = [f"{p.count} × {p.name} {format_size(p.width_nm, p.length_nm, unit)}" for p in panels]
    yield Check(
        stage="saw",
        name="board_too_small",
        title="Boards do not suffice",
        subject=panels[0].name,
        verdict=Verdict.STOP,
        found=f"No board has room for {', '.join(listed)}.",
        allowed="Every part out of the boards named, edge trims and kerf off, along the grain where it matters.",
        why="A part that is longer than its board cannot be cut.",
        remedy=board_cure_words(
            brief, short, "split the piece into leaves" if any(p.name == "backer" for p in panels) else ""
        ),
        source="Geometry.",
    )


def _unheld(brief: Brief, cut: BoardCut) -> Check:
    unit, least = brief.piece.unit, HELD_HANDS * brief.tools.hold_nm
    named = [s for s in brief.backer.sheets if (s.material, s.thickness_nm) == (cut.material, cut.thickness_nm)]
    return Check(
        stage="saw",
        name="short_parts",
        title="Short parts with nothing to hold them by",
        subject=cut.unheld[0],
        verdict=Verdict.CAUTION,
        found=f"{len(cut.unheld)} × {', '.join(dict.fromkeys(cut.unheld))}, shorter than {format_length(least, unit)}; "
        f"the {'boards leave' if named else 'board leaves'} no strip that they could be cut from.",
        allowed=f"A piece that passes a blade is {format_length(least, unit)} long or longer: hands keep "
        f"{format_length(brief.tools.hold_nm, unit)} before the blade and behind it.",
        why="A short piece turns at the blade and is thrown, and takes the hand with it.",
        remedy="saw these last, by hand, in a vice; or name another board of this thickness",
        source="Common practice, no source.",
    )


def board_cure_words(brief: Brief, short: SheetShortfall, otherwise: str = "") -> str:
    """The cheapest way out of a shortfall of boards, and what else would do."""
    cure = short.cure
    assert cure is not None
    size = format_size(cure.sheet.width_nm, cure.sheet.length_nm, brief.piece.unit)
    or_else = f", or {otherwise}" if otherwise else ""
    if cure.larger:
        return f"name a board of at least {size}{or_else}"
    return f"buy {count_words(cure.count)} more {'board' if cure.count == 1 else 'boards'} of {size}{or_else}"


def _too_little(brief: Brief, cut: SectionCut, short: Shortfall) -> Check:
    unit = brief.piece.unit
    return Check(
        stage="saw",
        name="stock_missing",
        title="Not enough stock",
        subject=cut.section,
        verdict=Verdict.STOP,
        found=f"Slices and kerfs take {format_length(short.need_nm, unit)}; {format_length(short.short_nm, unit)} of "
        "them find no stick.",
        allowed=f"The sticks named hold {format_length(short.usable_nm, unit)} beyond trim and stub.",
        why="A job that runs out of stock half way ends with a second batch that does not match.",
        remedy=", or ".join(cure_words(brief, cure) for cure in short.cures) or "add a stick",
        source="Arithmetic in whole nanometres.",
    )


def _short_stock(brief: Brief, cut: SectionCut, plan: SawPlan, cure: Cure) -> Check:
    unit = brief.piece.unit
    short = plan.short_for_one_fewer_nm or 0
    return Check(
        stage="saw",
        name="short_stock",
        title="One stick for a few slices",
        subject=cut.section,
        verdict=Verdict.CAUTION,
        found=f"The slices are {format_length(short, unit)} too long in all for one stick fewer.",
        allowed="A stick bought for more than a slice or two.",
        why="The last stick is hardly touched.",
        care="Keep the rest of that stick if you buy it.",
        remedy=cure_words(brief, cure),
        source="Arithmetic in whole nanometres.",
    )


def cure_words(brief: Brief, cure: Cure) -> str:
    """A way out of a shortfall of sticks, or a saving, as something to do."""
    unit = brief.piece.unit
    if cure.drop:
        which = " and ".join(
            f"{count_words(count)} spare{'s' * (count > 1)} less of {format_length(n, unit)}" for n, count in cure.drop
        )
        sticks = "a stick" if cure.frees == 1 else f"{cure.frees} sticks"
        saved = f" and saves {sticks} of the blocks" if cure.frees else ""
        return f"cut {which}; that frees {format_length(cure.saves_nm, unit)}{saved}"
    if cure.buy_nm is not None:
        return f"buy one more length of {format_length(cure.buy_nm, unit)}, trim and stub counted"
    return "add a stick"


def count_words(count: int) -> str:
    """`one`, `two`, `three`; larger numbers in figures."""
    return {1: "one", 2: "two", 3: "three"}.get(count, str(count))


def _capacity(brief: Brief, cut: SectionCut, capacity_nm: tuple[int, int]) -> Check:
    """Whether the saw cuts through the section as it lies, or turned a quarter."""
    unit = brief.piece.unit
    section = (cut.section_width_nm, cut.section_height_nm)
    fits = any(one[0] <= capacity_nm[0] and one[1] <= capacity_nm[1] for one in (section, section[::-1]))
    best = min(
        (section, section[::-1]), key=lambda one: max(one[0] - capacity_nm[0], 0) + max(one[1] - capacity_nm[1], 0)
    )
    over = [
        f"{format_length(size - most, unit)} too {what}"
        for size, most, what in zip(best, capacity_nm, ("wide", "high"), strict=True)
        if size > most
    ]
    return Check(
        stage="saw",
        name="saw_capacity",
        title="A section that the saw cuts",
        subject=cut.section,
        verdict=Verdict.FINE if fits else Verdict.STOP,
        found=f"The sticks measure {format_size(*section, unit)}"
        + (f": {' and '.join(over)}, turned the better way." if over else "."),
        allowed=f"At most {format_size(*capacity_nm, unit)} (width × height) in one cut.",
        why="A stick that has to be turned for a second cut is held twice, and the two cuts never quite meet.",
        care="Never roll a stick under the blade.",
        remedy="rip the sticks to a smaller section and change the footprint, or have them sliced on a larger saw",
        source="The saw's own manual, as the brief gives it.",
    )


def _no_slack(brief: Brief, cut: SectionCut, plan: SawPlan) -> Check:
    unit = brief.piece.unit
    advised = len(plan.advised.sticks)
    greedy = "" if plan.greedy is None else f" Filling each stick as it comes takes {plan.greedy.sticks}."
    return Check(
        stage="saw",
        name="greedy",
        title="A cutting plan without slack",
        subject=cut.section,
        verdict=Verdict.CAUTION,
        found=f"{len(plan.sticks)} sticks are {'proven best' if plan.proven else 'the best found'}, with "
        f"{format_length(plan.slack_nm, unit)} of slack in all.{greedy}",
        allowed="Enough slack that one knot or one spoiled slice does not break the plan.",
        why="A plan that uses every millimetre ends a slice short at the first fault in the wood.",
        care=f"{_to_get(plan.advised)}; the saw sheet shows the cuts for {advised}.",
        remedy="",
        source="This project's own rule.",
    )


def _to_get(plan: SawPlan) -> str:
    """What must be bought for a plan, and what is there."""
    bought = sum(not stick.stock.owned for stick in plan.sticks)
    if bought == len(plan.sticks):
        return f"Buy {bought} sticks"
    if not bought:
        return f"Take {len(plan.sticks)} of the sticks in the shop"
    return f"Take {len(plan.sticks)} sticks, of which {bought} {'is' if bought == 1 else 'are'} to be bought"


def _differs(brief: Brief, cut: SectionCut) -> Iterator[Check]:
    unit = brief.piece.unit
    thin, wide = sorted((cut.section_width_nm, cut.section_height_nm))
    for footprint in brief.blocks.footprints:
        if footprint.section != cut.section or sorted((footprint.width_nm, footprint.height_nm)) == [thin, wide]:
            continue
        yield Check(
            stage="saw",
            name="section_differs",
            title="Stock and footprint differ",
            subject=footprint.name,
            verdict=Verdict.STOP,
            found=f"The sticks measure {format_size(thin, wide, unit)}, the blocks are to be "
            f"{format_size(footprint.width_nm, footprint.height_nm, unit)}.",
            allowed="A slice has the section of its stick: both sizes must agree.",
            why="Blocks a little over size push the last row off the backer.",
            remedy="Square the sticks to the footprint and give the size they then measure, or change the footprint.",
            source="Geometry.",
        )


def thinnest_nm(cut: SectionCut) -> int:
    """How thick a slice of a section should be at least."""
    return max(THINNEST_NM, max(cut.section_width_nm, cut.section_height_nm) // THINNEST_SHARE)


def _thin(brief: Brief, cut: SectionCut) -> Iterator[Check]:
    unit = brief.piece.unit
    wanted = thinnest_nm(cut)
    thinnest = min((row.length_nm for row in cut.rows if row.blocks), default=wanted)
    if thinnest >= wanted:
        return
    yield Check(
        stage="saw",
        name="thin_slice",
        title="Very thin slices",
        subject=cut.section,
        verdict=Verdict.CAUTION,
        found=f"The thinnest slice is {format_length(thinnest, unit)}.",
        allowed=f"At least {format_length(wanted, unit)} for a face this wide.",
        why="Thin end-grain slices crack and break at the saw and under the clamp.",
        remedy=f"Raise the lowest level to {format_length(wanted, unit)}.",
        source="This project's own assumption, after end-grain floor practice.",
    )
