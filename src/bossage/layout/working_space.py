"""Room to work before a board and to reach what opens; the figures are those of the brief's country (`countries`).

Verdicts here are never more than advice: local codes, the local authority and licensed people govern.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from bossage.brief.records import Brief, Facing, Fixture, FixtureKind, Furniture, OpenedBy
from bossage.checks import Check, Verdict
from bossage.countries import Rule
from bossage.layout.grid import fixture_rect
from bossage.layout.rect import Rect
from bossage.layout.words import Voice, mm
from bossage.units import NM_PER_MM

SPACE = (Rule.SPACE_WIDTH, Rule.SPACE_DEPTH, Rule.SPACE_HEIGHT)
LOW_VOLTS = 150.0
TABLE_VOLTS = 600.0
"""Where the printed rows end; above, the rules are others (NEC 110.34)."""

DEPTH_NM = {
    Facing.NOTHING: (mm(914), mm(914)),
    Facing.EARTHED: (mm(914), mm(1067)),
    Facing.LIVE: (mm(914), mm(1219)),
}
"""Depth up to 150 V to ground and from 151 to 600 V, by what is opposite: conditions 1, 2 and 3 of the table (the same
figures read in WAC 296-24-95703 Table S-1: 3, 3-1/2 and 4 ft)."""

CONDITION = {Facing.NOTHING: 1, Facing.EARTHED: 2, Facing.LIVE: 3}

REACH_NM = mm(380), mm(1220)
"""Lowest and highest point where nothing is in the way. 15 and 48 in: 2010 ADA Standards 308.2.1, 308.3.1 (read)."""

ASK = "ask a licensed electrician and the local authority"


class Approach(StrEnum):
    """How somebody in a wheelchair comes to it."""

    FORWARD = "forward"
    SIDE = "side"


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeSpace:
    """What is free in front of an enclosure. None where nothing bounds it."""

    width_nm: int
    depth_nm: int | None
    height_nm: int


def working_depth_nm(volts: float, facing: Facing) -> int | None:
    """Depth of working space by voltage to ground and by what is opposite; None above 600 V, which is another table.

    Source:
        NEC Table 110.26(A)(1); figures read as WAC 296-24-95703 Table S-1 prints them.
    """
    if volts > TABLE_VOLTS:
        return None
    low, high = DEPTH_NM[facing]
    return low if volts <= LOW_VOLTS else high


def reach_range_nm(approach: Approach, depth_nm: int = 0, over_nm: int = 0) -> tuple[int, int] | None:
    """Lowest and highest point that somebody in a wheelchair reaches over an obstruction; None: out of reach.

    Args:
        approach: Forward, with the feet under what is in the way, or from the side along it.
        depth_nm: How far the obstruction keeps them from it; 0 for none.
        over_nm: How high the obstruction is.

    Source:
        2010 ADA Standards for Accessible Design 308.2 and 308.3.1 (read); 308.3.2, the obstructed side reach: 46 in
        over 10 to 24 in of depth, obstruction at most 34 in high (from memory).
    """
    if approach is Approach.FORWARD:
        if depth_nm > mm(635):
            return None
        return REACH_NM if depth_nm <= mm(510) else (REACH_NM[0], mm(1120))
    if depth_nm <= mm(255):
        return REACH_NM
    if depth_nm > mm(610) or over_nm > mm(865):
        return None
    return REACH_NM[0], mm(1170)


def free_space(brief: Brief, fixture: Fixture, also: Iterable[Furniture] = ()) -> FreeSpace:
    """The working space in front of an enclosure, measured from its front.

    Width: the free stretch that spans the enclosure, between furniture that stands in the depth zone or the wall's
    ends. Depth: to the first thing in front of the enclosure, or the far side of the passage. Height: to the ceiling
    or the lowest thing hung over the zone. Furniture that hangs above the wanted height is in nobody's way.
    `also`: what stands there besides the furniture. The piece is shut, or taken off.
    """
    front, deep, tall = fixture.proud_nm, wanted_depth_nm(brief, fixture), brief.rules.held(Rule.SPACE_HEIGHT).value
    face = fixture_rect(fixture)
    there = (*brief.furniture, *also)
    standing = [f for f in there if f.bottom_nm < tall]
    zone = [f for f in standing if f.near_nm < front + deep and f.far_nm > front]
    left = max([0, *(f.right_nm for f in zone if f.right_nm <= face.x)])
    right = min([brief.wall.width_nm, *(f.x_nm for f in zone if f.x_nm >= face.right)])
    # What stands before the board bounds the depth; so does what lies beyond the zone, anywhere in the free width.
    before = [
        f.near_nm - front
        for f in standing
        if f.far_nm > front
        and (_spans(f, face.x, face.right) or (f.near_nm >= front + deep and _spans(f, left, right)))
    ]
    if brief.wall.passage_nm is not None:
        before.append(brief.wall.passage_nm - front)
    over = [f.bottom_nm for f in there if f.bottom_nm >= tall and f.near_nm < front + deep and _spans(f, left, right)]
    return FreeSpace(
        width_nm=right - left,
        depth_nm=max(0, min(before)) if before else None,
        height_nm=min([brief.wall.height_nm, *over]),
    )


def wanted_depth_nm(brief: Brief, fixture: Fixture) -> int:
    """The depth of the place; else what the table asks for, its deepest row where the voltage lies above the table."""
    held = brief.rules.held(Rule.SPACE_DEPTH)
    if held.local:
        return held.value
    return working_depth_nm(fixture.volts, fixture.facing) or DEPTH_NM[Facing.LIVE][1]


def check_space(brief: Brief, fixture: Fixture, space: FreeSpace, voice: Voice) -> Check:
    """`space`: width, depth and height in front of a board, with the piece shut or taken off."""
    short, unknown = _short(brief, fixture, space), space.depth_nm is None
    beyond = fixture.volts > TABLE_VOLTS and not brief.rules.held(Rule.SPACE_DEPTH).local
    return voice.check(
        "space",
        "Working space in front",
        _space_verdict(brief, short, unknown=unknown, beyond=beyond),
        found=_space_words(space, voice),
        allowed=_wanted_words(brief, fixture, voice),
        why="whoever works on a live board needs room to stand and to step back",
        care=(f"the rules for more than {TABLE_VOLTS:g} V are others; " if beyond else "")
        + ("measure to what stands opposite and write it as wall.passage; " if unknown else "")
        + whom_to_ask(brief, *SPACE),
        remedy=_clear_words(short, voice),
        figure=None if unknown or beyond else max(short.values(), default=0) / NM_PER_MM,
        source=brief.rules.sources(*SPACE),
        subject=fixture.name,
    )


def check_open_space(brief: Brief, fixture: Fixture, space: FreeSpace, voice: Voice) -> Check:
    """`open_space`: what is left of it while the leaf stands open, as it does when somebody works at the board."""
    short = _short(brief, fixture, space)
    return voice.check(
        "open_space",
        "Working space with the leaf open",
        _space_verdict(brief, short),
        found=f"with the leaf standing open at {brief.access.angle_deg:g}°: {_space_words(space, voice)}",
        allowed=_wanted_words(brief, fixture, voice),
        why="whoever works on a live board has the open leaf beside them all the time",
        care=whom_to_ask(brief, *SPACE),
        remedy=f"{_clear_words(short, voice)}, or hang it on another side" if short else "",
        figure=max(short.values(), default=0) / NM_PER_MM,
        source=f"{brief.rules.sources(*SPACE)}; that the open leaf counts is our reading of it",
        subject=fixture.name,
    )


def whom_to_ask(brief: Brief, *rules: Rule) -> str:
    """For the figure of the place where none of the country's is known, and in any case a licensed person."""
    return "; ".join(filter(None, [brief.rules.ask(*rules), ASK]))


