"""The room as it is lived in: small children, earthquakes, heat and sun. Each is silent unless the brief speaks of it.

Verdicts here are never more than advice: what a maker prints on a heater or a lamp, and local rules, govern.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, isqrt

from bossage.brief.records import Below, Brief, Opens
from bossage.brief.room import HeatSource
from bossage.checks import Check, Verdict
from bossage.layout.records import BlockField
from bossage.layout.rect import Rect
from bossage.layout.wall_rules import Standing, way_out
from bossage.layout.words import Voice, mm

CYLINDER_NM = mm(31.7), mm(57.1)
"""Inner diameter and greatest depth of the cylinder for small parts: 16 CFR 1501.4 and EN 71-1, as Canada's Toys
Regulations, schedule 1, print it (read)."""

HEAT_CLEAR: dict[str, tuple[int, str]] = {
    "radiator": (mm(100), "100 mm: ours, for warm water"),
    "heater": (mm(914), "3 ft (914 mm) from what heats: fire-safety advice of the NFPA, from memory"),
    "stove": (mm(914), "3 ft (914 mm) from what heats: fire-safety advice of the NFPA, from memory"),
    "lamp": (
        mm(500),
        "500 mm: ours, where none is marked on the lamp (sign of IEC 60598-1, from memory)",
    ),
}
"""How far wood stays from each kind where nobody knows what its maker wants."""

SUN_LUX = 50_000.0
"""Direct sun behind a pane, as a mean over its hours: ours."""

FADES_AFTER_MLXH = (0.22, 0.6, 1.5, 3.5, 8.0, 20.0, 50.0, 120.0)
"""Million lux hours until a change is just seen, by blue wool class 1 to 8, in light with ultraviolet.

