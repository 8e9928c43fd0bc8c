"""A board with its panels as they are sawn, its cuts numbered in their order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from bossage.drawing.box import Box
from bossage.drawing.extent import label_box
from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain
from bossage.drawing.shapes import SMALL_TEXT_MM, Arrow, Circle, Fill, Hatch, Label, Line, Point, Rect, Shape, Stroke
from bossage.pack.drawings.fit import LEAST_TEXT_MM, legible_size
from bossage.pack.words import Words
from bossage.saw import CutSheet, PlacedPanel, SawnOpenings, SheetCut, numbered

BADGE_MM = 1.9  # radius of the ring round a cut's number, on paper
ALONG = (0.08, 0.92, *(step / 25 for step in range(1, 25)))  # where on its line a number may stand, best first
FURTHEST = 6  # how far off its line a number may stand, in reaches of its ring


def panel_name(panel: PlacedPanel) -> str:
    """Its name, and what is pencilled on it."""
    return numbered(panel.name, panel.mark) if panel.mark else panel.name


def board_drawing(
    sheet: CutSheet, words: Words, *, grain: bool = False, openings: tuple[SawnOpenings, ...] = ()
) -> Callable[[float], Drawing]:
    """One board with its panels, its cuts numbered in the order of sawing; `grain` where nothing may be turned.

    Dashed: the openings that are sawn out of a panel, as it lies.
    """
    sawn_out = {(one.name, one.mark): one for one in openings}

    def draw(scale_n: float) -> Drawing:
        width, length = sheet.stock.width_nm / 1e6, sheet.stock.length_nm / 1e6
        shapes: list[Shape] = [
            Rect(
                x_mm=rest.x_nm / 1e6,
                y_mm=rest.y_nm / 1e6,
                width_mm=rest.width_nm / 1e6,
                height_mm=rest.length_nm / 1e6,
                stroke=None,
                hatch=Hatch(spacing_mm=4.0),
                layer="offcuts",
            )
            for rest in sheet.offcuts
        ]
        named: list[Label] = []
        for panel in sheet.panels:
            x, y, w, h = (v / 1e6 for v in (panel.x_nm, panel.y_nm, panel.width_nm, panel.length_nm))
            shapes.append(Rect(x_mm=x, y_mm=y, width_mm=w, height_mm=h, stroke=Stroke.EDGE, layer="panels"))
            shapes += _sawn_out(panel, sawn_out.get((panel.name, panel.mark)))
            named += _panel_words(panel, words.size(panel.width_nm, panel.length_nm), (x, y, w, h), scale_n)
        shapes.append(Rect(x_mm=0, y_mm=0, width_mm=width, height_mm=length, stroke=Stroke.OUTLINE, layer="board"))
        # a piece with room for its number alone goes without where a cut's number takes that room
        marks = {f"({panel.mark})" for panel in sheet.panels}
        whole = [label_box(label, scale_n) for label in named if label.text not in marks]
        cuts, rings = _cuts(sheet.cuts, whole, scale_n)
        shapes += [
            label
            for label in named
            if label.text not in marks or not any(label_box(label, scale_n).meets(ring) for ring in rings)
        ]
        shapes += cuts
        if grain:
            shapes += _grain(width, length, scale_n)
        for along in (True, False):
            shapes += chain(
                [0.0, width if along else length],
                feet_mm=0.0,
                line_mm=-CHAIN_STEP_MM * scale_n,
                words=words.of_mm,
                across=along,
                scale_n=scale_n,
                size_mm=SMALL_TEXT_MM,
            )
        alike = Counter(f"{panel_name(one)} {words.size(one.width_nm, one.length_nm)}" for one in sheet.panels)
        parts = "; ".join(f"{count} times {name}" if count > 1 else name for name, count in alike.items())
        return Drawing(
            title=f"Board {sheet.number}, {words.size(sheet.stock.width_nm, sheet.stock.length_nm)}",
            description=f"Cut from it: {parts}. {len(sheet.cuts)} cuts, numbered in the order of sawing."
            + (" The grain runs along its length, and nothing is turned." if grain else ""),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def _cuts(cuts: tuple[SheetCut, ...], words: list[Box], scale_n: float) -> tuple[list[Shape], list[Box]]:
    """A heavy line from edge to edge of the board in hand for each cut, and its number in a ring; where rings are.

    A ring sits on its line; beside it where pieces are small; or, where many cuts crowd, further off on a leader.
    """
    lines: list[Shape] = []
    rings: list[Shape] = []
    rings_at: list[Box] = []
    reach = (BADGE_MM + 0.3) * scale_n
    for cut in cuts:
        x0, y0, x1, y1 = (v / 1e6 for v in cut.board)
        at = cut.at_nm / 1e6
        ends = ((at, y0), (at, y1)) if cut.along == "y" else ((x0, at), (x1, at))
        lines.append(Line(start=ends[0], end=ends[1], stroke=Stroke.PENCIL, layer="cuts"))
        spots = _spots(ends, reach)
        places = [place for place, _ in spots]
        boxes = [_around(place, reach) for place in places]
        free = [k for k, box in enumerate(boxes) if not any(box.meets(other) for other in (*rings_at, *words))]
        # rather on a word than on another number
        free = free or [k for k, box in enumerate(boxes) if not any(box.meets(other) for other in rings_at)] or [0]
        place = places[free[0]]
        rings_at.append(boxes[free[0]])
        foot = spots[free[0]][1]
        if foot is not None:
            lines.append(Line(start=foot, end=place, stroke=Stroke.THIN, layer="cut numbers"))
        rings.append(
            Circle(
                centre=place, radius_mm=BADGE_MM, on_paper=True, stroke=Stroke.EDGE, fill=Fill(), layer="cut numbers"
            )
        )
        number = str(cut.number)
        size_mm = min(LEAST_TEXT_MM, 1.75 * BADGE_MM / text_width(number, bold=True))
        rings.append(Label(at=place, text=number, size_mm=size_mm, bold=True, layer="cut numbers"))
    return [*lines, *rings], rings_at


def _spots(ends: tuple[Point, Point], reach: float) -> list[tuple[Point, Point | None]]:
    """Where a cut's number may sit, best first, and the point of its line that a leader goes to where it is off it."""
    along = (0.0, reach) if ends[0][0] == ends[1][0] else (reach, 0.0)
    aside = (along[1], along[0])
    on_line = [_between(ends, share) for share in ALONG]
    spots: list[tuple[Point, Point | None]] = [(_off(at, aside, side), None) for side in (0, 1, -1) for at in on_line]
    for far in range(2, FURTHEST + 1):
        spots += [(_off(ends[1], along, far), ends[1]), (_off(ends[0], along, -far), ends[0])]
        spots += [(_off(at, aside, side), at) for side in (far, -far) for at in on_line]
    return spots


