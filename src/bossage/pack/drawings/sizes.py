"""Candidate sizes side by side on the wall, all to one scale, the brief's own size in red in each."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.drawing.box import Box
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Fill, Hatch, Ink, Label, Line, Rect, Shape, Stand, Stroke
from bossage.layout import Candidate
from bossage.layout.rect import Rect as Span
from bossage.layout.rect import around
from bossage.pack.drawings.fit import SCALES
from bossage.pack.words import Words

AIR_MM = 250.0  # of wall shown on either side of what matters
TALLEST_MM = 60.0  # on paper


def sizes_drawing(
    brief: Brief, own: Candidate, candidates: tuple[Candidate, ...], words: Words, *, first_mm: float, column_mm: float
) -> Drawing:
    """One panel for each candidate and one for the brief's own size, each over its column of the table below.

    The first column lies `first_mm` from the left, each is `column_mm` wide. Every panel shows the same part of the
    wall: all sizes, what is hidden and what stands round it, with some air.
    """
    seen = _window(brief, own, candidates)
    left, height = seen.left_mm, seen.top_mm
    scale_n = next(
        (n for n in SCALES if seen.width_mm / n <= column_mm - 4.0 and seen.height_mm / n <= TALLEST_MM), SCALES[-1]
    )
    shapes: list[Shape] = []
    for number, candidate in enumerate((*candidates, own)):
        last = number == len(candidates)
        shift = (first_mm + number * column_mm) * scale_n - left
        shapes += _room(brief, seen, shift)
        shapes += _leaves(brief, candidate, shift)
        if not last:
            shapes += _outline(own, shift)
        shapes.append(
            Label(
                at=(shift + left, height + 2.2 * scale_n),
                text="as in the brief" if last else str(number + 1),
                size_mm=4.0 if last else 6.5,
                bold=True,
                align=Align.LEFT,
                stand=Stand.BOTTOM,
                layer="numbers",
            )
        )
    return Drawing(
        title="Sizes to choose from",
        description=" ".join(
            [*(_in_words(str(n), c, words) for n, c in enumerate(candidates, start=1)), _in_words("Brief", own, words)]
        ),
        shapes=tuple(shapes),
        scale_n=scale_n,
        # It begins where the sheet does, so that its columns stand over those of the table.
        frame=Box(
            left_mm=0.0,
            bottom_mm=seen.bottom_mm - 0.5 * scale_n,
            right_mm=(first_mm + (len(candidates) + 1) * column_mm) * scale_n,
            top_mm=height + 9.0 * scale_n,
        ),
    )


def _window(brief: Brief, own: Candidate, candidates: tuple[Candidate, ...]) -> Box:
    """The part of the wall that is shown, with some air; never more than the wall."""
    spans = [Span(c.x_nm, c.y_nm, c.width_nm, c.height_nm) for c in (own, *candidates)]
    spans += [Span(f.x_nm, f.y_nm, f.width_nm, f.height_nm) for f in brief.fixtures]
    spans += [Span(k.x_nm, k.y_nm, k.width_nm, k.height_nm) for k in brief.keep_clear]
    whole = around(spans)
    for item in brief.furniture:
        if item.x_nm < whole.right and item.right_nm > whole.x:
            whole = around((whole, Span(item.x_nm, item.bottom_nm, item.width_nm, item.top_nm - item.bottom_nm)))
    return Box(
        left_mm=max(0.0, whole.x / 1e6 - AIR_MM),
        bottom_mm=max(0.0, whole.y / 1e6 - AIR_MM),
        right_mm=min(brief.wall.width_nm / 1e6, whole.right / 1e6 + AIR_MM),
        top_mm=min(brief.wall.height_nm / 1e6, whole.top / 1e6 + AIR_MM),
    )


def _room(brief: Brief, seen: Box, shift: float) -> list[Shape]:
    """Floor, ceiling and ends of the wall where they are in sight, studs, furniture, what stays clear."""
    wall = brief.wall
    low, high = seen.bottom_mm, seen.top_mm

    def across(x_nm: int) -> float:
        return min(max(x_nm / 1e6, seen.left_mm), seen.right_mm) + shift

    shapes: list[Shape] = [
        Line(start=(across(x), low), end=(across(x), high), stroke=Stroke.CENTRE, layer="studs")
        for x in wall.studs_nm
        if seen.left_mm <= x / 1e6 <= seen.right_mm
    ]
    for y, stroke in ((0.0, Stroke.OUTLINE), (wall.height_nm / 1e6, Stroke.EDGE)):
        if low <= y <= high:
            ends = (seen.left_mm + shift, y), (seen.right_mm + shift, y)
            shapes.append(Line(start=ends[0], end=ends[1], stroke=stroke, layer="wall"))
    for end in (0.0, wall.width_nm / 1e6):
        if seen.left_mm <= end <= seen.right_mm:
            shapes.append(Line(start=(end + shift, low), end=(end + shift, high), stroke=Stroke.EDGE, layer="wall"))
    things = [(f.x_nm, f.right_nm, f.bottom_nm, f.top_nm, False) for f in brief.furniture]
    things += [(k.x_nm, k.x_nm + k.width_nm, k.y_nm, k.y_nm + k.height_nm, True) for k in brief.keep_clear]
    for x, x_end, y, y_end, clear in things:
        wide = across(x_end) - across(x)
        bottom, top = (min(max(edge / 1e6, low), high) for edge in (y, y_end))
        if wide > 0 and top > bottom:
            shapes.append(
                Rect(
                    x_mm=across(x),
                    y_mm=bottom,
                    width_mm=wide,
                    height_mm=top - bottom,
                    stroke=Stroke.THIN if clear else Stroke.EDGE,
                    hatch=Hatch(spacing_mm=1.5, ink=Ink.PENCIL) if clear else None,
                    layer="keep clear" if clear else "furniture",
                )
            )
    return shapes


def _leaves(brief: Brief, c: Candidate, shift: float) -> list[Shape]:
    """The candidate over what it hides."""
    wide = (c.width_nm - (c.leaves - 1) * brief.blocks.leaf_gap_nm) / c.leaves / 1e6
    step = wide + brief.blocks.leaf_gap_nm / 1e6
    shapes: list[Shape] = [
        Rect(
            x_mm=c.x_nm / 1e6 + n * step + shift,
            y_mm=c.y_nm / 1e6,
            width_mm=wide,
            height_mm=c.height_nm / 1e6,
            stroke=Stroke.OUTLINE,
            fill=Fill(colour="#E9E4D8"),
            layer="piece",
        )
        for n in range(c.leaves)
    ]
    shapes += [
        Rect(
            x_mm=f.x_nm / 1e6 + shift,
            y_mm=f.y_nm / 1e6,
            width_mm=f.width_nm / 1e6,
            height_mm=f.height_nm / 1e6,
            stroke=Stroke.HIDDEN,
            layer="fixtures",
        )
        for f in brief.fixtures
    ]
    return shapes


def _outline(own: Candidate, shift: float) -> list[Shape]:
    return [
        Rect(
            x_mm=own.x_nm / 1e6 + shift,
            y_mm=own.y_nm / 1e6,
            width_mm=own.width_nm / 1e6,
            height_mm=own.height_nm / 1e6,
            stroke=Stroke.PENCIL,
            layer="own",
        )
    ]


def _in_words(name: str, c: Candidate, words: Words) -> str:
    leaves = "" if c.leaves == 1 else f" in {c.leaves} leaves"
    return (
        f"{name}: {words.size(c.width_nm, c.height_nm)}{leaves}, {words.length(c.x_nm)} from the left corner and "
        f"{words.length(c.y_nm)} from the floor."
    )
