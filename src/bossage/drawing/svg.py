"""Writing a drawing as SVG: text stays text, coordinates stay the thing's millimetres, the page its size on paper.

Only shapes and presentation attributes of SVG 1.1 (W3C recommendation, second edition) are used, no style sheet: so
drawing programs and the PDF maker read the same thing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from xml.sax.saxutils import escape, quoteattr

from bossage.drawing.box import Box
from bossage.drawing.metrics import CAP_HEIGHT
from bossage.drawing.model import Drawing
from bossage.drawing.plain import hatch_lines, plain
from bossage.drawing.shapes import (
    DASHES_MM,
    WIDTH_MM,
    Align,
    Bits,
    Circle,
    Fill,
    Ink,
    Label,
    Line,
    Outline,
    Rect,
    Shape,
    Stand,
    Stroke,
)
from bossage.fonts import FAMILY
from bossage.letters import isolated

#: sRGB of the roles on white paper: warm ink, a quieter one, the red pencil (oklch 0.25 0.012 60; 0.52 0.01 60;
#: 0.60 0.18 32, rounded to 8 bits).
PIGMENT = {
    Ink.INK: "#251f1b",
    Ink.QUIET: "#6f6863",
    Ink.PENCIL: "#d04127",
    Ink.PAPER: "#fff",  # three digits: a screen gives this its own ground, and leaves a shade that is white alone
    Ink.BLACK: "#000000",
}

_DARK = re.compile("1+")
_ANCHOR = {Align.LEFT: "start", Align.MIDDLE: "middle", Align.RIGHT: "end"}


def svg_text(drawing: Drawing) -> str:
    """The drawing as one SVG document, the same text for the same drawing."""
    frame = drawing.extent()
    scale_n = drawing.scale_n
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" role="img" aria-labelledby="title desc"'
        f' width="{_number(frame.width_mm / scale_n)}mm" height="{_number(frame.height_mm / scale_n)}mm"'
        f' viewBox="0 0 {_number(frame.width_mm)} {_number(frame.height_mm)}"'
        f' font-family={quoteattr(FAMILY)} fill="none">',
        f'<title id="title">{escape(drawing.title)}</title>',
        f'<desc id="desc">{escape(drawing.description)}</desc>',
    ]
    lines += _layers(drawing.shapes, frame, scale_n)
    lines.append("</svg>")
    return "\n".join(lines) + "\n"


def _layers(shapes: Iterable[Shape], frame: Box, scale_n: float) -> list[str]:
    """Runs of shapes of one layer and one stroke share a group, which keeps large maps small."""
    lines: list[str] = []
    open_as: tuple[str, str] | None = None
    for shape in shapes:
        for part in plain(shape, scale_n):
            for layer, paint, element in _elements(part, frame, scale_n):
                if (layer, paint) != open_as:
                    if open_as is not None:
                        lines.append("</g>")
                    name = f" class={quoteattr(layer)}" if layer else ""
                    lines.append(f"<g{name}{paint}>")
                    open_as = (layer, paint)
                lines.append(element)
    if open_as is not None:
        lines.append("</g>")
    return lines


def _elements(shape: Shape, frame: Box, scale_n: float) -> list[tuple[str, str, str]]:
    """Each element with its layer and the attributes that its group carries."""

    def x(value_mm: float) -> str:
        return _number(value_mm - frame.left_mm)

    def y(value_mm: float) -> str:
        return _number(frame.top_mm - value_mm)

    if isinstance(shape, Label):
        return [(shape.layer, "", _text(shape, frame, scale_n))]
    if isinstance(shape, Line):
        (x0, y0), (x1, y1) = shape.start, shape.end
        element = f'<path d="M{x(x0)} {y(y0)}L{x(x1)} {y(y1)}"/>'
        return [(shape.layer, _stroke(shape.stroke, scale_n), element)]
    if isinstance(shape, Rect):
        return _rect(shape, frame, scale_n)
    if isinstance(shape, Bits):
        return [(shape.layer, "", _bits(shape, frame))]
    if isinstance(shape, Circle):
        radius_mm = shape.radius_mm * (scale_n if shape.on_paper else 1.0)
        element = (
            f'<circle cx="{x(shape.centre[0])}" cy="{y(shape.centre[1])}" r="{_number(radius_mm)}"{_fill(shape.fill)}/>'
        )
        return [(shape.layer, _stroke(shape.stroke, scale_n), element)]
    if isinstance(shape, Outline):
        path = "L".join(f"{x(across)} {y(upwards)}" for across, upwards in shape.points)
        name = f" data-name={quoteattr(shape.name)}" if shape.name else ""
        element = f'<path d="M{path}{"Z" if shape.closed else ""}"{_fill(shape.fill)}{name}/>'
        return [(shape.layer, _stroke(shape.stroke, scale_n), element)]
    raise TypeError(f"{type(shape).__name__} is no plain shape")


def _rect(rect: Rect, frame: Box, scale_n: float) -> list[tuple[str, str, str]]:
    place = (
        f'x="{_number(rect.x_mm - frame.left_mm)}" y="{_number(frame.top_mm - rect.y_mm - rect.height_mm)}"'
        f' width="{_number(rect.width_mm)}" height="{_number(rect.height_mm)}"'
    )
    name = f" data-name={quoteattr(rect.name)}" if rect.name else ""
    found = []
    if rect.hatch is None:
        found.append((rect.layer, _stroke(rect.stroke, scale_n), f"<rect {place}{_fill(rect.fill)}{name}/>"))
        return found
    # Colour, then hatching, then the edge: lines must not run over the edge.
    if rect.fill is not None:
        found.append((rect.layer, "", f"<rect {place}{_fill(rect.fill)}{name}/>"))
    lines = hatch_lines(rect, scale_n)
    if lines:
        path = "".join(
            f"M{_number(a[0] - frame.left_mm)} {_number(frame.top_mm - a[1])}"
            f"L{_number(b[0] - frame.left_mm)} {_number(frame.top_mm - b[1])}"
            for a, b in ((line.start, line.end) for line in lines)
        )
        paint = _stroke(Stroke.THIN, scale_n, rect.hatch.ink)
        found.append((f"{rect.layer} hatching".strip(), paint, f'<path d="{path}"/>'))
    if rect.stroke is not None:
        found.append((rect.layer, _stroke(rect.stroke, scale_n), f"<rect {place}/>"))
    return found


def _bits(bits: Bits, frame: Box) -> str:
    """One path for the whole square, drawn in cells; a run of dark cells of one row is one rectangle: no seam shows."""
    cell = f"{bits.side_mm / len(bits.rows):.9g}"
    at = f"{_number(bits.x_mm - frame.left_mm)} {_number(frame.top_mm - bits.y_mm - bits.side_mm)}"
    path = "".join(_runs(row).replace("#", str(number)) for number, row in enumerate(bits.rows))
    name = f" data-name={quoteattr(bits.name)}" if bits.name else ""
    return f'<path transform="translate({at}) scale({cell})" d="{path}" fill="{PIGMENT[Ink.INK]}"{name}/>'


@lru_cache(maxsize=1 << 12)
def _runs(row: str) -> str:
    """The dark runs of one row of cells; `#` stands for the row's number. Codes of like texts share most rows."""
    return "".join(f"M{start} #h{end - start}v1H{start}Z" for start, end in map(re.Match.span, _DARK.finditer(row)))


