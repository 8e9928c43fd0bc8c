"""At the stain: shades by coats or dilution, on the wood itself."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import cares, words_of
from bossage.pack.words import count_of, listed
from bossage.paint.coats import SLOW, oily_topcoat, topcoat_name
from bossage.paint.tried import dilution_words, pieces_to_try
from bossage.paint.way_records import StainFamily
from bossage.plan import Plan


def stain_sheet(plan: Plan) -> Sheet | None:
    """Each shade's coats and dilution, face and side; test pieces of the wood. None without a clear finish."""
    families = plan.paint.stains
    if not families:
        return None
    parts: list[Part] = [*cares(plan, "paint")]
    for family in families:
        parts += _family(plan, family)
    parts += [
        Heading(text="On the wood itself, first"),
        Steps(texts=tuple(_tests(plan))),
        Heading(text="Then the blocks"),
        Steps(texts=tuple(_blocks(plan))),
        Para(
            text="No primer goes under it. All coats go on before the glue, as 'The days' says, and every back stays "
            "bare: glue holds on neither oil nor wax. Wipe off at once what creeps round a back edge, and sand a back "
            f"that got some down to clean wood before it is glued.{_with_topcoat(plan)}",
        ),
    ]
    return Sheet(
        name="stain",
        title="Stain, oil, wax",
        todo="Try it on test pieces of the very wood, then coat shade by shade, and wipe off what is not taken.",
        wrong="Too light? Another coat. Too dark? Take a spare slice: it sits too deep in end grain to sand off.",
        parts=tuple(parts),
    )


def _tests(plan: Plan) -> Iterator[str]:
    """Test pieces, step by step, before a block is coated; what is judged carries the topcoat."""
    families, topcoat = plan.paint.stains, topcoat_name(plan.brief)
    stained = [one for one in families if one.finish == "stain"]
    coats = max((shade.coats for one in families if one.finish != "stain" for shade in one.shades), default=0)
    yield (
        f"When the blocks are sawn: {pieces_to_try(families)} thin slices off a stick's rest, while it is long enough "
        "to "
        "be held at the fence; else off a spare, by hand, in a vise. Those with a field go on the test card sheet. "
        "Sand them "
        "through the same grits as the rest: end grain sanded coarser drinks more."
    )
    if stained:
        half, quarter = (dilution_words("stain", (1, thinner)) for thinner in (1, 3))
        yield (
            f"Stain, {listed([one.family for one in stained])}: leave one slice bare. One full coat on the second; "
            f"half strength, {half}, on the third; a quarter, {quarter}, on the fourth. Wipe off what the wood does "
            "not take after the time on the tin, and let them dry a day."
        )
    if coats:
        named = listed([f"{one.finish}, {one.family}" for one in families if one.finish != "stain"])
        each = listed([f"{count_of(n, 'coat')} on {'one' if n == 1 else 'the next'}" for n in range(1, coats + 1)])
        yield (
            f"{named[:1].upper()}{named[1:]}: leave one slice bare; {each}. Wipe off what the wood does not take after "
            "the time on the tin, and let every coat dry a day."
        )
    if topcoat:
        yield (
            f"Then {topcoat} on all of them, the bare one too, as on the blocks; another day. It darkens end grain: "
            "shades are judged, and photographed, with it on."
        )
    yield (
        "Hold them beside the scale, or read them by photo or meter and put them into the brief as cards; plan again "
        "before a block is coated."
        + ("" if all(one.by_cards for one in families) else " Until then every mix above is a first guess.")
    )


def _blocks(plan: Plan) -> Iterator[str]:
    """Shade by shade, and what water, oil and the topcoat ask for."""
    families, topcoat = plan.paint.stains, topcoat_name(plan.brief)
    if any(one.finish == "stain" for one in families):
        yield (
            "A stain that is thinned with water raises the grain. So wet faces and sides with clean water before it, "
            "test pieces too, let them dry, and take the fibres off with the last grit. After the stain sand nothing."
        )
    yield "Shade by shade, lightest first, all blocks of a shade in one go; stir before every block."
    yield from _oiling(families)
    if topcoat:
        yield (
            f"{topcoat[:1].upper()}{topcoat[1:]}: thin, with a clean brush of its own; wipe off what "
            "stands after the time on the tin." + (f" {WEEPS} {_a_day(topcoat)}" if oily_topcoat(plan.brief) else "")
        )


def _with_topcoat(plan: Plan) -> str:
    topcoat = topcoat_name(plan.brief)
    return (
        f" The topcoat, {topcoat}, is part of every shade. To leave it out, take paint.topcoat out of the brief, plan "
        "again, and make the test pieces anew without it."
        if topcoat
        else ""
    )


def _oiling(families: tuple[StainFamily, ...]) -> Iterator[str]:
    """What oil and wax ask for beyond a stain: wood that weeps, and a day a coat. Common practice, no source."""
    slow = list(dict.fromkeys(family.finish for family in families if family.finish in SLOW))
    if "oil" in slow:
        yield WEEPS
    if slow:
        yield _a_day(listed(slow))


WEEPS = "Open end grain weeps oil long after it was wiped: wipe again after 30 and after 60 minutes, then look."


def _a_day(what: str) -> str:
    return f"A day for each coat of {what}, longer if the label says so: four hours, as for paint, do not do."


def _family(plan: Plan, family: StainFamily) -> list[Part]:
    words = words_of(plan)
    hexes = {shade.name: shade.colour_hex for shade in plan.fade.shades}
    L, a, b = family.wood_lab
    known = "as your test cards say" if family.by_cards else "our assumption; the test pieces settle it"
    topcoat = topcoat_name(plan.brief)
    finished = f"L* is that of the finished block, with {topcoat} on it. " if topcoat else ""
    return [
        Heading(text=f"{family.family}: {family.name}"),
        Table(
            columns=(
                Column(kind="patch"),
                Column(head="shade", kind="figure", mm=34.0),
                Column(head="coats", kind="figure", align="right"),
                Column(head="mixed of", mm=32.0),
                Column(head="mix", align="right"),
                Column(head=f"{family.finish} in it", align="right"),
                Column(head="face, L*", align="right"),
                Column(head="sides, L*", align="right"),
                Column(kind="patch"),
                Column(head="card dry", kind="tick"),
                Column(head="done", kind="tick"),
            ),
            rows=tuple(
                (
                    hexes[one.shade],
                    one.shade,
                    str(one.coats),
                    dilution_words(family.finish, one.parts),
                    words.volume(one.mix_ml),
                    words.volume(one.finish_ml),
                    f"{one.face_lab[0]:.0f}",
                    f"{one.sides_lab[0]:.0f}",
                    one.sides_hex,
                    "",
                    "",
                )
                for one in sorted(family.shades, key=lambda one: -one.face_lab[0])
            ),
        ),
        Para(
            text=f"{finished}The bare wood is taken as L* {L:.0f}, a* {a:.0f}, b* {b:.0f}. Faces are end grain and "
            f"drink {family.end_grain:.2g} times as much as sides ({known}), so sides stay lighter. A clear finish "
            "never "
            "lightens, and no two boards are alike: judge dry, on this wood.",
            small=True,
        ),
    ]
