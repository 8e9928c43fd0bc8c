"""The verdicts on what is behind the wall: how clear fixings stand of zones, and how deep screws go into studs."""

from __future__ import annotations

from bossage.brief.records import WallBuild
from bossage.checks import Check, Verdict
from bossage.fasteners import MOST_IN_STUD_NM
from bossage.hang.case import IN_STUDS, Case
from bossage.hang.hinge_records import HingePlan
from bossage.hang.records import CleatPlan
from bossage.hang.wall_records import FixingPoint
from bossage.hang.words import DEFER, Voice
from bossage.hang.zone_ways import smallest_change
from bossage.units import NM_PER_MM
from bossage.zones import Zone, heeded, nearest_zone, stud_takers
from bossage.zones.words import IN_SHORT

ALLOWED = "every fixing outside the zones"
WHY = "a screw in a live cable kills, and one in a pipe or duct is found out when it is too late"
LOOK = (
    "have the wall looked into by a licensed person, and write what was seen: [[run]], fixture.fed_from or "
    "wall.studs_seen"
)


def zone_check(case: Case, cleat: CleatPlan, voice: Voice, subject: str) -> Check | None:
    """`drill_zones` of a leaf on a cleat; None where no zone is known, which says nothing of the wall."""
    if not case.zones:
        return None
    lost = bool(cleat.taken_nm) and len(cleat.studs) < 2
    stopped = not cleat.fixings or (case.brief.into_studs and lost and _on_studs(cleat))
    if stopped:
        return _stop(case, _taken_words(case, cleat, voice), voice, subject)
    aside = f"; {_taken_words(case, cleat, voice)}" if cleat.taken_nm else ""
    nearest = min((p for p in cleat.fixings if p.clear_nm is not None), key=_clear, default=None)
    found = f"{_binding(case, nearest, voice)}{aside}"
    return _check(Verdict.FINE, found, voice, subject, _sources(case.zones))


def hinge_zone_check(case: Case, plan: HingePlan, voice: Voice, subject: str) -> Check | None:
    """`drill_zones` of a leaf that swings, by the fixings of its post and its stays."""
    if not case.zones:
        return None
    if not plan.post.fixings:
        swing = case.swing
        middle = (swing.from_nm + swing.to_nm) // 2, plan.post.line_nm
        held = heeded(case.zones, case.brief.wall, into_stud=case.brief.into_studs)
        near = nearest_zone(held, *(middle[::-1] if swing.upright else middle))
        cause = f" ({near[0].cause})" if near else ""
        return _stop(case, f"zones leave no place for a fixing of the hinge post{cause}", voice, subject)
    nearest = min((one for one in plan.every_fixing if one.clear_nm is not None), key=_clear, default=None)
    return _check(Verdict.FINE, _binding(case, nearest, voice), voice, subject, _sources(case.zones))


def depth_check(case: Case, cleat: CleatPlan | None, voice: Voice, subject: str) -> Check | None:
    """`screw_depth`: how deep the screws go into their studs; None where they go into none."""
    brief = case.brief
    deep = [p.depth_in_stud_mm for p in (cleat.fixings if cleat else ()) if p.depth_in_stud_mm is not None]
    if not deep or brief.wall.studs_seen:
        return None
    found_nm = round(max(deep) * NM_PER_MM)
    over_nm = found_nm - MOST_IN_STUD_NM
    longest_nm = case.wall_screw.length_nm - over_nm
    return voice.check(
        "screw_depth",
        "How deep the screws go into the studs",
        Verdict.CAUTION if over_nm > 0 else Verdict.FINE,
        found=f"{voice.say(found_nm)} behind the face of the stud",
        allowed=f"at most {voice.say(MOST_IN_STUD_NM)} where nobody has looked into the stud",
        why="a cable or pipe through a stud keeps that far from its face, so a longer screw may reach it",
        care=IN_SHORT,
        remedy=f"use screws of {voice.say(longest_nm)} at most, or have the studs looked into (wall.studs_seen)",
        source=f"NEC 300.4(A)(1) and (D), read in pages that quote them; for the screw our conclusion; {DEFER}",
        subject=subject,
    )


NONE_BINDS = "no zone binds the fixings: those that there are lie in the hollow between studs"


def _clear(point: FixingPoint) -> int:
    return 0 if point.clear_nm is None else point.clear_nm


def _binding(case: Case, nearest: FixingPoint | None, voice: Voice) -> str:
    if nearest is None:
        return NONE_BINDS
    held = heeded(case.zones, case.brief.wall, into_stud=nearest.into in IN_STUDS)
    near = nearest_zone(held, nearest.x_nm, nearest.y_nm)
    return f"{voice.say(_clear(nearest))} between the nearest fixing and its zone ({near[0].cause if near else ''})"


def _taken_words(case: Case, cleat: CleatPlan, voice: Voice) -> str:
    """Which studs are not counted, and for which zone."""
    wall = case.brief.wall
    low = cleat.wall_half_bottom_nm
    high = low + case.brief.cleat.strip_nm - cleat.engagement_nm
    said = []
    for x in cleat.taken_nm:
        causes = dict.fromkeys(zone.cause for zone in stud_takers(wall, case.zones, x, low, high))
        said.append(f"the stud at {voice.say(x)} lies in a zone ({', '.join(causes)}) and is not counted")
    if not said:
        inside = dict.fromkeys(z.cause for z in case.zones if _behind(z, cleat, low, high))
        said.append(f"zones take the wall behind the cleat ({', '.join(inside)})")
    return "; ".join(said)


def _behind(zone: Zone, cleat: CleatPlan, low: int, high: int) -> bool:
    x0, x1, y0, y1 = zone.box_nm
    return x0 < cleat.to_nm and x1 > cleat.from_nm and y0 < high and y1 > low


def _on_studs(cleat: CleatPlan) -> bool:
    return not any(point.into == "wallboard" for point in cleat.fixings)


def _stop(case: Case, found: str, voice: Voice, subject: str) -> Check:
    words, edits = smallest_change(case)
    return voice.check(
        "drill_zones",
        "Clear of cables, pipes and ducts",
        Verdict.STOP,
        found=found,
        allowed=ALLOWED if case.brief.wall.build is WallBuild.MASONRY else f"{ALLOWED}, in two studs or more",
        why=WHY,
        care=IN_SHORT,
        remedy=words or LOOK,
        edits=edits,
        source=_sources(case.zones),
        subject=subject,
    )


def _check(verdict: Verdict, found: str, voice: Voice, subject: str, source: str) -> Check:
    return voice.check(
        "drill_zones",
        "Clear of cables, pipes and ducts",
        verdict,
        found=found,
        allowed=ALLOWED,
        why=WHY,
        care=IN_SHORT,
        source=source,
        subject=subject,
    )


def _sources(zones: tuple[Zone, ...]) -> str:
    return "; ".join([*dict.fromkeys(zone.source for zone in zones), DEFER])
