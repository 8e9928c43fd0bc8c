"""Meters, valves and manifolds behind a piece: who must read them, shut them off and change them, and how fast.

Verdicts here are never more than advice: the supplier's rules, local codes and licensed people govern. The figure of
these checks, the mass of the leaf before the thing, is known when all is planned.
"""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief, Fixture, FixtureKind, Medium, Opens
from bossage.checks import Check, Verdict
from bossage.layout.words import Voice

ALLOWED = "reached by hand, without a tool, by whoever is there; whether it may be covered is theirs to say"
SOURCE = "common practice, no source; the supplier's rules, local code and licensed practice govern"


def check_services(brief: Brief, fixture: Fixture, voice: Voice) -> Iterator[Check]:
    """`meter_reach`, `gas_reach` and `pipes_reach`: what of them a fixture gives cause for."""
    gas = fixture.medium is Medium.GAS
    if fixture.kind is FixtureKind.METER:
        yield _meter(brief, fixture, voice)
    if gas and fixture.kind in (FixtureKind.METER, FixtureKind.VALVES):
        yield _gas(brief, fixture, voice)
    if fixture.kind is FixtureKind.MANIFOLD or (fixture.kind is FixtureKind.VALVES and not gas):
        yield _pipes(brief, fixture, voice)


def _meter(brief: Brief, fixture: Fixture, voice: Voice) -> Check:
    # the only switch may be beside it; and where nobody says what a meter counts, it may be gas
    at_once = fixture.medium in (Medium.ELECTRICITY, None)
    verdict = _verdict(brief, lifts=Verdict.STOP if at_once else Verdict.CAUTION)
    untold = "" if fixture.medium else "write what it counts as fixture.medium; "
    return voice.check(
        "meter_reach",
        "A meter behind the piece",
        verdict,
        found=_before(brief),
        allowed=ALLOWED,
        why="the supplier reads it, seals it and changes it, and its switch or valve is shut in an emergency",
        care=f"{untold}ask the supplier before building, and keep its seals untouched",
        remedy=_remedy(brief, verdict),
        source=SOURCE,
        subject=fixture.name,
    )


def _gas(brief: Brief, fixture: Fixture, voice: Voice) -> Check:
    verdict = _verdict(brief, lifts=Verdict.STOP)
    return voice.check(
        "gas_reach",
        "Shutting off the gas at once",
        verdict,
        found=_before(brief),
        allowed=ALLOWED,
        why="whoever smells gas has seconds, and may not know the house or be able to lift",
        care="ask a licensed gas fitter, and write the supplier's emergency number on the outside",
        remedy=_remedy(brief, verdict),
        source=SOURCE,
        subject=fixture.name,
    )


def _pipes(brief: Brief, fixture: Fixture, voice: Voice) -> Check:
    verdict = _verdict(brief, lifts=Verdict.CAUTION)
    valves = fixture.kind is FixtureKind.VALVES
    untold = "" if fixture.medium or not valves else "write what they shut off as fixture.medium; "
    return voice.check(
        "pipes_reach",
        "Shutting off water or heating behind the piece",
        verdict,
        found=_before(brief),
        allowed=ALLOWED,
        why="water runs until somebody shuts it off",
        care=f"{untold}ask a licensed heating engineer or plumber; "
        "show everybody in the house where else it is shut off",
        remedy=_remedy(brief, verdict),
        source=SOURCE,
        subject=fixture.name,
    )


def _verdict(brief: Brief, *, lifts: Verdict) -> Verdict:
    """`lifts`: the verdict where the piece has to be lifted off; a tool before it always stops."""
    access = brief.access
    return Verdict.STOP if access.tool else lifts if access.opens is Opens.LIFT_OFF else Verdict.CAUTION


def _before(brief: Brief) -> str:
    access = brief.access
    off = access.opens is Opens.LIFT_OFF
    found = "the piece has to be lifted off first" if off else f"the piece swings open to {access.angle_deg:g}°"
    return f"{found}, with a tool" if access.tool else found


def _remedy(brief: Brief, verdict: Verdict) -> str:
    if verdict is not Verdict.STOP:
        return ""
    return "use a catch that opens by hand" if brief.access.tool else "let it swing on hinges and open by hand"
