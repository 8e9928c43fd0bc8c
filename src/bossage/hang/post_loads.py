"""What each fixing of a hinge post carries: with the leaf closed, open, and at the angles between."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bossage.hang.case import Case
from bossage.hang.holds import Hold
from bossage.hang.records import Load
from bossage.hang.statics import carried_shares
from bossage.hang.swung import Turned, flapped, turned
from bossage.units import NM_PER_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class PostState:
    """The leaf at one angle, and the load of each fixing of its post, in their order."""

    angle_deg: float
    loads: tuple[Load, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PostLines:
    """Where a post is held and where it bears, along the leaf and along the axis; its fixings stand on one line."""

    inner_nm: int  # inner edge
    line_nm: int  # of the fixings
    places_nm: tuple[int, ...]  # of the fixings, along the axis


def post_states(case: Case, post: PostLines) -> tuple[PostState, ...]:
    """Pull and shear of each fixing at every angle that counts; the post is stiff, and stiff against twist.

    Source:
        Moments on a stiff post, our calculation. It bears on an edge, where its lever is longest, so a soft wall lets
        the fixings be pulled somewhat harder.
    """
    if not post.places_nm:
        return ()
    if case.swing.upright:
        return tuple(
            PostState(angle_deg=state.angle_deg, loads=_beside_upright(case, post, state)) for state in turned(case)
        )
    return _behind_level(case, post)


def worst_state(states: tuple[PostState, ...], hold: Hold | str) -> tuple[PostState, Load]:
    """The state and the load that leave one fixing the least margin; the largest load where nothing is counted on."""
    return max(((state, load) for state in states for load in state.loads), key=lambda found: _worked(hold, found[1]))


def worst_loads(states: tuple[PostState, ...], hold: Hold | str) -> tuple[Load, ...]:
    """Of each fixing the load at the angle that works it hardest."""
    columns = zip(*(state.loads for state in states), strict=True)
    return tuple(max(column, key=lambda load: _worked(hold, load)) for column in columns)


def _worked(hold: Hold | str, load: Load) -> tuple[float, float]:
    """How hard a fixing is worked; by the load itself where nothing is known of the fixing, or of its pull."""
    margin = 0.0 if isinstance(hold, str) else hold.margin(load)
    return -margin, load.whole_n


def _beside_upright(case: Case, post: PostLines, at: Turned) -> tuple[Load, ...]:
    """Hinges over one another.

    Out of the wall: the couple of the hinges turns the post about its lower end, each fixing is pulled by its height
    over that. The hinges pull at the pins, so the post turns about its inner edge as well, and its fixings, which
    stand between, are pulled by more than the hinges. The weight hangs at the pins, before the wall, and turns the post
    about its lower end too.

    In the plane of the wall: the weight hangs beside the line of the fixings and twists the post about their middle.
    Each is pushed level by its distance from there, and all carry the weight alike. The hinges push level at the pins,
    before the wall, so that the post rolls about an edge, and each fixing is pulled by what it is pushed with.
    """
    swing, weight = case.swing, case.weight_n
    wide, back = abs(post.inner_nm - swing.edge_nm), abs(post.inner_nm - post.line_nm)
    prying = abs(post.inner_nm - swing.axis_nm) / max(back, NM_PER_MM) if at.out_mm > 0 else 1.0
    turning = max(0.0, weight * (at.out_mm * prying + swing.axis_z_nm / NM_PER_MM))
    levers = [max(1.0, (place - swing.from_nm) / NM_PER_MM) for place in post.places_nm]
    square = sum(lever**2 for lever in levers)
    twist = weight * (at.along_mm - abs(post.line_nm - swing.axis_nm) / NM_PER_MM)
    middle = sum(post.places_nm) / len(post.places_nm)
    offs = [(place - middle) / NM_PER_MM for place in post.places_nm]
    off_square = sum(off**2 for off in offs)
    down = weight / len(post.places_nm)
    level = [twist * off / off_square if off_square else 0.0 for off in offs]
    rolls = swing.axis_z_nm / max(NM_PER_MM, min(back, wide - back))
    return tuple(
        Load(pull_n=turning * lever / square + abs(along) * rolls, shear_n=math.hypot(along, down))
        for lever, along in zip(levers, level, strict=True)
    )


def _behind_level(case: Case, post: PostLines) -> tuple[PostState, ...]:
    """Hinges side by side, past the outer edge; the stiff post shares what both do among its fixings, by their places.

    What draws at the hinges and the weight, which hangs before the wall, turn the post about its lower edge, or, where
    the stays carry more than the weight, about its upper edge.
    """
    swing, shares = case.swing, along_post(post.places_nm, case.at_nm)
    low, high = sorted((post.inner_nm, swing.edge_nm))
    before = swing.axis_z_nm / NM_PER_MM
    states = []
    for state in flapped(case):
        about_low = _per(state.level_n * (swing.axis_nm - low) / NM_PER_MM + state.up_n * before, post.line_nm - low)
        about_high = _per(state.level_n * (high - swing.axis_nm) / NM_PER_MM - state.up_n * before, high - post.line_nm)
        pull = max(0.0, state.level_n, about_low, about_high)
        loads = tuple(Load(pull_n=share * pull, shear_n=share * abs(state.up_n)) for share in shares)
        states.append(PostState(angle_deg=state.angle_deg, loads=loads))
    return tuple(states)


def along_post(places_nm: tuple[int, ...], at_nm: float) -> tuple[float, ...]:
    """Share of each fixing of a level post, whose load lies at a place along it; beyond its fixings the post tips.

    Source:
        A stiff bar on springs that are alike, as `carried_shares`; beyond them by the same straight line, where the
        fixings at the other end are pushed back and count as hard.
    """
    within = carried_shares([float(place) for place in places_nm], at_nm)
    if within is not None:
        return within
    middle = sum(places_nm) / len(places_nm)
    square = sum((place - middle) ** 2 for place in places_nm)
    lever = (at_nm - middle) / square if square else 0.0
    return tuple(abs(1 / len(places_nm) + lever * (place - middle)) for place in places_nm)


def _per(moment_nmm: float, lever_nm: int) -> float:
    return moment_nmm / max(1.0, lever_nm / NM_PER_MM)
