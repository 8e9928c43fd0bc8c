"""The tables of a brief that tell of the papers and of those who paint together."""

from __future__ import annotations

from typing import Annotated

from bossage.brief.kinds import LENGTH_OR_ZERO, Choice, Count, Flag, ListOf
from bossage.brief.kinds_words import Text
from bossage.brief.tables import Table, said
from bossage.settling import Who

ASKED = tuple(who.value for who in Who if who is not Who.MAKER)

GRID = "a common grid of small labels; measure your own sheet (common practice, no source)"


class PapersTable(Table):
    """Sticker sheets for backs and trays, and notches for sorting by touch."""

    notches: Annotated[bool, Flag()] = said("Whether backs are notched, so that blocks can be sorted by touch.", False)
    ask: Annotated[tuple[str, ...], ListOf(Choice(ASKED))] = said(
        "Who has to agree besides those whom the checks call for: each gets questions of their own.", ()
    )
    labels_across: Annotated[int, Count(1, 20)] = said("Stickers across the sheet.", 5, GRID)
    labels_down: Annotated[int, Count(1, 40)] = said("Stickers down the sheet.", 13, GRID)
    label_left: Annotated[int, LENGTH_OR_ZERO] = said("From the paper's left edge to the first sticker.", 5_000_000)
    label_right: Annotated[int, LENGTH_OR_ZERO] = said("From the last sticker to the paper's right edge.", 5_000_000)
    label_top: Annotated[int, LENGTH_OR_ZERO] = said("From the paper's top edge to the first sticker.", 11_000_000)
    label_bottom: Annotated[int, LENGTH_OR_ZERO] = said("From the last sticker to the paper's foot.", 11_000_000)
    label_gap_across: Annotated[int, LENGTH_OR_ZERO] = said("Between stickers beside each other.", 2_500_000)
    label_gap_down: Annotated[int, LENGTH_OR_ZERO] = said("Between stickers under each other.", 0)


class CrewTable(Table):
    """A class or a crew: everyone paints a few blocks and finds them again by name."""

    names: Annotated[tuple[str, ...], ListOf(Text(40), most=2000)] = said("Everyone by name, each name once.", ())
    absent: Annotated[tuple[str, ...], ListOf(Text(40), most=2000)] = said(
        "Who stays away; their blocks go to others, and nobody else's move.", ()
    )
    helpers: Annotated[int, Count(1, 100)] = said("How many look after the others: a list for each.", 1)
    footprint: Annotated[str, Text(60, empty=True)] = said("Which blocks are dealt out; all if left out.", "")
