"""Writing a drawing as DXF: true millimetres, a layer for each kind of thing, areas as closed outlines.

Written by ezdxf, which is imported only here, as DXF R2010 (AC1024): the oldest form that keeps its text as UTF-8.
Fills and colours stay out; names of blocks and parts stand as text and as extended data of their outlines.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from bossage.drawing.metrics import CAP_HEIGHT
from bossage.drawing.model import Drawing
from bossage.drawing.plain import hatch_lines, plain
from bossage.drawing.shapes import (
    DASHES_MM,
    WIDTH_MM,
    Align,
    Bits,
    Circle,
    Label,
    Line,
    Outline,
    Point,
    Rect,
    Shape,
    Stand,
    Stroke,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing as DxfDocument
    from ezdxf.layouts.layout import Modelspace

APP = "BOSSAGE"  # owner of the extended data that carries a block's address
PENCIL_ACI, INK_ACI = 1, 7  # DXF colour numbers: red; black or white, whichever shows


def dxf_bytes(drawing: Drawing) -> bytes:
    """The drawing as one DXF file, the same bytes for the same drawing."""
    from ezdxf import units
    from ezdxf._options import options
    from ezdxf.document import Drawing as New

    fixed = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # else it holds the hour and a random number
    try:
        document = New.new("R2010")
        document.units = units.MM
        document.appids.add(APP)
        for stroke, dashes in DASHES_MM.items():
            pattern = [part * sign * drawing.scale_n for part, sign in zip(dashes, (1, -1) * 4, strict=False)]
            document.linetypes.add(stroke.value.upper(), [sum(map(abs, pattern)), *pattern])
        space = document.modelspace()
        for shape in drawing.shapes:
            for part in plain(shape, drawing.scale_n):
                _add(document, space, part, drawing.scale_n)
        # ezdxf lists the classes in the order of a set, which is another one in each run of Python
        for kind in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(kind)
        file = io.StringIO()
        document.write(file)
    finally:
        options.write_fixed_meta_data_for_testing = fixed
    return file.getvalue().encode("utf-8")


def layer_name(layer: str) -> str:
    """A layer's name as DXF allows it; shapes without one lie on `other`."""
    return re.sub(r"[<>/\\\":;?*|=,`]", "-", layer) or "other"


def _add(document: DxfDocument, space: Modelspace, shape: Shape, scale_n: float) -> None:
    if isinstance(shape, Label):
        _add_text(document, space, shape, scale_n)
    elif isinstance(shape, Line):
        space.add_line(shape.start, shape.end, dxfattribs=_attributes(document, shape.layer, shape.stroke))
    elif isinstance(shape, Circle):
        radius = shape.radius_mm * (scale_n if shape.on_paper else 1.0)
        space.add_circle(shape.centre, radius, dxfattribs=_attributes(document, shape.layer, shape.stroke))
    elif isinstance(shape, Rect):
        x, y, right, top = shape.x_mm, shape.y_mm, shape.x_mm + shape.width_mm, shape.y_mm + shape.height_mm
        if shape.stroke is not None:
            corners = ((x, y), (right, y), (right, top), (x, top))
            _add_outline(document, space, corners, True, shape.layer, shape.stroke, shape.name)
        for line in hatch_lines(shape, scale_n):
            _add(document, space, Line(start=line.start, end=line.end, stroke=line.stroke, layer="hatching"), scale_n)
    elif isinstance(shape, Outline):
        _add_outline(document, space, shape.points, shape.closed, shape.layer, shape.stroke, shape.name)
    elif not isinstance(shape, Bits):  # a code of squares is for stickers, not for machines
        raise TypeError(f"{type(shape).__name__} is no plain shape")


def _add_outline(
    document: DxfDocument,
    space: Modelspace,
    points: Iterable[Point],
    closed: bool,
    layer: str,
    stroke: Stroke | None,
    name: str,
) -> None:
    line = space.add_lwpolyline(list(points), close=closed, dxfattribs=_attributes(document, layer, stroke))
    if name:
        line.set_xdata(APP, [(1000, name)])


def _add_text(document: DxfDocument, space: Modelspace, label: Label, scale_n: float) -> None:
    from ezdxf.enums import TextEntityAlignment as At

    placed = {
        (Align.LEFT, Stand.BOTTOM): At.LEFT,
        (Align.MIDDLE, Stand.BOTTOM): At.CENTER,
        (Align.RIGHT, Stand.BOTTOM): At.RIGHT,
        (Align.LEFT, Stand.MIDDLE): At.MIDDLE_LEFT,
        (Align.MIDDLE, Stand.MIDDLE): At.MIDDLE_CENTER,
        (Align.RIGHT, Stand.MIDDLE): At.MIDDLE_RIGHT,
        (Align.LEFT, Stand.TOP): At.TOP_LEFT,
        (Align.MIDDLE, Stand.TOP): At.TOP_CENTER,
        (Align.RIGHT, Stand.TOP): At.TOP_RIGHT,
    }[label.align, label.stand]
    text = space.add_text(
        label.text,
        height=CAP_HEIGHT * label.size_mm * scale_n,  # DXF measures capitals
        rotation=90.0 if label.upright else 0.0,
        dxfattribs=_attributes(document, f"{label.layer or 'other'} text", None),
    )
    text.set_placement(label.at, align=placed)


def _attributes(document: DxfDocument, layer: str, stroke: Stroke | None) -> dict[str, object]:
    name = layer_name(layer)
    if name not in document.layers:
        document.layers.add(name, color=INK_ACI)
    attributes: dict[str, object] = {"layer": name}
    if stroke is not None:
        attributes["lineweight"] = round(100 * WIDTH_MM[stroke])
        if stroke in DASHES_MM:
            attributes["linetype"] = stroke.value.upper()
        if stroke is Stroke.PENCIL:
            attributes["color"] = PENCIL_ACI
    return attributes
