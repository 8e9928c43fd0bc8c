"""The setting-out template of an edge ring, seen from the back: backer, strips, ring blocks, with all lengths."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from bossage.body import Role
from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain, chain_reach_mm
from bossage.drawing.shapes import Fill, Hatch, Ink, Label, Rect, Shape, Stroke
from bossage.layout.records import Leaf, Zone
from bossage.pack.drawings.fit import LEAST_TEXT_MM, holds
from bossage.pack.words import Words
from bossage.plan import Plan


def ring_drawing(plan: Plan, words: Words, *, leaf: int = 0) -> Callable[[float], Drawing]:
    """The template of one leaf for the n of 1 : n; left and right change places, as they do at the bench."""
    place = plan.layout.leaves[leaf]

    def draw(scale_n: float) -> Drawing:
        width, height = place.width_nm / 1e6, place.height_nm / 1e6
        backer = _backer(place)
        shapes: list[Shape] = [*_ring_blocks(plan, leaf), *_strips(plan, place), *_addresses(plan, leaf, scale_n)]
        shapes.append(
            Rect(
                x_mm=backer[0],
                y_mm=backer[1],
                width_mm=backer[2],
                height_mm=backer[3],
                stroke=Stroke.HIDDEN,
                layer="backer",
            )
        )
        shapes.append(Rect(x_mm=0, y_mm=0, width_mm=width, height_mm=height, stroke=Stroke.OUTLINE, layer="template"))
        step = CHAIN_STEP_MM * scale_n
        for across, size, start, reach in ((True, width, backer[0], backer[2]), (False, height, backer[1], backer[3])):
            inner = chain(
                [0.0, start, start + reach, size],
                feet_mm=0.0,
                line_mm=-step,
                words=words.of_mm,
                across=across,
                scale_n=scale_n,
            )
            outer_mm = -step - chain_reach_mm(inner, scale_n) - 0.5 * step
            shapes += inner
            shapes += chain(
                [0.0, size], feet_mm=0.0, line_mm=outer_mm, words=words.of_mm, across=across, scale_n=scale_n
            )
        shapes.append(Label(at=(width / 2, height / 2), text="back", size_mm=6.0, bold=True, layer="labels"))
        return Drawing(
            title=f"Ring template of leaf {place.name}",
            description=(
                f"Outline {words.size(place.width_nm, place.height_nm)}; the backer lies {words.of_mm(backer[0])} in "
                f"from the sides and {words.of_mm(backer[1])} up, {words.of_mm(backer[2])} × {words.of_mm(backer[3])}."
            ),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def _backer(place: Leaf) -> tuple[float, float, float, float]:
    right_nm = place.x_nm + place.width_nm - place.backer_x_nm - place.backer_width_nm  # seen from the back
    return (
        right_nm / 1e6,
        (place.backer_y_nm - place.y_nm) / 1e6,
        place.backer_width_nm / 1e6,
        place.backer_height_nm / 1e6,
    )


def _places(plan: Plan, leaf: int) -> Iterator[tuple[int, float, float, float, float]]:
    """Ring blocks with lower left corner and size, in mm, seen from the back."""
    blocks, place = plan.layout.blocks, plan.layout.leaves[leaf]
    for block in np.flatnonzero((blocks.leaf == leaf) & (blocks.zone == Zone.RING)).tolist():
        right_nm = int(blocks.x_nm[block] + blocks.width_nm[block])
        x, y = (place.x_nm + place.width_nm - right_nm) / 1e6, (int(blocks.y_nm[block]) - place.y_nm) / 1e6
        w, h = int(blocks.width_nm[block]) / 1e6, int(blocks.height_nm[block]) / 1e6
        yield block, x, y, w, h


def _ring_blocks(plan: Plan, leaf: int) -> list[Shape]:
    address = plan.layout.blocks.address
    return [
        Rect(x_mm=x, y_mm=y, width_mm=w, height_mm=h, stroke=Stroke.THIN, layer="ring", name=address(block))
        for block, x, y, w, h in _places(plan, leaf)
    ]


def _addresses(plan: Plan, leaf: int, scale_n: float) -> list[Shape]:
    """Addresses on paper of their own, so that no hatching of a strip runs through them."""
    blocks, place = plan.layout.blocks, plan.layout.leaves[leaf]
    shapes: list[Shape] = []
    for block, x, y, w, h in _places(plan, leaf):
        # Round the rim a column tells all at head and foot, a row at the sides; both where there is room.
        short = str(blocks.column[block] if blocks.row[block] in (1, place.rows) else blocks.row[block])
        text = next(
            (t for t in (blocks.address(block), short) if holds(t, width_mm=w / scale_n, height_mm=h / scale_n)), ""
        )
        if text:
            at = (x + w / 2, y + h / 2)
            wide, high = (side * LEAST_TEXT_MM * scale_n for side in (text_width(text) + 0.3, 1.2))
            paper = Fill(colour=Ink.PAPER)
            left, low = at[0] - wide / 2, at[1] - high / 2
            shapes.append(
                Rect(x_mm=left, y_mm=low, width_mm=wide, height_mm=high, stroke=None, fill=paper, layer="paper")
            )
            shapes.append(Label(at=at, text=text, size_mm=LEAST_TEXT_MM, layer="ring"))
    return shapes


def _strips(plan: Plan, place: Leaf) -> list[Shape]:
    """Strips lap behind backer and ring, and in the stead of one the stile of the hinges, as the body has them."""
    parts = [p for p in plan.body.of(place.name, place.copy) if p.role in (Role.STRIP, Role.HINGE_STILE)]
    right = place.x_nm + place.width_nm
    return [
        Rect(
            x_mm=(right - part.box.x1) / 1e6,
            y_mm=(part.box.y0 - place.y_nm) / 1e6,
            width_mm=(part.box.x1 - part.box.x0) / 1e6,
            height_mm=(part.box.y1 - part.box.y0) / 1e6,
            stroke=Stroke.EDGE,
            fill=None,
            hatch=Hatch(spacing_mm=2.5, angle_deg=45 if part.box.x1 - part.box.x0 > part.box.y1 - part.box.y0 else 135),
            layer="strips",
            name=part.name,
        )
        for part in parts
    ]
