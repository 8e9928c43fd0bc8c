"""Getting at what is hidden: lift-off limits, refusals, flues, and the rules round electrical enclosures.

Verdicts here are never more than advice: local codes, the local authority and licensed people govern.
"""

from __future__ import annotations

from math import acos, asin, atan2, degrees, hypot

from bossage.brief.records import Brief, Fixture, FixtureKind, Opens, Side
from bossage.checks import Check, Verdict
from bossage.countries import FAR_FROM_WOOD, READY, Rule
from bossage.layout.cover import copies_of, leaf_rect, subject_of
from bossage.layout.grid import fixture_rect
from bossage.layout.records import Leaf
from bossage.layout.rect import around
from bossage.layout.refused import REFUSED
from bossage.layout.services import check_services
from bossage.layout.wall_rules import way_out
from bossage.layout.words import Voice
from bossage.layout.working_space import (
    ASK,
    FreeSpace,
    check_handle,
    check_reach,
    check_space,
    free_space,
    whom_to_ask,
)
from bossage.units import NM_PER_MM

LIFT_OFF_MOST = 52  # openings a year, about weekly; two home accounts that ended with hinges
OPEN_LEAST_DEG = 90.0
DOOR_SOURCE = "geometry; that a door opens 90° beside the open piece is ours"

WITH_A_DOOR = (FixtureKind.ELECTRICAL, FixtureKind.HATCH, FixtureKind.CLEANOUT)
"""What opens by a door or a lid of its own, which an open leaf may stop; of others nobody knows (ours)."""


def check_access(
    brief: Brief, leaves: tuple[Leaf, ...], voice: Voice
) -> tuple[tuple[Check, ...], dict[str, int], dict[str, float]]:
    """All checks of access, with figures space_* and the angles of door and leaf."""
    checks: list[Check] = []
    figures: dict[str, int] = {}
    angles: dict[str, float] = {}
    for fixture in brief.fixtures:
        if fixture.kind in REFUSED:
            checks.append(_refusal(brief, fixture, leaves, voice))
        if fixture.kind is FixtureKind.CLEANOUT:
            checks.append(_check_flue(brief, fixture, voice))
        checks += check_services(brief, fixture, voice)
        if brief.access.opens is Opens.LIFT_OFF:
            checks += [_check_lift_off(brief, fixture, copy, voice) for copy in copies_of(brief, fixture)]
        if fixture.kind is FixtureKind.ELECTRICAL:
            space = free_space(brief, fixture)
            figures |= {"space_width": space.width_nm, "space_height": space.height_nm}
            if space.depth_nm is not None:
                figures["space_depth"] = space.depth_nm
            checks += _check_enclosure(brief, fixture, space, voice)
        if fixture.door is None and fixture.kind in WITH_A_DOOR and brief.access.opens is Opens.SWING:
            checks.append(_ask_door(fixture, voice))
        elif fixture.door is not None and brief.access.opens is Opens.SWING:
            turn = door_and_leaf(brief, fixture, leaves)
            angles |= turn
            checks.append(_check_door(brief, fixture, turn, voice))
    checks += check_reach(brief, around(leaf_rect(leaf) for leaf in leaves if leaf.copy == 1), voice)
    checks += _check_middle_leaf(brief, leaves, voice)
    return tuple(checks), figures, angles


def door_and_leaf(brief: Brief, fixture: Fixture, leaves: tuple[Leaf, ...]) -> dict[str, float]:
    """How far the fixture's door opens with the leaf at 90°, and the least leaf angle that lets it open to 90°.

    Plan view, from above: the leaf turns about its edge at the wall, the door about its own hinge. Empty where the two
    do not both turn about upright axes. Thicknesses are left out.
    """
    door, hinge = fixture.door, brief.access.hinge
    uprights = (Side.LEFT, Side.RIGHT)
    if door is None or hinge not in uprights or door.hinge not in uprights:
        return {}
    face = fixture_rect(fixture)
    before = [leaf for leaf in leaves if leaf.copy == copies_of(brief, fixture)[0] and leaf_rect(leaf).overlap(face)]
    if not before:
        return {}
    axis = (
        min(leaf.x_nm for leaf in before) if hinge is Side.LEFT else max(leaf.x_nm + leaf.width_nm for leaf in before)
    )
    door_axis = face.x if door.hinge is Side.LEFT else face.right
    away = door_axis - axis if hinge is Side.LEFT else axis - door_axis
    wide, plane = door.width_nm, door.plane_nm
    if door.hinge is not hinge:
        # The door turns away from the standing leaf: only a leaf that leans over it is in its way.
        reach = hypot(away, plane)
        least = degrees(atan2(plane, away) + asin(min(1.0, wide / reach))) if reach else OPEN_LEAST_DEG
        return {"door_max": 180.0, "leaf_min_for_door_90": least}
    most = 180.0 if wide <= away else degrees(acos(-away / wide))
    return {"door_max": most, "leaf_min_for_door_90": degrees(atan2(plane + wide, away))}


