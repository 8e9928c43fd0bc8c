"""On the glue bench's sheet: what a leaf lies on, and where packing goes."""

from __future__ import annotations

from collections import Counter

from bossage.pack.sheet import Column, Heading, Para, Part, Table
from bossage.pack.words import Words, listed, sentence
from bossage.plan import Plan
from bossage.press.back_jobs import plural
from bossage.press.rest_records import Pack, Rest, RestRows

FACE_UP = ("row by row", "several sets", "bags")


def rest_parts(plan: Plan, words: Words) -> list[Part]:
    """The rest of every leaf under its clamps; nothing for a bare back."""
    rests = plan.press.rests
    if not rests:
        return []
    way, parts = plan.press.way.name, list[Part]()
    for rest in rests:
        of = f" of leaf {rest.leaf}" if len(rests) > 1 else ""
        heights = sorted({pack.height_nm for rows in rest.rows for pack in rows.packs}, reverse=True)
        packing = listed(tuple(words.length(height) for height in heights))
        stands = f"{said_of(rest.highest).capitalize()} {'stand' if len(rest.highest) > 1 else 'stands'} "
        stands += f"{words.length(rest.deep_nm)} out behind the backer{of}"
        if not heights:
            parts.append(Para(lead="What it lies on:", text=sentence(f"{stands}, under every row")))
        elif way in FACE_UP:
            caul = "" if way == "bags" else " The lower caul passes straight under all of it."
            text = f"{sentence(stands)} Packing of {packing} keeps the rows on one height; its places are as seen from "
            text += f"the front.{caul}"
            parts += [Heading(text=f"What it lies on{of}"), Para(text=text), _table(rest, words)]
        elif way == "face down":
            text = f"{sentence(stands)} Cauls over the back bear on packing of {packing} beside the parts, "
            text += "so that they press the backer and not the parts alone."
            parts.append(Para(lead="Over the back:", text=text))
    return parts


def _table(rest: Rest, words: Words) -> Table:
    return Table(
        columns=(
            Column(head="row", kind="strong"),
            Column(head="lies by itself on", wide=True),
            Column(head=f"packing, {words.unit}: thick × long, from the left edge", wide=True),
        ),
        rows=tuple((_rows(rows), said_of(rows.on) or "nothing", _packing(rows.packs, words)) for rows in rest.rows),
        tight=True,
    )


def _rows(rows: RestRows) -> str:
    return str(rows.first) if rows.first == rows.last else f"{rows.first} to {rows.last}"


def said_of(names: tuple[str, ...]) -> str:
    """`panel half and foot spacers`: parts that only differ by their number are told together."""
    counts = Counter(name.rstrip("0123456789 ") for name in names)
    return listed(tuple(plural(word) if count > 1 else word for word, count in counts.items()))


def _packing(packs: tuple[Pack, ...], words: Words) -> str:
    said = (
        f"{words.bare(pack.height_nm)} × {words.bare(pack.length_nm)} at {words.bare(pack.from_left_nm)}"
        for pack in packs
    )
    return "; ".join(said) or "none"
