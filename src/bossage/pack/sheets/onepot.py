"""One pot from light to dark: what goes in, what is poured off, and what to do where it went too far."""

from __future__ import annotations

from bossage.colour.pots import OnePot, PotStep
from bossage.pack.sheet import Column, Figure, Figures, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import cares
from bossage.pack.sheets.recipes import g_words, ml_words, tools_words, with_words
from bossage.pack.words import listed
from bossage.paint.extras import POT_LOSES_ML
from bossage.paint.records import FamilyPots
from bossage.plan import Plan

DROP_ML = 0.05
"""A drop of paint off a stick or a syringe: twenty to a millilitre (from memory)."""

BEFORE = (
    "the test card's field of neat tinter is a week old, has been rubbed, and no colour came off. Or the shop has "
    "written "
    "that the tinter dries by itself, a full-tone paint with a binder of its own. Else all base of the pot is lost."
)


def one_pot_sheet(plan: Plan, pots: FamilyPots, pot: OnePot) -> Sheet:
    """The lines of one family's pot."""
    weighed = any(step.add_g is not None for step in pot.steps)
    pot_ml = sum(step.pour_ml for step in pot.steps)
    parts: list[Part] = [
        *cares(plan, "paint")[:1],
        Figures(
            items=(
                Figure(value=ml_words(pot.start_ml), unit="mL", words="base, into the pot"),
                Figure(value=ml_words(pot.hold_back_ml), unit="mL", words="base kept by, beside pot and stock"),
                Figure(value=ml_words(pot.tinter_ml), unit="mL", words=f"{pots.tinters[0]} in all"),
                Figure(value=f"{pots.worst_one_pot_de or 0:.1f}", unit="ΔE", words="off at worst"),
            )
        ),
    ]
    parts.append(Para(lead="Before line 1:", text=BEFORE))
    rows = [
        _pot_cells(
            f"base, into a clean pot ({with_words(pot.start)})", pot.start_ml, _mass(pot.start_ml, pots), weighed
        )
    ]
    rows += [
        _pot_cells(
            f"set aside in a jar, not into the pot: {ml_words(stock.tinter_ml)} mL of {pots.tinters[0]} with "
            f"{ml_words(stock.base_ml)} mL of base, stock {stock.parts} to 1 "
            f"({listed([with_words(one) for one in stock.measured])})",
            None,
            None,
            weighed,
        )
        for stock in pot.stocks
    ]
    rows += [_pot_row(step, pots, weighed, last=step is pot.steps[-1]) for step in pot.steps]
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
            "dab dries for a day, with the lid on the pot meanwhile; 'The days' has room for some to be put right.",
        ),
        Para(lead="Gone too far?", text=_mending(pot)),
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
        Para(
            lead="The last shade is what is left.",
            text=f"Dabs, brush and the wall of the pot take {POT_LOSES_ML[0]:g} to {POT_LOSES_ML[1]:g} mL of "
            f"{pot_ml:.0f} mL; {pot.steps[-1].shade} holds {POT_LOSES_ML[1]:g} mL more for that. Measure the other "
            "pours by the cylinder; rinse it between two.",
        ),
        Para(text=tools_words((pots,)), small=True),
        Heading(text="What really went in"),
        _really(plan, pots, pot),
    ]
    return Sheet(
        name="onepot",
        title=f"One pot: {pots.family}",
        todo="All shades from one pot, light to dark. Never go back: each line adds to what the last one left.",
        wrong="A line left out or done twice? Stop, measure what is in the pot, and start again from that line.",
        parts=tuple(parts),
    )


def _really(plan: Plan, pots: FamilyPots, pot: OnePot) -> Table:
    """A line for each shade to write in, and one for the sums; it goes to the household with the care card."""
    hexes = {shade.name: shade.colour_hex for shade in plan.fade.shades}
    heads = (f"{pots.tinters[0]} or stock, mL", "base that mended it, mL", "poured, mL")
    return Table(
        columns=(
            Column(kind="patch"),
            Column(head="shade", kind="strong", mm=30.0),
            *(Column(head=head, kind="blank", wide=True) for head in heads),
        ),
        rows=(
            *((hexes[step.shade], step.shade, "", "", "") for step in pot.steps),
            ("", "all", "", "", ""),
        ),
        tight=True,
    )


def _mending(pot: OnePot) -> str:
    """What an addition too much takes of base, how far the base kept by goes, and drops small enough for it."""
    steps = [step for step in pot.steps if step.add_ml and step.mend_ml_per_ml]
    text = (
        "For each millilitre too much add the base under 'mend', from what was kept by. 'Off' is how far the shade may "
        "lie from the wanted one when base, stock and every addition are off by what their tools may be."
    )
    if not steps:
        return text
    first, last = steps[0], steps[-1]
    goes = [f"{pot.hold_back_ml / step.mend_ml_per_ml:.2g} mL too much at {step.shade}" for step in (first, last)]
    drop = 100 * DROP_ML / (first.add_ml * (1 / (1 + first.stock_parts) if first.stock_parts else 1))
    return (
        f"{text} What is kept by mends {listed(list(dict.fromkeys(goes)))}. So put in four fifths first, and the last "
        f"fifth of a light shade by the drop of stock. A drop of neat tinter is {DROP_ML:g} mL, {drop:.0f} % of all "
        f"that {first.shade} takes."
    )


def _pot_row(step: PotStep, pots: FamilyPots, weighed: bool, *, last: bool) -> tuple[str, ...]:
    what = pots.tinters[0] if step.stock_parts == 0 else f"stock {step.stock_parts} to 1"
    if step.measured is not None:
        what = f"{what} ({with_words(step.measured)})"
    return (
        "",
        ml_words(step.add_ml) if step.add_ml else "0",
        *([g_words(step.add_g)] if weighed else []),
        what,
        f"{step.before_ml:.0f}",
        "the rest" if last else ml_words(step.poured.ml),
        step.shade,
        f"{step.error_de:.1f}",
        f"{step.mend_ml_per_ml:.3g}" if step.add_ml else "",
    )


def _pot_cells(what: str, add_ml: float | None, add_g: float | None, weighed: bool) -> tuple[str, ...]:
    return (
        "",
        "" if add_ml is None else ml_words(add_ml),
        *([g_words(add_g)] if weighed else []),
        what,
        "",
        "",
        "",
        "",
        "",
    )


def _mass(base_ml: float, pots: FamilyPots) -> float | None:
    return None if pots.base_g_per_ml is None else base_ml * pots.base_g_per_ml
