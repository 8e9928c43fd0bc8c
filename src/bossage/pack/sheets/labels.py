"""Stickers: for the back of every block, and for the trays that blocks wait in."""

from __future__ import annotations

from collections import Counter

import numpy as np

from bossage.layout.records import Zone
from bossage.pack.drawings.codes import codes_of
from bossage.pack.drawings.labels import Draw, back_label, label_pages, tray_label
from bossage.pack.drawings.swatches import tone
from bossage.pack.sheet import Figure, Figures, Para, Part, Sheet, Steps, Whole
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.counts import DEALT
from bossage.pack.sheets.touch import notch_words
from bossage.pack.words import count_of
from bossage.plan import Plan


def backs_sheet(plan: Plan) -> Sheet:
    """A sticker for every back: where the block goes, which way is up."""
    blocks, layout = plan.layout.blocks, plan.layout
    said: list[tuple[str, tuple[str, ...], str]] = []
    for block in range(blocks.count):
        leaf = layout.leaves[int(blocks.leaf[block])]
        where = " · ".join(
            [
                *([f"piece {leaf.copy}"] if plan.brief.piece.copies > 1 else []),
                *([leaf.name] if sum(one.copy == leaf.copy for one in layout.leaves) > 1 else []),
            ]
        )
        address = blocks.address(block)
        lines = (*([where] if where else []), plan.brief.piece.name, plan.stamp)
        said.append((address, lines, ", ".join([address, "up", *lines])))
    codes = codes_of([words for _, _, words in said])
    labels = [back_label(*one, code) for one, code in zip(said, codes, strict=True)]
    return _sticker_sheet(
        plan,
        name="backs",
        title="Back labels",
        labels=labels,
        todo=(
            "Print the first sheet on plain paper and hold it behind a sheet of stickers against the light. Stick one "
            "on every back when its block is laid dry, arrow up; take it off before glue."
        ),
        wrong="A label is on the wrong block? The map says which level and shade lie at its address: swap the labels.",
        steps=(
            "Lay a leaf dry and look at it from across the room.",
            "Row by row, lift each block, stick its label on the back with the arrow to the top, put it back.",
            "At the press, read the address, pencil it on the bare wood, then peel: glue holds on wood, not on paper.",
        ),
    )


def tray_labels_sheet(plan: Plan) -> Sheet:
    """A sticker for every tray: footprint, level, shade, how many; a piece of a series has its own."""
    words, blocks = words_of(plan), plan.layout.blocks
    copies = np.array([leaf.copy for leaf in plan.layout.leaves])[blocks.leaf]
    keys = zip(
        copies.tolist(), blocks.footprint.tolist(), blocks.zone.tolist(), plan.relief.level.tolist(),
        plan.fade.shade.tolist(), strict=True,
    )  # fmt: skip
    labels = []
    for (copy, footprint, zone, level, shade_number), count in sorted(Counter(keys).items()):
        shape, shade = plan.brief.blocks.footprints[footprint], plan.fade.shades[shade_number]
        own = blocks.footprint == footprint
        length_nm = int(plan.relief.length_nm[own & (blocks.zone == zone) & (plan.relief.level == level)][0])
        longer = length_nm != plan.relief.levels_nm[level]
        lines = (
            shade.name,
            f"{words.size(shape.width_nm, shape.height_nm)}" + (" ring" if zone == Zone.RING else ""),
            count_of(count, "block")
            + (f", sawn {words.length(length_nm)}" if longer else "")
            + (f", piece {copy}" if plan.brief.piece.copies > 1 else ""),
            *([notch_words(level, shade_number)] if plan.brief.papers.notches else []),
        )
        labels.append(
            tray_label(words.compact(plan.relief.levels_nm[level]), lines, shade.colour_hex, tone(shade.lightness))
        )
    return _sticker_sheet(
        plan,
        name="traylabels",
        title="Tray labels",
        labels=labels,
        todo=(
            "Print the first sheet on plain paper and hold it behind a sheet of stickers against the light. One tray "
            "a shade: a label marks each level in it, the large figure."
        ),
        wrong="A tray holds more or fewer than its label? Count that level again before the next one is painted.",
        steps=(
            "Stand the trays in the order of the scale; in each footprint, then level.",
            f"{DEALT} count the blocks into them; paint, lay and glue out of them.",
        ),
    )


def _sticker_sheet(
    plan: Plan, *, name: str, title: str, labels: list[Draw], todo: str, wrong: str, steps: tuple[str, ...]
) -> Sheet:
    words, papers, paper = words_of(plan), plan.brief.papers, plan.brief.piece.paper
    grid = papers.labels
    pages = label_pages(title, labels, grid, paper)
    first: list[Part] = [
        Figures(
            items=(
                Figure(value=f"{len(labels):,}", unit="", words="labels"),
                Figure(value=str(len(pages)), unit="", words=f"sticker sheets, {paper}"),
                Figure(value=f"{grid.across} × {grid.down}", unit="", words="stickers across and down"),
            )
        ),
        Steps(texts=steps),
        Para(
            text=(
                f"The sheet that is meant: margins {words.length(grid.left_nm)} left, {words.length(grid.right_nm)} "
                f"right, {words.length(grid.top_nm)} above, {words.length(grid.bottom_nm)} below; between stickers "
                f"{words.length(grid.gap_across_nm)} across and {words.length(grid.gap_down_nm)} down. Other stickers? "
                "Write their grid into [papers] of the brief."
            ),
            small=True,
        ),
    ]
    return Sheet(
        name=name,
        title=title,
        todo=todo,
        wrong=wrong,
        parts=(*first, *(Whole(drawing=page) for page in pages)),
        scale="1 : 1",
    )
