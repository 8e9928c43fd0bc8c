"""One pressing row seen from the front: each block with its level, its shade, and the shim that goes on its face."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Fill, Ink, Label, Line, Rect, Shape, Stand, Stroke
from bossage.pack.drawings.fit import LEAST_TEXT_MM, legible_size
from bossage.pack.drawings.leafmap import ink_on, shade_keys
from bossage.pack.words import Words, count_of
from bossage.plan import Plan
from bossage.press.records import CardBlock, RowCard

DEEP_MM = 11.0  # of one block on paper, so that three lines fit; only widths are to scale
SHIM_MM = 5.0
FULL = 0.97  # of a block's width, for its words


def row_drawing(
    plan: Plan, card: RowCard, words: Words, *, first_go: int = 0, shims: bool = True
) -> Callable[[float], Drawing]:
    """The row for the n of 1 : n across; upwards it is drawn as large as its words need.

    Of a row that takes several lines, `card` is the part on one line and `first_go` the number of its first go.
    Without `shims`, as under bags, a block has its whole field and no word of a shim.
    """

    def draw(scale_n: float) -> Drawing:
        keys = shade_keys(plan.fade.shades)
        laid = [block for batch in card.batches for block in batch.blocks]
        bands = _bands(plan, laid)
        shapes: list[Shape] = []
        for item in laid:
            shapes += _block(plan, item, bands[item.block], words, keys, scale_n, shims)
        shapes += _batch_marks(plan, card, scale_n, first_go)
        return Drawing(
            title=f"Row {card.row}",
            description=f"{count_of(len(laid), 'block')} from left to right.",
            shapes=tuple(shapes),
            scale_n=scale_n,
            reading=tuple(_reading(plan, card, words, first_go, shims)),
        )

    return draw


def row_lines(plan: Plan, card: RowCard, words: Words, *, width_mm: float) -> list[tuple[RowCard, int]]:
    """The row on paper that is so wide: whole, or parted into lines on which every block can carry its words.

    With each part comes the number of its first go; 0 where the row is whole.
    """
    blocks = plan.layout.blocks
    laid = sorted((b.block for batch in card.batches for b in batch.blocks), key=lambda block: int(blocks.x_nm[block]))
    from_nm = np.array([int(blocks.x_nm[block]) for block in laid])
    to_nm = np.array([int(blocks.x_nm[block] + blocks.width_nm[block]) for block in laid])
    said = [text_width(words.compact(nm), bold=True) for nm in plan.relief.levels_nm]
    said += [text_width(key) for key in shade_keys(plan.fade.shades).values()]
    least_mm = max(said) * LEAST_TEXT_MM / FULL
    most_nm = width_mm * float((to_nm - from_nm).min()) / least_mm  # of the row, on one line
    whole_nm = int(to_nm.max() - from_nm.min())
    if whole_nm <= most_nm:
        return [(card, 0)]
    lines = math.ceil(whole_nm / most_nm)
    line_of = dict(
        zip(laid, np.minimum((to_nm - from_nm.min()) * lines // (whole_nm + 1), lines - 1).tolist(), strict=True)
    )
    parts: list[tuple[RowCard, int]] = []
    for line in range(lines):
        batches = [replace(b, blocks=tuple(i for i in b.blocks if line_of[i.block] == line)) for b in card.batches]
        first = next((n for n, batch in enumerate(batches, start=1) if batch.blocks), 0)
        if first:
            parts.append((replace(card, batches=tuple(batch for batch in batches if batch.blocks)), first))
    return parts


def _bands(plan: Plan, laid: list[CardBlock]) -> dict[int, tuple[float, float]]:
    """From and to, upwards, as shares of one block's depth on paper: small blocks stand one over the other."""
    blocks = plan.layout.blocks
    bottoms = [int(blocks.y_nm[b.block]) for b in laid]
    tops = [int(blocks.y_nm[b.block] + blocks.height_nm[b.block]) for b in laid]
    low, high = min(bottoms), max(tops)
    stacked = max(1, round((high - low) / min(t - b for t, b in zip(tops, bottoms, strict=True))))
    return {
        b.block: (stacked * (bottom - low) / (high - low), stacked * (top - low) / (high - low))
        for b, bottom, top in zip(laid, bottoms, tops, strict=True)
    }