def _text(label: Label, frame: Box, scale_n: float) -> str:
    size_mm = label.size_mm * scale_n
    # Baselines are worked out here: readers disagree about dominant-baseline.
    drop_mm = {Stand.BOTTOM: 0.0, Stand.MIDDLE: 0.5, Stand.TOP: 1.0}[label.stand] * CAP_HEIGHT * size_mm
    x_mm, y_mm = label.at[0] - frame.left_mm, frame.top_mm - label.at[1]
    turn = ""
    if label.upright:
        x_mm += drop_mm
        turn = f' transform="rotate(-90 {_number(x_mm)} {_number(y_mm)})"'
    else:
        y_mm += drop_mm
    weight = ' font-weight="700"' if label.bold else ""
    return (
        f'<text x="{_number(x_mm)}" y="{_number(y_mm)}" font-size="{_number(size_mm)}"{weight}'
        f' text-anchor="{_ANCHOR[label.align]}" fill="{PIGMENT[label.ink]}"{turn}>{escape(isolated(label.text))}</text>'
    )


def _stroke(stroke: Stroke | None, scale_n: float, ink: Ink | None = None) -> str:
    if stroke is None:
        return ""
    colour = PIGMENT[ink or (Ink.PENCIL if stroke is Stroke.PENCIL else Ink.INK)]
    dashes = DASHES_MM.get(stroke)
    pattern = f' stroke-dasharray="{" ".join(_number(part * scale_n) for part in dashes)}"' if dashes else ""
    return f' stroke="{colour}" stroke-width="{_number(WIDTH_MM[stroke] * scale_n)}"{pattern}'


def _fill(fill: Fill | None) -> str:
    if fill is None:
        return ""
    colour = PIGMENT[fill.colour] if isinstance(fill.colour, Ink) else fill.colour
    return f' fill="{colour}"'


@lru_cache(maxsize=1 << 14)
def _number(value: float) -> str:
    """Three decimals at most, no trailing zeros, no minus zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text
