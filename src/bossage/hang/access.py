"""What each kind of fixture asks of whatever hangs before it: who reaches it, what stays free, who may say so.

None of it is a permit: local codes, the supplier and licensed people govern, and every rule names which of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.records import FixtureKind


@dataclass(frozen=True, slots=True, kw_only=True)
class AccessRule:
    """What to grant one kind of fixture, whom to ask, and where that stands."""

    grant: str
    ask: str
    source: str
    covered: bool = True  # False: nothing is hung before it at all


COMMON = "common practice, no source"
SPACE_KEPT = "working space before it kept empty"
NEVER = "Nothing hangs before it."

ACCESS: dict[FixtureKind, AccessRule] = {
    FixtureKind.THERMOSTAT: AccessRule(
        grant="Room air flows over it: the open cells above and below stay open.",
        ask="Its own instructions govern; wiring is for a licensed electrician.",
        source=COMMON,
    ),
    FixtureKind.CHIME: AccessRule(
        grant="Sound gets out through open cells or seams.",
        ask="Its own instructions govern; wiring is for a licensed electrician.",
        source=COMMON,
    ),
    FixtureKind.KEYPAD: AccessRule(
        grant="Everybody reaches it without lifting anything: hinge the piece or leave a window.",
        ask="For an alarm or a door ask its installer; local rules govern.",
        source="two homes that ended with hinges, as read for this project",
    ),
    FixtureKind.ROUTER: AccessRule(
        grant="No metal, foil or metal flake before it, and air for its heat.",
        ask="Its own instructions govern.",
        source=f"wood is nearly clear to radio, metal is not: {COMMON}",
    ),
    FixtureKind.ELECTRICAL: AccessRule(
        grant=f"Reached at once: no tool, nothing to remove, nothing fixed to it, {SPACE_KEPT}.",
        ask="Local code governs: ask a licensed electrician and the local authority.",
        source="United States: NEC 110.26(A), (B), Art. 100, 240.24 (240.24(A) from memory); "
        "Great Britain: BS 7671 132.12",
    ),
    FixtureKind.METER: AccessRule(
        grant="Read, shut off and changed at any time; seals stay untouched; a gas meter also keeps its air.",
        ask="The supplier's rules and local code govern: ask the supplier, for gas a licensed fitter as well.",
        source=COMMON,
    ),
    FixtureKind.MANIFOLD: AccessRule(
        grant="Shut off and bled by hand; it is warm, so air passes behind the piece.",
        ask="Its own instructions govern: ask a licensed heating engineer.",
        source=COMMON,
    ),
    FixtureKind.VALVES: AccessRule(
        grant="Shut within seconds when water runs: everybody in the house knows how the piece comes off.",
        ask="Local code governs: ask a licensed plumber.",
        source=COMMON,
    ),
    FixtureKind.CABLE_BOX: AccessRule(
        grant="Lid and cables move freely; nothing is fixed to the box.",
        ask="If there is mains in it, ask a licensed electrician.",
        source=COMMON,
    ),
    FixtureKind.ACCESSORY: AccessRule(
        grant="Nothing plugged in behind the piece; its cover stays on, and is reached with the piece away.",
        ask="Whether a switch or socket may be covered is for a licensed electrician to say; local code governs.",
        source=COMMON,
    ),
    FixtureKind.HATCH: AccessRule(
        grant="It opens fully with the piece away. A hatch that is rated against fire is neither drilled nor painted.",
        ask="What lies behind decides: ask whose service it is; local fire rules govern.",
        source=COMMON,
    ),
    FixtureKind.CLEANOUT: AccessRule(
        grant="Only before a flue that is out of use and capped; the sweep still gets at its door.",
        ask="Local fire rules govern: ask a licensed chimney sweep.",
        source=COMMON,
    ),
    FixtureKind.SUPPLY_GRILLE: AccessRule(
        grant=NEVER, ask="The system's own instructions govern.", source="trade advice", covered=False
    ),
    FixtureKind.RETURN_GRILLE: AccessRule(
        grant=f"{NEVER} Large things stay about 250 mm (10 in) away.",
        ask="The system's own instructions govern.",
        source="trade advice",
        covered=False,
    ),
    FixtureKind.APPLIANCE: AccessRule(
        grant=f"{NEVER} It needs its air and its clearances.",
        ask="Its instructions and local code govern: ask a licensed fitter.",
        source="trade advice",
        covered=False,
    ),
    FixtureKind.OTHER: AccessRule(
        grant="Find out who needs it, how fast and with which tool, before anything is built.",
        ask="For electricity, gas or an emergency shut-off ask a licensed tradesperson; local code governs.",
        source=COMMON,
    ),
}

NEVER_COVERED = (
    "supply and return grilles, fuel-burning appliances and their flues, smoke and gas alarms, emergency switches, "
    "sprinklers, exits and their signs"
)
"""What no piece hangs before, whatever the brief says. Common practice; local codes and licensed practice govern."""
