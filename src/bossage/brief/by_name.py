"""What a name says of a thing on the wall, where the brief does not say what it is."""

from __future__ import annotations

import re

from bossage.brief.terms import ClearKind, FixtureKind, Medium

_CLEAR = {
    ClearKind.SOCKET: ("socket", "sockets", "outlet", "outlets", "receptacle"),
    ClearKind.SWITCH: ("switch", "switches", "dimmer"),
    ClearKind.TAP: ("tap", "taps", "faucet", "stopcock"),
    ClearKind.DOOR: ("door",),
    ClearKind.WINDOW: ("window",),
}
_MEDIA = {
    Medium.GAS: ("gas",),
    Medium.ELECTRICITY: ("electric", "electrical", "electricity"),
    Medium.WATER: ("water",),
}


def clear_kind_of(name: str) -> ClearKind:
    """What must stay clear, by its name."""
    words = _words(name)
    return next((kind for kind, known in _CLEAR.items() if words & set(known)), ClearKind.OTHER)


def medium_of(name: str) -> Medium | None:
    """What a meter counts or a valve shuts off, by its name; None where it names nothing, or more than one."""
    words = _words(name)
    found = [medium for medium, known in _MEDIA.items() if words & set(known)]
    return found[0] if len(found) == 1 else None


def fixture_kind_of(name: str) -> FixtureKind:
    """What is hidden, by its name: a socket or switch, or something of no special kind."""
    wired = clear_kind_of(name) in (ClearKind.SOCKET, ClearKind.SWITCH)
    return FixtureKind.ACCESSORY if wired else FixtureKind.OTHER


def _words(name: str) -> set[str]:
    return set(re.findall(r"\w+", name.casefold()))
