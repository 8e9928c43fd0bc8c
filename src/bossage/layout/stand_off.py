"""How far the backer stands from the wall, and whether what holds it there is thick enough."""

from __future__ import annotations

from bossage.brief.hinges import swung_stand_off_nm
from bossage.brief.records import Brief, EdgeStyle, Opens
from bossage.checks import Check, Verdict
from bossage.layout.records import StandOff
from bossage.layout.words import Voice
from bossage.units import NM_PER_MM

HOLDS_OFF = ("frame", "stile")  # ribs stiffen the backer and need not reach the wall


def stand_off_of(brief: Brief) -> StandOff:
    """The largest of cleat stack with packer, edge strips, and the parts on the back: what holds the backer there.

    A fixture holds nothing. The cleat's packer is chosen so that its stack clears the fixture and its air; where the
    brief's own packer is thinner, the backer stands nearer, and `check_air` says so. A piece that swings has no cleat:
    post and stile of its hinges hold it, and are as thick together as fixture, air and edge ask for.
    """
    proud = max((f.proud_nm for f in brief.fixtures), default=0)
    cleat = _stack_nm(brief)
    strips = brief.edge.strip_thickness_nm if brief.edge.style is EdgeStyle.OUTRIGGER else 0
    fixture = proud + brief.access.air_nm if brief.fixtures else 0
    behind = max((p.depth_nm for p in brief.behind), default=0)
    stack = "cleat" if brief.access.opens is Opens.LIFT_OFF else "hinges"
    holds = {stack: cleat, "edge strips": strips, "frame": behind}
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
    """What truly holds the backer off the wall: its stack, or a frame or stiles that reach further."""
    return max([_stack_nm(brief), *(p.depth_nm for p in brief.behind if p.role in HOLDS_OFF)])


def _stack_nm(brief: Brief) -> int:
    """The cleat with its packer; of a piece that swings post, play and stile of its hinges."""
    if brief.access.opens is Opens.LIFT_OFF:
        return brief.cleat.thickness_nm + brief.cleat.packer_nm
    return swung_stand_off_nm(
        brief.butt,
        brief.piece.unit,
        fixture_nm=max(f.proud_nm for f in brief.fixtures) + brief.access.air_nm if brief.fixtures else 0,
        strips_nm=brief.edge.strip_thickness_nm if brief.edge.style is EdgeStyle.OUTRIGGER else 0,
        lipping_nm=lipping_reach_nm(brief),
        behind_nm=max((p.depth_nm for p in brief.behind), default=0),
    )


def lipping_reach_nm(brief: Brief) -> int:
    """How far a lipping that is deeper than the backer reaches behind it."""
    edge = brief.edge
    return max(0, edge.lipping_depth_nm - brief.backer.thickness_nm) if edge.style is EdgeStyle.BANDED else 0


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
    holder = "the cleat stack" if brief.access.opens is Opens.LIFT_OFF else "the wood of the hinges"
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
