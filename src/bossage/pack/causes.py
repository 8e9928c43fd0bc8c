"""Checks that are not fine, told once each: those with one cause together, leaves alike once, what harms first.

Which checks have one cause is this project's own judgement.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from bossage.checks import Advice, Check, Verdict, in_order
from bossage.pack.words import full, listed
from bossage.plan import Plan
from bossage.stakes import Kind

_TOGETHER = {
    "Its weight": "mass_cap two_people lift lighter leaf_split mass_target",
    "What holds it": "load_path fixing_rating studs screw_spacing",
    "Bow": "cleat_bow bow",
    "The clamps": "clamp_reach clamp_opening clamps",
    "Rows that wander": "drift paint_build",
}
CAUSES = {name: cause for cause, names in _TOGETHER.items() for name in names.split()}
"""Cause by the name of a check; a check of no cause in here stands for itself."""

COUNTS = {2: "both", 3: "all three", 4: "all four", 5: "all five", 6: "all six"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One check, or several of leaves alike, with whom it is about in words."""

    check: Check
    of: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What has one cause: its worst verdict, what is at stake at the most, and what its checks say."""

    title: str
    verdict: Verdict
    kind: Kind
    said: tuple[Said, ...]


def told(plan: Plan, checks: Iterable[Check]) -> list[Told]:
    """Checks that are not fine, by cause, what harms first and taste last."""
    groups: dict[str, list[Check]] = {}
    for check in in_order(check for check in checks if check.verdict is not Verdict.FINE):
        groups.setdefault(CAUSES.get(check.name, f"{check.name} {check.title}"), []).append(check)
    found = []
    for cause, group in groups.items():
        said = tuple(_series(plan, group))
        alone = len(said) == 1
        title = f"{said[0].check.title}{f' ({said[0].of})' if said[0].of else ''}" if alone else cause
        if not alone and len({one.check.name for one in said}) == 1:
            title = said[0].check.title
        found.append(Told(title=title, verdict=group[0].verdict, kind=group[0].kind, said=said))
    return found


def found_words(one: Told) -> str:
    """What was found, check by check; each with its title where several stand together."""
    if len(one.said) == 1:
        return full(one.said[0].check.found)
    return " ".join(full(f"{_head(one, said)}: {said.check.found}") for said in one.said)


def care_words(one: Told, *, uncured: bool = False) -> str:
    """What to mind as it is built, each once; `uncured`: only of what no tried change heals."""
    shown = [said for said in one.said if not (uncured and said.check.advice is Advice.REMEDY)]
    cares = {said.check.care for said in shown if said.check.care}
    # of one check on several things, each of which asks for its own care
    apart = len(cares) > 1 and len({said.check.name for said in shown}) == 1
    return _once(f"{said.of}: {said.check.care}" if apart and said.of else said.check.care for said in shown)


def remedy_words(one: Told) -> str:
    """Changes that heal it, or questions, each once; a question that two checks ask, as the first asks it."""
    asked = {said.check.remedy.partition("?")[0]: said.check.remedy for said in reversed(one.said)}
    return _once(asked[said.check.remedy.partition("?")[0]] for said in one.said)


def _head(one: Told, said: Said) -> str:
    title = said.check.title if said.check.title != one.title else ""
    return f"{title} ({said.of})" if title and said.of else title or said.of


def _once(texts: Iterable[str]) -> str:
    return " ".join(dict.fromkeys(full(text) for text in texts if text))


def _series(plan: Plan, checks: list[Check]) -> Iterable[Said]:
    """Checks of one name that differ in their figures alone are one: those of leaves alike."""
    alike: dict[tuple[str, str, str], list[Check]] = {}
    for check in checks:
        alike.setdefault((check.name, check.verdict, _bare(check.found)), []).append(check)
    for same in alike.values():
        subjects = list(dict.fromkeys(check.subject for check in same if check.subject))
        of = _all_of(plan, subjects)
        if len({check.found for check in same}) > 1:
            of += f"; figures of {same[0].subject}"
        yield Said(check=same[0], of=of)


def _bare(text: str) -> str:
    """The words of a text without its figures, addresses and sides."""
    return re.sub(r"\d[\d·.,/-]*[a-z]?|\b(?:left|right|upper|lower)\b", "#", text)


def _all_of(plan: Plan, subjects: list[str]) -> str:
    """`all three leaves` where it is every leaf; a piece of one leaf needs no name."""
    leaves = list(dict.fromkeys(leaf.name for leaf in plan.layout.leaves))
    if subjects == leaves:
        return f"{COUNTS.get(len(leaves), f'all {len(leaves)}')} leaves" if len(leaves) > 1 else ""
    return listed(subjects)
