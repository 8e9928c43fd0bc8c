"""Fixings that carry somebody else's figure: plugs, hollow-wall fixings, and screws that their maker has rated."""

from __future__ import annotations

from bossage.brief.records import FixingKind, Ratings
from bossage.fasteners import ANCHOR_RULES, AnchorKind, packet_rating, shank_mm
from bossage.fasteners.lever import screw_over_gap_n
from bossage.fasteners.metric import CORE_SHARE
from bossage.fasteners.wall_lengths import plug_least_nm, plug_or_none
from bossage.hang.case import Case, product, screw_or_reason
from bossage.hang.holds import Hold
from bossage.hang.records import Factor
from bossage.hang.statics import weight_n
from bossage.units import NM_PER_MM

PLUG_ASSUMED_G = 5000.0
"""A plug in sound masonry, along the wall and straight out, when the brief gives no figure: ours, low on purpose, and
the plan says so."""

MAKER = "the fixing's maker, as the brief gives it"
_IS_ALLOWABLE = "the allowable that the brief gives, its factor inside"


def rated_hold(case: Case, ratings: Ratings, kind: AnchorKind, factors: tuple[Factor, ...] = ()) -> Hold | str:
    """What one fixing may carry by its maker's figures, or why nothing is counted on.

    Args:
        case: The leaf.
        ratings: The figures of the brief for it.
        kind: What takes hold in the wall.
        factors: Those of the place, taken off both directions.

    Returns:
        Pull and shear, a rating on the packet divided in either direction.
    """
    shear, pull = (
        allowed(ratings.allowable_g, ratings.rating_g),
        allowed(ratings.pull_allowable_g, ratings.pull_rating_g),
    )
    assumed = shear is None and pull is None and kind is AnchorKind.PLUG
    if assumed:
        low = weight_n(PLUG_ASSUMED_G)
        shear = pull = (low, "assumed by us, low on purpose: the brief gives no figure for the plug", ())
    if shear is None:
        what = "neither allowable nor rating" if pull is None else "no figure along the wall"
        return f"the brief gives {what} of the fixing"
    say, whole = case.voice.bare_force, product(factors)
    basis = f"each {say(shear[0] * whole)} along the wall"
    if pull is None:
        basis += f": {shear[1]}"
    elif pull[1] == shear[1]:
        basis += f" and {say(pull[0] * whole)} straight out: {shear[1]}"
    else:
        basis += f" ({shear[1]}) and {say(pull[0] * whole)} straight out ({pull[1]})"
    gap = case.passed.packers_nm + case.passed.covering_nm
    bends_n = _over_gap_n(case) * whole if gap and kind is AnchorKind.PLUG else None
    if bends_n is not None:
        basis += f"; along the wall {say(bends_n)} at most: its screw, held straight in plug and "
        basis += f"wood, bends over {case.voice.say(gap)} before it"
    divided = {factor.name: factor for one in (shear, pull) if one for factor in one[2]}
    return Hold(
        kind=kind,
        pull_n=None if pull is None else pull[0] * whole,
        shear_n=shear[0] * whole,
        bends_n=bends_n,
        basis=basis,
        factors=(*divided.values(), *factors),
        source=f"{MAKER}; both at once: {ANCHOR_RULES[kind]}"
        + ("" if bends_n is None else "; its screw by ETAG 020 Annex C, with a lever (from memory)"),
        assumed=assumed,
    )


def reaching(case: Case, kind: AnchorKind, hold: Hold | str) -> Hold | str:
    """The same, or why nothing is counted on where the screw of a plug ends before the plug does."""
    screw, unit = case.wall_screw, case.brief.piece.unit
    plug = plug_or_none(screw.gauge, unit) if kind is AnchorKind.PLUG else None
    if plug is None:
        return hold
    least, say = plug_least_nm(case.passed, plug, screw.gauge), case.voice.say
    if screw.length_nm >= least:
        return hold
    past = max(0, screw.length_nm - case.passed.whole_nm)
    return (
        f"a screw of {say(screw.length_nm)} goes {say(past)} into the masonry, and its plug asks for one of "
        f"{say(least)}: take it, or leave fixings.length open"
    )


def _over_gap_n(case: Case) -> float:
    """What the steel of a plug's screw carries along the wall, bent over plaster and packers."""
    gauge, passed = case.wall_screw.gauge, case.passed
    screw, across = screw_or_reason(gauge), shank_mm(gauge)
    core_mm = CORE_SHARE * across if isinstance(screw, str) else screw.root_mm
    gap_mm = (passed.packers_nm + passed.covering_nm) / NM_PER_MM
    return screw_over_gap_n(core_mm, across, gap_mm, passed.cleat_nm / NM_PER_MM)


def allowed(allowable_g: float | None, rating_g: float | None) -> tuple[float, str, tuple[Factor, ...]] | None:
    """Newtons in one direction, the words for them, and the factor in them; None without a figure.

    An allowable that is no less than the rating of the same fixing is the rating once more: it is divided.
    """
    if allowable_g is not None and (rating_g is None or allowable_g < rating_g):
        return weight_n(allowable_g), _IS_ALLOWABLE, ()
    if rating_g is None:
        return None
    held = packet_rating(weight_n(rating_g))
    quarter = Factor(name="rating over allowable", value=1 / held.factor, source="common practice, no source")
    return held.allowable_n, held.basis, (quarter,)


def anchor_kind(kind: FixingKind) -> AnchorKind:
    """What takes hold in the wall, by the brief's word."""
    return {FixingKind.PLUG: AnchorKind.PLUG, FixingKind.HOLLOW: AnchorKind.HOLLOW}.get(kind, AnchorKind.STEEL)
