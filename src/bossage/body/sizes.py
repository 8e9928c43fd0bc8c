"""Sizes to choose from in which everything behind the blocks has its place."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from bossage.body.wants import fewest_studs, lacking, strips_to_try, with_strip
from bossage.brief.records import Brief
from bossage.layout import Candidate, candidate_sizes, own_size
from bossage.layout.edits import with_size
from bossage.layout.grid import plan_grid
from bossage.layout.sizes import leaf_places
from bossage.layout.sizes_rules import STUDS_COUNTED, STUDS_LEAST, rule_words, wants_studs
from bossage.units import NM_PER_MM

Places = tuple[tuple[int, int], ...]

LEAST_STRIP_NM = 60 * NM_PER_MM
"""Lower halves of a cleat bend between two fixings under most pieces: what wants such is the last resort. Ours."""


def sizes_to_choose(brief: Brief) -> tuple[Candidate, ...]:
    """The sizes of `layout.candidate_sizes` that can be built: all that no other size that can be built beats.

    Each with the studs that its cleat really meets. Where none can be built, all of them, each with what is wrong with
    it as the first that it gives up.
    """
    for least_nm in (LEAST_STRIP_NM, 0):
        found = candidate_sizes(brief, built=partial(_built, brief, least_nm=least_nm))
        if found:
            return found
    return tuple(_told(brief, c, leaf_places(brief, c), c.gives_up) for c in candidate_sizes(brief))


def own_size_tried(brief: Brief) -> Candidate:
    """The brief's own size; where it cannot be built, that and the rules it breaks are what it gives up."""
    own = own_size(brief)
    return _told(brief, own, plan_grid(brief).places, tuple(f"misses {rule_words(brief, rule)}" for rule in own.broken))


def _told(brief: Brief, c: Candidate, places: Places, gives_up: tuple[str, ...]) -> Candidate:
    built = _built(brief, c, places)
    if built is not None:
        return replace(built, gives_up=gives_up)
    sized = with_size(brief, c.columns, c.rows, places)
    met = fewest_studs(sized)
    why = lacking(sized) or f"its cleat meets {met or 'no'} {'stud' if met == 1 else 'studs'}"
    return replace(c, gives_up=(f"cannot be built as it is: {why}", *gives_up))


def _built(brief: Brief, c: Candidate, places: Places | None = None, *, least_nm: int = 0) -> Candidate | None:
    """The size with the studs that its cleat meets, halves ripped lower if need be, as a plan does by itself."""
    sized = with_size(brief, c.columns, c.rows, leaf_places(brief, c) if places is None else places)
    wanted = STUDS_LEAST if wants_studs(brief) else 0
    for strip in strips_to_try(brief):
        if strip < min(least_nm, brief.cleat.strip_nm):
            break
        met = fewest_studs(with_strip(sized, strip))
        if met is not None and met >= wanted:
            return replace(c, studs=min(met, STUDS_COUNTED)) if wanted else c
    return None
