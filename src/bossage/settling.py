"""Which checks somebody can agree to, who that is, and on which figure: the one home of what can be settled.

Never here: what bossage refuses, a load path, a law of geometry or of a solver, stock that is not there. Nobody's word
changes these. Who is asked is this project's own judgement; local codes say who decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

Unit = Literal["mm", "g", "deg", "a year"]


class Who(StrEnum):
    """Who has to agree."""

    ELECTRICIAN = "electrician or authority"
    AUTHORITY = "local authority"  # what is not an electrician's to give away
    SUPPLIER = "supplier of the meter"
    GAS = "gas fitter"
    HEATING = "heating engineer or plumber"
    SWEEP = "chimney sweep"
    FIRE = "fire officer"
    LANDLORD = "landlord"
    PARTNER = "those who live with it"
    SCHOOL = "school"
    MAKER = "maker"


@dataclass(frozen=True, slots=True, kw_only=True)
class Settleable:
    """What an answer to one check is about.

    `what` names the figure that is agreed, `more_is_worse` says which way it must not go. `held` are the keys that say
    what else must stay as it was: the `place` of what it is about, how the piece `opens`, its `lock`, where the `hands`
    are.
    """

    unit: Unit
    what: str
    more_is_worse: bool
    who: Who
    question: str
    held: tuple[str, ...] = ()


def _may(
    unit: Unit, what: str, which_is_worse: Literal["more", "less"], who: Who, question: str, *held: str
) -> Settleable:
    return Settleable(
        unit=unit, what=what, more_is_worse=which_is_worse == "more", who=who, question=question, held=held
    )


_LOOKS = "Is it to stay as it is, as a knowing choice?"

SETTLEABLE: dict[str, Settleable] = {
    "ready_access": _may(
        "g", "mass of the leaf before it", "more", Who.ELECTRICIAN,
        "May the piece stand before it, opened as told above?", "place", "opens",
    ),
    "combustible": _may(
        "mm", "air before it", "less", Who.ELECTRICIAN, "May wood hang before it, with that much air?", "place"
    ),
    "space": _may(
        "mm", "how far the space falls short", "more", Who.AUTHORITY, "May the room before it be that much less?",
        "place",
    ),
    "open_space": _may(
        "mm", "how far the space falls short", "more", Who.AUTHORITY,
        "May the room before it be that much less while the piece stands open?", "place", "opens",
    ),
    "meter_reach": _may(
        "g", "mass of the leaf before it", "more", Who.SUPPLIER,
        "May the piece stand before the meter, opened as told above?", "place", "opens",
    ),
    "gas_reach": _may(
        "g", "mass of the leaf before it", "more", Who.GAS,
        "Is the gas shut off fast enough with the piece before it, or elsewhere?", "place", "opens",
    ),
    "pipes_reach": _may(
        "g", "mass of the leaf before it", "more", Who.HEATING,
        "Is it shut off fast enough with the piece before it, or elsewhere?", "place", "opens",
    ),
    "flue": _may(
        "mm", "air before its door", "less", Who.SWEEP,
        "Is the flue out of use and capped, and may wood hang before its door?", "place",
    ),
    "handle": _may("mm", "height of the grip", "more", Who.ELECTRICIAN, "May its grip be so high?", "place"),
    "swing_angle": _may("deg", "how far it opens", "less", Who.ELECTRICIAN, "Does it open far enough?", "place"),
    "escape_route": _may(
        "g", "mass of the piece", "more", Who.FIRE, "May so much wood hang on this wall of the escape route?"
    ),
    "escape_width": _may(
        "mm", "width that is left", "less", Who.FIRE, "Is that much enough of the escape route?"
    ),
    "protrusion": _may("mm", "how far it stands out", "more", Who.LANDLORD, "May it stand out so far over the way?"),
    "keep_clear": _may("mm", "distance from it", "less", Who.LANDLORD, "May the piece end so near to it?", "place"),
    "hall_depth": _may("mm", "what it leaves of the passage", "less", Who.PARTNER, "Is the way still wide enough?"),
    "lift_off": _may(
        "a year", "how often it comes off", "more", Who.PARTNER, "Will it really be lifted off so often?", "place"
    ),
    "over_bed": _may(
        "g", "mass of the leaf", "more", Who.PARTNER, "May it hang over where you lie?", "place", "lock"
    ),
    "over_seat": _may(
        "g", "mass of the leaf", "more", Who.PARTNER, "May it hang over where you sit?", "place", "lock"
    ),
    "lift": _may(
        "g", "mass of the leaf", "more", Who.PARTNER, "Who lifts it, with whose help, and is that agreed?", "hands"
    ),
    "two_people": _may(
        "g", "mass of the leaf", "more", Who.PARTNER, "Are there two people whenever it comes off?", "hands"
    ),
    "cover_margin": _may(
        "mm", "how far the piece reaches past it", "less", Who.PARTNER, "May it be covered so scantily?", "place"
    ),
    "bare_cleat": _may("mm", "air over it", "less", Who.MAKER, _LOOKS, "place"),
    "side_view": _may("mm", "how far the piece reaches past it", "less", Who.MAKER, _LOOKS, "place"),
    "eye_level": _may("mm", "how far it is off", "more", Who.MAKER, _LOOKS),
    "width_band": _may("mm", "how far it is off", "more", Who.MAKER, _LOOKS, "place"),
    "bench_gap": _may("mm", "how far it is off", "more", Who.MAKER, _LOOKS, "place"),
    "sofa_gap": _may("mm", "how far it is off", "more", Who.MAKER, _LOOKS, "place"),
    "headboard_gap": _may("mm", "how far it is off", "more", Who.MAKER, _LOOKS, "place"),
}  # fmt: skip
"""By the name of a check. A check that has not its figure (a depth nobody measured) cannot be settled either."""

NEVER = "what bossage refuses, a load path, a law of geometry or of a solver, or stock that is not there"
"""What no answer changes, in words."""

OPENED_AS = ("lift-off", "lift-off with a tool", "swing", "swing with a tool")
"""How a piece opens, as an answer holds it."""


def opened_as(opens: str, *, tool: bool) -> str:
    """How a piece opens, in the words of an answer."""
    return f"{opens} with a tool" if tool else opens
