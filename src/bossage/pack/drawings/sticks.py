"""A stick with its slices, as it is sawn."""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby

from bossage.drawing.extent import label_box
from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.place import CHAIN_STEP_MM, chain
from bossage.drawing.shapes import SMALL_TEXT_MM, Fill, Hatch, Label, Line, Rect, Shape, Stand, Stroke
from bossage.pack.words import Words, listed
from bossage.saw import CutStick

BAND_MM = 6.0  # a stick's height on paper, whatever its section: its length is what is drawn to scale
RUN_TEXT_MM = 4.0  # how many of which length: read from the saw's place


def stick_drawing(stick: CutStick, words: Words) -> Callable[[float], Drawing]:
    """One stick, lengths to scale along it: trim, slices, parts to leave out, what is left, the stub never cut."""

    def draw(scale_n: float) -> Drawing:
        tall = BAND_MM * scale_n
        length = stick.stock.length_nm / 1e6
        trim, stub = stick.stock.trim_nm / 1e6, stick.stock.stub_nm / 1e6
        last = stick.slices[-1].to_nm / 1e6 if stick.slices else trim
        shapes: list[Shape] = [_waste(0.0, trim, tall), _waste(length - stub, length, tall)]
        for piece in stick.slices:
            for at in (piece.from_nm, piece.to_nm):
                shapes.append(Line(start=(at / 1e6, 0), end=(at / 1e6, tall), stroke=Stroke.THIN, layer="slices"))
        for low_nm, high_nm in stick.stock.no_go:
            shapes += _left_out(low_nm / 1e6, high_nm / 1e6, tall)
        shapes.append(Rect(x_mm=0, y_mm=0, width_mm=length, height_mm=tall, stroke=Stroke.OUTLINE, layer="stick"))
        shapes += _within("stub", length - stub, length, tall, scale_n)
        shapes += _runs(stick, words, tall, scale_n)
        zones = [at / 1e6 for zone in stick.stock.no_go for at in zone]
        shapes += chain(
            [0.0, trim, *zones, last, length - stub, length],
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
    zones = [f"from {words.bare(low)} to {words.length(high)}" for low, high in stick.stock.no_go]
    square = f"Square the end by {words.length(stick.stock.trim_nm)}, then cut" if stick.stock.trim_nm else "Cut"
    return (
        f"{square}: {'; '.join(runs) or 'nothing'}. "
        + (f"Leave out what lies {listed(zones)} of the end that is squared. " if zones else "")
        + f"{words.length(stick.offcut_nm)} is left in one length, the {words.length(stick.stock.stub_nm)} stub in it."
    )


def _runs(stick: CutStick, words: Words, tall: float, scale_n: float) -> list[Label]:
    """Over the slices, run by run from the squared end: how many, and how long."""
    taken: list[Label] = []
    for length_nm, run in groupby(stick.slices, key=lambda piece: piece.length_nm):
        group = list(run)
        middle = (group[0].from_nm + group[-1].to_nm) / 2e6
        text = f"{len(group)} × {words.bare(length_nm)}"
        label = Label(at=(middle, tall + 1.2 * scale_n), text=text, size_mm=RUN_TEXT_MM, bold=True, stand=Stand.BOTTOM)
        taken.append(_raised(label, taken, scale_n))
    return taken


def _left_out(low: float, high: float, tall: float) -> list[Shape]:
    """A crossed box over a knot, a split or a taper: told from waste by its shape, not by its tone."""
    corners = (((low, 0.0), (high, tall)), ((low, tall), (high, 0.0)))
    return [
        Rect(x_mm=low, y_mm=0, width_mm=high - low, height_mm=tall, fill=Fill(), stroke=Stroke.EDGE, layer="no-go"),
        *(Line(start=start, end=end, stroke=Stroke.EDGE, layer="no-go") for start, end in corners),
    ]


def _within(text: str, low: float, high: float, tall: float, scale_n: float) -> list[Shape]:
    """A word on a patch of paper, where it has room."""
    wide = (text_width(text) * SMALL_TEXT_MM + 1.6) * scale_n
    if wide > high - low:
        return []
    middle, high_mm = (low + high) / 2, 1.5 * SMALL_TEXT_MM * scale_n
    patch = Rect(
        x_mm=middle - wide / 2,
        y_mm=(tall - high_mm) / 2,
        width_mm=wide,
        height_mm=high_mm,
        stroke=None,
        fill=Fill(),
        layer="waste",
    )
    return [patch, Label(at=(middle, tall / 2), text=text, size_mm=SMALL_TEXT_MM, layer="waste")]


def _waste(low: float, high: float, tall: float) -> Rect:
    return Rect(
        x_mm=low, y_mm=0, width_mm=high - low, height_mm=tall, stroke=None, hatch=Hatch(spacing_mm=1.6), layer="waste"
    )


def _raised(label: Label, taken: list[Label], scale_n: float) -> Label:
    """Lifted line by line until it is clear of the labels before it."""
    boxes = [label_box(other, scale_n) for other in taken]
    lift = 0.0
    while True:
        raised = Label(
            at=(label.at[0], label.at[1] + lift),
            text=label.text,
            size_mm=label.size_mm,
            bold=label.bold,
            stand=label.stand,
            layer="slices",
        )
        if not any(label_box(raised, scale_n).meets(box, 1.0 * scale_n) for box in boxes):
            return raised
        lift += 1.1 * RUN_TEXT_MM * scale_n