def _refusal(brief: Brief, fixture: Fixture, leaves: tuple[Leaf, ...], voice: Voice) -> Check:
    outline = around(leaf_rect(leaf) for leaf in leaves if leaf.copy == copies_of(brief, fixture)[0])
    return voice.check(
        "refusal",
        "Not to be covered",
        Verdict.STOP,
        found=f"{fixture.name} is a {fixture.kind.value}",
        allowed="nothing in front of it",
        why=REFUSED[fixture.kind],
        remedy=f"leave {fixture.name} free: {way_out(outline, fixture_rect(fixture), voice, brief)}, and write it as "
        "something to keep clear",
        source="trade advice; the appliance's and the system's own instructions govern",
        subject=fixture.name,
    )


def _check_flue(brief: Brief, fixture: Fixture, voice: Voice) -> Check:
    if fixture.flue_in_use:
        verdict, found = Verdict.STOP, "is in use"
    elif not fixture.flue_capped:
        verdict, found = Verdict.CAUTION, "is said to be disused, but it is not capped"
    else:
        verdict, found = Verdict.CAUTION, "is said to be disused and capped"
    size = f"{voice.say(fixture.width_nm)} × {voice.say(fixture.height_nm)}"
    return voice.check(
        "flue",
        "A chimney behind the piece",
        verdict,
        found=f"the flue behind {fixture.name}, {size}, {found}",
        allowed="a flue that is out of use and capped, confirmed on the spot",
        why="wood on the ash door of a working flue can catch fire; an open one lets rain and soot down",
        care="choose another cover than wood while the flue works, and ask a licensed chimney sweep"
        if fixture.flue_in_use
        else "have a chimney sweep confirm that it is disused and capped before building",
        figure=None if fixture.flue_in_use else brief.access.air_nm / NM_PER_MM,
        source="common practice, no source; local fire rules govern",
        subject=fixture.name,
    )


def _check_lift_off(brief: Brief, fixture: Fixture, copy: int, voice: Voice) -> Check:
    often = fixture.opened_per_year
    return voice.check(
        "lift_off",
        "How often it must come off",
        Verdict.FINE if often <= LIFT_OFF_MOST else Verdict.STOP,
        found=f"{fixture.name} is opened {'once' if often == 1 else f'{often:g} times'} a year",
        allowed=f"at most {LIFT_OFF_MOST} times a year for a piece that lifts off",
        why="what is lifted off more than about weekly is dropped, or left leaning on the floor",
        remedy="hinge the piece, or leave a window for it",
        figure=often,
        source="our rule, from home accounts that ended with hinges; local code governs what must be reached at once",
        subject=subject_of(brief, fixture, copy),
    )


def _check_enclosure(brief: Brief, fixture: Fixture, space: FreeSpace, voice: Voice) -> list[Check]:
    return [
        _check_ready(brief, fixture, voice),
        *_check_angle(brief, fixture, voice),
        check_space(brief, fixture, space, voice),
        check_handle(brief, fixture, voice),
        _check_fixed(brief, fixture, voice),
        voice.check(
            "combustible",
            "Wood in front of overcurrent devices",
            Verdict.CAUTION,
            found=f"a wooden piece hangs in front of {fixture.name}, {voice.say(brief.access.air_nm)} of air asked for",
            allowed="easily ignitable material is kept away from overcurrent devices",
            why="a fault in the board can throw heat and sparks",
            care=f"keep wood, strips and fixings off the board, and {ASK} whether this may hang there",
            figure=brief.access.air_nm / NM_PER_MM,
            source=f"{FAR_FROM_WOOD[brief.rules.country]}; local code and licensed practice govern",
            subject=fixture.name,
        ),
    ]


def _check_ready(brief: Brief, fixture: Fixture, voice: Voice) -> Check:
    access = brief.access
    lifts = access.opens is Opens.LIFT_OFF
    mark = "" if access.marked else "mark on the outside where and how it opens; "
    if lifts:
        found, remedy = (
            "the piece has to be lifted off: 1 obstacle to remove",
            "let it swing on hinges with a catch that needs no tool",
        )
    elif access.tool:
        found, remedy = "1 screw or tool stands before the opening", "use a catch that opens by hand"
    else:
        found, remedy = f"it swings open by hand to {access.angle_deg:g}°, without a tool", ""
    return voice.check(
        "ready_access",
        "Reaching the board at once",
        Verdict.STOP if lifts or access.tool else Verdict.CAUTION,
        found=found,
        allowed="reached at once: no tool, no obstacle to remove, no climbing; whether a cover passes is theirs to say",
        why="whoever must switch off in an emergency has seconds and may not know the house",
        care=f"{mark}show them the plan before building; {ASK}",
        remedy=remedy,
        source=f"{READY[brief.rules.country]}; local code governs",
        subject=fixture.name,
    )


