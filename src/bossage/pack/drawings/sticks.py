"""A stick with its slices, and a board with its panels, as they are sawn."""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby

from bossage.drawing.extent import label_box
from bossage.drawing.model import SMALL_TEXT_MM, Drawing, Hatch, Label, Line, Point, Rect, Shape, Stand, Stroke
from bossage.drawing.place import CHAIN_STEP_MM, chain
from bossage.pack.drawings.fit import LEAST_TEXT_MM, legible_size
from bossage.pack.words import Words
from bossage.saw.records import CutStick
from bossage.saw.sheet_records import CutSheet

BAND_MM = 7.0  # a stick's height on paper, whatever its section: its length is what is drawn to scale


def stick_drawing(stick: CutStick, words: Words) -> Callable[[float], Drawing]:
    """One stick, lengths to scale along it: trim, slices, what is left, the stub that is never cut."""

    def draw(scale_n: float) -> Drawing:
        tall = BAND_MM * scale_n
        length = stick.stock.length_nm / 1e6
        trim, stub = stick.stock.trim_nm / 1e6, stick.stock.stub_nm / 1e6
        shapes: list[Shape] = [_waste(0.0, trim, tall), _waste(length - stub, length, tall)]
        shapes += [_waste(low / 1e6, high / 1e6, tall) for low, high in stick.stock.no_go]
        taken: list[Label] = []
        for piece in stick.slices:
            for at in (piece.from_nm, piece.to_nm):
                shapes.append(Line(start=(at / 1e6, 0), end=(at / 1e6, tall), stroke=Stroke.THIN, layer="slices"))
        for (length_nm), run in groupby(stick.slices, key=lambda piece: piece.length_nm):
            group = list(run)
            middle = (group[0].from_nm + group[-1].to_nm) / 2e6
            text = f"{len(group)} × {words.bare(length_nm)}"
            label = Label(at=(middle, tall + 1.2 * scale_n), text=text, bold=True, stand=Stand.BOTTOM)
            taken.append(_raised(label, taken, scale_n))
        shapes.append(Rect(x_mm=0, y_mm=0, width_mm=length, height_mm=tall, stroke=Stroke.OUTLINE, layer="stick"))
        last = stick.slices[-1].to_nm / 1e6 if stick.slices else trim
        shapes += taken
        shapes += chain(
            [0.0, trim, last, length - stub, length],
            feet_mm=0.0,
            line_mm=-CHAIN_STEP_MM * scale_n,
            words=words.of_mm,
            scale_n=scale_n,
            size_mm=SMALL_TEXT_MM,
        )
        return Drawing(
            title=f"Stick {stick.number}, {words.length(stick.stock.length_nm)}",
            description=stick_words(stick, words),
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def stick_words(stick: CutStick, words: Words) -> str:
    """What is cut from the stick, to be read aloud."""
    runs = [
        f"{len(list(run))} of {words.length(length)}"
        for length, run in groupby(stick.slices, key=lambda p: p.length_nm)
    ]
    return (
        f"Square the end by {words.length(stick.stock.trim_nm)}, then cut {', '.join(runs) or 'nothing'}. "
        f"{words.length(stick.offcut_nm)} is left in one length, the {words.length(stick.stock.stub_nm)} stub in it."
    )


def board_drawing(sheet: CutSheet, words: Words) -> Callable[[float], Drawing]:
    """One board with its panels, its cuts numbered in the order of sawing."""

    def draw(scale_n: float) -> Drawing:
        width, length = sheet.stock.width_nm / 1e6, sheet.stock.length_nm / 1e6
        shapes: list[Shape] = [
            Rect(
                x_mm=rest.x_nm / 1e6,
                y_mm=rest.y_nm / 1e6,
                width_mm=rest.width_nm / 1e6,
                height_mm=rest.length_nm / 1e6,
                stroke=None,
                hatch=Hatch(spacing_mm=3.0),
                layer="offcuts",
            )
            for rest in sheet.offcuts
        ]
        for panel in sheet.panels:
            x, y, w, h = (v / 1e6 for v in (panel.x_nm, panel.y_nm, panel.width_nm, panel.length_nm))
            shapes.append(Rect(x_mm=x, y_mm=y, width_mm=w, height_mm=h, stroke=Stroke.EDGE, layer="panels"))
            shapes += _panel_words(panel.name, words.size(panel.width_nm, panel.length_nm), (x, y, w, h), scale_n)
        shapes.append(Rect(x_mm=0, y_mm=0, width_mm=width, height_mm=length, stroke=Stroke.OUTLINE, layer="board"))
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
        parts = ", ".join(f"{panel.name} {words.size(panel.width_nm, panel.length_nm)}" for panel in sheet.panels)
        return Drawing(
            title=f"Board {sheet.number}, {words.size(sheet.stock.width_nm, sheet.stock.length_nm)}",
            description=f"Cut from it: {parts}.",
            shapes=tuple(shapes),
            scale_n=scale_n,
        )

    return draw


def _panel_words(name: str, size: str, at: tuple[float, float, float, float], scale_n: float) -> list[Shape]:
    """Name and size on one line, on two, or the size alone, lying or turned: what is still read at arm's length."""
    x, y, w, h = at
    for lines in ((f"{name} {size}",), (name, size), (size,), (name,)):
        for upright, along, tall in ((False, w, h), (True, h, w)):
            room = (along / scale_n, tall / scale_n / len(lines))
            size_mm = min(legible_size(text, width_mm=room[0], height_mm=room[1], most_mm=3.5) for text in lines)
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


def _waste(low: float, high: float, tall: float) -> Rect:
    return Rect(
        x_mm=low, y_mm=0, width_mm=high - low, height_mm=tall, stroke=None, hatch=Hatch(spacing_mm=1.6), layer="waste"
    )


def _raised(label: Label, taken: list[Label], scale_n: float) -> Label:
    """Lifted line by line until it is clear of the labels before it."""
    boxes = [label_box(other, scale_n) for other in taken]
    while any(label_box(label, scale_n).meets(box, 1.0 * scale_n) for box in boxes):
        label = Label(
            at=(label.at[0], label.at[1] + 3.4 * scale_n), text=label.text, bold=label.bold, stand=Stand.BOTTOM
        )
    return Label(at=label.at, text=label.text, bold=label.bold, stand=Stand.BOTTOM, layer="slices")
