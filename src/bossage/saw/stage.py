"""The stage: everything that is sawn, with what to check and what to heed."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief
from bossage.checks import Check
from bossage.fade.records import Fade
from bossage.layout.records import Layout
from bossage.saw.boards import cut_boards, cut_lengths
from bossage.saw.cautions import saw_cautions
from bossage.saw.records import SawPlan
from bossage.saw.sections import cut_sections
from bossage.saw.shop_checks import board_checks, section_checks
from bossage.saw.shop_records import BoardCut, Saw, SectionCut


def plan_saw(brief: Brief, layout: Layout, fade: Fade) -> Saw:
    """Cut all blocks from sticks, and backers, strips, cleats, ribs and lipping from boards and lengths.

    Args:
        brief: Stock, prices, kerf, trim, stub, spares.
        layout: Sizes of backers and strips.
        fade: The count table, with lengths as sawn.

    Returns:
        One cut plan a section, board and length, each with its bound.
    """
    sections = cut_sections(brief, fade.count_table)
    boards = cut_boards(brief, layout)
    lengths = cut_lengths(brief, layout)
    return Saw(
        sections=sections,
        boards=boards,
        lengths=lengths,
        minutes=sum(_minutes(cut.bought) for cut in sections) + sum(_minutes(cut.plan) for cut in lengths),
        cautions=saw_cautions(brief),
        checks=tuple(_checks(brief, sections, boards)),
    )


def _checks(brief: Brief, sections: tuple[SectionCut, ...], boards: tuple[BoardCut, ...]) -> Iterator[Check]:
    for cut in sections:
        yield from section_checks(brief, cut)
    for board in boards:
        yield from board_checks(brief, board)


def _minutes(plan: SawPlan | None) -> float:
    return plan.handling.minutes if plan else 0.0
