"""Whether each fixture has a place of its own on the wall."""

from __future__ import annotations

from itertools import combinations

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.layout.cover import copies_of
from bossage.layout.grid import fixture_rect
from bossage.layout.words import Voice


def check_apart(brief: Brief, voice: Voice) -> tuple[Check, ...]:
    """`fixtures_apart` for each two fixtures of one copy that lie on one another; a fine one if none do."""
    checks = []
    for one, other in combinations(brief.fixtures, 2):
        if not set(copies_of(brief, one)) & set(copies_of(brief, other)):
            continue
        first, second = fixture_rect(one), fixture_rect(other)
        across = min(first.right, second.right) - max(first.x, second.x)
        up = min(first.top, second.top) - max(first.y, second.y)
        if across > 0 and up > 0:
            shared = f"share {voice.say(across)} × {voice.say(up)} of the wall"
            checks.append(_check(voice, Verdict.CAUTION, f"{one.name} and {other.name}", shared))
    if not checks and len(brief.fixtures) > 1:
        checks.append(_check(voice, Verdict.FINE, "", "each has a place of its own"))
    return tuple(checks)


def _check(voice: Voice, verdict: Verdict, subject: str, found: str) -> Check:
    return voice.check(
        "fixtures_apart",
        "Fixtures beside one another",
        verdict,
        found=f"{subject} {found}".strip(),
        allowed="no two of them in one place",
        why="one of them is measured wrong, or both are one thing; cover, air and doors are reckoned for each alone",
        care="measure both again from the same corner and from the floor",
        remedy=f"Are {subject} measured from the same corner, or are they one thing?",
        source="geometry",
        subject=subject,
    )