def _space_verdict(brief: Brief, short: dict[str, int], *, unknown: bool = False, beyond: bool = False) -> Verdict:
    """Stop where the space is short of a figure that binds; fine where all figures bind and none is short.

    `unknown`: nobody has said how deep it is. `beyond`: the voltage lies over the table of the depth.
    """
    bound = {rule.value.split()[-1] for rule in SPACE if brief.rules.bind(rule)}
    if bound & short.keys() or (beyond and "depth" in bound):
        return Verdict.STOP
    return Verdict.CAUTION if unknown or not brief.rules.bind(*SPACE) else Verdict.FINE


def _wanted(brief: Brief, fixture: Fixture) -> dict[str, int]:
    held = brief.rules.held
    return {
        "width": max(held(Rule.SPACE_WIDTH).value, fixture.width_nm),
        "depth": wanted_depth_nm(brief, fixture),
        "height": max(held(Rule.SPACE_HEIGHT).value, fixture.height_nm),
    }


def _short(brief: Brief, fixture: Fixture, space: FreeSpace) -> dict[str, int]:
    """By how much each way falls short; without those that suffice, and the depth where nobody knows it."""
    free = {"width": space.width_nm, "depth": space.depth_nm, "height": space.height_nm}
    wanted = _wanted(brief, fixture)
    return {what: wanted[what] - have for what, have in free.items() if have is not None and have < wanted[what]}


def _space_words(space: FreeSpace, voice: Voice) -> str:
    depth = "and how deep is not known" if space.depth_nm is None else f"{voice.say(space.depth_nm)} deep"
    return f"{voice.say(space.width_nm)} wide, {voice.say(space.height_nm)} high, {depth}"


def _wanted_words(brief: Brief, fixture: Fixture, voice: Voice) -> str:
    """The figures, whose they are where they bind nobody, and the row of the table where its depth is used."""
    whose = {rule.value.split()[-1]: brief.rules.whose(rule) for rule in SPACE}
    row = f" for {fixture.volts:g} V to ground, condition {CONDITION[fixture.facing]}"
    return (
        ", ".join(
            f"{what} at least {voice.say(need)}{whose[what] if len(set(whose.values())) > 1 else ''}"
            for what, need in _wanted(brief, fixture).items()
        )
        + ("" if brief.rules.held(Rule.SPACE_DEPTH).local else row)
        + (whose["depth"] if len(set(whose.values())) == 1 else "")
        + "; nothing stored in it"
    )


