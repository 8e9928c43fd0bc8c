"""Somebody leans on a corner, pulls at the upper edge or pushes an edge up: what then holds, and what does not."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from bossage.body import Role
from bossage.brief.records import Side
from bossage.checks import Check, Verdict
from bossage.hang.bonds import lifted_block
from bossage.hang.case import DURATION, SHORT, Case
from bossage.hang.hinge_records import HingePlan
from bossage.hang.hinges import hinge_links, side_hinges
from bossage.hang.prying import loads_on
from bossage.hang.sharing import shares_of
from bossage.hang.statics import LASTING_FRICTION, ride_up_n, weight_n
from bossage.hang.stile_screws import screws_of_back
from bossage.hang.stud_screws import over_one_another, stud_hold
from bossage.hang.wall import WallHold
from bossage.hang.words import DEFER, Voice
from bossage.units import NM_PER_MM

FIT_A_LOCK = "fit an anti-lift lock"
MORE_FIXINGS = "use more fixings, or ones with a higher allowable"

LOCK_REACH = 0.25
"""A lock nearer to the end about which the leaf turns, as a part of the width, is not counted on: ours."""

SOURCE = (
    "our calculation, moments; the load: EN 16122:2012 10.1.4 pushes the front edge of a wall unit up (read; 100 N "
    "(22 lbf) from memory), the other directions ours"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tugged:
    """One accident in words, allowable over demand (None: nobody has given a figure), and what would mend it."""

    words: str
    margin: float | None
    mend: tuple[str, ...]


def tug_check(case: Case, hold: WallHold, voice: Voice, subject: str) -> Check:
    """`tug`: a caution where a stated pull by accident is more than something holds."""
    tug = weight_n(case.brief.access.tug_g)
    found = [
        _leaned(case, hold, tug),
        _pulled(case, hold, tug),
        _foot_drawn(case, hold, tug, voice),
        _lifted(case, tug, voice),
        _by_block(case, tug),
    ]
    where = "at a corner, at an edge, at the foot and upwards"
    return _said(case, found, voice, subject, where)


def swung_tug_check(case: Case, plan: HingePlan, voice: Voice, subject: str) -> Check:
    """`tug` of a leaf that swings: somebody leans on its outer edge as it stands open; or takes it by a block."""
    tug = weight_n(case.brief.access.tug_g)
    found = [_by_block(case, tug)]
    where = "upwards at a block of its edge; nobody leans on a leaf that its stays hold open"
    if plan.stay is None:
        found.append(_leaned_open(case, plan, tug))
        where = "at its outer edge as it stands open, and upwards at a block of its edge"
    return _said(case, found, voice, subject, where)


def _said(case: Case, found: list[Tugged], voice: Voice, subject: str, where: str) -> Check:
    failed = [one for one in found if one.margin is None or one.margin < 1]
    tug = weight_n(case.brief.access.tug_g)
    return voice.check(
        "tug",
        "A tug or a lean by accident",
        Verdict.CAUTION if failed else Verdict.FINE,
        found="; ".join(one.words for one in failed or found),
        allowed=f"{voice.force(tug)} {where} (access.tug), for minutes",
        why="people lean on what is on a wall"
        + (", and on what stands open" if case.swings else ", and a leaf on a bevel comes off upwards"),
        care="hang it where nobody leans on it, and tell those who live with it to "
        + ("open and shut it by its edge alone" if case.swings else "lift it by its backer alone"),
        remedy="; ".join(dict.fromkeys(mend for one in failed for mend in one.mend)),
        source=f"{SOURCE}; {DEFER}",
        subject=subject,
    )


def _leaned_open(case: Case, plan: HingePlan, tug_n: float) -> Tugged:
    """The leaf pressed down at its outer edge, at whatever angle it stands: it is heavier, and hangs further out."""
    leaned = leaning(case, tug_n, case.leaf.width_nm / NM_PER_MM if case.swing.side is Side.LEFT else 0.0)
    driven = screws_of_back(case, case.parts, plan.length_nm)
    links = tuple(hinge_links(leaned, replace(plan, hinges=side_hinges(leaned)), driven))
    brief = SHORT.value / DURATION.value  # for minutes, where the allowable rests on a load that never leaves
    margins = {link.name: link.margin * (brief if DURATION in link.factors else 1.0) for link in links}
    name = min(margins, key=margins.__getitem__)
    return Tugged(
        words=f"a lean on the outer edge of the leaf leaves its {name} a margin of {margins[name]:.2f}",
        margin=margins[name],
        mend=(MORE_FIXINGS,),
    )


def _by_block(case: Case, tug_n: float) -> Tugged:
    """The leaf lifted by a block at its edge, which is no handle."""
    address, margin = lifted_block(case, tug_n)
    return Tugged(
        words=f"a lift by block {address} leaves its bond a margin of {margin:.2f}",
        margin=margin,
        mend=("take less overhang or lower levels at the edge",),
    )


def _leaned(case: Case, hold: WallHold, tug_n: float) -> Tugged:
    """The worse upper corner pressed down, at the face: the leaf is so much heavier, and its weight lies elsewhere."""
    corners = (0.0, case.leaf.width_nm / NM_PER_MM)
    margin = min(_margin(leaning(case, tug_n, corner), hold) for corner in corners)
    left = f"leaves its fixings a margin of {margin:.2f}" if margin else "tips it over its fixings"
    return Tugged(
        words=f"a lean on a corner {left}",
        margin=margin,
        mend=(MORE_FIXINGS,),
    )


def leaning(case: Case, tug_n: float, from_left_mm: float) -> Case:
    """The leaf with a load that hangs on its face at a place along it."""
    mass = case.mass
    more_g = mass.total_g * tug_n / case.weight_n
    face_mm = (
        case.layout.stand_off.stand_off_nm + case.brief.backer.thickness_nm + int(case.relief.length_nm.max())
    ) / NM_PER_MM

    def together(own: float, other: float) -> float:
        return (mass.total_g * own + more_g * other) / (mass.total_g + more_g)

    return replace(
        case,
        mass=replace(
            mass,
            total_g=mass.total_g + more_g,
            from_left_mm=together(mass.from_left_mm, from_left_mm),
            from_wall_mm=together(mass.from_wall_mm, face_mm),
        ),
    )


def _pulled(case: Case, hold: WallHold, tug_n: float) -> Tugged:
    """The upper edge pulled into the room: the leaf turns about its foot and draws at the cleat."""
    above_mm = (case.leaf.y_nm + case.leaf.height_nm - case.cleat.line_nm) / NM_PER_MM
    thrust = max(case.wedge_n, case.pull_n + tug_n * (case.arm_mm + above_mm) / case.arm_mm)
    margin = _margin(case, hold, thrust)
    slips = (_rides_at_n(case) - case.pull_n) * case.arm_mm / (case.arm_mm + above_mm)
    if slips < tug_n:
        return Tugged(
            words=f"a pull of {case.voice.force(max(0.0, slips))} at its upper edge rides it up off its bevel",
            margin=min(margin, max(0.0, slips) / tug_n),
            mend=(FIT_A_LOCK,),
        )
    return Tugged(
        words=f"a pull at its upper edge leaves its fixings a margin of {margin:.2f}",
        margin=margin,
        mend=(MORE_FIXINGS,),
    )


def _rides_at_n(case: Case) -> float:
    """Push out at which the leaf rides up off its bevel, no friction counted on; none where something keeps it down."""
    locked = case.brief.access.lock or case.brief.cleat.kind == "metal"
    return math.inf if locked else ride_up_n(case.weight_n, case.brief.cleat.bevel_deg, LASTING_FRICTION)


def _foot_drawn(case: Case, hold: WallHold, tug_n: float, voice: Voice) -> Tugged:
    """The foot pulled into the room: the leaf turns about the upper edge of its panel half, which the wall stops.

    The wall half is pushed out by the pull and by what the wall gives back, until the bevel slides up on itself and the
    leaf comes off; with a lock, or a metal cleat, it cannot.
    """
    top = max(part.box.y1 for part in case.parts if part.role is Role.PANEL_HALF)
    above_mm = max(1, top - case.cleat.line_nm) / NM_PER_MM
    before_mm = max(0.0, case.mass.from_wall_mm - case.bevel_middle_nm / NM_PER_MM)

    def thrust_n(pull_n: float) -> float:
        back = max(0.0, pull_n * case.arm_mm - case.weight_n * before_mm) / above_mm
        return pull_n + back

    thrust, rides = thrust_n(tug_n), _rides_at_n(case)
    if thrust <= rides:
        margin = _margin(case, hold, max(case.thrust_n, thrust), _pressed_n(case, thrust))
        words = f"a pull at its foot leaves its fixings a margin of {margin:.2f}"
        kept = _kept_down(case, thrust)
        if kept is not None and (kept.margin is None or kept.margin < 1):
            return Tugged(words=f"{words}, and {kept.words}", margin=kept.margin, mend=(*kept.mend, MORE_FIXINGS))
        return Tugged(words=words, margin=margin, mend=(MORE_FIXINGS,))
    # friction, where there is any, keeps it on its bevel longer, and its fixings are pulled the harder
    most = min(thrust, ride_up_n(case.weight_n, case.brief.cleat.bevel_deg))
    slips = (rides * above_mm + case.weight_n * before_mm) / (case.arm_mm + above_mm)
    fixed = _margin(case, hold, max(case.thrust_n, most))
    return Tugged(
        words=f"a pull of {voice.force(slips)} at its foot rides it up off its bevel, its fixings keep a margin of "
        f"{fixed:.2f}",
        margin=min(fixed, slips / tug_n),
        mend=(FIT_A_LOCK, MORE_FIXINGS),
    )


def _pressed_n(case: Case, thrust_n: float) -> float:
    """How hard a leaf that is pushed out so far presses its wall half down, no friction counted on."""
    if case.brief.cleat.kind == "metal":
        return case.weight_n
    return max(case.weight_n, thrust_n / math.tan(math.radians(case.brief.cleat.bevel_deg)))


def _kept_down(case: Case, thrust_n: float) -> Tugged | None:
    """What the lock holds as the bevel pushes the leaf up, no friction counted on; None without a lock, or a push up.

    Source:
        Block on an inclined plane.
    """
    if not case.brief.access.lock or case.brief.cleat.kind == "metal":
        return None
    up = _pressed_n(case, thrust_n) - case.weight_n
    return None if up <= 0 else _locked(case, "its bevel pushes it up", up)


def _margin(case: Case, hold: WallHold, thrust_n: float | None = None, weight_n: float | None = None) -> float:
    """Of the hardest-worked fixing, those in the places of the plan; nothing where the leaf tips off them."""
    points = [point for point in hold.points if point.load_share > 0 or not _on_board(hold)]
    places = [point.line_nm for point in points]
    in_studs = case.brief.into_studs and not _on_board(hold)
    each = stud_hold(case, case.brief_factors, over_one_another(places)) if in_studs else hold.hold
    shares = shares_of(case, places) if places else None
    if isinstance(each, str) or shares is None:
        return 0.0
    return min(each.margin(load) for load in loads_on(case, places, shares, weight_n=weight_n, thrust_n=thrust_n))


def _on_board(hold: WallHold) -> bool:
    return any(point.into == "wallboard" for point in hold.points)


def _lifted(case: Case, tug_n: float, voice: Voice) -> Tugged:
    """An edge pushed up: that end of the leaf rises about the other end of its cleat, unless a lock keeps it down."""
    leaf, cleat = case.leaf, case.cleat
    ends = (("left", leaf.x_nm, cleat.to_nm), ("right", leaf.x_nm + leaf.width_nm, cleat.from_nm))
    found = [_raised(case, tug_n, voice, side, edge, far) for side, edge, far in ends]
    return min(found, key=lambda one: -1.0 if one.margin is None else one.margin)


def _raised(case: Case, tug_n: float, voice: Voice, side: str, edge_nm: float, far_nm: float) -> Tugged:
    """One edge; `far_nm` is the end of the cleat about which the leaf turns."""
    lever = abs(far_nm - edge_nm)
    least = max(0.0, case.weight_n * abs(far_nm - case.at_nm) / lever)
    if tug_n <= least:
        return Tugged(words=f"its {side} edge stays down up to {voice.force(least)}", margin=least / tug_n, mend=())
    home = "hook" if case.metal_cleat else "bevel"
    words = f"a push up of {voice.force(least)} raises its {side} edge off the {home}"
    access, lock = case.brief.access, next((part for part in case.parts if part.role is Role.BUTTON), None)
    if not access.lock or lock is None:
        return Tugged(words=f"{words}, and no anti-lift lock is fitted", margin=least / tug_n, mend=(FIT_A_LOCK,))
    at = abs(far_nm - (lock.from_x_nm + lock.to_x_nm) / 2)
    if at < LOCK_REACH * lever:
        return Tugged(words=f"{words}, and its lock stands too near the other end", margin=least / tug_n, mend=())
    held = (tug_n - least) * lever / at
    return _locked(case, words, held)


def _locked(case: Case, words: str, held_n: float) -> Tugged:
    """A lock under so much, by what the brief says that it may hold."""
    said, allowable_g = case.voice.force, case.brief.access.lock_allowable_g
    if allowable_g is None:
        return Tugged(
            words=f"{words}; the lock then holds {said(held_n)}, and nobody has said what it may hold",
            margin=None,
            mend=("take a lock that its maker rates for that and write it as access.lock_allowable",),
        )
    allowed = weight_n(allowable_g)
    return Tugged(
        words=f"{words}; the lock then holds {said(held_n)} of {said(allowed)}",
        margin=allowed / held_n,
        mend=("take a stronger lock",),
    )
