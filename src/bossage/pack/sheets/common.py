"""What several sheets need: the room on the paper, cautions of a step, groups of equal things."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bossage.body import Part, Role
from bossage.checks import Check, Verdict
from bossage.drawing.metrics import text_width
from bossage.hang.records import LeafHang
from bossage.pack.causes import care_words, found_words, remedy_words, told
from bossage.pack.sheet import Care
from bossage.pack.words import Words, count_of, full, listed
from bossage.plan import Plan

PAPER_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
BODY_MM, LINE_MM = 11 * 25.4 / 72, 4.55  # size of the type; from line to line
LEFT_MM, RIGHT_MM, TOP_MM, FOOT_MM, HEAD_MM = 17.0, 11.0, 11.0, 29.0, 20.0  # as templates/sheet.typ sets them


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What a page has for its parts, under the head and over the foot."""

    width_mm: float
    height_mm: float


def room(plan: Plan, *, landscape: bool = False) -> Room:
    """Room on the piece's paper."""
    width, height = PAPER_MM[plan.brief.piece.paper]
    if landscape:
        width, height = height, width
    head_mm = HEAD_MM - (5.0 if landscape else 0.0)  # what to do fits on one line there
    return Room(width_mm=width - LEFT_MM - RIGHT_MM, height_mm=height - TOP_MM - FOOT_MM - head_mm)


def lines_n(text: str, width_mm: float) -> int:
    """How many lines of body type a text takes in a column."""
    count, at_mm = 1, 0.0
    for word in text.split():
        wide_mm = text_width(word + " ") * BODY_MM
        if at_mm and at_mm + wide_mm > width_mm:
            count, at_mm = count + 1, 0.0
        at_mm += wide_mm
    return count


def words_of(plan: Plan) -> Words:
    """Writers in the piece's unit and currency."""
    return Words(unit=plan.brief.piece.unit.value, currency=plan.brief.piece.currency)


def part_of(plan: Plan, hung: LeafHang, *roles: Role) -> Part | None:
    """The first part of a leaf with one of these roles, in their order."""
    parts = plan.body.of(hung.leaf, hung.copy)
    return next((part for role in roles for part in parts if part.role is role), None)


def cares(plan: Plan, *steps: str) -> tuple[Care, ...]:
    """The plan's cautions of some steps of the work, each once."""
    found = dict.fromkeys((caution.step, caution.text) for caution in plan.cautions if caution.step in steps)
    return tuple(_care(text) for _, text in found)


def checks_of(plan: Plan, *stages: str) -> tuple[Check, ...]:
    """Checks of some stages that are not fine."""
    return tuple(c for c in plan.checks if c.stage in stages and c.verdict is not Verdict.FINE)


def coats_words(plan: Plan) -> str:
    """How many coats of what the blocks get: `2 coats of colour over primer`, `1 to 3 coats of oil on bare wood`."""
    asked, stains = plan.brief.paint, plan.paint.stains
    clear = {one.family for one in stains}
    told = []
    if any(family.name not in clear for family in plan.brief.families):
        under = " over primer" if asked.primer_coats else ""
        told.append(f"{count_of(asked.coats, 'coat')} of colour{under}")
    for finish in dict.fromkeys(one.finish for one in stains):
        coats = sorted({shade.coats for one in stains if one.finish == finish for shade in one.shades})
        many = count_of(coats[-1], "coat") if len(coats) == 1 else f"{coats[0]} to {count_of(coats[-1], 'coat')}"
        told.append(f"{many} of {finish} on bare wood")
    if asked.topcoat:
        told.append(f"{count_of(asked.topcoat_coats, 'coat')} of {asked.topcoat}")
    return listed(told)


def all_clear(plan: Plan) -> bool:
    """Whether every family is stained, oiled or waxed: no paint in the whole piece."""
    return len(plan.paint.stains) == len(plan.brief.families)


def check_cares(plan: Plan, checks: Iterable[Check]) -> tuple[Care, ...]:
    """What must not be missed at a station, from its checks: what to mind, one caution a cause.

    What was found and what would change it is decided before anything is bought, and stands on the first page; only
    what stops is said in full here too.
    """
    made = []
    for one in told(plan, checks):
        stops = one.verdict is Verdict.STOP
        text = (
            " ".join(filter(None, (found_words(one), care_words(one), remedy_words(one)))) if stops else care_words(one)
        )
        if text:
            made.append(Care(title=f"{one.verdict.value.capitalize()}: {one.title}.", text=text))
    return tuple(made)


def advice_words(check: Check) -> str:
    """What to mind, and the remedy or the question, as sentences."""
    return " ".join(full(text) for text in (check.care, check.remedy) if text)


def _care(text: str) -> Care:
    """The first sentence stands in bold, the rest under it."""
    head, stop, rest = text.partition(". ")
    return Care(title=head + ("." if stop else ""), text=rest)
