"""Dynamic programming over multisets: all bounding boxes of guillotine layouts of a handful of panels.

A layout is a panel, or two layouts side by side or one above the other. For each multiset of panels only those boxes
are kept that no other box beats in both directions (own derivation). Every size carries one kerf on its far side, and
so does the sheet, so that kerfs need no further care.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import prod

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Box:
    """A layout: its size, and how it is made: one panel (perhaps turned), or two boxes along an axis."""

    w: int
    h: int
    panel: int = -1
    turned: bool = False
    axis: str = ""
    parts: tuple[Box, Box] | None = None


@dataclass(frozen=True, slots=True)
class Shape:
    """A panel with its kerf, and whether it may be turned."""

    w: int
    h: int
    turn: bool


def work_of(counts: Sequence[int]) -> int:
    """Pairs of multisets that the exact search looks at."""
    return prod((c + 1) * (c + 2) // 2 for c in counts)


def all_boxes(shapes: Sequence[Shape], counts: Sequence[int], most_w: int, most_h: int) -> dict[Counts, list[Box]]:
    """For each multiset up to `counts`, the boxes within `most_w` × `most_h` that none beats; empty: impossible."""
    boxes: dict[Counts, list[Box]] = {}
    for state in product(*(range(c + 1) for c in counts)):
        total = sum(state)
        if total == 0:
            continue
        found: list[Box] = []
        if total == 1:
            i = state.index(1)
            found.append(Box(shapes[i].w, shapes[i].h, panel=i))
            if shapes[i].turn and shapes[i].w != shapes[i].h:
                found.append(Box(shapes[i].h, shapes[i].w, panel=i, turned=True))
        else:
            for part in product(*(range(c + 1) for c in state)):
                other = tuple(a - b for a, b in zip(state, part, strict=True))
                # The larger part first, so that what is placed first lies in the corner.
                if part < other or not any(other):
                    continue
                for a in boxes[part]:
                    for b in boxes[other]:
                        if a.h + b.h <= most_h:
                            found.append(Box(max(a.w, b.w), a.h + b.h, axis="y", parts=(a, b)))
                        if a.w + b.w <= most_w:
                            found.append(Box(a.w + b.w, max(a.h, b.h), axis="x", parts=(a, b)))
                if len(found) > 400:
                    found = _unbeaten(found, most_w, most_h)
        boxes[state] = _unbeaten(found, most_w, most_h)
    return boxes


def _unbeaten(found: list[Box], most_w: int, most_h: int) -> list[Box]:
    """Boxes that fit and that no other beats; stable, so the first made wins a tie."""
    out: list[Box] = []
    low = most_h + 1
    for box in sorted((b for b in found if b.w <= most_w and b.h <= most_h), key=lambda b: (b.w, b.h)):
        if box.h < low:
            out.append(box)
            low = box.h
    return out


def most_of(shape: Shape, w: int, h: int, ceiling: int = 40) -> tuple[int, Box | None, bool]:
    """Most panels of one shape on one sheet by guillotine cuts, the layout, and whether one more is impossible.

    `ceiling` limits the search; at the ceiling nothing is proven.
    """
    area = (w * h) // (shape.w * shape.h)
    boxes = all_boxes([shape], [min(area, ceiling)], w, h)
    n = max((state[0] for state, found in boxes.items() if found), default=0)
    best = boxes[(n,)][0] if n else None
    return n, best, n < ceiling or area <= ceiling


def tidy(box: Box) -> Box:
    """The layout with the larger of two neighbours first, so that rests gather at the far end."""
    if box.parts is None:
        return box
    row = sorted(map(tidy, row_of(box, box.axis)), key=lambda b: (-b.w * b.h, b.turned, b.panel))
    out = row[0]
    for nxt in row[1:]:
        if box.axis == "x":
            out = Box(out.w + nxt.w, max(out.h, nxt.h), axis="x", parts=(out, nxt))
        else:
            out = Box(max(out.w, nxt.w), out.h + nxt.h, axis="y", parts=(out, nxt))
    return out


def row_of(box: Box, axis: str) -> list[Box]:
    """The parts of a layout that lie in one row along an axis, in their order."""
    if box.axis == axis and box.parts is not None:
        return [*row_of(box.parts[0], axis), *row_of(box.parts[1], axis)]
    return [box]
