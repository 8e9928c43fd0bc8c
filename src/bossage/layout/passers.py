"""People who pass along the wall: what juts out over their way, and how much of the way is left.

Verdicts here are never more than advice: local rules for access and fire govern, and those who answer for the house.
"""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief, Furniture
from bossage.checks import Check, Verdict
from bossage.countries import COMPARED, Rule
from bossage.layout.wall_rules import Standing
from bossage.layout.words import Voice
from bossage.units import NM_PER_MM

OPEN_BELOW = ("table", "desk")
"""Furniture on legs: a cane passes under it, and finds its edge alone (ours)."""


def check_passers(brief: Brief, standing: Standing, voice: Voice) -> tuple[tuple[Check, ...], dict[str, int]]:
    """`protrusion` where people walk along, else `hall_depth` in a private passage; `escape_route`, `escape_width`."""
    wall, depth = brief.wall, standing.depth_nm
    figures = {"highest_level_allowed": brief.rules.held(Rule.JUTTING).value - standing.base_depth_nm}
    lower = standing.levels_nm[:-1]
    if lower:
        figures["depth_without_highest"] = standing.base_depth_nm + lower[-1]
    if wall.passage_nm is not None:
        figures["hall_left"] = wall.passage_nm - depth
    checks: list[Check] = []
    if wall.circulation:
        checks.append(_check_protrusion(brief, standing, voice))
    elif wall.passage_nm is not None:
        checks.append(_check_hall(brief, wall.passage_nm, standing, voice))
    if wall.escape_route:
        checks += _check_escape(brief, standing, voice)
    return tuple(checks), figures


def found_by_a_cane(brief: Brief, standing: Standing) -> tuple[Furniture, ...]:
    """Furniture under the whole of the piece, as far out as the piece, low enough to be met by a cane; or nothing.

    Source:
        2010 ADA Standards 307.2 with its figures, from memory: leading edges at 27 in (685 mm) or lower are within
        the sweep of a cane. Other sets begin elsewhere (`countries`).
    """
    outline, low = standing.outline, brief.rules.held(Rule.JUTTING_FROM).value
    met = [
        item
        for item in brief.furniture
        if item.far_nm >= standing.depth_nm
        and (item.top_nm <= low if item.kind in OPEN_BELOW else item.bottom_nm <= low)
        and item.x_nm < outline.right
        and item.right_nm > outline.x
    ]
    at, used = outline.x, []
    for item in sorted(met, key=lambda one: one.x_nm):
        if item.x_nm > at:
            break
        if item.right_nm > at:
            at = item.right_nm
            used.append(item)
    return tuple(used) if at >= outline.right else ()


def _check_escape(brief: Brief, standing: Standing, voice: Voice) -> Iterator[Check]:
    wall, depth = brief.wall, standing.depth_nm
    yield voice.check(
        "escape_route",
        "Wood on an escape route",
        Verdict.CAUTION,
        found=f"the wall lines an escape route, and the piece is wood, {voice.say(depth)} deep",
        allowed="what the fire authority allows there",
        why="linings and objects on escape routes are limited so that a fire cannot block the way out",
        care="ask the fire authority or the building's fire officer before building",
        remedy="choose another wall",
        source="fire rules differ from place to place: local law governs",
    )
    left = None if wall.passage_nm is None else wall.passage_nm - depth
    wanted = wall.escape_width_nm
    short = 0 if left is None or wanted is None else max(0, wanted - left)
    unsaid = [
        words
        for value, words in (
            (left, "measure the way and write it as wall.passage"),
            (wanted, "ask the fire officer how wide it has to stay and write it as wall.escape_width"),
        )
        if value is None
    ]
    yield voice.check(
        "escape_width",
        "Width left of the escape route",
        Verdict.STOP if short else Verdict.CAUTION if unsaid else Verdict.FINE,
        found="how wide the way is, the brief does not say"
        if left is None
        else f"{voice.say(depth)} deep, the piece leaves {voice.say(left)} of {voice.say(depth + left)}",
        allowed="what the fire authority asks for"
        if wanted is None
        else f"at least {voice.say(wanted)}, as the brief has it",
        why="people who flee walk abreast, and whoever stumbles stops all behind",
        care="; ".join([*unsaid, "ask the fire officer before building"]),
        remedy=f"take {voice.say(short)} off its depth, or choose another wall" if short else "",
        figure=None if left is None else left / NM_PER_MM,
        source="the brief's figure; fire rules differ from place to place: local law governs",
    )


def _check_protrusion(brief: Brief, standing: Standing, voice: Voice) -> Check:
    outline, depth = standing.outline, standing.depth_nm
    rules = brief.rules
    held, low, high = rules.held(Rule.JUTTING), rules.held(Rule.JUTTING_FROM).value, rules.held(Rule.JUTTING_TO).value
    reaches = outline.y < high and outline.top > low
    most = held.value - standing.base_depth_nm
    over = depth - held.value
    juts = reaches and over > 0
    below = found_by_a_cane(brief, standing) if juts else ()
    names = " and ".join(item.name for item in below)
    ask = rules.ask(Rule.JUTTING)
    kept = f"fix the {names} so that it stays where it stands" if below else ""
    return voice.check(
        "protrusion",
        "Where people walk along",
        Verdict.CAUTION if below or not held.binds else Verdict.STOP if juts else Verdict.FINE,
        found=f"the piece stands {voice.say(depth)} proud"
        + (f"; {names} under all of it stands out as far, and a cane finds it" if below else ""),
        allowed=f"at most {voice.say(held.value)} between {voice.say(low)} and {voice.say(high)} above the floor"
        + rules.whose(Rule.JUTTING),
        why="a cane does not find what hangs above it, and shoulders do",
        care="; ".join(filter(None, [kept, ask])),
        remedy=f"take {voice.say(over)} off: the highest level that passes is {voice.say(most)}"
        if juts and not below
        else "",
        figure=depth / NM_PER_MM,
        source=rules.sources(Rule.JUTTING, Rule.JUTTING_FROM, Rule.JUTTING_TO),
    )


def _check_hall(brief: Brief, passage: int, standing: Standing, voice: Voice) -> Check:
    """Advice in a home, where no rule of any country counts."""
    depth, held = standing.depth_nm, brief.rules.held(Rule.JUTTING)
    where = "" if held.binds else f" of the {COMPARED.value}"
    lower = standing.levels_nm[:-1]
    offered = f"; without the highest level it is {voice.say(standing.base_depth_nm + lower[-1])}" if lower else ""
    return voice.check(
        "hall_depth",
        "Depth in a passage",
        Verdict.CAUTION if depth > held.value else Verdict.FINE,
        found=f"{voice.say(depth)} proud, which leaves {voice.say(passage - depth)} of {voice.say(passage)}{offered}",
        allowed=f"{voice.say(held.value)} is the limit in public passages{where}; in a private one it is advice only",
        why="what stands out further is walked into",
        remedy="take levels down or stand it nearer to the wall",
        figure=(passage - depth) / NM_PER_MM,
        source=f"{held.source}; advice only in a home",
    )
