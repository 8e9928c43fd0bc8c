"""At the wall with a tape measure, before there is any brief: a sheet to fill in, line for line what a brief asks."""

from __future__ import annotations

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Label, Line, Rect, Shape, Stand, Stroke
from bossage.pack.sheet import Care, Column, Drawn, Heading, NewPage, Para, Sheet, Table
from bossage.plan import Plan

GRID_MM = 5.0
SKETCH_MM = {"A4": (175.0, 85.0), "Letter": (180.0, 65.0)}  # the shorter paper has less to sketch on


def survey_of_plan(plan: Plan) -> Sheet:
    """The blank sheet in the piece's unit."""
    return survey_sheet(plan.brief.piece.unit.value, plan.brief.piece.paper)


def survey_sheet(unit: str, paper: str) -> Sheet:
    """Blank: a sketch grid, lengths to take, questions whose answers decide whether it may be covered at all."""
    lengths = (
        ("wall", "width, corner to corner", "floor to ceiling, left", "floor to ceiling, right"),
        ("what is to be hidden", "left corner to its left edge", "floor to its lower edge", "width × height"),
        ("", "how far it stands proud", "its cover's screws: where", "its door: which side, how wide open"),
        ("", "how deep it sits in the wall", "gas, water, electricity: volts", "fed from which sides; who saw it"),
        ("a board", "its highest grip, over the floor", "what is opposite: brick, wood", "how far away that is"),
        ("also on the wall", "sockets, switches: where", "taps, other boxes: where", "doors, windows: their edges"),
        ("runs in the wall", "cable, pipe, duct: from where", "to where", "seen, detector, drawing, told"),
        ("furniture below", "left corner to its left edge", "width", "height of its top"),
        ("", "how far into the room", "does it stay?", "else who moves it, how far"),
        ("studs, if any", "left corner to the first", "from middle to middle", "covering: thickness"),
        ("eyes", "from where is it seen", "where does light come from", "walked past: width left"),
    )
    questions = (
        "What is it, and how often is it opened a year? By whom, in a hurry or at leisure?",
        "Does it need air, give off heat, send or receive radio, have to be read or heard?",
        "A flue, a gas or return-air grille, an escape route, a bed below? Ask before going on.",
        "Sockets, switches and taps on the other side of the wall, and in the rooms above and below: where?",
        "Detector proved on a live cable, power on: where does it sound?",
        "Masonry or studs? Knocked, drilled, or known from drawings?",
        "Level and flat? Held a straight board against it? Photographed straight on, with the tape?",
    )
    return Sheet(
        name="survey",
        title="Survey",
        todo=(
            f"Fill this in at the wall, every length in {'inches' if unit == 'in' else unit}, from the left corner and "
            "from the floor. Measure each one twice."
        ),
        wrong="Two readings differ? Take the smaller for what must fit, the larger for what must be covered; say so.",
        parts=(
            Care(
                title="Open no cover and take nothing off the wall for this.",
                text="What is live, hot or under pressure is for those licensed for it; local rules come first.",
            ),
            Drawn(drawing=_grid(*SKETCH_MM[paper]), caption="Sketch: the wall, what is on it, what stands before it."),
            Table(
                columns=(
                    Column(kind="strong", mm=36.0),
                    *(Column(kind="blank", wide=True) for _ in range(3)),
                ),
                rows=lengths,
                tight=True,
            ),
            NewPage(),
            Heading(text="Ask"),
            Table(
                columns=(Column(kind="small", mm=88.0), Column(kind="blank", wide=True)),
                rows=tuple((question, "") for question in questions),
                tight=True,
            ),
            Para(
                text="Each line has its place in a brief; `bossage example first` prints one to begin with.", small=True
            ),
        ),
    )


def _grid(width: float, height: float) -> Drawing:
    """A field to sketch in: fine squares, floor line and left corner marked as the two places to measure from."""
    shapes: list[Shape] = [
        Line(start=(x * GRID_MM, 0), end=(x * GRID_MM, height), stroke=Stroke.THIN, layer="grid")
        for x in range(1, round(width / GRID_MM))
    ]
    shapes += [
        Line(start=(0, y * GRID_MM), end=(width, y * GRID_MM), stroke=Stroke.THIN, layer="grid")
        for y in range(1, round(height / GRID_MM))
    ]
    shapes += [
        Rect(x_mm=0, y_mm=0, width_mm=width, height_mm=height, stroke=Stroke.EDGE, layer="rim"),
        Line(start=(0, 0), end=(width, 0), stroke=Stroke.OUTLINE, layer="floor"),
        Line(start=(0, 0), end=(0, height), stroke=Stroke.OUTLINE, layer="corner"),
        Label(at=(width, -1.0), text="floor", align=Align.RIGHT, stand=Stand.TOP, layer="labels"),
        Label(at=(0, height + 1.0), text="left corner", align=Align.LEFT, stand=Stand.BOTTOM, layer="labels"),
    ]
    return Drawing(
        title="Grid for a sketch",
        description="Empty squares; the heavy line below is the floor, the one at the left the wall's corner.",
        shapes=tuple(shapes),
    )
