"""The stage: everything that is sawn, with what to check and what to heed."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.body import Body
from bossage.brief.records import Brief
from bossage.checks import Check
from bossage.fade.records import Fade
from bossage.saw.board_cuts import cut_boards, cut_lengths
from bossage.saw.cautions import saw_cautions
from bossage.saw.checks import board_checks, section_checks
from bossage.saw.job.records import SawPlan
from bossage.saw.left import boards_left, sticks_left
from bossage.saw.parts import allot_parts
from bossage.saw.records import BoardCut, Saw, SectionCut
from bossage.saw.section_cuts import cut_sections
from bossage.saw.works import bevel_rips, notches_of, openings_of


def plan_saw(brief: Brief, body: Body, fade: Fade) -> Saw:
    """Cut blocks from sticks, and every part of the body that is not bought from boards or from sticks.

    Args:
        brief: Stock, prices, kerf, trim, stub, spares.
        body: Its parts, each of which is sawn once.
        fade: The count table, with lengths as sawn.

    Returns:
        One cut plan a section, board and length, each with its bound; and what is sawn on parts beyond straight cuts.
    """
    parts = allot_parts(brief, body.parts)
    sections = cut_sections(brief, fade.count_table, parts.by_section)
    boards = cut_boards(brief, parts.from_boards)
    lengths = cut_lengths(brief, parts.bought)
    bevels, openings, notches = bevel_rips(brief, body.parts), openings_of(body.parts), notches_of(body.parts)
    return Saw(
        sections=sections,
        boards=boards,
        lengths=lengths,
        bevels=bevels,
        openings=openings,
        notches=notches,
        sticks_left=sticks_left(brief, sections),
        boards_left=boards_left(brief, boards),
        minutes=sum(_minutes(cut.bought) for cut in sections) + sum(_minutes(cut.plan) for cut in lengths),
        cautions=saw_cautions(
            brief,
            bevels=bool(bevels),
            cut_outs=bool(openings or notches),
            strips=any(board.strips for board in boards),
        ),
        checks=tuple(_checks(brief, sections, boards)),
    )


def _checks(brief: Brief, sections: tuple[SectionCut, ...], boards: tuple[BoardCut, ...]) -> Iterator[Check]:
    for cut in sections:
        yield from section_checks(brief, cut)
    for board in boards:
        yield from board_checks(brief, board)


def _minutes(plan: SawPlan | None) -> float:
    return plan.handling.minutes if plan else 0.0
