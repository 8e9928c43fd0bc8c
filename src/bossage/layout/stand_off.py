"""How far the backer stands from the wall, and whether what holds it there is thick enough."""

from __future__ import annotations

from bossage.brief.records import Brief, EdgeStyle, Opens
from bossage.checks import Check, Verdict
from bossage.layout.records import StandOff
from bossage.layout.words import Voice
from bossage.units import NM_PER_MM

HOLDS_OFF = ("frame", "stile")  # ribs stiffen the backer and need not reach the wall


def stand_off_of(brief: Brief) -> StandOff:
    """The largest of cleat stack with packer, edge strips, and the parts on the back: what holds the backer there.

    A fixture holds nothing. Its packer is chosen so that the cleat stack clears the fixture and its air; where the
    brief's own packer is thinner, the backer stands nearer, and `check_air` says so.
    """
    proud = max((f.proud_nm for f in brief.fixtures), default=0)
    cleat = brief.cleat.thickness_nm + brief.cleat.packer_nm
    strips = brief.edge.strip_thickness_nm if brief.edge.style is EdgeStyle.OUTRIGGER else 0
    fixture = proud + brief.access.air_nm if brief.fixtures else 0
    behind = max((p.depth_nm for p in brief.behind), default=0)
    holds = {"cleat": cleat, "edge strips": strips, "frame": behind}
    decided = max(holds, key=lambda who: holds[who])
    return StandOff(
        cleat_stack_nm=cleat,
        strips_nm=strips,
        fixture_nm=fixture,
        behind_nm=behind,
        stand_off_nm=holds[decided],
        decided_by="fixture" if holds[decided] == fixture else decided,
        air_nm=held_off_nm(brief) - proud,
        air_with_bare_cleat_nm=brief.cleat.thickness_nm - proud,
    )


def held_off_nm(brief: Brief) -> int:
    """What truly holds the backer off the wall: the cleat stack, or a frame or stiles that reach further."""
    cleat = brief.cleat.thickness_nm + brief.cleat.packer_nm
    return max([cleat, *(p.depth_nm for p in brief.behind if p.role in HOLDS_OFF)])


def check_air(brief: Brief, stand_off: StandOff, voice: Voice) -> tuple[Check, ...]:
    """`bare_cleat`: a piece held nearer to the wall than its proudest fixture and the air over it ask for."""
    if not brief.fixtures:
        return ()
    wanted, air = brief.access.air_nm, stand_off.air_nm
    proudest = max(brief.fixtures, key=lambda f: f.proud_nm)
    short = wanted - air
    frame = max((p.depth_nm for p in brief.behind if p.role in HOLDS_OFF), default=0)
    framed = frame > brief.cleat.thickness_nm + brief.cleat.packer_nm
    verdict = Verdict.FINE if short <= 0 else Verdict.CAUTION if air >= 0 else Verdict.STOP
    packer = brief.cleat.packer_nm + short
    holder = "the cleat stack" if brief.access.opens is Opens.LIFT_OFF else "what carries the piece"
    return (
        voice.check(
            "bare_cleat",
            "Air over what is hidden",
            verdict,
            found=f"{holder} holds the backer {voice.say(held_off_nm(brief))} off the wall; {proudest.name} stands "
            f"{voice.say(proudest.proud_nm)} proud, which leaves {voice.say(air)} of air",
            allowed=f"at least {voice.say(wanted)} of air",
            why="a piece that touches the fixture rocks on it, rubs it and cannot hang level",
            remedy=f"make frame and stiles {voice.say(frame + short)} deep ({voice.say(short)} more)"
            if framed
            else f"make the packer {voice.say(packer)} thick ({voice.say(short)} more)",
            figure=air / NM_PER_MM if air >= 0 else None,
            source="stand-off = fixture + air: common practice, our default",
            subject=proudest.name,
        ),
    )
