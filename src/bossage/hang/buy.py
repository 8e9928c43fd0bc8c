"""What to buy for hanging, for one leaf."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from bossage.body import KEEPER_MARK_NM, Body, MadeAt, Part, Role, key_of
from bossage.body.lock import turn_button
from bossage.brief.records import Brief
from bossage.fasteners import TIP_COVER_NM, shank_mm
from bossage.hang.hinge_records import HingePlan, StayPlan
from bossage.hang.lock import lock_fixing
from bossage.hang.records import CleatPlan, FixingToBuy, LeafHang
from bossage.hang.stays import FOOT_SCREWS
from bossage.hang.wall_holes import KEEPER_SCREWS, fixing_words, keeper_fixing, own_screw
from bossage.hang.words import Voice
from bossage.units import NM_PER_MM

CATCH_REACH_NM = 40 * NM_PER_MM
"""No screw of a small catch is longer. Ours."""


def things_to_buy(
    brief: Brief,
    body: Body,
    cleats: tuple[CleatPlan, ...],
    hinges: tuple[HingePlan, ...],
    leaves: tuple[LeafHang, ...],
    voice: Voice,
) -> Iterator[FixingToBuy]:
    """Counts for one leaf; the leaf that needs most decides."""
    if cleats:
        yield from _for_wall_halves(brief, cleats)
        panel = max((c.panel for c in cleats), key=lambda p: len(p.screws))
        yield FixingToBuy(
            what=f"wood screws {voice.screw(panel.gauge, panel.length_nm)}",
            count=len(panel.screws),
            note=(
                f"from the backer's face into the {panel.into}"
                if panel.from_front
                else f"panel half into the {panel.into}"
            )
            + f"; no longer than {voice.say(panel.length_nm + panel.tip_to_face_nm - TIP_COVER_NM)}, or they come "
            "through",
        )
        if brief.cleat.kind == "metal":
            long = voice.say(max(c.length_nm for c in cleats))
            as_sold = "" if brief.cleat.lengths_nm else ", as long as this from the shop, for it is not sawn"
            holes = f", holes every {voice.say(brief.cleat.hole_pitch_nm)}" if brief.cleat.hole_pitch_nm else ""
            yield FixingToBuy(
                what="metal cleat, both halves",
                count=max(len(choice.pieces_nm) for choice in body.choices),
                note=f"{long}{as_sold}{holes}",
                parts=_bought(body, Role.PANEL_HALF, Role.WALL_HALF),
            )
    yield from _from_the_face(leaves, voice)
    if hinges:
        yield from _for_hinges(brief, body, hinges, leaves, voice)
    yield from _for_lock(brief, body)


def _for_lock(brief: Brief, body: Body) -> Iterator[FixingToBuy]:
    """The turn button with its ledge, of offcuts, and its own fixing."""
    with_lock = next((part for part in body.parts if part.role is Role.BUTTON), None)
    button = turn_button(body.of(with_lock.leaf, with_lock.copy)) if with_lock else None
    if button is None:
        return
    yield FixingToBuy(
        what="hardwood offcut for the anti-lift lock",
        count=1,
        note="its turn button and its ledge are sawn from the offcut; sizes on the back sheet",
        parts=_bought(body, Role.BUTTON, Role.LEDGE),
    )
    yield FixingToBuy(
        what=lock_fixing(brief, button.thick_nm).what, count=1, note="turn button of the lock to the wall"
    )


def _for_hinges(
    brief: Brief, body: Body, hinges: tuple[HingePlan, ...], leaves: tuple[LeafHang, ...], voice: Voice
) -> Iterator[FixingToBuy]:
    """Hinges with the screws of all their flaps, the post's fixings, what stops the swing, the catch."""
    first, butt = hinges[0], brief.butt
    wall = fixing_words(brief, first.post.fixings[0].into if first.post.fixings else "", own_screw(brief))
    yield FixingToBuy(what=wall, count=max(h.wall_fixings for h in hinges), note="hinge post to the wall")
    if first.stay is None:
        yield FixingToBuy(what="batten with a foot", count=1, note="a prop for the open leaf: see the hang sheet")
    yield FixingToBuy(
        what=f"butt hinges {voice.say(butt.height_nm)} high, {voice.say(2 * butt.flap_nm)} wide laid flat",
        count=len(first.hinges),
        note=f"knuckle at most {voice.say(butt.knuckle_nm)} thick, {butt.holes} holes in a flap for screws of "
        f"{first.gauge}, flaps {voice.say(butt.thickness_nm)} thick; on the {first.side}",
        parts=_bought(body, Role.HINGE),
    )
    yield FixingToBuy(
        what=f"wood screws {voice.screw(first.gauge, first.length_nm)}",
        count=2 * len(first.hinges) * first.screws_per_flap,
        note="countersunk, for the flaps on post and leaf",
    )
    if first.stay is None:
        eye = first.eye
        if eye is not None:
            yield FixingToBuy(
                what=f"light chain, {voice.say(first.chain_nm)} between the middles of its two screw eyes",
                count=1,
                note=f"between post and leaf: it stops the swing at {brief.access.angle_deg:g}°; eyes of "
                f"{voice.mm(eye.wire_mm)} wire, {voice.say(eye.deep_nm)} of thread, the middle of the ring "
                f"{voice.say(eye.out_nm)} before the wood",
                parts=_bought(body, Role.STAY),
            )
    else:
        yield from _for_stays(brief, body, first, [h.stay for h in hinges if h.stay], voice)
    if not _bought(body, Role.CATCH):
        return
    most = catch_screw_nm(body, leaves)
    long = f"; its screws at most {voice.say(most)} long: behind them run others" if most is not None else ""
    hand = "; opens by hand" if not brief.access.tool else ""
    yield FixingToBuy(
        what="magnetic catch with slots to set it, its keeper plate and screws",
        count=1,
        note=f"no deeper than {voice.say(_catch_nm(body))} with the keeper; slots that let it move "
        f"{voice.say(KEEPER_MARK_NM)} each way; two holes in the plate{long}{hand}",
        parts=_bought(body, Role.CATCH, Role.KEEPER),
    )
    keeper = next((part for part in body.parts if part.role is Role.KEEPER), None)
    if keeper is not None and keeper.label:
        yield FixingToBuy(
            what="construction adhesive that holds steel on a wall, a small tube",
            count=1,
            note="keeper of the catch to the wall, where nothing is drilled",
        )
    else:
        yield FixingToBuy(
            what=keeper_fixing(brief),
            count=KEEPER_SCREWS,
            note="keeper of the catch to the wall, countersunk heads that sink in its plate",
        )


