"""The test card sheet at true size: which mix goes into which field, and how it is read."""

from __future__ import annotations

from bossage.colour.card_sheet import card_sheet
from bossage.pack.drawings.swatches import card_drawing
from bossage.pack.sheet import Drawn, Para, Part, Sheet, Steps
from bossage.pack.words import count_of
from bossage.paint.cards import CardField, FieldKind, card_fields
from bossage.paint.coats import face_primer_coats, topcoat_name
from bossage.paint.tried import dilution_words
from bossage.plan import Plan

LET_DOWN = (
    "2 mL of tinter and 10 mL of base give 5 : 1; 6 mL of that and 15 mL of base give 20 : 1; 7 mL of that and 20 mL "
    "of base give 80 : 1."
)


def only_as_bought(plan: Plan) -> bool:
    """Whether every card is of paint as it is sold: then no mix is tried on it before paint is bought."""
    return all(field.kind is FieldKind.SHADE for fields in card_fields(plan.brief) for field in fields)


def card_sheets(plan: Plan) -> list[Sheet]:
    """As many sheets as the fields take."""
    sheets = card_fields(plan.brief)
    return [_card_sheet(plan, fields, number, len(sheets)) for number, fields in enumerate(sheets, 1)]


def _card_sheet(plan: Plan, fields: tuple[CardField, ...], number: int, of: int) -> Sheet:
    sheet = card_sheet([field.name for field in fields])
    across_mm = sheet.width_mm - 2 * sheet.mark_centres_mm[0, 0]
    which = "" if of == 1 else f" --sheet {number}"
    clear = {family.name for family in plan.brief.families if family.clear}
    goes_in = {field.name: _goes_in(field, clear=bool(clear & set(field.families))) for field in fields}
    parts: list[Part] = [Drawn(drawing=card_drawing(sheet, goes_in))]
    bought = all(field.kind is FieldKind.SHADE for field in fields)
    what = "each shade as bought" if bought else "each field's mix"
    if any(clear & set(field.families) for field in fields):
        parts.append(
            Para(
                lead="Stain, oil and wax:",
                text="on the wood itself. Take thin slices of the sticks. Sand the end grain through the same grits. "
                f"Coat it, wipe it off, let it dry a day{_topcoat(plan)}; stick the slices on once they are dry. The "
                "sheet 'Stain, oil, wax' says how, step by step.",
                small=True,
            )
        )
    if any(field.kind is FieldKind.MIX and not clear & set(field.families) for field in fields):
        parts.append(Para(lead="Little tinter, measured well:", text=LET_DOWN))
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
                "Coat slices of the wood as said above, and stick them on."
                if all(clear & set(field.families) for field in fields)
                else f"Prime cards as the blocks are primed, {count_of(face_primer_coats(plan.brief), 'coat')}. "
                f"Paint {what} on them, {count_of(plan.brief.paint.coats, 'coat')}, and let them dry a day. Write on "
                "the back: date, primer, coats, what went in. Cut to the fields and stick on.",
                "Lay it flat in daylight from one side, no flash, nothing casting a shadow; photograph the whole sheet "
                "from straight above.",
                f"Run: bossage read-card PHOTO --brief BRIEF{which}. It says what to put into the brief.",
            )
        )
    )
    return Sheet(
        name="testcard",
        title="Test card sheet" + ("" if of == 1 else f" {number} of {of}"),
        todo=(
            "Coat a slice of the wood for each field, stick it on, photograph the sheet: the next plan knows your "
            "finish."
            if all(clear & set(field.families) for field in fields)
            else f"Paint a card of {what}, stick it on, photograph the sheet: the next plan knows your paint."
        ),
        wrong="A home printer's greys may be off: stick a bought grey scale over them and give its values (--greys).",
        parts=tuple(parts),
        scale="1 : 1",
    )


def _topcoat(plan: Plan) -> str:
    """The topcoat belongs to what is photographed."""
    topcoat = topcoat_name(plan.brief)
    return f", then {topcoat} on every slice, the bare one too, and another day" if topcoat else ""


def _goes_in(field: CardField, *, clear: bool = False) -> str:
    if clear:
        if field.kind is FieldKind.MIX:
            thinner, finish = field.parts
            return dilution_words("stain", (finish, thinner))
        return "bare end grain" if field.kind is FieldKind.BASE else "one full coat"
    if field.kind is FieldKind.BASE:
        return "base alone"
    if field.kind is FieldKind.NEAT:
        return "tinter alone"
    if field.kind is FieldKind.SHADE:
        return "as bought"
    return "base " + " : ".join(str(part) for part in field.parts) + " tinter"
