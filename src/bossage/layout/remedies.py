"""The smallest changes that heal, told as checks: a better place, a lighter piece, a split into leaves.

Each carries its change as edits of the brief, so that a program can offer to make it.
"""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.handling import ONE_PERSON_G
from bossage.layout.grid import plan_grid
from bossage.layout.rough import leaf_size, rough_mass_g
from bossage.layout.split import smallest_split
from bossage.layout.suggest import (
    Change,
    NoHeal,
    smallest_lightening,
    smallest_move,
    smallest_resize,
    troubles,
)
from bossage.layout.words import Voice
from bossage.units import format_mass


def check_remedies(brief: Brief, voice: Voice) -> tuple[Check, ...]:
    """`place`, and `lighter` and `leaf_split` where a leaf is heavy or large and something helps."""
    return (_check_place(brief, voice), *_check_lighter(brief, voice), *_check_split(brief, voice))


def _check_place(brief: Brief, voice: Voice) -> Check:
    """Whether the place is sound, and the shortest way to one that is; a resize where no move does it."""
    amiss = troubles(brief)
    change: Change | NoHeal | None = None
    if amiss:
        change = smallest_move(brief)
        if isinstance(change, NoHeal):
            resize = smallest_resize(brief)
            change = resize if isinstance(resize, Change) else change
    return voice.check(
        "place",
        "A place that suits everything",
        Verdict.CAUTION if amiss else Verdict.FINE,
        found=f"wanted is a place that {_and(list(amiss.values()))}" if amiss else "the place does all of this",
        allowed="on the wall, clear of what stands in the way, the cover margin all round, two studs where screws hold",
        why="a move costs nothing before the first hole is drilled",
        remedy=_words(change),
        source="the least |left or right| + |up or down| of all places, by search; the rules are those of the checks",
        edits=change.edits if isinstance(change, Change) else (),
    )


def _check_lighter(brief: Brief, voice: Voice) -> tuple[Check, ...]:
    """`lighter`: fewer columns and rows with which one person can lift a leaf, or the mass cap is kept."""
    grid = plan_grid(brief)
    mass = rough_mass_g(brief, leaf_size(brief, grid.columns, grid.rows))
    cap = brief.piece.mass_cap_g
    most = cap if cap is not None and mass > cap else ONE_PERSON_G
    if mass <= most:
        return ()
    change = smallest_lightening(brief, most)
    if isinstance(change, NoHeal):
        return ()
    unit = brief.piece.unit
    return (
        voice.check(
            "lighter",
            "A lighter piece",
            Verdict.CAUTION,
            found=f"a leaf of {grid.columns} × {grid.rows} weighs about {format_mass(mass, unit)}",
            allowed=f"{format_mass(most, unit)}" + (" as the brief asks" if most == cap else " for one person"),
            why="what is left off need not be lifted",
            remedy=change.text,
            source="estimate by the mean level; 15 kg for one person is our assumption, no source; the rules for "
            "lifting where you work govern",
            edits=change.edits,
        ),
    )


def _check_split(brief: Brief, voice: Voice) -> tuple[Check, ...]:
    """`leaf_split`: the concrete split of a leaf that is too wide, too heavy or on no board."""
    split = smallest_split(brief)
    if split is None:
        return ()
    healed = not isinstance(split, NoHeal)
    return (
        voice.check(
            "leaf_split",
            "Too much for one leaf",
            Verdict.CAUTION,
            found=f"a leaf is {_and(list(split.reasons))}" if not isinstance(split, NoHeal) else split.reason,
            allowed="leaves of at most 900 mm and 18 kg (or the brief's cap) that a board gives",
            why="a wide flat piece is hard to carry, to hang and to keep flat",
            remedy=f"{split.text}{_but(split.gives_up)}" if not isinstance(split, NoHeal) else split.remedy,
            source="900 mm and 18 kg: common practice, no source; the rules for lifting where you work govern",
            edits=split.edits if healed and not isinstance(split, NoHeal) else (),
        ),
    )


def _words(change: Change | NoHeal | None) -> str:
    if change is None:
        return ""
    return change.text if isinstance(change, Change) else f"{change.reason}; {change.remedy}"


def _but(given: tuple[str, ...]) -> str:
    return f"; against it: {'; '.join(given)}" if given else ""


def _and(words: list[str]) -> str:
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"