CIE 157:2004, from memory.
"""

YEARS_WANTED = 10.0
"""A colour that changes sooner draws a caution: ours."""


def check_lived_in(brief: Brief, standing: Standing, field: BlockField, voice: Voice) -> Iterator[Check]:
    """`child_reach`, `earthquake`, `heat_near` and `sunlight`: what of them the brief gives cause for."""
    reach = brief.room.children_reach_nm
    if reach is not None:
        yield _check_child(brief, reach, standing, field, voice)
    if brief.room.earthquakes:
        yield _check_earthquake(brief, voice)
    for source in brief.heat:
        yield _check_heat(brief, source, standing, voice)
    if brief.room.sun_hours:
        yield _check_sun(brief, brief.room.sun_hours, voice)


def is_small_part(sides_nm: tuple[int, int, int]) -> bool:
    """Whether a block fits into the cylinder for small parts, its longest side along the axis.

    Leaves out: thin plates that go in only slantwise.
    """
    a, b, c = sorted(sides_nm)
    return hypot(a, b) <= CYLINDER_NM[0] and c <= CYLINDER_NM[1]


def _check_child(brief: Brief, reach: int, standing: Standing, field: BlockField, voice: Voice) -> Check:
    low = standing.outline.y
    within = [
        (int(wide), int(high))
        for y, wide, high in zip(field.y_nm, field.width_nm, field.height_nm, strict=True)
        if y < reach
    ]
    # which of them gets which height is found later, so each may get the lowest
    small = sum(is_small_part((wide, high, standing.levels_nm[0])) for wide, high in within)
    loose = brief.access.opens is Opens.LIFT_OFF and not brief.access.lock
    reached = low < reach
    parts = f"{small} of the {len(within)} blocks up to there can be small parts" if small else "no block is that small"
    label = f"write on its back: “small parts up to {voice.say(reach)}, not for children under 3”; " if small else ""
    return voice.check(
        "child_reach",
        "In reach of small children",
        Verdict.CAUTION if reached and (small or loose) else Verdict.FINE,
        found=f"the lower edge is {voice.say(low)} above the floor, and children reach {voice.say(reach)}; {parts}"
        if reached
        else f"the lower edge is {voice.say(low)} above the floor, over the {voice.say(reach)} that children reach",
        allowed=f"no block that fits into a cylinder {voice.say(CYLINDER_NM[0])} wide and {voice.say(CYLINDER_NM[1])} "
        "deep, and no leaf that is pushed up off its cleat",
        why="a block that comes loose is swallowed, and a leaf that is pushed up from below falls on the child",
        care=f"{label}round the lower edges and corners, and pull at every block there before the piece hangs",
        remedy=("fit the anti-lift lock" if loose else "raise it, or take a larger footprint below")
        if reached and (small or loose)
        else "",
        source="small parts: 16 CFR 1501.4 and EN 71-1, as read in pages that print the cylinder; the rest is ours",
    )


def _check_earthquake(brief: Brief, voice: Voice) -> Check:
    loose = brief.access.opens is Opens.LIFT_OFF and not brief.access.lock
    over = brief.wall.below is not Below.NONE
    found = "nothing keeps the leaf from jumping off its cleat" if loose else "the leaf cannot jump off what holds it"
    return voice.check(
        "earthquake",
        "Where the ground shakes",
        Verdict.CAUTION if loose or over else Verdict.FINE,
        found=found + (f", and it hangs over a {brief.wall.below.value}" if over else ""),
        allowed="hooks that close, screws in the studs, and nothing heavy over a bed or a seat",
        why="what hangs on an open hook jumps off, and falls on whoever is below",
        care="screw into studs or solid masonry alone, and ask a builder who knows the ground; nobody has reckoned an "
        "earthquake here",
        remedy="fit the anti-lift lock, which closes the hook" if loose else "choose another wall",
        source="FEMA, Mount Framed Pictures and Mirrors Securely (2008), read: long hooks into the studs, none over "
        "beds, chairs or couches; closed hooks: earthquakecountry.org, read",
    )


def _check_heat(brief: Brief, source: HeatSource, standing: Standing, voice: Voice) -> Check:
    away = clear_of(source, standing)
    usual, where = HEAT_CLEAR[source.kind]
    wanted = usual if source.clear_nm is None else source.clear_nm
    near = away < wanted
    grown = Rect(
        source.x_nm - wanted,
        source.bottom_nm - wanted,
        source.width_nm + 2 * wanted,
        source.top_nm - source.bottom_nm + 2 * wanted,
    )
    ask = f"read what the maker of {source.name} asks for, and write it as clear"
    return voice.check(
        "heat_near",
        "Away from what is hot",
        Verdict.FINE if not near else Verdict.CAUTION if source.clear_nm is None else Verdict.STOP,
        found=f"the piece ends {voice.say(away)} from the {source.kind} “{source.name}”",
        allowed=f"at least {voice.say(wanted)}{'' if source.clear_nm is None else ', as its maker asks'}",
        why="wood that is warmed for years dries, cracks and takes fire sooner, and glue lets go",
        care=f"{ask}; " * (source.clear_nm is None) + "keep the air over it free",
        remedy=way_out(standing.outline, grown, voice, brief) if near else "",
        source=where if source.clear_nm is None else "the maker's figure in the brief",
        subject=source.name,
    )


def clear_of(source: HeatSource, standing: Standing) -> int:
    """The shortest way through the air from the piece to what is hot; 0 where they meet."""
    outline = standing.outline
    along = max(0, source.x_nm - outline.right, outline.x - source.x_nm - source.width_nm)
    up = max(0, source.bottom_nm - outline.top, outline.y - source.top_nm)
    out = max(0, source.near_nm - standing.depth_nm)
    return isqrt(along**2 + up**2 + out**2)


def _check_sun(brief: Brief, hours: float, voice: Voice) -> Check:
    grade = brief.paint.blue_wool
    dose = hours * 365 * SUN_LUX / 1e6
    years = None if grade is None else FADES_AFTER_MLXH[grade - 1] / dose
    least = next((n for n, limit in enumerate(FADES_AFTER_MLXH, 1) if limit / dose >= YEARS_WANTED), None)
    wanted = f"class {least} or better" if least else "no class lasts so long in so much sun"
    found = f"{hours:g} h of sun a day are about {dose:.0f} million lux hours a year"
    if years is not None:
        found += f"; a colour of class {grade} is seen to change after about {years:.1g} years"
    return voice.check(
        "sunlight",
        "Sun on the colours",
        Verdict.FINE if years is not None and years >= YEARS_WANTED else Verdict.CAUTION,
        found=found,
        allowed=f"{YEARS_WANTED:g} years until a change is just seen: {wanted} on the blue wool scale",
        why="shades fade unevenly, so that a fade that was graded by eye no longer meets",
        care="ask the maker of paint and tinters for the lightfastness, and write the lowest as paint.blue_wool"
        if grade is None
        else "",
        remedy="hang a blind, or choose a wall without sun",
        source="CIE 157:2004 and ISO 105-B, from memory; a mean of 50,000 lux behind a pane is ours",
    )
