"""What no piece may cover, whatever the brief lists as a thing to hide."""

from __future__ import annotations

from bossage.brief.records import Brief, Fixture, FixtureKind

REFUSED = {
    FixtureKind.SUPPLY_GRILLE: "a covered supply grille starves the room and overloads the fan",
    FixtureKind.RETURN_GRILLE: "a covered return starves the whole air system",
    FixtureKind.APPLIANCE: "a fuel-burning appliance needs its air and its clearances; covered, it can make carbon "
    "monoxide or start a fire",
}


def to_hide(brief: Brief) -> tuple[Fixture, ...]:
    """The fixtures that a piece may cover."""
    return tuple(fixture for fixture in brief.fixtures if fixture.kind not in REFUSED)


def to_leave_free(brief: Brief) -> tuple[Fixture, ...]:
    """The fixtures that it may not."""
    return tuple(fixture for fixture in brief.fixtures if fixture.kind in REFUSED)