def _for_stays(
    brief: Brief, body: Body, first: HingePlan, stays: list[StayPlan], voice: Voice
) -> Iterator[FixingToBuy]:
    """Two stays with what holds their feet in the wall and in the leaf; nothing where the body has none."""
    fixed = next((stay for stay in stays if stay.fixings), None)
    if fixed is None:
        return
    force = voice.force(max(stay.force_n for stay in stays))
    kind = "stays that lock open" if fixed.pushes else "stays with a brake"
    slow = "" if fixed.pushes else ", and let it down slowly"
    yield FixingToBuy(
        what=f"flap {kind}, their arms clipped to their feet",
        count=2,
        note=f"hold it open at {brief.access.angle_deg:g}°, {force} each{slow}; {voice.say(fixed.open_nm)} between the "
        f"middles of their feet, shut {voice.say(fixed.shut_nm)}; arms and feet flatter than "
        f"{voice.say(min(_deep_nm(part) for part in body.parts if part.role is Role.STAY))}",
        parts=_bought(body, Role.STAY),
    )
    yield FixingToBuy(
        what=fixing_words(brief, fixed.fixings[0].into, own_screw(brief)),
        count=max(len(stay.fixings) for stay in stays),
        note="feet of the stays to the wall, through the wall blocks",
    )
    yield FixingToBuy(
        what=f"wood screws {voice.screw(first.gauge, fixed.screw_nm)}",
        count=2 * FOOT_SCREWS,
        note="feet of the stays to the leaf, through the leaf blocks into the backer; no longer, or they come through",
    )


