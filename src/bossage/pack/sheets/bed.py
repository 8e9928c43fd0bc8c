"""Cards of a leaf face down on its bed or screwed from behind, and how each way of pressing is done."""

from __future__ import annotations

from collections.abc import Callable

from bossage.drawing.model import Drawing
from bossage.pack.drawings.bed import bed_drawing, screw_drawing
from bossage.pack.drawings.fit import filling
from bossage.pack.sheet import Card, Column, Drawn, Figure, Figures, Part, Sheet, Table
from bossage.pack.sheets.common import room, words_of
from bossage.pack.words import count_of, split_unit
from bossage.plan import Plan
from bossage.press.bed_records import BedCard

ENOUGH_MM = 13.0  # on paper: a block so large carries its words at their full size

_ROW_STEPS = (
    "Each row",
    (
        "Lay the row dry against the fence, left to right as on its card. On every face a piece of release paper, then "
        "its shim; on a face without a shim the paper alone, so that its thickness counts everywhere. Try the caul.",
        "Glue the backs, 3 to 4 mm (1/8 in) off their edges, and set the blocks; paper and shims on, caul over all.",
        "Tighten from the middle outwards. Note the time on the card.",
        "Out of the clamps: scrape squeeze-out, tick the row off, check the next row's line with a square.",
    ),
)

STEPS_OF = {
    "row by row": _ROW_STEPS,
    "several sets": _ROW_STEPS,
    "face down": (
        "Each leaf",
        (
            "Draw the outline on a flat board, mirrored as on the card; fence it on two sides.",
            "Lay every shim in its place, release paper on every shim and where there is none, then every block face "
            "down on it, fence to fence; where there is a gap, a spacer in every joint. They come out once the clamps "
            "are off.",
            "Sweep a straightedge over all backs: lift what lies low with a slip of card, find what stands high.",
            "Try backer, cauls and clamps dry. Only then roll the glue over all backs and lay the backer on.",
            "Tighten from the middle outwards, all within the open time. Note the time on the card.",
        ),
    ),
    "bags": (
        "Each row",
        (
            "Lay the row dry against the fence, left to right as on its card.",
            "Glue the backs, set each block and rub it down until it grabs. Release paper over the row, cloth "
            "over that.",
            "Lay the bags so that they hang over the edges of the blocks and touch every face. Note the time.",
            "Bags off: scrape squeeze-out, tick the row off, check the next row's line with a square.",
        ),
    ),
    "screws": (
        "Each leaf",
        (
            "Mark the middle of every block on the back of the backer from the card.",
            "Drill through the backer, each hole for its own screw; mark those that stay without one.",
            "Row by row: glue the back, hold the block to the fence, drive its screw from behind, the last turns by "
            "hand.",
            "Blocks without a screw: rub them down and weigh them until the glue has set.",
        ),
    ),
}

_ROW_TODO = "Make the shims, set the fence square to the backer's datum corner, then press row by row with the cards."

TODO_OF = {
    "row by row": _ROW_TODO,
    "several sets": _ROW_TODO,
    "face down": "Make the shims, lay a leaf face down on its bed from its card, then glue the backer on in one go.",
    "bags": "Fill the bags, set the fence square to the backer's datum corner, then press row by row with the cards.",
    "screws": "Mark and drill the backer from its card, then glue and screw block by block.",
}


#: Times to write down, what is to be done, and what to do when it went wrong.
_SHEET_WORDS = {
    "face down": (
        ("glue from", "clamps on at", "out at"),
        "Face down: left and right have changed places. Row 1 is the upper one; lay row by row.",
        "A back lies low or a block rocks? Out with it before the glue: its shim or its place is wrong.",
    ),
    "screws": (
        ("begun at", "left alone from"),
        "Seen from the back: left and right have changed places. Row 1 is the upper one; drill the backer from here.",
        "A screw stands proud, or its point is felt at the face? Back it out before the glue sets: its length or its "
        "block is wrong.",
    ),
}


