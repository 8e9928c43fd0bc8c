"""At the pots: scales before anything is mixed, recipes, one pot from light to dark, a test card at true size."""

from __future__ import annotations

from collections.abc import Mapping

from bossage.colour.card_sheet import card_sheet
from bossage.colour.pots import OnePot, PotStep
from bossage.pack.drawings.swatches import card_drawing, meeting_shades, scale_groups, scales_drawing
from bossage.pack.sheet import Column, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import cares, full, room
from bossage.pack.words import listed
from bossage.paint.cards import CardField, FieldKind, card_fields
from bossage.paint.records import FamilyPots
from bossage.plan import Plan

SAID = ("steps", "meeting", "cross_mix", "alike", "unmeasurable")
LET_DOWN = (
    "2 mL of tinter and 10 mL of base give 5 : 1; 6 mL of that and 15 mL of base give 20 : 1; 7 mL of that and 20 mL "
    "of base give 80 : 1."
)


def pot_sheets(plan: Plan) -> list[Sheet]:
    """The scales, the recipes of each family that has a base and a tinter, the test card."""
    sheets = [_scales_sheet(plan)]
    if plan.paint.pots:
        sheets.append(_recipes_sheet(plan.paint.pots, {shade.name: shade.colour_hex for shade in plan.fade.shades}))
    sheets += [_one_pot_sheet(plan, pots, pots.one_pot) for pots in plan.paint.pots if pots.one_pot is not None]
    return [*sheets, *_card_sheets(plan)]


def _scales_sheet(plan: Plan) -> Sheet:
    space = room(plan)
    said = [check for check in plan.checks if check.stage == "fade" and check.name in SAID]
    groups = scale_groups(plan)
    drawings = [
        scales_drawing(plan, width_mm=space.width_mm - 1, height_mm=0.56 * space.height_mm, only=group)
        for group in groups
    ]
    caption = "Light at the top. The closer the hatching, the darker the shade."
    if meeting_shades(plan):
        caption += " Below, edge to edge: the shades at which families meet."
    parts: list[Part] = [Drawn(drawing=drawing, caption=caption) for drawing in drawings]
    if said:
        parts.append(Heading(text="Steps, and where families meet"))
        parts.append(
            Table(
                columns=(Column(kind="verdict"), Column(kind="strong", mm=38.0), Column(wide=True)),
                rows=tuple((c.verdict.value, c.subject, f"{full(c.found)} {full(c.allowed)}") for c in said),
            )
        )
    if not all(shade.modelled for shade in plan.fade.shades):
        parts.append(
            Para(
                text=(
                    "Families known by one colour only are shown, not predicted: no recipe is given. Give a base and a "
                    "tinter in the brief, and they get one."
                ),
                small=True,
            )
        )
    return Sheet(
        name="scales",
        title="Scales side by side",
        todo="Look at this before anything is mixed: even steps within a family, one lightness where two meet.",
        wrong="Two families part where they meet? Change their lightness in the brief and plan again.",
        parts=tuple(parts),
    )


