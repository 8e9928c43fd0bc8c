"""What is advised, decided in one place: a remedy that was planned again and heals, or a question.

Papers, command line and screen all print the checks of the plan that comes out of here.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from itertools import islice

from bossage.checks import Advice, Check, Verdict, asked
from bossage.plan import Memory, Plan
from bossage.remedies.finders import ways
from bossage.remedies.price import price_of, price_words
from bossage.remedies.trying import Trials, Tried
from bossage.remedies.way import Way
from bossage.remedies.weigh import RANK, Effect

TRIES_EACH = 7  # ways for one check


def advised(
    text: str,
    plan: Plan,
    *,
    memory: Memory | None = None,
    tries: int | None = None,
    names: Collection[str] | None = None,
) -> Plan:
    """The plan, with advice in its checks that was tried.

    Args:
        text: The brief that the plan was made from.
        plan: The plan as `make_plan` gives it, all advice a question.
        memory: Where the results of its stages are.
        tries: How many whole plans may be made; by the size of the piece if not said.
        names: Checks that are looked at; all if not said.

    Returns:
        The same plan but for its checks. Each that is not fine has a remedy, if one was found: after it the check is
        fine or gone (or says caution where it said stop, and the remedy says so), and no check is worse. Where all that
        would heal it makes another one worse, that is the question. Else the question stays as its stage put it.
    """
    trials = Trials(text, plan, memory=memory, tries=tries)
    found: list[Check] = []
    remedies: list[tuple[Way, Plan, Tried]] = []
    for check in plan.checks:
        wanted = check.verdict is not Verdict.FINE and (names is None or check.name in names)
        found.append(_advised(trials, check, remedies) if wanted else check)
    return replace(plan, checks=tuple(found))


@dataclass(slots=True)
class _Best:
    """The best that was found for one check so far, short of a remedy."""

    softens: tuple[Way, Plan] | None = None
    breaks: tuple[Way, Tried, Effect] | None = None
    idle: Way | None = None  # what its stage thought of, and it does not heal


def _advised(trials: Trials, check: Check, remedies: list[tuple[Way, Plan, Tried]]) -> Check:
    best = _Best()
    for way in islice(ways(trials.before, check), TRIES_EACH):
        tried = trials.attempt(way, check)
        if tried is None:
            break
        effect = trials.effect(tried, check)
        if tried.plan is not None and way.saves and price_of(trials.before, tried.plan).materials_cents >= 0:
            continue
        if tried.plan is not None and effect is Effect.HEALED:
            remedies.append((way, tried.plan, tried))
            return _remedy(trials.before, check, way, tried.plan)
        _note(best, way, tried, effect, own=way.edits == check.edits)
    for way, plan, tried in remedies:  # what heals another check may heal this one as well
        if trials.effect(tried, check) is Effect.HEALED:
            return _remedy(trials.before, check, way, plan)
    if best.softens is not None:
        return _remedy(trials.before, check, *best.softens, left=" A caution stays.")
    return _question(check, best)


def _note(best: _Best, way: Way, tried: Tried, effect: Effect, *, own: bool) -> None:
    """Keep the first that softens, and of what makes another check worse the mildest that heals this one."""
    if tried.plan is not None and effect is Effect.SOFTENED:
        best.softens = best.softens or (way, tried.plan)
    elif tried.worse:
        if best.breaks is None or _harm(tried, effect) < _harm(*best.breaks[1:]):
            best.breaks = (way, tried, effect)
    elif own and tried.checks:
        best.idle = way


def _harm(tried: Tried, effect: Effect) -> tuple[bool, int, int]:
    """How much stands against a change: that it may not even heal, the heaviest verdict, how many are worse."""
    return effect is Effect.NONE, max(RANK[check.verdict] for check in tried.worse), len(tried.worse)


def _remedy(before: Plan, check: Check, way: Way, after: Plan, left: str = "") -> Check:
    price, piece = price_of(before, after), before.brief.piece
    words = f"{way.words}. {price_words(price, piece.unit.value, piece.currency)}{left}"
    return replace(check, remedy=words, edits=way.edits, advice=Advice.REMEDY, price=price)


def _question(check: Check, best: _Best) -> Check:
    if best.breaks is not None:
        way, tried, effect = best.breaks
        first = tried.worse[0]
        then = "Then" if effect is Effect.NONE else "It heals this, but then"
        words = f"{asked(way.words)} {then} “{first.title}” says {first.verdict.value}."
        return replace(check, remedy=words, edits=way.edits, advice=Advice.QUESTION)
    if best.idle is not None:
        words = f"What else could be changed? To {best.idle.words[:1].lower()}{best.idle.words[1:]} does not heal this."
        return replace(check, remedy=words, edits=(), advice=Advice.QUESTION)
    return replace(check, edits=())