def _clear_words(short: dict[str, int], voice: Voice) -> str:
    return "clear " + " and ".join(f"{voice.say(more)} more {what}" for what, more in short.items()) if short else ""


def check_handle(brief: Brief, fixture: Fixture, voice: Voice) -> Check:
    """`handle`: the highest grip of an overcurrent device."""
    high, rules = handle_nm(fixture), brief.rules
    most = rules.held(Rule.HIGHEST_GRIP)
    over = high - most.value
    measured = fixture.handle_nm is not None
    what = "the middle of the highest grip" if measured else "the top of the board, for no grip was measured,"
    verdict = Verdict.CAUTION
    if most.binds and (over <= 0 or measured):
        verdict = Verdict.FINE if over <= 0 else Verdict.STOP
    return voice.check(
        "handle",
        "Height of the highest handle",
        verdict,
        found=f"{what} is {voice.say(high)} above the floor",
        allowed=f"at most {voice.say(most.value)}{rules.whose(Rule.HIGHEST_GRIP)}",
        why="whoever must switch off may be short, and has nothing to climb on",
        care=("" if measured else "measure the grip in its highest position and write it as handle; ")
        + (f"it sits {voice.say(over)} higher: " if measured and over > 0 else "")
        + whom_to_ask(brief, Rule.HIGHEST_GRIP),
        figure=high / NM_PER_MM,
        source=most.source,
        subject=fixture.name,
    )


def handle_nm(fixture: Fixture) -> int:
    """Height of the highest grip; of the fixture's top where none was measured."""
    return fixture.top_nm if fixture.handle_nm is None else fixture.handle_nm


def check_reach(brief: Brief, outline: Rect, voice: Voice) -> list[Check]:
    """`reach`: what somebody who sits must take hold of, where the brief says that one opens the piece."""
    if brief.access.opened_by is not OpenedBy.SEATED:
        return []
    grip = brief.access.grip_nm
    middle = outline.y + outline.height // 2
    points = [("the piece", middle if grip is None else grip, outline, "access.grip" if grip is None else "")]
    points += [
        (fixture.name, handle_nm(fixture), fixture_rect(fixture), "handle" if fixture.handle_nm is None else "")
        for fixture in brief.fixtures
        if fixture.kind is FixtureKind.ELECTRICAL or fixture.handle_nm is not None
    ]
    return [_reach(brief, name, high, place, unsaid, voice) for name, high, place, unsaid in points]


def _reach(brief: Brief, name: str, high: int, place: Rect, unsaid: str, voice: Voice) -> Check:
    """`unsaid` is the key of the brief that gives the grip's height, where nobody has measured it."""
    over = [f for f in brief.furniture if _spans(f, place.x, place.right) and f.top_nm <= high]
    deep = max((f.far_nm for f in over), default=0)
    tall = max((f.top_nm for f in over), default=0)
    # under furniture there is room for feet only where somebody says so, so what stands there is reached over sideways
    ranges = [reach_range_nm(Approach.SIDE, deep, tall)]
    if not over:
        ranges.append(reach_range_nm(Approach.FORWARD))
    found = [_of_the_place(brief, one) for one in ranges if one is not None]
    low, most = (min(a for a, _ in found), max(b for _, b in found)) if found else (0, 0)
    fine = bool(found) and low <= high <= most
    what = f", reached over {voice.say(deep)} of furniture {voice.say(tall)} high" if over else ""
    # a grip that nobody measured is in reach only where all of the thing is
    known = not unsaid or (low <= place.y and place.top <= most)
    held = f"{voice.say(high)} above the floor{what}" + (f", as taken where {unsaid} is not given" if unsaid else "")
    remedy = f"bring it {voice.say(high - most)} down" if found and high > most else f"raise it {voice.say(low - high)}"
    if not found:
        remedy = "move away what stands before it"
    return voice.check(
        "reach",
        "In reach of somebody who sits",
        Verdict.FINE if fine and known else Verdict.CAUTION,
        found=f"what has to be taken hold of is {held}",
        allowed=f"{voice.say(low)} to {voice.say(most)}" if found else "nothing so deep or so high in the way",
        why="what is out of reach from a wheelchair cannot be opened in time",
        care=(f"measure the grip and write it as {unsaid}; " if unsaid else "")
        + "the rules for access where you live govern",
        remedy="" if fine else remedy,
        source=brief.rules.sources(Rule.LOWEST_REACH, Rule.HIGHEST_REACH)
        + ("; over furniture as 2010 ADA Standards 308.3.2, from memory" if over else ""),
        subject=name,
    )


def _of_the_place(brief: Brief, reached: tuple[int, int]) -> tuple[int, int]:
    """A reach in the figures of the brief's set, which are for nothing in the way; what is in the way lowers both."""
    low, high = (brief.rules.held(rule).value for rule in (Rule.LOWEST_REACH, Rule.HIGHEST_REACH))
    return low, high if reached == REACH_NM else min(high, reached[1])


def _spans(item: Furniture, left: int, right: int) -> bool:
    """Whether furniture shares some of a stretch of the wall."""
    return item.x_nm < right and item.right_nm > left
