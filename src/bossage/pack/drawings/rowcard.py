"""One pressing row seen from the front: each block with its level, its shade, and the shim that goes on its face."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bossage.drawing.model import Align, Drawing, Fill, Ink, Label, Line, Rect, Shape, Stand, Stroke
from bossage.pack.drawings.fit import legible_size
from bossage.pack.drawings.leafmap import DARK_BELOW, shade_keys
from bossage.pack.words import Words, count_of
from bossage.plan import Plan
from bossage.press.records import CardBlock, RowCard

DEEP_MM = 15.0  # of one block on paper, so that three lines fit; only widths are to scale
SHIM_MM = 6.5


def row_drawing(plan: Plan, card: RowCard, words: Words) -> Callable[[float], Drawing]:
    """The row for the n of 1 : n across; upwards it is drawn as large as its words need."""

    def draw(scale_n: float) -> Drawing:
        keys = shade_keys(plan.fade.shades)
        laid = [block for batch in card.batches for block in batch.blocks]
        bands = _bands(plan, laid)
        shapes: list[Shape] = []
        for item in laid:
            shapes += _block(plan, item, bands[item.block], words, keys, scale_n)
        shapes += _batch_marks(plan, card, scale_n)
        return Drawing(
            title=f"Row {card.row}",
            description=f"{count_of(len(laid), 'block')} from left to right.",
            shapes=tuple(shapes),
            scale_n=scale_n,
            reading=tuple(_reading(plan, card, words)),
        )

    return draw


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
    plan: Plan, item: CardBlock, band: tuple[float, float], words: Words, keys: dict[str, str], scale_n: float
) -> list[Shape]:
    blocks = plan.layout.blocks
    x, width = int(blocks.x_nm[item.block]) / 1e6, int(blocks.width_nm[item.block]) / 1e6
    deep = (DEEP_MM + SHIM_MM) * scale_n
    y, height = band[0] * deep, (band[1] - band[0]) * deep
    shim_tall = min(SHIM_MM * scale_n, 0.32 * height)
    shade = plan.fade.shades[int(plan.fade.shade[item.block])]
    ink = Ink.PAPER if shade.lightness < DARK_BELOW else Ink.INK
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
        Rect(x_mm=x, y_mm=y, width_mm=width, height_mm=shim_tall, stroke=Stroke.THIN, layer="shims"),
    ]
    if item.shim_nm:
        text = "+" + words.compact(item.shim_nm)
        size_mm = legible_size(text, width_mm=paper_w, height_mm=shim_tall / scale_n, most_mm=4.2, bold=True)
        shapes.append(Label(at=(middle, y + shim_tall / 2), text=text, bold=True, size_mm=size_mm, layer="shims"))
    return shapes


def _batch_marks(plan: Plan, card: RowCard, scale_n: float) -> list[Shape]:
    """A red line between blocks that are glued in different goes, with the number of each go over it."""
    if len(card.batches) == 1:
        return []
    blocks = plan.layout.blocks
    top = max(band[1] for band in _bands(plan, [b for batch in card.batches for b in batch.blocks]).values())
    high = top * (DEEP_MM + SHIM_MM) * scale_n
    shapes: list[Shape] = []
    for number, batch in enumerate(card.batches, start=1):
        left = min(int(blocks.x_nm[b.block]) for b in batch.blocks) / 1e6
        if number > 1:
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


def _reading(plan: Plan, card: RowCard, words: Words) -> Iterator[str]:
    blocks = plan.layout.blocks
    for number, batch in enumerate(card.batches, start=1):
        if len(card.batches) > 1:
            yield f"Go {number}."
        for item in batch.blocks:
            shade = plan.fade.shades[int(plan.fade.shade[item.block])]
            level = words.compact(plan.relief.levels_nm[int(plan.relief.level[item.block])])
            shim = f"shim +{words.compact(item.shim_nm)}" if item.shim_nm else "no shim"
            yield f"{blocks.address(item.block)}: {level} {words.unit}, {shade.name}, {shim}."
