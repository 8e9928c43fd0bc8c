"""At the pots: scales before anything is mixed, recipes, one pot from light to dark, a test card at true size."""

from __future__ import annotations

from bossage.colour.pots import OnePot, PotStep
from bossage.pack.drawings.swatches import FIELD_MM, card_drawing, scales_drawing
from bossage.pack.sheet import Column, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import full, room
from bossage.paint.records import FamilyPots
from bossage.plan import Plan

CARD_FIELDS = 12


def pot_sheets(plan: Plan) -> list[Sheet]:
    """The scales, the recipes of each family that has a base and a tinter, the test card."""
    sheets = [_scales_sheet(plan)]
    if plan.paint.pots:
        sheets.append(_recipes_sheet(plan.paint.pots))
    sheets += [_one_pot_sheet(pots, pots.one_pot) for pots in plan.paint.pots if pots.one_pot is not None]
    return [*sheets, _card_sheet(plan)]


def _scales_sheet(plan: Plan) -> Sheet:
    space = room(plan)
    said = [check for check in plan.checks if check.stage == "fade" and check.name in ("meeting", "cross_mix")]
    drawing = scales_drawing(plan, width_mm=space.width_mm - 1, height_mm=0.56 * space.height_mm)
    parts: list[Part] = [
        Drawn(drawing=drawing, caption="Light at the top. The closer the hatching, the darker the shade.")
    ]
    if said:
        parts.append(Heading(text="Where families meet"))
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


def _recipes_sheet(families: tuple[FamilyPots, ...]) -> Sheet:
    parts: list[Part] = []
    for pots in families:
        parts += _recipes(pots)
    resolution = families[0].resolution_ml
    return Sheet(
        name="recipes",
        title="Recipes",
        todo="A clean pot for each shade: base first, then the tinter. Stir until no streak is left, then try a card.",
        wrong="Too dark? Add base, note how much, and write it on the card. Too light? Add tinter by the drop.",
        parts=(
            *parts,
            Para(
                text=(
                    f"Measured to {resolution:g} mL, as a small syringe is marked. Volumes hold all coats and the "
                    "reserve. No density is known, so there are no grams. ΔE is CIEDE2000: under 1 nobody sees it side "
                    "by side."
                ),
                small=True,
            ),
        ),
    )


def _recipes(pots: FamilyPots) -> list[Part]:
    rows = []
    for recipe in pots.recipes:
        base, tinter = recipe.amounts
        rows.append(
            (
                recipe.shade,
                f"{base.parts_n} : {tinter.parts_n}",
                _ml(base.volume_ml),
                _ml(tinter.volume_ml),
                f"{recipe.error_de:.1f}" + ("" if recipe.measurable else ", too little to measure"),
                "",
            )
        )
    columns = (
        Column(head="shade", kind="strong"),
        Column(head=f"base : {pots.tinter}", align="right"),
        Column(head="base, mL", kind="figure", align="right"),
        Column(head=f"{pots.tinter}, mL", kind="figure", align="right"),
        Column(head="may be off, ΔE", kind="small", wide=True),
        Column(head="mixed", kind="tick"),
    )
    advice = (
        "One pot is nearer: its additions are larger, and shades cannot change places."
        if pots.one_pot_advised
        else "These are at least as near as one pot for all."
    )
    worst_one = "" if pots.worst_one_pot_de is None else f" against {pots.worst_one_pot_de:.1f} from one pot"
    return [
        Heading(text=pots.family),
        Table(columns=columns, rows=tuple(rows), tight=True),
        Para(
            lead="A pot each, or one for all?",
            text=f"Off by {pots.worst_separate_de:.1f} at worst{worst_one}. {advice}"
            + (f" {pots.why}" * bool(pots.why)),
        ),
    ]


