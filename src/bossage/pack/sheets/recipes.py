"""A recipe for each shade by itself, and how amounts of paint are written."""

from __future__ import annotations

from collections.abc import Mapping

from bossage.colour.measuring import Measured
from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Table
from bossage.pack.words import listed
from bossage.paint.pots import tools_of
from bossage.paint.records import FamilyPots


def recipes_sheet(families: tuple[FamilyPots, ...], hexes: Mapping[str, str]) -> Sheet:
    """Every family, and whether it is mixed from here or from one pot."""
    parts: list[Part] = []
    for pots in families:
        parts += _recipes(pots, hexes)
    by_one_pot = all(pots.one_pot_advised for pots in families)
    unknown = [
        what
        for pots in families
        for what, density in zip(("base", *pots.tinters), (pots.base_g_per_ml, *pots.tinter_g_per_ml), strict=True)
        if density is None
    ]
    grams = f" No density is known of {listed(list(dict.fromkeys(unknown)))}: no grams." if unknown else ""
    return Sheet(
        name="recipes",
        title="Recipes",
        todo=(
            "Mix the families from their sheets 'One pot'. This sheet is for one shade by itself, lost or run dry, "
            "which "
            "takes more base than is kept by: buy a tin of the same lot first. In it: "
            if by_one_pot
            else "A clean pot for each shade, but one pot for a family whose line says so: "
        )
        + "base first, then the tinter. Stir until no streak is left, then try a card.",
        wrong="Too dark? Add base, and write on the card how much. Too light? Add drops of stock, 1 tinter in 5 base.",
        parts=(
            *parts,
            Para(
                text=(
                    f"Volumes hold all coats and the reserve.{grams} ΔE is CIEDE2000, how far a shade may be off when "
                    "every measure is off by what its tool may be: under 1 nobody sees it side by side. "
                    f"{tools_words(families)}"
                ),
                small=True,
            ),
        ),
    )


def _recipes(pots: FamilyPots, hexes: Mapping[str, str]) -> list[Part]:
    weighed = pots.base_g_per_ml is not None or any(density is not None for density in pots.tinter_g_per_ml)
    whats = ("base", *pots.tinters)
    rows = []
    for recipe in pots.recipes:
        amounts = [
            cell
            for a, wanted in zip(recipe.amounts, recipe.wanted, strict=True)
            for cell in (
                ml_words(a.volume_ml) if a.volume_ml or not wanted else f"< {pots.resolution_ml:g}",
                *([g_words(a.mass_g)] if weighed else []),
            )
        ]
        rows.append(
            (
                hexes[recipe.shade],
                recipe.shade,
                *amounts,
                f"{recipe.error_de:.1f}",
                "; ".join(dict.fromkeys(with_words(a.measured) for a in recipe.amounts if a.volume_ml))
                + ("" if recipe.measurable else "; tinter too little to measure: let it down as for one pot"),
                "",
            )
        )
    columns = (
        Column(kind="patch"),
        Column(head="shade", kind="strong"),
        *(
            column
            for what in whats
            for column in (
                Column(head=f"{what}, mL", kind="figure", align="right"),
                *([Column(head="g", align="right")] if weighed else []),
            )
        ),
        Column(head="off, ΔE", align="right"),
        Column(head="measured with", kind="small", wide=True),
        Column(head="mixed", kind="tick"),
    )
    parts: list[Part] = [Heading(text=pots.family), Table(columns=columns, rows=tuple(rows), tight=True)]
    if pots.guessed:
        parts.append(
            Para(
                lead=f"No test card of {listed(list(pots.guessed))} yet.",
                text="These amounts are a first guess: measured tints took from a third of it to four times as much. "
                "Put in a third, dry a dab, and go on little by little; too little can be mended, too much costs base. "
                "Paint the test card sheet first, and the guess is over.",
            )
        )
    if pots.mixed:
        parts.append(
            Para(
                lead="Mixed already:",
                text="these are the pots as the brief says they stand; mix more by the same line.",
            )
        )
    parts.append(_ways(pots))
    return parts


def tools_words(families: tuple[FamilyPots, ...]) -> str:
    """What is measured with, and how far each tool may be off."""
    told = [f"{tool.name} ±{tool.error_ml:g} mL" for tool in tools_of(families)]
    return f"Measure with: {listed(told)} a fill. Empty each whole, and scrape it out."


def with_words(one: Measured) -> str:
    """`10 mL syringe`, `1 mL syringe, 3 fills`."""
    return one.tool.name if one.fills == 1 else f"{one.tool.name}, {one.fills} fills"


def _ways(pots: FamilyPots) -> Para:
    if pots.worst_one_pot_de is None:
        return Para(lead="A pot each.", text=f"Off by {pots.worst_separate_de:.1f} at worst. {pots.why}")
    assert pots.one_pot is not None
    smallest_one = min((step.add_ml for step in pots.one_pot.steps if step.add_ml > 0), default=0.0)
    advice = "One pot is nearer" if pots.one_pot_advised else "A pot each is at least as near"
    return Para(
        lead="A pot each, or one for all?",
        text=(
            f"With a pot each the worst shade may be off by {pots.worst_separate_de:.1f}, from one pot by "
            f"{pots.worst_one_pot_de:.1f}; the smallest amount of tinter is {pots.smallest_separate_ml:.2g} mL against "
            f"{smallest_one:.2g} mL. {advice}"
            + (f", and its shades cannot change places: see 'One pot: {pots.family}'." if pots.one_pot_advised else ".")
        ),
    )


def ml_words(value_ml: float) -> str:
    """As many places as the marks of its tool have."""
    return f"{round(value_ml, 3):g}"


def g_words(value_g: float | None) -> str:
    """To a tenth of a gram; nothing where the density is not known."""
    return "" if value_g is None else f"{value_g:.1f}"