def _deep_nm(part: Part) -> int:
    return part.box.z1 - part.box.z0


def catch_screw_nm(body: Body, leaves: tuple[LeafHang, ...]) -> int | None:
    """The longest screw of a catch, which runs towards screws from the backer's face; None where none is near it.

    It ends a tip's cover before the shank of the nearest of these that passes behind the catch.
    """
    least: list[int] = []
    for hung in leaves:
        for catch in (part.box for part in body.of(hung.leaf, hung.copy) if part.role is Role.CATCH):
            upright = catch.y1 - catch.y0 > catch.x1 - catch.x0
            (low, high), (first, last) = ((catch.x0, catch.x1), (catch.y0, catch.y1))[:: 1 if upright else -1]
            for screws in hung.glue_screws:
                half = round(shank_mm(screws.gauge) * NM_PER_MM) // 2
                for spot in screws.spots:
                    across, along = (spot.x_nm, spot.y_nm) if upright else (spot.y_nm, spot.x_nm)
                    away = max(low - across, across - high)
                    if first - half <= along <= last + half and 0 < away <= CATCH_REACH_NM:
                        least.append(away - half - TIP_COVER_NM)
    return max(0, min(least)) // NM_PER_MM * NM_PER_MM if least else None


def _catch_nm(body: Body) -> int:
    """Wall to the back of the catch."""
    return max((part.box.z1 for part in body.parts if part.role is Role.CATCH), default=0)


def _from_the_face(leaves: tuple[LeafHang, ...], voice: Voice) -> Iterator[FixingToBuy]:
    """Screws of ribs, frame, strips and filler, of a hinge stile and stays, by the leaf that needs most of each."""
    most: dict[tuple[str, int, bool], int] = {}
    names: dict[tuple[str, int, bool], list[str]] = defaultdict(list)
    for leaf in leaves:
        mine: Counter[tuple[str, int, bool]] = Counter()
        for screws in leaf.glue_screws:
            kind = screws.gauge, screws.length_nm, screws.lasting
            mine[kind] += len(screws.spots)
            word = screws.part.rstrip(" 0123456789")
            if word not in names[kind]:
                names[kind].append(word)
        for kind, count in mine.items():
            most[kind] = max(most.get(kind, 0), count)
    for kind, count in most.items():
        gauge, length, lasting = kind
        yield FixingToBuy(
            what=f"wood screws {voice.screw(gauge, length)}",
            count=count,
            note=f"from the backer's face, hold {', '.join(names[kind])} "
            f"{'for good' if lasting else 'while glue dries'}; no longer there, or they come through",
        )


def _for_wall_halves(brief: Brief, cleats: tuple[CleatPlan, ...]) -> Iterator[FixingToBuy]:
    """Each kind by the leaf that needs most of it."""
    most: dict[str, int] = {}
    for cleat in cleats:
        for what, count in Counter(fixing_words(brief, one.into, cleat.screw) for one in cleat.fixings).items():
            most[what] = max(most.get(what, 0), count)
    for what, count in most.items():
        sunk = ", countersunk heads" if brief.cleat.kind == "wood" else ""
        yield FixingToBuy(what=what, count=count, note=f"wall half of the cleat{sunk}")


def _bought(body: Body, *roles: Role) -> tuple[str, ...]:
    return tuple(key_of(part) for part in body.parts if part.made_at is MadeAt.BOUGHT and part.role in roles)
