"""The verdicts on hanging: load path, studs, screws, mass, what hangs over people, the lift."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.body import Role
from bossage.brief.records import Below
from bossage.brief.terms import PERHAPS_PEOPLE_AT
from bossage.checks import Check, Verdict
from bossage.fasteners import TIP_COVER_NM
from bossage.hang.case import IN_STUDS, Case
from bossage.hang.fixing_checks import rating_check, spacing_check, studs_check
from bossage.hang.hinge_records import HingePlan
from bossage.hang.hinge_stile import BESIDE_STILE, STILE_GLUE
from bossage.hang.holds import LEAST_MARGIN, short_of
from bossage.hang.latch import CATCH_LINK
from bossage.hang.panel import longest_screw_nm
from bossage.hang.places import studs_met
from bossage.hang.post import NO_STUD, off_stud_nm
from bossage.hang.post_checks import post_checks
from bossage.hang.records import CleatPlan, Link
from bossage.hang.stays import BLOCK_SCREWS, GLUE_LINK, NO_PLACE, SCREWS_LINK, WALL_LINK
from bossage.hang.stile_screws import STILE_SCREWS
from bossage.hang.wall import WallHold
from bossage.hang.words import DEFER, Voice
from bossage.units import G_PER_LB

OVER_BED_MOST_G = 50 * G_PER_LB
"""Over a bed or a seat nothing heavier without professional help: quake guides, two or more."""


def link_checks(case: Case, links: tuple[Link, ...], voice: Voice, subject: str) -> Iterator[Check]:
    """`load_path`: the weakest link decides."""
    weakest = min(links, key=lambda link: link.reserve)
    assumed = next((link for link in links if link.assumed), None)
    yield voice.check(
        "load_path",
        "The weakest link from block to wall",
        Verdict.STOP if weakest.reserve < 1 else Verdict.CAUTION if assumed else Verdict.FINE,
        found=f"{weakest.name} ({weakest.part}): {voice.force(weakest.demand_n)} of "
        f"{voice.force(weakest.allowable_n)} allowable, margin {weakest.margin:.2f}"
        + (f" where {weakest.least:g} is asked for" if weakest.least > 1 else "")
        + ("" if weakest.allowable_n > 0 else f"; {weakest.basis}")
        + (f"; what the {assumed.name} hold is a figure of ours" if assumed else ""),
        allowed=f"a margin of 1 in every link, {LEAST_MARGIN:g} of fixings in the wall; allowables hold their factors",
        care="write what their maker says of the fixings in this wall" if assumed else "",
        why="a piece holds as well as its weakest link; the wall itself is not computed",
        remedy=_link_remedy(case, weakest, voice) if weakest.reserve < 1 else "",
        source=f"{weakest.source or 'no allowable to count on'}; {DEFER}",
        subject=subject,
    )


def cleat_checks(case: Case, cleat: CleatPlan, hold: WallHold, voice: Voice, subject: str) -> Iterator[Check]:
    """`studs`, `screw_spacing`, `fixing_rating`, `panel_screw`."""
    on_board = any(fixing.into == "wallboard" for fixing in cleat.fixings)
    if case.brief.into_studs or on_board:
        yield studs_check(case, cleat, voice, subject, on_board=on_board)
    if any(fixing.into in IN_STUDS for fixing in cleat.fixings):
        yield from spacing_check(case, cleat, voice, subject)
    rating = rating_check(case, hold, voice, subject)
    if rating is not None:
        yield rating
    yield _panel_screw(case, cleat, voice, subject)


def mass_checks(case: Case, voice: Voice, subject: str) -> Iterator[Check]:
    """`mass_cap`, where the brief sets one."""
    mass_g, cap = case.mass.total_g, case.brief.piece.mass_cap_g
    if cap is not None:
        yield voice.check(
            "mass_cap",
            "Under the mass that the brief allows",
            Verdict.FINE if mass_g <= cap else Verdict.STOP,
            found=f"the leaf weighs {voice.mass(mass_g)}",
            allowed=f"at most {voice.mass(cap)}",
            why="the brief asks for it",
            remedy=f"take {voice.mass(mass_g - cap)} off: lower levels, a lighter wood, a thinner backer",
            source="the brief",
            subject=subject,
        )


def over_head_checks(case: Case, hold: WallHold | None, links: tuple[Link, ...], voice: Voice) -> Iterator[Check]:
    """`over_bed` or `over_seat`: never better than a caution."""
    brief, mass_g = case.brief, case.mass.total_g
    if brief.wall.below is Below.NONE:
        return
    word = brief.wall.below.value
    broken, cures = [], []
    if mass_g > OVER_BED_MOST_G:
        broken.append(f"it weighs {voice.mass(mass_g)}, over 50 lb (22.7 kg)")
        cures.append(f"take {voice.mass(mass_g - OVER_BED_MOST_G)} off it or choose another wall")
    # a leaf on hinges does not lift off; a lock that the brief wishes for counts where it has its place
    fitted = any(part.role is Role.BUTTON for part in case.parts)
    if not case.swings and not fitted:
        broken.append("no anti-lift lock is fitted")
        cures.append("fit a lock that keeps the cleat from being lifted out")
    carried = f"each fixing counts for half, {voice.force(hold.allowable_each_n)}" if hold else "fixings count for half"
    short = _short_of_fixings(case, hold, links, voice)
    if short:
        broken.append(short[0])
        cures.append(short[1])
    yield voice.check(
        f"over_{word}",
        f"Over a {word}",
        Verdict.STOP if broken else Verdict.CAUTION,
        found=" and ".join(broken)
        or f"{voice.mass(mass_g)} over a {word}{', lock fitted' if fitted else ''}, {carried}",
        allowed=f"at most 50 lb (22.7 kg){'' if case.swings else ', an anti-lift lock'}, and fixings at half their "
        "allowable",
        why="somebody lies or sits under it; soft, light things belong there, and another wall is better",
        care="hang it on another wall if you can; have the fixing looked at by a licensed builder",
        remedy=" and ".join(cures),
        # a yes of those who sleep or sit there holds up to that mass: over it the guides ask for professional help
        figure=None if short or mass_g > OVER_BED_MOST_G else mass_g,
        source=f"earthquake guides for homes, as read for this project; half the allowable is our rule; {DEFER}",
        subject=case.leaf.name,
    )


def who_is_below(case: Case, voice: Voice, subject: str) -> Iterator[Check]:
    """`who_is_below`: a table, counter, desk or other thing before the leaf, and nobody said who is there."""
    brief, leaf = case.brief, case.leaf
    if brief.wall.below is not Below.NONE or not brief.left_open("wall.below"):
        return
    there = [
        item.name
        for item in brief.furniture
        if item.kind in PERHAPS_PEOPLE_AT and item.x_nm < leaf.x_nm + leaf.width_nm and leaf.x_nm < item.right_nm
    ]
    if there:
        yield voice.check(
            "who_is_below",
            "Who sits or works under it",
            Verdict.CAUTION,
            found=f"{there[0]} stands before it, and the brief does not say whether somebody sits or works there",
            allowed='a word for it: wall.below = "seat" or "none"',
            why="over people fixings count for half, a lock is asked for, and 50 lb (22.7 kg) is the most",
            care='write wall.below = "seat" where somebody sits or works under it, else "none"',
            source=f"our rule; {DEFER}",
            subject=subject,
        )


def hinge_checks(case: Case, plan: HingePlan, voice: Voice, subject: str) -> Iterator[Check]:
    """`hinge_post`, `post_fixings`, `fixing_rating` of a leaf that swings."""
    brief = case.brief
    yield from post_checks(case, plan, voice, subject)
    if brief.into_studs:
        studs = brief.wall.studs_nm
        points = plan.post.fixings
        off = max(min(abs(x - point.x_nm) for x in studs) for point in points) if studs and points else None
        most = off_stud_nm(case)
        good = off is not None and off <= most
        yield voice.check(
            "hinge_post",
            "A stud behind the hinge post",
            Verdict.FINE if good else Verdict.STOP,
            found="no stud is known"
            if off is None
            else f"the nearest stud is {voice.say(off)} from a fixing of the hinge post",
            allowed=f"at most {voice.say(most)} beside the middle of a stud, so that its edge does not split",
            why="the upper hinge pulls at the wall for as long as the leaf hangs; past a stud its screws hold nothing",
            remedy="move the piece until a stud stands behind the post, or hang it on another side",
            source=f"common practice, no source; {DEFER}",
            subject=subject,
        )
    rating = rating_check(case, None, voice, subject)
    if rating is not None:
        yield rating


def _panel_screw(case: Case, cleat: CleatPlan, voice: Voice, subject: str) -> Check:
    panel, most = cleat.panel, longest_screw_nm(case)
    given, asked = not case.brief.left_open("fixings.panel_length"), case.brief.fixings.panel_length_nm
    length = asked if given else panel.length_nm
    short = most + TIP_COVER_NM - length - panel.sunk_nm
    sunk = f", sunk {voice.say(panel.sunk_nm)}," if panel.sunk_nm else ""
    return voice.check(
        "panel_screw",
        "Screws that do not come through",
        Verdict.FINE if short >= TIP_COVER_NM else Verdict.CAUTION,
        found=f"screws of {voice.say(length)}{sunk} end "
        + (f"{voice.say(short)} before" if short >= 0 else "beyond")
        + f" the {'back of the panel half' if panel.from_front else 'face of the backer'}",
        allowed=f"at least {voice.say(TIP_COVER_NM)} before it: at most {voice.say(most - panel.sunk_nm)} long",
        why="a tip keeps the panel half off the wall"
        if panel.from_front
        else "a tip lifts the block that is glued over it, or shows",
        remedy=f"use screws of {voice.say(panel.length_nm)}, on which the plan counts",
        source="our rule",
        subject=subject,
    )


def _short_of_fixings(
    case: Case, hold: WallHold | None, links: tuple[Link, ...], voice: Voice
) -> tuple[str, str] | None:
    wall = [
        link for link in links if "in the wall" in link.name or "in the studs" in link.name or "behind" in link.name
    ]
    weak = min(wall, key=lambda link: link.margin, default=None)
    if weak is None or weak.reserve >= 1:
        return None
    if hold is None:
        more = "use fixings with a higher allowable" if weak.name == WALL_LINK else "use more fixings behind the hinges"
        return f"{weak.name} have {_short(weak)}", more
    if weak.allowable_n <= 0:
        return f"{weak.name}: {weak.basis}", "put a cleat across the middle of the piece that meets two studs or more"
    return (
        f"{len(hold.points)} fixings at half their allowable have {_short(weak)}",
        f"use {hold.needed} fixings" if hold.needed > len(hold.points) else "use fixings with a higher allowable",
    )


def _short(link: Link) -> str:
    return short_of(link.margin, link.least)


def _link_remedy(case: Case, weakest: Link, voice: Voice) -> str:
    studs = len(studs_met(case.brief, case.cleat)) if case.brief.into_studs and not case.swings else 0
    more = f"carry {1 / weakest.reserve:.2f} times as much there" if weakest.allowable_n > 0 else ""
    if weakest.name == "panel half's screws" and weakest.allowable_n <= 0:
        return (
            "leave fixings.panel_gauge and fixings.panel_length open, so that the plan looks for a screw whose thread "
            "goes deep enough, and glue the panel half as well; or glue and screw a stand-off frame "
            f"{voice.say(case.layout.stand_off.stand_off_nm)} deep behind the backer instead ([[behind]] with role = "
            '"frame"), set cleat.packer = 0, and screw the panel half to the frame'
        )
    if weakest.basis.endswith(NO_STUD):
        return "move the piece until a stud stands behind the hinge post, or hang it on another side"
    if weakest.basis.endswith(NO_PLACE):
        return "hinge it at a side, or move or enlarge the piece so that two stays find a place beside what is hidden"
    if "its plug asks for one of" in weakest.basis:
        return "take the screw that the plug asks for, or leave fixings.length open"
    if weakest.name in ("fixings in the wall", "fixings behind the hinges", WALL_LINK) and weakest.allowable_n <= 0:
        return (
            "read on the sheet of the fixing's maker what it carries along the wall and what may pull it straight out; "
            "and write both (fixings.allowable or fixings.rating, fixings.pull_allowable or fixings.pull_rating), or "
            "take a fixing that has both figures"
        )
    ways = {
        "screws in the studs": f"meet more studs than {studs}, use longer or thicker screws, or two in each stud",
        "screws by the brief's allowable": "use more screws, or ones with a higher allowable",
        "fixings in the wall": "use more fixings, or ones with a higher allowable in this wall",
        "fixings behind the hinges": "use more fixings, or ones with a higher allowable in this wall",
        "panel half's screws": "use longer or more screws, and glue the panel half as well",
        WALL_LINK: "take fixings with a higher allowable, along the wall and straight out, or hinge it at a side",
        SCREWS_LINK: "take a thicker backer or a lighter leaf, or hinge it at a side",
        GLUE_LINK: "take a lighter leaf, or hinge it at a side",
        CATCH_LINK: "take a lighter leaf, or hinge it at its top or a side",
        "hinge screws": "take larger hinges with more holes in each flap (access.butt), or a lighter leaf",
        "wall half": "use more fixings so that they stand closer, or a thicker cleat",
        "backer": "use a thicker backer, or a longer cleat, along which alone it bends",
        STILE_GLUE: "take a lighter leaf, or hinge it at another side",
        STILE_SCREWS: "take a lighter leaf, a backer of another thickness, or hinge it at another side, or let it "
        "stand further off the wall (`[[behind]]`), so that its stile is thicker",
        BLOCK_SCREWS: "take a lighter leaf, or hinge it at a side",
        BESIDE_STILE: "use a thicker backer or a lighter leaf, or hinge it at another side",
        "panel half's glue": "use a longer cleat, a higher strip, or a thinner packer or filler",
        "coating": "scrape every glue field down to the wood, or colour the backer along lines alone (`paint.ground`)",
        "block's bond": f"give {weakest.part} more glue: less overhang, or a lower level there",
    }
    return ", so that they ".join(filter(None, [ways.get(weakest.name, "make it larger"), more]))
