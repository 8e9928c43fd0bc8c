from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Arrow, Circle, Dimension, Fill, Hatch, Ink, Label, Line, Outline, Rect, Stroke
from bossage.drawing.svg import svg_text
from bossage.fonts import FAMILY

SVG = "{http://www.w3.org/2000/svg}"


def _drawing(**changes):
    shapes = (
        Rect(x_mm=0, y_mm=0, width_mm=1120, height_mm=720, stroke=Stroke.OUTLINE, layer="piece", name="leaf"),
        Rect(x_mm=100, y_mm=100, width_mm=70, height_mm=45, fill=Fill(colour="#a3b08c"), hatch=Hatch(spacing_mm=1.5)),
        Line(start=(0, 0), end=(1120, 720), stroke=Stroke.HIDDEN),
        Circle(centre=(20, 20), radius_mm=5, fill=Fill(colour=Ink.PENCIL)),
        Outline(points=((0, 0), (10, 0), (10, 10))),
        Arrow(start=(0, 0), end=(100, 100), stroke=Stroke.PENCIL),
        Dimension(start=(0, 0), end=(1120, 0), text="1120", line_mm=-80),
        Label(at=(560, 360), text="fish & <chips>", upright=True),
    )
    return Drawing(title="Piece & wall", description='Said "aloud".', shapes=shapes, scale_n=10, **changes)


def test_it_is_well_formed_and_says_its_size_in_millimetres():
    drawing = _drawing()
    root = ET.fromstring(svg_text(drawing))
    assert root.get("width").endswith("mm")
    assert float(root.get("width")[:-2]) == pytest.approx(drawing.paper_width_mm, abs=0.001)
    box = [float(part) for part in root.get("viewBox").split()]
    assert box[2] / float(root.get("width")[:-2]) == pytest.approx(10, rel=1e-4)


def test_title_and_description_are_there_for_those_who_cannot_see_it():
    root = ET.fromstring(svg_text(_drawing()))
    assert root.find(f"{SVG}title").text == "Piece & wall"
    assert root.find(f"{SVG}desc").text == 'Said "aloud".'


def test_text_is_text_in_our_font():
    root = ET.fromstring(svg_text(_drawing()))
    assert root.get("font-family") == FAMILY
    assert [element.text for element in root.iter(f"{SVG}text")] == ["1120", "fish & <chips>"]


def test_lengths_read_back_are_those_of_the_thing():
    root = ET.fromstring(svg_text(_drawing()))
    (piece,) = [element for element in root.iter(f"{SVG}rect") if element.get("data-name") == "leaf"]
    assert (piece.get("width"), piece.get("height")) == ("1120", "720")


def test_the_same_drawing_gives_the_same_bytes():
    assert svg_text(_drawing()) == svg_text(_drawing())


def test_another_program_renders_it():
    resvg = pytest.importorskip("resvg_py")
    assert len(bytes(resvg.svg_to_bytes(svg_string=svg_text(_drawing()), dpi=96.0))) > 1000
