"""What holds a leaf shut that is hung by its foot: its catch, and nothing else."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.body import WALL, How, Role
from bossage.brief.records import Side
from bossage.checks import Check, Verdict
from bossage.hang.case import Case, link
from bossage.hang.records import Link
from bossage.hang.words import DEFER, Voice
from bossage.units import NM_PER_MM

CATCH_LINK = "catch"
PACKET_TIMES = 4.0
"""What the packet of a magnetic catch says it holds, over what is counted on: ours, as for a rating of a fixing."""

STRONGEST_N = 60.0
"""The most that a shop's magnetic catch is sold to hold, about 6 kg (13 lb): ours, from memory."""

SOURCE = "moments about the axis; strength of catches: ours, from memory"


def falls_open(case: Case) -> bool:
    """Whether its own weight opens it."""
    return case.swings and case.swing.side is Side.BOTTOM


def catch_n(case: Case) -> float:
    """Pull at the catch of a shut leaf that is hung by its foot: its weight hangs before the axis and opens it.

    Source:
        Moments about the axis.
    """
    catch, swing = case.first(Role.CATCH), case.swing
    far = case.leaf.height_nm if catch is None else abs((catch.box.y0 + catch.box.y1) // 2 - swing.axis_nm)
    return case.weight_n * max(0.0, case.mass.from_wall_mm - swing.axis_z_nm / NM_PER_MM) / (far / NM_PER_MM)


def not_shut(case: Case) -> str:
    """Why the catch of a leaf that falls open holds nothing; empty where it is counted on."""
    keeper = case.first(Role.KEEPER)
    if case.first(Role.CATCH) is None or keeper is None:
        return "the catch finds no place behind the leaf, so nothing holds it shut"
    screwed = any(
        joint.how is How.SCREWS
        for joint in case.body.joints
        if (joint.leaf, joint.copy, joint.a, joint.b) == (keeper.leaf, keeper.copy, keeper.name, WALL)
    )
    return "" if screwed else "the keeper is glued to the wall's paint, which holds no leaf shut over people"


def catch_link(case: Case) -> Link:
    """The catch of a leaf that falls open: nothing is counted on where it has none."""
    pull = catch_n(case)
    why = not_shut(case)
    held = 0.0 if why else STRONGEST_N / PACKET_TIMES
    return link(
        case,
        CATCH_LINK,
        part="what keeps the leaf shut",
        demand_n=max(pull, 1e-9),
        allowable_n=held,
        basis=f"a catch sold to hold {case.voice.bare_force(STRONGEST_N)}, a quarter of it counted"
        if not why
        else f"nothing is counted on: {why}",
        assumptions=("it holds the leaf where its weight hangs before the pins; nobody pushes at it",),
        source=SOURCE,
    )


def latch_check(case: Case, voice: Voice, subject: str) -> Iterator[Check]:
    """`held_shut` of a leaf that is hung by its foot: never better than a caution."""
    if not falls_open(case):
        return
    why, need = not_shut(case), catch_n(case) * PACKET_TIMES
    yield voice.check(
        "held_shut",
        "What keeps it from falling open",
        Verdict.CAUTION if not why and need <= STRONGEST_N else Verdict.STOP,
        found=why or f"{voice.force(catch_n(case))} pull at its catch, which is a magnet alone",
        allowed=f"a catch sold to hold {voice.force(math.ceil(need))} or more, and a bolt or turn button beside it",
        why="a leaf hung by its foot falls open on whoever stands before it",
        care="fit a bolt or a turn button as well, and two stays that brake",
        remedy="hinge it at its top or a side",
        source=f"{SOURCE}; {DEFER}",
        subject=subject,
    )
