"""The verdicts on fixings in the wall: studs, room between screws, figures of their maker."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from bossage.brief.records import FixingKind, Ratings, WallBuild
from bossage.checks import Check, Verdict
from bossage.fasteners import least_placing
from bossage.hang.case import Case, screw_or_reason
from bossage.hang.crowded import ALONE_NM
from bossage.hang.rated import allowed
from bossage.hang.records import CleatPlan
from bossage.hang.wall import LEAST_FIXINGS, WallHold
from bossage.hang.words import DEFER, Voice
from bossage.timber import board_keys
from bossage.units import NM_PER_MM

NEARLY_NM = 50 * NM_PER_MM
"""A stud that is missed by no more is worth a longer cleat or a small move: ours."""

THICKEST_MM = 6.35
"""Thicker screws are lag screws, with rules of their own."""


def studs_check(case: Case, cleat: CleatPlan, voice: Voice, subject: str, *, on_board: bool) -> Check:
    """Fixings in wallboard are never better than a caution, whatever their kind."""
    met, missed = len(cleat.studs), cleat.missed
    # one more stud that is almost met is worth a small change, however many there are
    near = missed is not None and missed.short_nm <= NEARLY_NM and (missed.shortest_fits or missed.shift_nm is not None)
    way = []
    if missed is not None:
        if missed.shift_nm is not None:
            side = "right" if missed.shift_nm > 0 else "left"
            what = "the cleat" if len(cleat.pieces) == 1 else "both cleats"
            way.append(f"move {what} {voice.say(abs(missed.shift_nm))} {side}")
        if missed.shortest_fits:
            each = "it" if len(cleat.pieces) == 1 else "each"
            way.append(f"make {each} {voice.say(missed.shortest_nm)} long, centred as it is")
    if on_board and met >= LEAST_FIXINGS:
        kind = FixingKind.WOOD_SCREW if case.brief.wall.build is WallBuild.TIMBER_STUDS else FixingKind.STEEL
        way = [f'screw it into the studs (fixings.kind = "{kind.value}")']
    more = (
        f"; the next, at {voice.say(missed.x_nm)}, is {voice.say(missed.miss_nm)} past its end"
        if missed is not None
        else ""
    )
    few = met < LEAST_FIXINGS
    verdict = Verdict.CAUTION if on_board or (near and not few) else Verdict.STOP if few else Verdict.FINE
    return voice.check(
        "studs",
        "Studs behind the cleat",
        verdict,
        found=(f"the leaf hangs on wallboard{' and one stud' if met == 1 else ' alone'}; " if on_board else "")
        + f"{'the cleat' if len(cleat.pieces) == 1 else 'two cleats'} of {voice.say(cleat.length_nm)} "
        f"{'meets' if len(cleat.pieces) == 1 else 'meet'} {met}{more}",
        allowed="two studs or more, and every one that is within easy reach",
        why="on one stud a leaf can tip, and wallboard alone holds nothing that lasts; each further stud helps",
        care=_spacing_care(cleat, voice) if on_board else "",
        remedy=" or ".join(way) or "move the piece, or use a fixing that is rated for the wallboard",
        source=f"two studs: trade advice; end distance: common practice, no source; {DEFER}",
        subject=subject,
    )


def _spacing_care(cleat: CleatPlan, voice: Voice) -> str:
    """A maker's figure is that of one fixing by itself: how close they stand here, and what is to be asked."""
    places = sorted({p.x_nm for p in cleat.fixings if p.into == "wallboard"})
    near = min((b - a for a, b in pairwise(places)), default=None)
    if near is None:
        return ""
    return (
        f"the nearest two stand {voice.say(near)} apart, and nearer than {voice.say(ALONE_NM)} they count for less: "
        "ask the maker's sheet for the least spacing, and take fewer that hold more where it asks for more room"
    )