def _block(
    plan: Plan,
    item: CardBlock,
    band: tuple[float, float],
    words: Words,
    keys: dict[str, str],
    scale_n: float,
    shims: bool,
) -> list[Shape]:
    blocks = plan.layout.blocks
    x, width = int(blocks.x_nm[item.block]) / 1e6, int(blocks.width_nm[item.block]) / 1e6
    deep = (DEEP_MM + SHIM_MM) * scale_n
    y, height = band[0] * deep, (band[1] - band[0]) * deep
    shim_tall = min(SHIM_MM * scale_n, 0.32 * height) if shims else 0.0
    shade = plan.fade.shades[int(plan.fade.shade[item.block])]
    ink = ink_on(shade)
    level = words.compact(plan.relief.levels_nm[int(plan.relief.level[item.block])])
    face = height - shim_tall
    paper_w, paper_h = width / scale_n, face / scale_n
    middle = x + width / 2
    shapes: list[Shape] = [
        Rect(
            x_mm=x,
            y_mm=y + shim_tall,
            width_mm=width,
            height_mm=face,
            stroke=Stroke.THIN,
            fill=Fill(colour=shade.colour_hex),
            layer="blocks",
            name=blocks.address(item.block),
        ),
        Label(
            at=(middle, y + shim_tall + 0.68 * face),
            text=level,
            bold=True,
            ink=ink,
            size_mm=legible_size(level, width_mm=paper_w, height_mm=0.5 * paper_h, most_mm=5.6, bold=True),
            layer="level",
        ),
        Label(
            at=(middle, y + shim_tall + 0.24 * face),
            text=keys[shade.name],
            ink=ink,
            size_mm=legible_size(keys[shade.name], width_mm=paper_w, height_mm=0.4 * paper_h, most_mm=2.8),
            layer="shade",
        ),
    ]
    if shims:
        shapes.append(Rect(x_mm=x, y_mm=y, width_mm=width, height_mm=shim_tall, stroke=Stroke.THIN, layer="shims"))
    if shims and item.shim_nm:
        text = "+" + words.compact(item.shim_nm)
        size_mm = legible_size(text, width_mm=paper_w, height_mm=shim_tall / scale_n, most_mm=4.2, bold=True)
        shapes.append(Label(at=(middle, y + shim_tall / 2), text=text, bold=True, size_mm=size_mm, layer="shims"))
    return shapes


def _batch_marks(plan: Plan, card: RowCard, scale_n: float, first_go: int) -> list[Shape]:
    """A red line between blocks that are glued in different goes, with the number of each go over it."""
    if len(card.batches) == 1 and not first_go:
        return []
    blocks = plan.layout.blocks
    top = max(band[1] for band in _bands(plan, [b for batch in card.batches for b in batch.blocks]).values())
    high = top * (DEEP_MM + SHIM_MM) * scale_n
    shapes: list[Shape] = []
    for number, batch in enumerate(card.batches, start=first_go or 1):
        left = min(int(blocks.x_nm[b.block]) for b in batch.blocks) / 1e6
        if batch is not card.batches[0]:
            shapes.append(
                Line(start=(left, -1.5 * scale_n), end=(left, high + 4.5 * scale_n), stroke=Stroke.PENCIL, layer="goes")
            )
        shapes.append(
            Label(
                at=(left + 1.2 * scale_n, high + 1.5 * scale_n),
                text=f"go {number}",
                size_mm=3.0,
                align=Align.LEFT,
                stand=Stand.BOTTOM,
                ink=Ink.PENCIL,
                bold=True,
                layer="goes",
            )
        )
    return shapes


def _reading(plan: Plan, card: RowCard, words: Words, first_go: int, shims: bool) -> Iterator[str]:
    blocks = plan.layout.blocks
    for number, batch in enumerate(card.batches, start=first_go or 1):
        if len(card.batches) > 1 or first_go:
            yield f"Go {number}."
        for item in batch.blocks:
            shade = plan.fade.shades[int(plan.fade.shade[item.block])]
            level = words.compact(plan.relief.levels_nm[int(plan.relief.level[item.block])])
            said = [f"{level} {words.unit}", shade.name]
            if shims:
                said.append(f"shim +{words.compact(item.shim_nm)}" if item.shim_nm else "no shim")
            yield f"{blocks.address(item.block)}: {', '.join(said)}."
