"""The verdicts on a hinge post that stands on wallboard alone, or on few fixings."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import FixingKind, WallBuild
from bossage.checks import Check, Verdict
from bossage.hang.case import Case
from bossage.hang.hinge_records import HingePlan
from bossage.hang.hinges import LEAST_FIXINGS
from bossage.hang.words import DEFER, Voice


def post_checks(case: Case, plan: HingePlan, voice: Voice, subject: str) -> Iterator[Check]:
    """`hinge_post` on wallboard, never better than a caution; `post_fixings` where fewer stand than at least should."""
    points = plan.post.fixings
    if not case.brief.into_studs and any(point.into == "wallboard" for point in points):
        kind = FixingKind.WOOD_SCREW if case.brief.wall.build is WallBuild.TIMBER_STUDS else FixingKind.STEEL
        yield voice.check(
            "hinge_post",
            "A stud behind the hinge post",
            Verdict.CAUTION,
            found=f"the hinge post hangs on {len(points)} fixings in wallboard alone",
            allowed="fixings of the hinge post in a stud, or in masonry",
            why="the leaf pulls and twists to and fro each time that it is opened, and wallboard alone holds nothing "
            "that lasts",
            care=f'screw the post to a stud (fixings.kind = "{kind.value}"), or to a board that is screwed across two '
            "studs; look at it twice a year",
            source=f"trade advice; common practice, no source; {DEFER}",
            subject=subject,
        )
    if 0 < len(points) < LEAST_FIXINGS:
        asked = case.brief.fixings.count
        few = asked is not None and asked < LEAST_FIXINGS
        yield voice.check(
            "post_fixings",
            "Fixings behind the hinges",
            Verdict.CAUTION,
            found=f"{len(points)} fixings hold the hinge post"
            + (", as the brief asks" if few else ": it has no room for more outside zones and ends"),
            allowed=f"{LEAST_FIXINGS} or more",
            why="where one of two or three works loose, the rest do not hold the post straight",
            care="leave fixings.count open"
            if few
            else "move the piece, or hang it on another side, so that more find room",
            source=f"common practice, no source; {DEFER}",
            subject=subject,
        )
