"""What to say of the cuts: stock that falls short, plans with no slack, slices too thin, sections that differ."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.saw.records import Cure, SawPlan, Shortfall
from bossage.saw.shop_records import BoardCut, SectionCut
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
    yield from _differs(brief, cut)
    yield from _thin(brief, cut)


def board_checks(brief: Brief, cut: BoardCut) -> Iterator[Check]:
    """All checks of one board material."""
    if cut.shortfall is None:
        return
    unit = brief.piece.unit
    panel = (*cut.shortfall.too_big, *cut.shortfall.missing)[0]
    yield Check(
        stage="saw",
        name="board_too_small",
        title="Boards do not suffice",
        subject=panel.name,
        verdict=Verdict.STOP,
        found=f"A {panel.name} of {format_size(panel.width_nm, panel.length_nm, unit)} finds no place.",
        allowed="Every part out of the boards named, edge trims and kerf off.",
        why="A part that is longer than its board cannot be cut.",
        remedy="Name a larger board, allow one more, or split the piece into leaves.",
        source="Geometry.",
    )


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
        remedy=" Or: ".join(_cure_words(brief, cure) for cure in short.cures) or "Add a stick.",
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
        remedy=f"{_cure_words(brief, cure)} Or buy the stick and keep the rest.",
        source="Arithmetic in whole nanometres.",
    )


def _cure_words(brief: Brief, cure: Cure) -> str:
    unit = brief.piece.unit
    if cure.drop:
        which = " and ".join(f"{count} spare{'s' * (count > 1)} of {format_length(n, unit)}" for n, count in cure.drop)
        saves = f"{format_length(cure.saves_nm, unit)} less"
        freed = f", which saves {cure.frees} stick{'s' * (cure.frees > 1)}" if cure.frees else ""
        return f"Leave out {which}: {saves}{freed}."
    if cure.buy_nm is not None:
        return f"Add one length of at least {format_length(cure.buy_nm, unit)}."
    return "Add a stick."


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
        remedy=f"Buy {advised} sticks; the saw sheet shows the cuts for {advised}.",
        source="This project's own rule.",
    )


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


def _thin(brief: Brief, cut: SectionCut) -> Iterator[Check]:
    unit = brief.piece.unit
    widest = max(cut.section_width_nm, cut.section_height_nm)
    wanted = max(THINNEST_NM, widest // THINNEST_SHARE)
    thinnest = min(row.length_nm for row in cut.rows)
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
