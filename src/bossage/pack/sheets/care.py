"""What stays with the household when something has lost its colour: how to clean, how to touch up, every recipe."""

from __future__ import annotations

from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import cares, words_of
from bossage.plan import Plan


def care_sheet(plan: Plan) -> Sheet:
    """Cleaning, a touch-up step by step, and each shade with its recipe."""
    recipes = {recipe.shade: recipe for pots in plan.paint.pots for recipe in pots.recipes}
    tinters = {recipe.shade: pots.tinters for pots in plan.paint.pots for recipe in pots.recipes}
    rows = []
    for shade in plan.fade.shades:
        recipe = recipes.get(shade.name)
        if recipe is None:
            mixed = "as bought"
        else:
            whats = ("base", *tinters[shade.name])
            mixed = ", ".join(f"{a.parts} of {what}" for a, what in zip(recipe.amounts, whats, strict=True) if a.parts)
        rows.append((shade.colour_hex, shade.name, mixed, ""))
    words = words_of(plan)
    parts: list[Part] = [
        Table(
            columns=(Column(kind="strong", mm=34.0), Column(wide=True)),
            rows=(
                ("dust", "A soft dry brush, from the top down, twice a year. No water, no spray, no polish."),
                ("a mark", "A clean white rubber first. What does not go with that is painted over."),
                ("a chip", "Touch it up; end grain takes two coats, the first one thin."),
                (
                    "a loose block",
                    "Keep it. Wood glue on its bare back, back into its place, a weight on it overnight.",
                ),
            ),
            groups=tuple(range(4)),
        ),
        Heading(text="Touching up"),
        *cares(plan, "paint"),
        Steps(
            texts=(
                "Find the block's address on the map and its shade there: row, then column.",
                "Stir that pot to the bottom. Paint a card, let it dry for a day, hold it against the block.",
                "Paint the whole face, from edge to edge; a patch in the middle of a face always shows.",
            )
        ),
        Heading(text="Every shade, by parts"),
        Table(
            columns=(
                Column(kind="patch"),
                Column(head="shade", kind="strong"),
                Column(head="parts", wide=True),
                Column(head="paint, maker and name", kind="blank", mm=62.0),
            ),
            rows=tuple(rows),
            tight=True,
        ),
        Para(
            text=(
                f"{plan.paint.coats} coats over primer. The backer is {plan.paint.ground.name}. Painted in all: "
                f"{words.area_mm2(plan.paint.painted_mm2)}. How to clean and to mend: common practice, no source."
            ),
            small=True,
        ),
    ]
    return Sheet(
        name="care",
        title="Care and touch-up card",
        todo="Write in what was bought, and leave this with the pots and the spare blocks.",
        wrong=(
            "The new paint dries another colour? Paint the whole block and swap it with one at the edge, where it "
            "shows least."
        ),
        parts=tuple(parts),
    )