def bed_sheet(plan: Plan, bed: BedCard) -> Sheet:
    """The bed of one leaf: mirrored map of the shims, how many of each, glue and clock."""
    words, glue = words_of(plan), plan.brief.glue
    grams, unit = split_unit(words.mass(bed.glue_g))
    figures = [
        Figure(value=str(len(bed.blocks)), unit="", words="blocks"),
        Figure(value=grams, unit=unit, words="glue, wet"),
        Figure(value=f"{bed.spread_min / bed.hands:.0f}", unit="min", words=_spreading(bed.hands)),
        Figure(value=f"{glue.open_min:g}", unit="min", words="from the first glue to the last clamp"),
        Figure(value=f"{glue.clamp_min:g}", unit="min", words="in the clamps"),
    ]
    shims = Table(
        columns=(
            Column(head=f"shim, {words.unit}", kind="figure", align="right"),
            Column(head="how many", kind="figure", align="right"),
            Column(head="laid", kind="tick"),
        ),
        rows=tuple((words.bare(thickness), str(count), "") for thickness, count in bed.shims),
        tight=True,
    )
    drawing = _drawn(plan, bed, bed_drawing(plan, bed, words))
    caption = (
        f"Seen from the back. Large: the shim under the block in {words.unit_name}, – for none; small: the address. "
        f"Dashed: the backer. Shim and block together {words.length(bed.constant_nm)}. {count_of(bed.cauls, 'pair')} "
        f"of cauls, {count_of(bed.clamps, 'clamp')}."
    )
    return _sheet(
        plan, bed, "Bed, face down", figures, drawing_part=Drawn(drawing=drawing, caption=caption), after=(shims,)
    )


def screw_sheet(plan: Plan, bed: BedCard) -> Sheet:
    """The back of one leaf with the screw for each block, and how many of each length."""
    words = words_of(plan)
    grams, unit = split_unit(words.mass(bed.glue_g))
    by_level = {fit.level_nm: fit for fit in plan.press.screws}
    counts: dict[int | None, int] = {}
    for one in bed.blocks:
        length = by_level[bed.constant_nm - one.shim_nm].length_nm
        counts[length] = counts.get(length, 0) + 1
    figures = [
        Figure(value=str(len(bed.blocks)), unit="", words="blocks"),
        Figure(value=str(sum(n for length, n in counts.items() if length is not None)), unit="", words="screws"),
        Figure(value=grams, unit=unit, words="glue, wet"),
    ]
    table = Table(
        columns=(
            Column(head=f"screw, {words.unit}", kind="figure", align="right"),
            Column(head="how many", kind="figure", align="right"),
        ),
        rows=tuple(
            ("glue alone" if length is None else words.bare(length), str(count))
            for length, count in sorted(counts.items(), key=lambda one: -(one[0] or 0))
        ),
        tight=True,
    )
    drawing = _drawn(plan, bed, screw_drawing(plan, bed, words))
    caption = (
        f"Seen from the back. Large: the length of the screw at the block's middle in {words.unit_name}; – for glue "
        "alone. No screw ends nearer than 3 mm (1/8 in) to a face. Dashed: the backer."
    )
    return _sheet(
        plan, bed, "Screws from behind", figures, drawing_part=Drawn(drawing=drawing, caption=caption), after=(table,)
    )


def _drawn(plan: Plan, bed: BedCard, draw: Callable[[float], Drawing]) -> Drawing:
    """As large as a block needs for its words, or as the page allows."""
    space, blocks = room(plan), plan.layout.blocks
    mine = [one.block for one in bed.blocks]
    side_mm = int(min(blocks.width_nm[mine].min(), blocks.height_nm[mine].min())) / 1e6
    return filling(draw, width_mm=space.width_mm, height_mm=0.6 * space.height_mm, least_n=side_mm / ENOUGH_MM)


def _sheet(
    plan: Plan, bed: BedCard, title: str, figures: list[Figure], *, drawing_part: Drawn, after: tuple[Part, ...]
) -> Sheet:
    place = plan.layout.leaves[bed.leaf]
    which = f", leaf {place.name}" if len(plan.layout.leaves) > 1 else ""
    copy = f" of piece {place.copy}" if plan.brief.piece.copies > 1 else ""
    blanks, todo, wrong = _SHEET_WORDS[plan.press.way.name]
    card = Card(title=f"Leaf {place.name}", blanks=blanks, parts=(drawing_part,))
    return Sheet(
        name="cards",
        title=f"{title}{which}{copy}",
        todo=todo,
        wrong=wrong,
        parts=(Figures(items=tuple(figures)), card, *after),
    )


def _spreading(hands: int) -> str:
    return "to spread it" if hands == 1 else f"to spread it, {hands} people"