def _off(at: Point, step: tuple[float, float], times: int) -> Point:
    return (at[0] + times * step[0], at[1] + times * step[1])


def _between(ends: tuple[Point, Point], share: float) -> Point:
    (ax, ay), (bx, by) = ends
    return (ax + share * (bx - ax), ay + share * (by - ay))


def _around(middle: Point, reach: float) -> Box:
    x, y = middle
    return Box(left_mm=x - reach, bottom_mm=y - reach, right_mm=x + reach, top_mm=y + reach)


def _grain(width: float, length: float, scale_n: float) -> list[Shape]:
    """An arrow beside the board, along its grain."""
    x = width + 4.0 * scale_n
    return [
        Arrow(start=(x, 0.25 * length), end=(x, 0.75 * length), layer="grain"),
        Label(at=(x + 2.6 * scale_n, 0.5 * length), text="grain", size_mm=SMALL_TEXT_MM, upright=True, layer="grain"),
    ]


def _sawn_out(panel: PlacedPanel, one: SawnOpenings | None) -> list[Shape]:
    """The openings of a panel as it lies; turned, its lower edge is at the right and its left edge below."""
    if one is None:
        return []
    rects = [
        (one.height_nm - y1, x0, one.height_nm - y0, x1) if panel.turned else (x0, y0, x1, y1)
        for x0, y0, x1, y1 in one.rects_nm
    ]
    return [
        Rect(
            x_mm=(panel.x_nm + x0) / 1e6,
            y_mm=(panel.y_nm + y0) / 1e6,
            width_mm=(x1 - x0) / 1e6,
            height_mm=(y1 - y0) / 1e6,
            stroke=Stroke.HIDDEN,
            layer="openings",
        )
        for x0, y0, x1, y1 in rects
    ]


def _panel_words(panel: PlacedPanel, size: str, at: tuple[float, float, float, float], scale_n: float) -> list[Label]:
    """Name and size on one line, on two, or as much of it as is still read at arm's length, lying or turned."""
    x, y, w, h = at
    name, number = panel_name(panel), [(f"({panel.mark})",)] if panel.mark else []
    short = [(f"({panel.mark}) {size}",)] if panel.mark else [(size,)]
    for lines in ((f"{name} {size}",), (name, size), *short, (name,), *number, (size,)):
        for upright, along, tall in ((False, w, h), (True, h, w)):
            room = (along / scale_n, tall / scale_n / len(lines))
            size_mm = min(legible_size(text, width_mm=room[0], height_mm=room[1], most_mm=3.0) for text in lines)
            clear = len(lines) == 1 or 1.5 * size_mm * len(lines) <= tall / scale_n
            if size_mm >= LEAST_TEXT_MM and clear:
                return [
                    Label(
                        at=_line_at((x + w / 2, y + h / 2), number, len(lines), upright, 1.5 * size_mm * scale_n),
                        text=text,
                        size_mm=size_mm,
                        upright=upright,
                        layer="panels",
                    )
                    for number, text in enumerate(lines)
                ]
    return []


def _line_at(middle: Point, number: int, lines: int, upright: bool, apart_mm: float) -> Point:
    """Middle of one of several lines of a label; turned lines follow one another to the right."""
    away = (number - (lines - 1) / 2) * apart_mm
    return (middle[0] + away, middle[1]) if upright else (middle[0], middle[1] - away)
