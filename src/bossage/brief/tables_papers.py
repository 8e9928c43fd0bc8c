"""The table of a brief that tells of the papers: sticker sheets, notches."""

from __future__ import annotations

from typing import Annotated

from bossage.brief.kinds import LENGTH_OR_ZERO, Count, Flag
from bossage.brief.tables import Table, said

GRID = "a common grid of small labels; measure your own sheet (common practice, no source)"


class PapersTable(Table):
    """Sticker sheets for backs and trays, and notches for sorting by touch."""

    notches: Annotated[bool, Flag()] = said("Whether backs are notched, so that blocks can be sorted by touch.", False)
    labels_across: Annotated[int, Count(1, 20)] = said("Stickers across the sheet.", 5, GRID)
    labels_down: Annotated[int, Count(1, 40)] = said("Stickers down the sheet.", 13, GRID)
    label_left: Annotated[int, LENGTH_OR_ZERO] = said("From the paper's left edge to the first sticker.", 5_000_000)
    label_right: Annotated[int, LENGTH_OR_ZERO] = said("From the last sticker to the paper's right edge.", 5_000_000)
    label_top: Annotated[int, LENGTH_OR_ZERO] = said("From the paper's top edge to the first sticker.", 11_000_000)
    label_bottom: Annotated[int, LENGTH_OR_ZERO] = said("From the last sticker to the paper's foot.", 11_000_000)
    label_gap_across: Annotated[int, LENGTH_OR_ZERO] = said("Between stickers beside each other.", 2_500_000)
    label_gap_down: Annotated[int, LENGTH_OR_ZERO] = said("Between stickers under each other.", 0)