def _recipes_sheet(families: tuple[FamilyPots, ...], hexes: Mapping[str, str]) -> Sheet:
    parts: list[Part] = []
    for pots in families:
        parts += _recipes(pots, hexes)
    resolution = families[0].resolution_ml
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
        todo="A clean pot for each shade: base first, then the tinter. Stir until no streak is left, then try a card.",
        wrong="Too dark? Add base, note how much, and write it on the card. Too light? Add tinter by the drop.",
        parts=(
            *parts,
            Para(
                text=(
                    f"Measured to {resolution:g} mL. Volumes hold all coats and the reserve.{grams} ΔE is CIEDE2000, "
                    "how far a shade may be off when every measure is off by half a mark: under 1 nobody sees it side "
                    "by side."
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
            for a in recipe.amounts
            for cell in (
                _ml(a.volume_ml) if a.volume_ml or not a.parts else f"< {pots.resolution_ml:g}",
                *([_g(a.mass_g)] if weighed else []),
            )
        ]
        rows.append(
            (
                hexes[recipe.shade],
                recipe.shade,
                " : ".join(str(a.parts) for a in recipe.amounts),
                *amounts,
                f"{recipe.error_de:.1f}" + ("" if recipe.measurable else ", too little to measure"),
                "",
            )
        )
    columns = (
        Column(kind="patch"),
        Column(head="shade", kind="strong"),
        Column(head="parts, " + " : ".join(whats), align="right"),
        *(
            column
            for what in whats
            for column in (
                Column(head=f"{what}, mL", kind="figure", align="right"),
                *([Column(head="g", align="right")] if weighed else []),
            )
        ),
        Column(head="may be off, ΔE", kind="small", wide=True),
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


def _one_pot_sheet(plan: Plan, pots: FamilyPots, pot: OnePot) -> Sheet:
    weighed = any(step.add_g is not None for step in pot.steps)
    parts: list[Part] = [
        *cares(plan, "paint")[:1],
        Figures(
            items=(
                Figure(value=_ml(pot.start_ml), unit="mL", words="base, into the pot"),
                Figure(value=_ml(pot.hold_back_ml), unit="mL", words="base, kept by"),
                Figure(value=_ml(pot.tinter_ml), unit="mL", words=f"{pots.tinters[0]} in all"),
                Figure(value=f"{pots.worst_one_pot_de or 0:.1f}", unit="ΔE", words="off at worst"),
            )
        ),
    ]
    rows = [_pot_cells("base, into a clean pot", pot.start_ml, _mass(pot.start_ml, pots), weighed)]
    rows += [
        _pot_cells(
            f"set aside in a jar, not into the pot: {_ml(stock.tinter_ml)} mL of {pots.tinters[0]} with "
            f"{_ml(stock.base_ml)} mL of base, stock {stock.parts} to 1",
            None,
            None,
            weighed,
        )
        for stock in pot.stocks
    ]
    rows += [_pot_row(step, pots, weighed) for step in pot.steps]
    parts.append(
        Table(
            columns=(
                Column(kind="strong", align="right"),
                Column(head="done", kind="tick"),
                Column(head="add, mL", kind="figure", align="right"),
                *([Column(head="g", align="right")] if weighed else []),
                Column(head="of what", wide=True),
                Column(head="then holds", align="right"),
                Column(head="pour, mL", kind="figure", align="right"),
                Column(head="shade", kind="strong"),
                Column(head="off, ΔE", align="right"),
                Column(head="mend, mL", align="right"),
            ),
            rows=tuple((str(number), *row) for number, row in enumerate(rows, 1)),
        )
    )
    parts += [
        Para(
            lead="Each time:",
            text="stir for two minutes, scrape the wall of the pot, dry a dab on the card, and only then pour off. A "
            "dab dries for a day: 'The days' has a day for each shade, with the lid on the pot meanwhile.",
        ),
        Para(
            lead="Gone too far?",
            text=(
                "For each millilitre too much add the base under 'mend', from what was kept by. Base in the pot "
                "× (tinter to one of base as it is ÷ as it should be, less 1) says the same from a reading. 'Off' is "
                "how far the shade may lie from the wanted one when each addition is off by half a mark."
            ),
        ),
        *(
            [
                Para(
                    lead=f"No test card of {listed(list(pots.guessed))} yet:",
                    text="every addition is a first guess. Put in a third of it, dry a dab, and go on to the shade's "
                    "lightness; then multiply all later additions alike.",
                )
            ]
            if pots.guessed
            else []
        ),
        Para(
            lead="Not as much in the pot as its line says?",
            text="Multiply the next addition by what is there ÷ what should be. A pour too much or too little costs "
            "nothing then.",
        ),
        Para(text=f"{_ml(pot.left_ml)} mL are left in the pot at the end, from rounding.", small=True),
    ]
    return Sheet(
        name="onepot",
        title=f"One pot: {pots.family}",
        todo="All shades from one pot, light to dark. Never go back: each line adds to what the last one left.",
        wrong="A line left out or done twice? Stop, measure what is in the pot, and start again from that line.",
        parts=tuple(parts),
    )


def _pot_row(step: PotStep, pots: FamilyPots, weighed: bool) -> tuple[str, ...]:
    what = pots.tinters[0] if step.stock_parts == 0 else f"stock {step.stock_parts} to 1"
    return (
        "",
        _ml(step.add_ml) if step.add_ml else "0",
        *([_g(step.add_g)] if weighed else []),
        what,
        _ml(step.before_ml),
        _ml(step.pour_ml),
        step.shade,
        f"{step.error_de:.1f}",
        f"{step.mend_ml_per_ml:.3g}" if step.add_ml else "",
    )


def _pot_cells(what: str, add_ml: float | None, add_g: float | None, weighed: bool) -> tuple[str, ...]:
    return ("", "" if add_ml is None else _ml(add_ml), *([_g(add_g)] if weighed else []), what, "", "", "", "", "")


def _mass(base_ml: float, pots: FamilyPots) -> float | None:
    return None if pots.base_g_per_ml is None else base_ml * pots.base_g_per_ml


def _card_sheets(plan: Plan) -> list[Sheet]:
    sheets = card_fields(plan.brief)
    return [_card_sheet(plan, fields, number, len(sheets)) for number, fields in enumerate(sheets, 1)]


def _card_sheet(plan: Plan, fields: tuple[CardField, ...], number: int, of: int) -> Sheet:
    sheet = card_sheet([field.name for field in fields])
    across_mm = sheet.width_mm - 2 * sheet.mark_centres_mm[0, 0]
    which = "" if of == 1 else f" --sheet {number}"
    clear = {family.name for family in plan.brief.families if family.clear}
    goes_in = {field.name: _goes_in(field, clear=bool(clear & set(field.families))) for field in fields}
    parts: list[Part] = [Drawn(drawing=card_drawing(sheet, goes_in))]
    if any(clear & set(field.families) for field in fields):
        parts.append(
            Para(
                lead="Stain, oil and wax:",
                text="on the wood itself. Slice spare blocks thin, sand the end grain through the same grits, coat it, "
                "wipe it off, and stick the slices on once they are dry.",
                small=True,
            )
        )
    if any(field.kind is FieldKind.MIX and not clear & set(field.families) for field in fields):
        parts.append(Para(lead="Little tinter, measured well:", text=LET_DOWN, small=True))
    parts.append(
        Para(
            lead="Plain paint and clear finishes only:",
            text="metallic, pearl and fluorescent paints change with the angle or the lamp; no card foretells them.",
            small=True,
        )
    )
    parts.append(
        Steps(
            texts=(
                f"Measure between the middles of the upper marks: {across_mm:g} mm. If not, print again at 100 %.",
                "Coat slices of the wood as above"
                if all(clear & set(field.families) for field in fields)
                else "Paint each mix on primed card, two coats, and let it dry a day. Write on the back: date, primer, "
                "coats, what went in. Cut to the fields and stick on.",
                "Lay it flat in daylight from one side, no flash, nothing casting a shadow; photograph the whole sheet "
                "from straight above.",
                f"Run: bossage read-card PHOTO --brief BRIEF{which}. It says what to put into the brief.",
            )
        )
    )
    return Sheet(
        name="testcard",
        title="Test card sheet" + ("" if of == 1 else f" {number} of {of}"),
        todo="Paint each field's mix, stick it on, photograph the sheet: the next plan knows your paint.",
        wrong="A home printer's greys may be off: stick a bought grey scale over them and give its values (--greys).",
        parts=tuple(parts),
        scale="1 : 1",
    )


def _goes_in(field: CardField, *, clear: bool = False) -> str:
    if clear:
        parts = " : ".join(str(part) for part in field.parts)
        return {FieldKind.BASE: "bare end grain", FieldKind.NEAT: "one full coat"}.get(field.kind, f"thinner {parts}")
    if field.kind is FieldKind.BASE:
        return "base alone"
    if field.kind is FieldKind.NEAT:
        return "tinter alone"
    if field.kind is FieldKind.SHADE:
        return "as bought"
    return "base " + " : ".join(str(part) for part in field.parts) + " tinter"


def _ml(value_ml: float) -> str:
    return f"{value_ml:.1f}"


def _g(value_g: float | None) -> str:
    return "" if value_g is None else f"{value_g:.1f}"
