"""The calendar as a timeline: a line for each step, a column for each day; work is solid, waiting hatched."""

from __future__ import annotations

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Fill, Hatch, Ink, Label, Line, Rect, Shape, Stand, Stroke
from bossage.press import JobCalendar
from bossage.press.calendar_records import CalendarEntry
from bossage.press.schedule_records import DAY_S

LABEL_MM, ROW_MM, BAR_MM = 44.0, 6.4, 3.4
NAMES = {
    "acclimatise": "sticks rest",
    "mix": "cards and dabs dry",
    "saw": "saw",
    "rest": "slices rest",
    "sand": "sand, break edges",
    "sides": "coat the sticks",
    "ready": "handles, lines",
    "prime": "prime",
    "denib": "denib",
    "paint": "coats of colour or finish",
    "topcoat": "topcoat",
    "dry": "paint dries",
    "backer": "cut the back",
    "back": "parts on the back",
    "wall": "wall half, loaded",
    "trial": "trial hang, bare",
    "seal": "seal, colour the backer",
    "test": "tests: dye, blocking",
    "lay": "lay dry",
    "press": "press",
    "cure": "glue cures",
    "ring": "edge ring",
    "hang": "hang",
}


def timeline_drawing(calendar: JobCalendar, *, width_mm: float) -> Drawing:
    """The whole job on one strip as wide as the sheet."""
    steps = list(dict.fromkeys(entry.step for entry in calendar.entries))
    day_mm = (width_mm - LABEL_MM) / calendar.days
    foot = -ROW_MM * len(steps)
    shapes: list[Shape] = []
    every = next(n for n in (1, 2, 5, 10, 20, 50, 100) if n * day_mm >= 6.0 or n == 100)
    for day in range(calendar.days + 1):
        x = LABEL_MM + day * day_mm
        shapes.append(Line(start=(x, 0), end=(x, foot), stroke=Stroke.THIN, layer="days"))
        if day < calendar.days and day % every == 0:
            shapes.append(
                Label(at=(x + 0.4, 1.2), text=str(day + 1), size_mm=3.0, align=Align.LEFT, stand=Stand.BOTTOM)
            )
    shapes.append(Label(at=(0, 1.2), text="day", size_mm=3.0, align=Align.LEFT, stand=Stand.BOTTOM, ink=Ink.QUIET))
    for number, step in enumerate(steps):
        middle = -ROW_MM * (number + 0.5)
        shapes.append(Label(at=(0, middle), text=NAMES.get(step, step), size_mm=3.4, align=Align.LEFT, layer="steps"))
        shapes += [_bar(entry, middle, day_mm) for entry in calendar.entries if entry.step == step]
    return Drawing(
        title="Timeline",
        description=f"{len(steps)} steps over {calendar.days} days; the table below says the same in words.",
        shapes=tuple(shapes),
    )


def _bar(entry: CalendarEntry, middle_mm: float, day_mm: float) -> Rect:
    left = LABEL_MM + entry.from_s / DAY_S * day_mm
    wide = max((entry.to_s - entry.from_s) / DAY_S * day_mm, 0.4)
    return Rect(
        x_mm=left,
        y_mm=middle_mm - BAR_MM / 2,
        width_mm=wide,
        height_mm=BAR_MM,
        stroke=Stroke.THIN,
        fill=Fill(colour=Ink.INK if entry.hands else Ink.PAPER),
        hatch=None if entry.hands else Hatch(spacing_mm=1.2),
        layer="work" if entry.hands else "waiting",
    )