def spacing_check(case: Case, cleat: CleatPlan, voice: Voice, subject: str) -> Iterator[Check]:
    """`screw_spacing`: so that neither stud nor a cleat of solid wood splits."""
    screw = screw_or_reason(case.wall_screw.gauge)
    if isinstance(screw, str) or screw.shank_mm > THICKEST_MM or not cleat.fixings:
        return
    least = least_placing(screw.shank_mm, prebored=True)
    brief, heights = case.brief, sorted({point.y_nm for point in cleat.fixings})
    apart_nm = min((b - a for a, b in pairwise(heights)), default=None)
    tight = []
    if apart_nm is not None and apart_nm < least.along_grain_mm * NM_PER_MM:
        tight.append(
            f"screws stand {voice.say(apart_nm)} over one another in a stud, the guide is "
            f"{voice.say(round(least.along_grain_mm * NM_PER_MM))}"
        )
    beside_nm = max(abs(point.beside_nm) for point in cleat.fixings)
    edge_nm = brief.wall.stud_width_nm // 2 - beside_nm
    if edge_nm < least.edge_mm * NM_PER_MM:
        edge = voice.say(round(least.edge_mm * NM_PER_MM))
        left = f"screws stand {voice.say(edge_nm)} from the edge of" if beside_nm else f"{voice.say(edge_nm)} is half"
        tight.append(f"{left} a stud, the guide for an edge is {edge}")
    ends = min(max(min(p.x_nm - one.from_nm, one.to_nm - p.x_nm) for one in cleat.pieces) for p in cleat.fixings)
    if brief.cleat.material not in board_keys() and ends < least.end_mm * NM_PER_MM:
        end = voice.say(round(least.end_mm * NM_PER_MM))
        tight.append(f"a screw stands {voice.say(ends)} from the end of a solid cleat, the guide is {end}")
    asked, driven = brief.fixings.panel_count or 0, len(cleat.panel.screws)
    if asked > driven:
        tight.append(f"the brief asks for {asked} screws in the panel half, {driven} find room")
    yield voice.check(
        "screw_spacing",
        "Room between screws",
        Verdict.CAUTION if tight else Verdict.FINE,
        found="; ".join(tight) or "screws stand clear of edges, ends and one another",
        allowed="enough to prevent splitting; the guide counts on a lead hole",
        why="a split stud or cleat holds no screw",
        care="drill lead holes"
        + (
            f"; of those over one another each stands {voice.say(beside_nm)} beside the middle of its stud, left and "
            "right by turns, as the hang sheet has it"
            if beside_nm
            else ""
        ),
        remedy="take a higher strip or thinner screws",
        source=f"{least.source}; {DEFER}",
        subject=subject,
    )


def rating_check(case: Case, hold: WallHold | None, voice: Voice, subject: str) -> Check | None:
    """A fixing that no table knows needs somebody's figures, along the wall and straight out of it."""
    fixings = case.brief.fixings
    in_studs = case.brief.into_studs
    on_board = in_studs and hold is not None and any(point.into == "wallboard" for point in hold.points)
    ratings, kind = (fixings.board, FixingKind.HOLLOW) if on_board else (fixings.ratings, fixings.kind)
    along = allowed(ratings.allowable_g, ratings.rating_g)
    out = allowed(ratings.pull_allowable_g, ratings.pull_rating_g)
    needs = on_board or not in_studs
    what, each = kind.value, f" ({voice.force(hold.allowable_each_n)} each)" if hold else ""
    twice = _given_twice(ratings)
    if needs and along is None and out is None and kind is FixingKind.PLUG:
        verdict, found = Verdict.CAUTION, f"the brief gives no figure for the {what}; the plan counts low{each}"
    elif needs and along is None:
        verdict, found = (
            Verdict.STOP,
            f"the brief gives no figure for the {what} along the wall, so nothing is counted on",
        )
    elif needs and out is None:
        found = (
            f"the brief says what the {what} carries along the wall, and nothing of its pull, so nothing is counted on"
        )
        verdict = Verdict.STOP
    elif twice:
        key = f"fixings.board.{twice}" if on_board else f"fixings.{twice}"
        found = f"{key} is no less than the rating on the packet: it counts as that rating, divided"
        verdict = Verdict.CAUTION
    else:
        return None
    return voice.check(
        "fixing_rating",
        "What one fixing may carry",
        verdict,
        found=found,
        allowed="the allowable or the rating of its maker, for this wall, along the wall and straight out of it",
        why="plugs and hollow-wall fixings hold as their maker tested them, in one kind of wall; the wall half pries "
        "them out, and a load along the wall says nothing of that",
        care="read the sheet or the packet and write it as fixings.allowable or fixings.rating, and its pull as "
        "fixings.pull_allowable or fixings.pull_rating; one figure for every direction is written twice. Brick with "
        "holes, aerated concrete, joints of mortar and old plaster hold less than the plan counts on: ask for a fixing "
        "for them",
        source=f"the fixing's maker; our assumption until then; {DEFER}",
        subject=subject,
    )


def _given_twice(ratings: Ratings) -> str:
    """The allowable that is only the rating once more; empty where there is none."""
    pairs = {
        "allowable": (ratings.allowable_g, ratings.rating_g),
        "pull_allowable": (ratings.pull_allowable_g, ratings.pull_rating_g),
    }
    return next((name for name, (own, rating) in pairs.items() if own and rating and own >= rating), "")