def _one_pot_sheet(pots: FamilyPots, pot: OnePot) -> Sheet:
    parts: list[Part] = [
        Figures(
            items=(
                Figure(value=_ml(pot.start_ml), unit="mL", words="base, into the pot"),
                Figure(value=_ml(pot.hold_back_ml), unit="mL", words="base, kept by"),
                Figure(value=_ml(pot.tinter_ml), unit="mL", words=f"{pots.tinter} in all"),
                Figure(value=f"{pots.worst_one_pot_de or 0:.1f}", unit="ΔE", words="off at worst"),
            )
        ),
    ]
    rows: list[tuple[str, ...]] = [("1", "", _ml(pot.start_ml), "base into a clean pot, wide enough to stir", "", "")]
    for stock in pot.stocks:
        rows.append(
            (
                str(len(rows) + 1),
                "",
                _ml(stock.tinter_ml),
                f"{pots.tinter} with {_ml(stock.base_ml)} mL of base in a jar: the stock {stock.parts} to 1",
                "",
                "",
            )
        )
    rows += [_pot_row(len(rows) + 1 + k, step, pots) for k, step in enumerate(pot.steps)]
    parts.append(
        Table(
            columns=(
                Column(kind="strong", align="right"),
                Column(head="done", kind="tick"),
                Column(head="add, mL", kind="figure", align="right"),
                Column(head="of what", wide=True),
                Column(head="pour off, mL", kind="figure", align="right"),
                Column(head="into the pot", kind="strong"),
            ),
            rows=tuple(rows),
        )
    )
    parts += [
        Para(
            lead="Each time:",
            text="stir for two minutes, scrape the wall of the pot, dry a dab on the card, and only then pour off.",
        ),
        Para(
            lead="Gone too far?",
            text=(
                "Base to add = base in the pot × (tinter for one of base as it is ÷ as it should be, less 1). Take it "
                "from what was kept by. What was poured off too much costs nothing."
            ),
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


def _pot_row(number: int, step: PotStep, pots: FamilyPots) -> tuple[str, ...]:
    what = pots.tinter if step.stock_parts == 0 else f"stock {step.stock_parts} to 1"
    return (
        str(number),
        "",
        _ml(step.add_ml) if step.add_ml else "0",
        f"{what}; then {_ml(step.before_ml)} mL in the pot",
        _ml(step.pour_ml),
        step.shade,
    )


def _card_sheet(plan: Plan) -> Sheet:
    fields = _fields(plan)
    columns = min(3, int(room(plan).width_mm // (FIELD_MM[0] + 6)))
    return Sheet(
        name="testcard",
        title="Test card",
        todo="Paint each field with two coats on primed wood or card, let it dry a day, then judge it by daylight.",
        wrong="A field came out another colour? Photograph or measure it, and write what it is into the brief.",
        parts=(
            Drawn(drawing=card_drawing(fields, columns=columns)),
            Para(
                lead="Write on it:",
                text="plan, date, primer, coats, and for each field what went in, in mL. Keep the card with the piece.",
            ),
        ),
        scale="1 : 1",
    )


def _fields(plan: Plan) -> list[tuple[str, str]]:
    """Neat tinter and some mixes of families that are mixed; of the others, shades as they are bought."""
    recipes = {recipe.shade: recipe for pots in plan.paint.pots for recipe in pots.recipes}
    families = list(dict.fromkeys(shade.family for shade in plan.fade.shades))
    each = max(1, CARD_FIELDS // len(families))
    fields: list[tuple[str, str]] = []
    for family in families:
        shades = [shade for shade in plan.fade.shades if shade.family == family]
        pots = next((p for p in plan.paint.pots if p.family == family), None)
        if pots is not None:
            fields.append((f"{pots.tinter}, neat", "tinter without base"))
        wanted = min(len(shades), each - (pots is not None))
        for k in range(wanted):
            shade = shades[round(k * (len(shades) - 1) / max(wanted - 1, 1))]
            recipe = recipes.get(shade.name)
            mix = "as bought" if recipe is None else " : ".join(str(a.parts_n) for a in recipe.amounts)
            fields.append((shade.name, mix if recipe is None else f"base : {recipe.amounts[1].what} = {mix}"))
    return fields[:CARD_FIELDS]


def _ml(value_ml: float) -> str:
    return f"{value_ml:.1f}"
