"""What a change does to the checks: which one it heals, and which ones are worse with it."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum

from bossage.checks import Check, Verdict

RANK = {verdict: rank for rank, verdict in enumerate(Verdict)}
Ranks = dict[tuple[str, str], dict[str, list[int]]]  # by stage and name, then by subject, the heaviest first


class Effect(Enum):
    """What becomes of one check."""

    HEALED = "healed"  # fine, or there is nothing left to look at
    SOFTENED = "softened"  # a caution where it said stop
    NONE = "none"


def effect_on(check: Check, before: Iterable[Check], after: Iterable[Check]) -> Effect:
    """What becomes of a check.

    Where its subject is gone, as a leaf's name is after a split, those of its name that have come instead count.
    """
    was, now = _ranked(before), _ranked(after)
    subjects = now.get((check.stage, check.name), {})
    if check.subject in subjects:
        ranks = subjects[check.subject]
    else:
        known = was.get((check.stage, check.name), {})
        ranks = [rank for subject, ranks in subjects.items() if subject not in known for rank in ranks]
    most = max(ranks, default=0)
    if not most:
        return Effect.HEALED
    return Effect.SOFTENED if most < RANK[check.verdict] else Effect.NONE


def worse(before: Iterable[Check], after: Iterable[Check]) -> tuple[Check, ...]:
    """Checks that say caution where all was fine, or stop where none was said, in the order of the plan after.

    A check that was not there before was fine. One whose subject is new is held against the heaviest of its name whose
    subject is gone: a leaf that is parted in two may say twice what it said once.
    """
    after = tuple(after)
    was, now = _ranked(before), _ranked(after)
    found: set[tuple[str, str, str, int]] = set()
    for key, subjects in now.items():
        known = was.get(key, {})
        gone = max((ranks[0] for subject, ranks in known.items() if subject not in subjects), default=0)
        for subject, ranks in subjects.items():
            allowed = known.get(subject, [gone] * len(ranks))
            for place, rank in enumerate(ranks):
                if rank > (allowed[place] if place < len(allowed) else 0):
                    found.add((*key, subject, rank))
    return tuple(check for check in after if (check.stage, check.name, check.subject, RANK[check.verdict]) in found)


def _ranked(checks: Iterable[Check]) -> Ranks:
    out: Ranks = {}
    for check in checks:
        out.setdefault((check.stage, check.name), {}).setdefault(check.subject, []).append(RANK[check.verdict])
    for subjects in out.values():
        for ranks in subjects.values():
            ranks.sort(reverse=True)
    return out
