"""At the desk before anything is bought: three sizes side by side, beside the one that the brief leads to."""

from __future__ import annotations

from bossage.body import own_size_tried, sizes_to_choose
from bossage.drawing.model import Drawing
from bossage.layout import Candidate, tilings_in_words
from bossage.pack.drawings.fit import scale_words
from bossage.pack.drawings.sizes import sizes_drawing
from bossage.pack.sheet import Column, Drawn, Para, Part, Sheet, Table
from bossage.pack.sheets.common import room, words_of
from bossage.pack.words import Words, count_of, full
from bossage.plan import Plan

SHOWN, TILINGS_SAID = 3, 3
HEAD_MM = 36.0  # the column that says what each row is


def sizes_sheet(plan: Plan) -> Sheet | None:
    """The first three sizes that no other beats, drawn to one scale; none where no size fits, or only the brief's."""
    words, brief = words_of(plan), plan.brief
    found = sizes_to_choose(brief)
    candidates, own = found[:SHOWN], own_size_tried(brief)
    if not candidates or (len(found) == 1 and _same(found[0], own)):
        return None
    others = [c for c in candidates if not _same(c, own)]
    column_mm = (room(plan, landscape=True).width_mm - HEAD_MM) / (len(candidates) + 1)
    drawing = sizes_drawing(brief, own, candidates, words, first_mm=HEAD_MM, column_mm=column_mm)
    parts: list[Part] = [
        Drawn(drawing=drawing, caption=_caption(drawing, words)),
        _table(candidates, own, words, column_mm),
        Para(text=_how(len(found), len(others)), small=True),
    ]
    tilings = tilings_in_words(brief, most=TILINGS_SAID)
    if tilings:
        parts.append(Para(lead="What the measured sections fill evenly:", text=full("; ".join(tilings)), small=True))
    return Sheet(
        name="sizes",
        title="Sizes to choose from",
        todo=(
            "Choose one before wood is bought. The papers of this pack are for the brief's own size, the last column."
        ),
        wrong=(
            "None suits? Move what must stay clear, lower the cover margin, or hang two leaves; then ask for sizes "
            "again."
        ),
        parts=tuple(parts),
        scale=scale_words(drawing.scale_n),
        landscape=True,
    )


def _table(candidates: tuple[Candidate, ...], own: Candidate, words: Words, column_mm: float) -> Table:
    """A column under each drawing, and the brief's own beside them."""
    every = (*candidates, own)
    heads = [str(n) for n in range(1, len(candidates) + 1)]
    columns = (
        Column(mm=HEAD_MM, kind="small"),
        *(Column(head=head, mm=column_mm) for head in heads),
        Column(head="as in the brief", wide=True),
    )
    rows = [
        ("size", *(words.size(c.width_nm, c.height_nm) for c in every)),
        ("cells", *(f"{c.columns} × {c.rows}{'' if c.leaves == 1 else f', {c.leaves} leaves'}" for c in every)),
        (f"from left, floor, {words.unit}", *(f"{words.bare(c.x_nm)}, {words.bare(c.y_nm)}" for c in every)),
        ("reaches past by", *(words.length(c.margin_nm) for c in every)),
        ("weighs about", *(_mass(c, words) for c in every)),
        ("sticks and boards", *("no price" if c.cost_cents is None else words.money(c.cost_cents) for c in every)),
    ]
    if any(c.studs for c in every):
        rows.append(("its cleat meets", *(count_of(c.studs, "stud") for c in every)))
    rows.append(("gives up", *(_gives_up(c, own) for c in every)))
    return Table(columns=columns, rows=tuple(rows), groups=tuple(range(1, len(rows))), tight=True)


def _mass(c: Candidate, words: Words) -> str:
    return words.mass(c.mass_g) + (f", {words.mass(c.leaf_g)} a leaf" if c.leaves > 1 else "")


def _gives_up(c: Candidate, own: Candidate) -> str:
    """What stands against a size; for the brief's own, why it cannot be built and the rules that it breaks."""
    if c.gives_up:
        return full("; ".join(c.gives_up))
    return "Breaks no rule of proportion." if c is own else "Nothing."


def _same(c: Candidate, own: Candidate) -> bool:
    return (c.columns, c.rows, c.leaves, c.x_nm, c.y_nm) == (own.columns, own.rows, own.leaves, own.x_nm, own.y_nm)


def _caption(drawing: Drawing, words: Words) -> str:
    return (
        f"All {scale_words(drawing.scale_n)}, lengths in {words.unit_name}. Dashed: what is hidden. In red: the size "
        "and place of the brief."
    )


def _how(found: int, others: int) -> str:
    more = f" `bossage sizes` lists all {found}." if found > SHOWN else ""
    none = "" if others else " The brief's own is among them."
    return (
        "Shown are the first of those that no other size beats in cover, mass, cost, rules of proportion and studs all "
        f"at once, each tried with its cleat, frame, ribs and foot.{more}{none} Masses and prices are estimates before "
        "heights are drawn; the hanging and shopping "
        "sheets work them out."
    )
