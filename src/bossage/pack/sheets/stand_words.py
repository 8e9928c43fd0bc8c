"""Where one stands to lift and open a leaf, what is moved first, and what somebody does who is alone at night."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bossage.brief.records import FixtureKind, Opens
from bossage.checks import Verdict
from bossage.hang import Moved, Standing
from bossage.hang.standing import IN_PLACE
from bossage.layout.records import Leaf
from bossage.pack.drawings.behind import Hiding
from bossage.pack.sheet import Column, Heading, Para, Part, Table
from bossage.pack.words import Words, listed
from bossage.plan import Plan
from bossage.settling import opened_as

OPENS_IN_S = {"swing": 5, "swing with a tool": 30, "lift-off": 60, "lift-off with a tool": 90}
"""Seconds until the thing behind is free, for somebody who knows how: our guess, until somebody has timed it."""

MOVED_IN_S = 60
"""Seconds more for what is moved first: our guess."""

SHUT_OFF = {
    FixtureKind.ELECTRICAL: "main switch or main fuse",
    FixtureKind.METER: "main switch, or gas valve before the meter",
    FixtureKind.MANIFOLD: "main stop cock of the water",
    FixtureKind.VALVES: "main stop cock of the water",
    FixtureKind.CABLE_BOX: "main switch or main fuse",
    FixtureKind.ACCESSORY: "main switch or main fuse",
}
"""Where else it is shut off, for somebody who cannot take the piece down alone."""


def people_to_lift(plan: Plan, leaf: str = "") -> int:
    """How many take a leaf off: what the brief says, and two wherever mass or lift asks for a second pair of hands."""
    asked = max((lift.people for lift in plan.hang.liftings if leaf in ("", lift.leaf)), default=1)
    # one that is settled still asks for the second person whom somebody has promised
    two = any(
        check.name == "two_people" and (check.verdict is not Verdict.FINE or check.settled is not None)
        for check in plan.checks
        if not leaf or check.subject in ("", leaf)
    )
    return max(asked, 2) if two or plan.brief.access.opens is Opens.SWING else asked


def used_lift(plan: Plan, leaf: str) -> Standing:
    """The lift that counts for a leaf."""
    return next(one for one in plan.handling.standing if one.leaf == leaf and one.governs)


def lift_by(plan: Plan, leaf: str, people: int) -> Standing:
    """The same with so many people as really lift it; of more than two the worse placed two."""
    used = used_lift(plan, leaf)
    same = (one for one in plan.handling.standing if one.leaf == leaf and one.case == used.case)
    return next(one for one in same if "hanging" in one.acts and one.people == min(people, 2))


def opening(plan: Plan, leaf: str) -> Standing:
    """Where one stands to open it: of a leaf that lifts off the lift itself."""
    used = used_lift(plan, leaf)
    same = (one for one in plan.handling.standing if one.leaf == leaf and one.case == used.case)
    return next((one for one in same if "hanging" not in one.acts), used)


def seconds_to_open(plan: Plan, leaf: str) -> int:
    """Until the thing behind a leaf is free, with all that has to be moved first: our guess."""
    access = plan.brief.access
    moved = [one.name for one in used_lift(plan, leaf).moved]
    first = _blocking(plan, leaf) if not opening(plan, leaf).holds else moved
    return OPENS_IN_S[opened_as(access.opens.value, tool=access.tool)] + MOVED_IN_S * len(first)


def move_steps(
    plan: Plan, leaf: str, words: Words, *, props_on: tuple[str, ...] = (), lifts: bool = True
) -> tuple[str, ...]:
    """The first step: what is moved, how far and by whom; or that it stays, where something is lifted then.

    `props_on`: furniture where a prop of the open leaf has to stand, so that it goes whatever the brief says.
    """
    told = {one.name: one for one in used_lift(plan, leaf).moved}
    blocked = dict.fromkeys([*_blocking(plan, leaf), *props_on])
    away = [_moved_words(told[name], words) for name in blocked if name in told]
    away += [
        f"move the {name} right away: a prop stands on its floor. The brief says that it stays; write furniture.moved "
        "and plan again"
        for name in blocked
        if name in props_on and name not in told
    ]
    steps = [f"{text[:1].upper()}{text[1:]}." for text in away]
    stays = [name for name in blocked if name not in told and name not in props_on]
    if stays and lifts:
        steps.append(_stays_words(plan, leaf, stays))
    return tuple(steps)


def stand_steps(plan: Plan, leaf: str, words: Words) -> tuple[str, ...]:
    """Who stands where, how far the hands are, and what each carries."""
    used = lift_by(plan, leaf, people_to_lift(plan, leaf))
    hands = f"hands {words.length(used.horizontal_nm)} before the ankles, {words.length(used.vertical_nm)} high"
    place = f"{used.place}, {hands} {used.where}"
    if not used.holds:
        why = used.why_not or "the lift is outside the equation"
        return (
            f"Do not lift it from here: {why} ({place}). No weight is recommended there. Take a second person and move "
            "what stands before it, or a lighter leaf, hinges or another size, and plan again.",
        )
    limit = f"up to {words.mass(used.recommended_g)} recommended for one person, index {used.index:.2f}"
    if used.index > 1:
        limit += ", over the 1 that is asked for: move what stands there, or take a lighter leaf"
    if used.people > 1:
        return (
            f"Two people, one at each end of the leaf. Each carries about {words.mass(used.carries_g)}. Stand "
            f"{place}; {limit}. The index counts the two of you for two thirds of the sum of both. One of you "
            "counts; both lift, step and put down on that word.",
        )
    return (f"Stand {place}: {limit}.",)


def clear_step(plan: Plan, leaf: Leaf, words: Words) -> str:
    """The way and the place to put it down, before anything is lifted."""
    size = words.size(leaf.width_nm, leaf.height_nm)
    return (
        f"Clear the way to where it is put down, {size} of floor. Lay the two battens there now, walk the way once, "
        "and agree which word means stop."
    )


def stand_table(plan: Plan, words: Words) -> list[Part]:
    """Every place that was found, with furniture in place and moved; the one that counts by its mark."""
    rows = tuple(
        (
            _case(one, words),
            f"{'two people: ' if one.people > 1 else ''}{one.place}",
            words.bare(one.horizontal_nm),
            words.bare(one.vertical_nm),
            words.mass(one.recommended_g) if one.holds and one.recommended_g else "none" if not one.holds else "",
            f"{one.index:.2f}" if one.recommended_g else "",
            "counts" if one.governs else "",
        )
        for one in plan.handling.standing
    )
    columns = (
        Column(head="furniture", kind="strong", mm=34.0),
        Column(head="where one stands", wide=True),
        Column(head="hands out", align="right"),
        Column(head="hands up", align="right"),
        Column(head="for one", align="right"),
        Column(head="index", kind="figure", align="right"),
        Column(head=""),
    )
    note = (
        f"Lengths in {words.unit_name}, from the ankles and from the floor, at the worse end of the lift. “None”: the "
        "equation does not hold there, kneeling or with hands over 63 cm (25 in) away. Of two people each carries "
        "half, and the index counts both for two thirds of the sum. Without an index: it is pulled open, not lifted."
    )
    return [Heading(text="Where to stand"), Table(columns=columns, rows=rows), Para(text=note, small=True)]


def alone_parts(plan: Plan, people: int, found: Sequence[Hiding]) -> list[Part]:
    """At night and alone: how long, with which light, and what else shuts off what is behind.

    `found`: leaves that take as long, with the same things moved away first.
    """
    leaf = found[0].leaf.name
    away = f" with the {listed(_blocking(plan, leaf))} moved away first" if not opening(plan, leaf).holds else ""
    several = len({one.name for one in plan.layout.leaves}) > 1
    behind = [
        f"the {listed(one.things)} behind {f'leaf {one.leaf.name}' if several else 'it'}" for one in found if one.things
    ]
    if not behind:
        return []
    said = listed(behind)
    told = (
        f"{said[:1].upper()}{said[1:]}: free after about {seconds_to_open(plan, leaf)} s{away}, by the steps "
        "above, for somebody who knows them (our guess: time it). Keep a torch beside this card: with the breaker off "
        "the room is dark."
    )
    if people > 1:
        told += " Alone? Leave the piece where it is, and shut off here instead:"
    parts: list[Part] = [Para(text=told)]
    things = {name for one in found for name in one.things}
    mine = [fixture.kind for fixture in plan.brief.fixtures if fixture.name in things]
    ways = list(dict.fromkeys(SHUT_OFF[kind] for kind in mine if kind in SHUT_OFF))
    if people > 1:
        rows = tuple((way, "") for way in (ways or ["where it is shut off"]))
        parts.append(Table(columns=(Column(kind="strong", mm=60.0), Column(kind="blank", wide=True)), rows=rows))
    return parts


def alone_groups(plan: Plan, found: Iterable[Hiding]) -> list[list[Hiding]]:
    """Leaves that take as long to open, with the same things moved away first, together."""
    groups: dict[tuple[int, int, tuple[str, ...]], list[Hiding]] = {}
    for one in found:
        name = one.leaf.name
        key = seconds_to_open(plan, name), people_to_lift(plan, name), tuple(_blocking(plan, name))
        groups.setdefault(key, []).append(one)
    return list(groups.values())


def _blocking(plan: Plan, leaf: str) -> list[str]:
    """What stands where one would stand, found or told, in the order of the brief."""
    moved = {one.name for found in plan.handling.standing if found.leaf == leaf for one in found.moved}
    return [item.name for item in plan.brief.furniture if item.name in moved]


def _moved_words(one: Moved, words: Words) -> str:
    who = one.by or "two people"
    return f"move the {one.name} out into the room by {words.length(one.out_nm)}, {who}, before anything else"


def _stays_words(plan: Plan, leaf: str, names: list[str]) -> str:
    text = f"The {listed(names)} {'stays where it is' if len(names) == 1 else 'stay where they are'}, as the brief says"
    if plan.brief.access.opens is Opens.LIFT_OFF:
        return f"{text}."
    opened = opening(plan, leaf)
    if opened.holds:
        return f"{text}: to open the leaf one stands {opened.place}."
    return f"{text}, and the leaf's edge is not in reach from the floor: {opened.why_not}. Nobody opens it in seconds."


def _case(one: Standing, words: Words) -> str:
    if one.case == IN_PLACE or not one.moved:
        return f"{one.leaf}: {one.case}"
    return f"{one.leaf}: " + ", ".join(f"{item.name} out by {words.length(item.out_nm)}" for item in one.moved)
