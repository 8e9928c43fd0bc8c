"""At the stain: shades by coats or dilution, on the wood itself."""

from __future__ import annotations

from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import cares, words_of
from bossage.pack.words import listed
from bossage.paint.coats import SLOW
from bossage.paint.way_records import StainFamily
from bossage.plan import Plan


def stain_sheet(plan: Plan) -> Sheet | None:
    """Each shade's coats and dilution, face and side; test cards on spare blocks. None without a clear finish."""
    families = plan.paint.stains
    if not families:
        return None
    parts: list[Part] = [*cares(plan, "paint")]
    for family in families:
        parts += _family(plan, family)
    thinned = any(one.parts[1] for family in families for one in family.shades)
    parts += [
        Heading(text="On the wood itself, first"),
        Steps(
            texts=(
                "Sand three spare blocks through the same grits as the rest: end grain sanded coarser drinks more.",
                "Put one full coat on the face of the first, "
                + (
                    "half strength on the second, a quarter on the third; "
                    if thinned
                    else "two coats on the second, three on the third; "
                )
                + "wipe off what the wood does not take after the time on the tin, and let them dry a day.",
                "Hold them beside the scale, or read them by photo or meter and put them into the brief as cards.",
                "Then shade by shade, lightest first, all blocks of a shade in one go; stir before every block.",
                *_oiling(families),
            )
        ),
        Para(
            text="No primer goes under it. All coats go on before the glue, as 'The days' says, and every back stays "
            "bare: glue holds on neither oil nor wax. Wipe off at once what creeps round a back edge, and sand a back "
            "that got some down to clean wood before it is glued. A topcoat evens the gloss and can be left out; try "
            "it on the spare blocks.",
        ),
    ]
    return Sheet(
        name="stain",
        title="Stain, oil, wax",
        todo="Try it on spare blocks of the very wood, then coat shade by shade, and wipe off what is not taken.",
        wrong="Too light? Another coat. Too dark? Take a spare slice: it sits too deep in end grain to sand off.",
        parts=tuple(parts),
    )


def _oiling(families: tuple[StainFamily, ...]) -> tuple[str, ...]:
    """What oil and wax ask for beyond a stain: wood that weeps, and a day a coat. Common practice, no source."""
    slow = list(dict.fromkeys(family.finish for family in families if family.finish in SLOW))
    if not slow:
        return ()
    weeps = (
        ("Open end grain weeps oil long after it was wiped: wipe again after 30 and after 60 minutes, then look.",)
        if "oil" in slow
        else ()
    )
    return (
        *weeps,
        f"A day for each coat of {listed(slow)}, longer if the label says so: four hours, as for paint, do not do.",
    )


def _family(plan: Plan, family: StainFamily) -> list[Part]:
    words = words_of(plan)
    hexes = {shade.name: shade.colour_hex for shade in plan.fade.shades}
    L, a, b = family.wood_lab
    known = "as your test cards say" if family.by_cards else "our assumption; a card on a spare block settles it"
    return [
        Heading(text=f"{family.family}: {family.name}"),
        Table(
            columns=(
                Column(kind="patch"),
                Column(head="shade", kind="figure", mm=34.0),
                Column(head="coats", kind="figure", align="right"),
                Column(head=f"{family.finish} : thinner", align="right"),
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
                    f"{one.parts[0]} : {one.parts[1]}" if one.parts[1] else "as it is",
                    words.volume(one.mix_ml),
                    words.volume(one.finish_ml),
                    f"{one.face_lab[0]:.0f}",
                    f"{one.sides_lab[0]:.0f}",
                    one.sides_hex,
                    "",
                    "",
                )
                for one in family.shades
            ),
        ),
        Para(
            text=f"The bare wood is taken as L* {L:.0f}, a* {a:.0f}, b* {b:.0f}. Faces are end grain and drink "
            f"{family.end_grain:.2g} times as much as sides ({known}), so sides stay lighter. A clear finish never "
            "lightens, and no two boards are alike: judge dry, on this wood.",
            small=True,
        ),
    ]
