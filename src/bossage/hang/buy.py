"""What to buy for hanging, for one leaf."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.body import Body, MadeAt, Role, key_of
from bossage.brief.records import Brief, FixingKind
from bossage.hang.records import CleatPlan, FixingToBuy, HingePlan
from bossage.hang.words import Voice


def things_to_buy(
    brief: Brief, body: Body, cleats: tuple[CleatPlan, ...], hinges: tuple[HingePlan, ...], voice: Voice
) -> Iterator[FixingToBuy]:
    """Counts for one leaf; the leaf that needs most decides."""
    length = voice.say(brief.fixings.length_nm)
    wall = {
        FixingKind.WOOD_SCREW: f"wood screws {brief.fixings.gauge} × {length}",
        FixingKind.PLUG: f"wall plugs with screws {brief.fixings.gauge} × {length}",
        FixingKind.HOLLOW: "hollow-wall fixings",
    }[brief.fixings.kind]
    if cleats:
        yield FixingToBuy(what=wall, count=max(len(c.fixings) for c in cleats), note="wall half of the cleat")
        panel = max((c.panel for c in cleats), key=lambda p: len(p.screws))
        yield FixingToBuy(
            what=f"wood screws {panel.gauge} × {voice.say(panel.length_nm)}",
            count=len(panel.screws),
            note=f"panel half into the {panel.into}; no longer, or they come through",
        )
        if brief.cleat.kind == "metal":
            long = voice.say(max(c.length_nm for c in cleats))
            yield FixingToBuy(
                what="metal cleat, both halves",
                count=max(len(choice.pieces_nm) for choice in body.choices),
                note=long,
                parts=_bought(body, Role.PANEL_HALF, Role.WALL_HALF),
            )
    if hinges:
        yield FixingToBuy(what=wall, count=max(h.wall_fixings for h in hinges), note="behind the hinges, half at each")
        yield FixingToBuy(
            what="hinges",
            count=2,
            note=f"on the {hinges[0].side}, open to {brief.access.angle_deg:g}°",
            parts=_bought(body, Role.HINGE),
        )
        yield FixingToBuy(
            what=f"wood screws {hinges[0].gauge} × {voice.say(hinges[0].length_nm)}",
            count=2 * max(h.screws_per_flap for h in hinges),
            note="hinge flaps",
        )
        if hinges[0].stay is not None:
            kind = "props" if hinges[0].stay.pushes else "chains"
            force = voice.force(max(h.stay.force_n for h in hinges if h.stay))
            yield FixingToBuy(what=kind, count=2, note=f"hold it open, {force} each", parts=_bought(body, Role.STAY))
        hand = "opens by hand" if not brief.access.tool else ""
        yield FixingToBuy(what="catch", count=1, note=hand, parts=_bought(body, Role.CATCH))
    if brief.access.lock:
        yield FixingToBuy(
            what="anti-lift lock",
            count=1,
            note="keeps the cleat from being lifted out",
            parts=_bought(body, Role.LOCK),
        )


def _bought(body: Body, *roles: Role) -> tuple[str, ...]:
    return tuple(key_of(part) for part in body.parts if part.made_at is MadeAt.BOUGHT and part.role in roles)