def _check_angle(brief: Brief, fixture: Fixture, voice: Voice) -> list[Check]:
    if brief.access.opens is not Opens.SWING:
        return []
    angle, least = brief.access.angle_deg, brief.rules.held(Rule.OPENING)
    short = angle < least.value
    return [
        voice.check(
            "swing_angle",
            "How far it swings",
            (Verdict.STOP if short else Verdict.FINE) if least.binds else Verdict.CAUTION,
            found=f"it opens to {angle:g}°",
            allowed=f"at least {least.value}°{brief.rules.whose(Rule.OPENING)}",
            why="a door in the working space must open right out of it",
            care=whom_to_ask(brief, Rule.OPENING),
            remedy=f"hinge it so that it opens {least.value - angle:g}° further" if short else "",
            figure=angle,
            source=least.source,
            subject=fixture.name,
        )
    ]


def _check_fixed(brief: Brief, fixture: Fixture, voice: Voice) -> Check:
    fixed = brief.access.fixed_to_fixture
    return voice.check(
        "fix_to_enclosure",
        "Nothing fixed to the board itself",
        Verdict.STOP if fixed else Verdict.FINE,
        found="something is screwed or stuck to the board" if fixed else "the brief fixes nothing to the board",
        allowed=f"no fixing, strip or wood on the enclosure, and {voice.say(brief.access.air_nm)} of air before it",
        why="a screw can meet a live part, and wood on the lid blocks its cover and its vents",
        care=f"carry the piece by the wall alone; {ASK}",
        source="common practice; the enclosure's own instructions and local code govern",
        subject=fixture.name,
    )


def _check_door(brief: Brief, fixture: Fixture, turn: dict[str, float], voice: Voice) -> Check:
    angle = brief.access.angle_deg
    if not turn:
        return voice.check(
            "door_swing",
            "The fixture's own door",
            Verdict.CAUTION,
            found="piece and door do not both turn about upright hinges",
            allowed="the door opens at least 90°",
            why="the door may meet the open piece",
            care="try it with a piece of card in the piece's place before building",
            source="geometry",
            subject=fixture.name,
        )
    least = turn["leaf_min_for_door_90"]
    good = angle >= least and turn["door_max"] >= OPEN_LEAST_DEG
    return voice.check(
        "door_swing",
        "The fixture's own door",
        Verdict.FINE if good else Verdict.STOP,
        found=f"with the piece at 90° the door opens to {turn['door_max']:.0f}°; the piece opens to {angle:g}°",
        allowed=f"the door opens 90°, for which the piece must open to at least {least:.1f}°",
        why="a door that meets the open piece cannot be opened far enough to work behind it",
        remedy=f"let the piece open to {least:.1f}°, {max(0.0, least - angle):.1f}° further, or hinge it opposite",
        source=DOOR_SOURCE,
        subject=fixture.name,
    )


def _ask_door(fixture: Fixture, voice: Voice) -> Check:
    """`door_swing` where nobody has said how the fixture itself opens."""
    return voice.check(
        "door_swing",
        "The fixture's own door",
        Verdict.CAUTION,
        found="which way its own door or lid opens, and how far, the brief does not say",
        allowed="the door opens at least 90° beside the open piece",
        why="a door that meets the open piece cannot be opened far enough to work behind it",
        care='open it, measure it and write it, as door = { width = 300, hinge = "left" }; a lid that is taken off '
        "needs free room before it",
        source=DOOR_SOURCE,
        subject=fixture.name,
    )


def _check_middle_leaf(brief: Brief, leaves: tuple[Leaf, ...], voice: Voice) -> list[Check]:
    """With several leaves, the one before a fixture must come away by itself, without a tool."""
    if len(leaves) <= brief.piece.copies:
        return []
    checks = []
    for fixture in brief.fixtures:
        face = fixture_rect(fixture)
        copy = copies_of(brief, fixture)[0]
        before = [leaf for leaf in leaves if leaf.copy == copy and leaf_rect(leaf).overlap(face)]
        if not before:
            continue
        names = " and ".join(leaf.name for leaf in before)
        tool, several = brief.access.tool, len(before) > 1
        how = "lifts off" if brief.access.opens is Opens.LIFT_OFF else "swings open"
        checks.append(
            voice.check(
                "middle_leaf",
                "The leaf in front of the fixture",
                Verdict.CAUTION if tool or several else Verdict.FINE,
                found=f"{names} {how} {'with a tool' if tool else 'without a tool'}; other leaves may carry a lock",
                allowed="one leaf in front of it, opened without a tool",
                why="the leaf that is opened must not depend on its neighbours or on a tool that is elsewhere",
                remedy="move the leaves so that one covers it alone" if several else "open it by hand",
                source="common practice, no source",
                subject=fixture.name,
            )
        )
    return checks
