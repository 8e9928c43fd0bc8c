"""At the pots: scales before anything is mixed, then recipes, one pot from light to dark, a test card at true size."""

from __future__ import annotations

from bossage.checks import Check, Verdict
from bossage.pack.drawings.swatches import meeting_shades, scale_groups, scales_drawing
from bossage.pack.sheet import Column, Drawn, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import advice_words, room
from bossage.pack.sheets.onepot import one_pot_sheet
from bossage.pack.sheets.recipes import recipes_sheet
from bossage.pack.words import full
from bossage.plan import Plan

SCALES_MM = 58.0  # high enough to compare, low enough to share a page
SAID = ("steps", "meeting", "cross_mix", "alike", "unmeasurable")


def pot_sheets(plan: Plan) -> list[Sheet]:
    """The recipes of each family that has a base and a tinter, and the way through one pot."""
    sheets: list[Sheet] = []
    if plan.paint.pots:
        sheets.append(recipes_sheet(plan.paint.pots, {shade.name: shade.colour_hex for shade in plan.fade.shades}))
    return sheets + [one_pot_sheet(plan, pots, pots.one_pot) for pots in plan.paint.pots if pots.one_pot is not None]


def scales_sheet(plan: Plan) -> Sheet:
    """Every family from light to dark, side by side, and what is to be decided where two meet."""
    space = room(plan)
    said = [check for check in plan.checks if check.stage == "fade" and check.name in SAID]
    groups = scale_groups(plan)
    drawings = [scales_drawing(plan, width_mm=space.width_mm - 1, height_mm=SCALES_MM, only=group) for group in groups]
    caption = "Light at the top. The closer the hatching, the darker the shade."
    if meeting_shades(plan):
        caption += " Below, edge to edge: the shades at which families meet."
    parts: list[Part] = [Drawn(drawing=drawing, caption=caption) for drawing in drawings]
    heavy = [check for check in said if check.verdict is not Verdict.FINE]
    if heavy:
        parts.append(
            Table(
                columns=(Column(kind="verdict"), Column(kind="strong", mm=38.0), Column(wide=True)),
                rows=tuple((c.verdict.value, c.subject, f"{full(c.found)} {full(c.allowed)}") for c in heavy),
                tight=True,
            )
        )
    fine = " ".join(full(f"{c.subject}: {c.found}") for c in said if c.verdict is Verdict.FINE)
    if fine:
        parts.append(Para(lead="Fine:", text=fine, small=True))
    parts += _to_decide(still_to_decide(plan))
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
        todo="Look at this before anything is mixed: even steps within a family, and how two families meet.",
        wrong="Two families part where they meet? Change their lightness in the brief and plan again.",
        parts=tuple(parts),
    )


def still_to_decide(plan: Plan) -> list[Check]:
    """Checks that ask the maker and the client to choose before a pot is mixed: where families meet."""
    met = [check for check in plan.checks if check.stage == "fade" and check.name in ("meeting", "cross_mix")]
    return [check for check in met if check.verdict is not Verdict.FINE]


def _to_decide(open_checks: list[Check]) -> list[Part]:
    """What is settled with a pencil before a tin is opened, and signed on the approval sheet."""
    if not open_checks:
        return []
    parts: list[Part] = [
        Heading(text="Decide before the first pot, one box of each two; the client signs it on 'Approval'")
    ]
    for check in open_checks:
        parts.append(
            Steps(
                texts=(
                    f"{check.subject}: two dry dabs held edge to edge in daylight, and it stays as it is.",
                    f"{check.subject}: change the brief and plan again before mixing. {advice_words(check)}",
                ),
            )
        )
    return parts
