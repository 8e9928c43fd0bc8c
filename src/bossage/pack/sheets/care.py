"""What stays with the household when something has lost its colour: how to clean, how to touch up, every recipe."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import all_clear, cares, coats_words, words_of
from bossage.pack.words import count_of, listed
from bossage.paint.coats import SLOW, oily_topcoat, topcoat_name
from bossage.paint.tried import dilution_words
from bossage.paint.way_records import StainFamily, StainShade
from bossage.plan import Plan


def care_sheet(plan: Plan) -> Sheet:
    """Cleaning, a touch-up step by step, and each shade with its recipe."""
    recipes = {recipe.shade: recipe for pots in plan.paint.pots for recipe in pots.recipes}
    tinters = {recipe.shade: pots.tinters for pots in plan.paint.pots for recipe in pots.recipes}
    one_pot = {recipe.shade for pots in plan.paint.pots if pots.one_pot_advised for recipe in pots.recipes}
    finishes = {one.shade: _finish(family, one) for family in plan.paint.stains for one in family.shades}
    rows = []
    for shade in plan.fade.shades:
        recipe = recipes.get(shade.name)
        clear = finishes.get(shade.name)
        if clear is not None:
            mixed = clear
        elif recipe is None:
            mixed = "as bought"
        else:
            whats = ("base", *tinters[shade.name])
            taken = [what for what, wanted in zip(whats, recipe.wanted, strict=True) if wanted]
            mixed = (
                "from one pot: as written on its sheet 'One pot', which stays with this card"
                if shade.name in one_pot
                else "as mixed, mL: " + ", ".join(f"{what} ______" for what in taken)
            )
        rows.append((shade.colour_hex, shade.name, mixed, "", "", ""))
    if plan.brief.paint.topcoat:
        rows.append(("", "topcoat", plan.brief.paint.topcoat, "", "", ""))
    words = words_of(plan)
    parts: list[Part] = [
        Table(
            columns=(Column(kind="strong", mm=34.0), Column(wide=True)),
            rows=(*mending(plan),),
            groups=tuple(range(len(mending(plan)))),
            tight=True,
        ),
        Heading(text="Touching up"),
        *cares(plan, "paint"),
        Steps(texts=_touching_up(plan)),
        Heading(text="Every shade, as it was mixed"),
        Table(
            columns=(
                Column(kind="patch"),
                Column(head="shade", kind="strong"),
                Column(head="what went in", wide=True),
                Column(head="maker and name on the tin", kind="blank", mm=40.0),
                Column(head="gloss, lot", kind="blank", mm=24.0),
                Column(head="date", kind="blank", mm=16.0),
            ),
            rows=tuple(rows),
            tight=True,
        ),
        Para(
            text=(
                f"{KEPT} The blocks have {coats_words(plan)}. The backer is {plan.paint.ground.name}. Coated in all: "
                f"{words.area_mm2(plan.paint.painted_mm2)}. How to clean and to mend: common practice, no source."
            ),
            small=True,
        ),
    ]
    return Sheet(
        name="care",
        title="Care and touch-up card",
        todo=f"Write in what was bought. Leave this with {_left_with(plan)}, and the spares.",
        wrong=(
            "It dries another colour on the spare? Stop there: what end grain has drunk does not come out again. "
            "Blocks "
            "are glued: none is changed for another."
            if all_clear(plan)
            else "It dries another colour? Let it dry a week, try again on a card until it agrees, and paint the whole "
            "face anew. Blocks are glued: none is changed for another."
        ),
        parts=tuple(parts),
    )


def _left_with(plan: Plan) -> str:
    """What the household can mend with: of paint its primer too, of every finish its thinner and the topcoat."""
    stains, topcoat = plan.paint.stains, topcoat_name(plan.brief)
    painted = not all_clear(plan)
    finishes = list(dict.fromkeys(family.name for family in stains))
    thinned = any(one.parts[1] for family in stains for one in family.shades)
    return listed(
        [
            *(["the pots"] if painted else []),
            *(["a jar of primer"] if painted and plan.paint.primer_ml else []),
            *(f"the tin of {name}" for name in finishes),
            *(["a jar of every mix"] if thinned else []),
            *([f"the tin of {topcoat}"] if topcoat else []),
            "a jar of the ground",
        ]
    )


KEPT = (
    "Rests keep longest in small jars filled to the brim, lid tight, each with its shade written on it, dark and free "
    "of frost, as long as the tin says."
)


def _finish(family: StainFamily, shade: StainShade) -> str:
    """`2 coats of bark oil, as it is`."""
    return f"{count_of(shade.coats, 'coat')} of {family.name}, {dilution_words(family.finish, shade.parts)}"


def mending(plan: Plan) -> tuple[tuple[str, str], ...]:
    """What is done about dust, a mark, a chip and a loose block: on the household card and here."""
    return (
        ("dust", "A soft dry brush, from the top down, twice a year. No water, no spray, no polish."),
        *_mending(plan),
        ("a loose block", "Keep it. Wood glue on its bare back, back into its place, a weight on it overnight."),
    )


def _mending(plan: Plan) -> tuple[tuple[str, str], ...]:
    """What is done about a mark and a chip: paint covers, a clear finish only goes on again."""
    painted = (
        ("a mark", "A clean white rubber first. What does not go with that is painted over."),
        (
            "a chip",
            "Bare wood first gets a dab of primer, a day to dry, then the shade over the whole face, twice, the first "
            "time thin.",
        ),
    )
    if not plan.paint.stains:
        return painted
    finishes = list(dict.fromkeys(family.finish for family in plan.paint.stains))
    topcoat = topcoat_name(plan.brief)
    over = f"{topcoat} alone, thin, over the whole face"
    again = f"Sand lightly with the grit that the face was finished with, {_again(finishes)}"
    clear = (
        (
            ("a mark", f"A clean white rubber first. What does not go with that: {over}, tried on a spare before."),
            (
                "a chip",
                f"Where bare wood shows, and there alone: {_first(finishes)} with a fine brush, wiped off, a day to "
                "dry; "
                f"then {over}.",
            ),
        )
        if topcoat
        else (
            ("a mark", f"A clean white rubber first. What does not go with that: {again[:1].lower()}{again[1:]}"),
            ("a chip", again),
        )
    )
    if all_clear(plan):
        return clear
    named = listed([family.family for family in plan.paint.stains])
    return (*((f"{what}, painted", do) for what, do in painted), *((f"{what}, {named}", do) for what, do in clear))


def _first(finishes: list[str]) -> str:
    """`its stain`."""
    return " or ".join(f"its {one}" for one in finishes)


def _again(finishes: list[str]) -> str:
    """What follows on the sanding: each finish goes on again and its rest is wiped off."""
    verbs = {"oil": "oil again", "wax": "wax again", "stain": "stain again"}
    return f"{' or '.join(verbs[one] for one in finishes)}, and wipe off the rest."


def _touching_up(plan: Plan) -> tuple[str, ...]:
    """Step by step, for paint, and for a clear finish."""
    steps = ["Find the block's address on the map and its shade there: row, then column."]
    if not all_clear(plan):
        steps += [
            "Paint: stir that pot to the bottom. Paint a card, let it dry for a day, hold it against the block.",
            "Paint the whole face, from edge to edge; a patch in the middle of a face always shows.",
        ]
    if plan.paint.stains:
        steps += _clear_again(plan)
    return tuple(steps)


def _clear_again(plan: Plan) -> Iterator[str]:
    """A clear finish goes on again; under a topcoat it does not, as it takes on bare wood alone."""
    finishes = list(dict.fromkeys(family.finish for family in plan.paint.stains))
    topcoat = topcoat_name(plan.brief)
    named = listed(finishes).capitalize()
    if topcoat:
        yield (
            f"{named}: a face carries {topcoat}. Over it {listed(finishes)} lies in blotches. First {topcoat} alone, "
            "on "
            "a spare block of that shade; let it dry for a day, hold it beside the block."
        )
        yield (
            f"Bare wood alone gets {listed(finishes)} again, as the table says: wipe off the rest, a day to dry. Then "
            f"{topcoat}, thin, over the whole face, from edge to edge; wipe off what stands."
        )
    else:
        yield f"{named}: try it on a spare block of that shade, let it dry for a day, hold it beside the block."
        yield f"Sand the whole face lightly, along one direction, dust it off, {_again(finishes)}"
    if set(finishes) & set(SLOW) or oily_topcoat(plan.brief):
        yield "Wipe again after 30 and 60 minutes. Look after rags and paper as the caution above says."
