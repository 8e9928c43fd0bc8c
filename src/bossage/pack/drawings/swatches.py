"""Drawings of colour: scales side by side, a test card at true size.

A patch is never a colour alone: it has its name beside it and a hatching that is the closer the darker it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise

from bossage.brief.records import FadeShape
from bossage.colour.card_sheet import CardSheet
from bossage.colour.difference import delta_e
from bossage.colour.spaces import lab_to_hex
from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Fill, Hatch, Ink, Label, Line, Rect, Shape, Stand, Stroke
from bossage.fade.records import Shade
from bossage.pack.drawings.fit import LEAST_TEXT_MM
from bossage.plan import Plan

MOST_BESIDE = 4  # families on one drawing, so that their names find room
WIDEST_MM, HIGHEST_MM, LEAST_MM = 30.0, 13.0, 3.4
GAP_MM = 0.6
TOUCHING_MM = 25.0
"""Height that two shades edge to edge take on paper, with their names and the space above them."""


def tone(lightness: float) -> Hatch | None:
    """Hatching by CIE lightness: none on the lightest, the closer the darker."""
    if lightness >= 90:
        return None
    # From 4 mm apart just under white to 0.8 mm near black.
    return Hatch(spacing_mm=round(0.8 + 3.2 * max(lightness, 0.0) / 90, 2))


def scale_groups(plan: Plan) -> list[tuple[str, ...]]:
    """Families that go side by side on one drawing; along a path the next drawing begins with the last of this one."""
    names = list(dict.fromkeys(shade.family for shade in plan.fade.shades))
    if len(names) <= MOST_BESIDE:
        return [tuple(names)]
    step = MOST_BESIDE - 1 if plan.brief.fade.shape is FadeShape.PATH else MOST_BESIDE
    starts = range(0, len(names) - (step < MOST_BESIDE), step)
    return [tuple(names[start : start + MOST_BESIDE]) for start in starts]


def scales_drawing(plan: Plan, *, width_mm: float, height_mm: float, only: tuple[str, ...] | None = None) -> Drawing:
    """Families side by side over one axis of lightness; a red line joins two that meet. `only` names some of them."""
    families: dict[str, list[Shade]] = {}
    for shade in plan.fade.shades:
        if only is None or shade.family in only:
            families.setdefault(shade.family, []).append(shade)
    column_mm = width_mm / len(families)
    per_l_mm, patch_mm = _spacing(list(families.values()), height_mm)
    shown = [shade for shades in families.values() for shade in shades]
    low = min(shade.lightness for shade in shown)
    name_mm = max(LEAST_TEXT_MM, min(3.6, 0.9 * patch_mm))
    patch_w = min(WIDEST_MM, 0.42 * column_mm)
    places = {
        shade.name: (number * column_mm, (shade.lightness - low) * per_l_mm)
        for number, shades in enumerate(families.values())
        for shade in shades
    }
    shapes: list[Shape] = []
    top = max(y for _, y in places.values()) + patch_mm + 4.0
    for number, name in enumerate(families):
        at = (number * column_mm, top)
        shapes.append(Label(at=at, text=name, size_mm=4.2, bold=True, align=Align.LEFT, stand=Stand.BOTTOM))
    aside = _aside(families, per_l_mm, name_mm)
    for shade in shown:
        x, y = places[shade.name]
        shapes.append(_patch(shade, x, y, patch_w, patch_mm))
        shapes.append(
            Label(
                at=(x + patch_w + 2 + aside.get(shade.name, 0.0), y + patch_mm / 2),
                text=shade.name,
                size_mm=name_mm,
                align=Align.LEFT,
                layer="names",
            )
        )
    if plan.brief.fade.shape is FadeShape.PATH:
        for (_, first), (_, second) in pairwise(families.items()):
            one, other = first[-1], second[0]
            shapes += _meeting(places[one.name], places[other.name], column_mm, patch_w, patch_mm)
            falls = places[other.name][1] < places[one.name][1] - 1.0
            shapes.append(_meeting_words(one, other, places[other.name], patch_mm, below=falls))
    beside = [pair for pair in meeting_shades(plan) if {shade.family for shade in pair} <= set(families)]
    for number, (one, other) in enumerate(beside):
        row, column = divmod(number, len(families))
        shapes += _touching(one, other, column * column_mm, -(row + 1) * TOUCHING_MM, patch_w)
    return Drawing(
        title="Scales of the families side by side",
        description="Light at the top; a red line joins the shades at which two families meet, and below they lie edge "
        "to edge. Hatching: tone.",
        shapes=tuple(shapes),
    )


def _aside(families: dict[str, list[Shade]], per_l_mm: float, name_mm: float) -> dict[str, float]:
    """How far every second name of a family stands to the right, where steps are too small for one under another."""
    found: dict[str, float] = {}
    for shades in families.values():
        upwards = sorted(shades, key=lambda shade: shade.lightness)
        least = min((b.lightness - a.lightness for a, b in pairwise(upwards)), default=100.0)
        if least * per_l_mm < 0.8 * name_mm:
            wide_mm = max(text_width(shade.name) for shade in shades) * name_mm + 2
            found |= {shade.name: wide_mm for shade in upwards[1::2]}
    return found


def meeting_shades(plan: Plan) -> list[tuple[Shade, Shade]]:
    """Shades of two families that come to lie side by side: along a path in its order, else all outermost ones."""
    families: dict[str, list[Shade]] = {}
    for shade in plan.fade.shades:
        families.setdefault(shade.family, []).append(shade)
    if plan.brief.fade.shape is FadeShape.PATH:
        return [(first[-1], second[0]) for first, second in pairwise(families.values())]
    if plan.brief.fade.shape is FadeShape.FREE:
        return [(first[-1], second[-1]) for first, second in combinations(families.values(), 2)]
    return []


def card_drawing(sheet: CardSheet, mixes: Mapping[str, str]) -> Drawing:
    """The sheet that a photo is read from, at true size: marks, greys, and fields with their names and mixes."""
    top = sheet.height_mm  # the drawing's y runs up, the sheet's down
    shapes: list[Shape] = [
        Rect(x_mm=0, y_mm=0, width_mm=sheet.width_mm, height_mm=top, stroke=Stroke.THIN, layer="sheet")
    ]
    for number, (x, y) in enumerate(sheet.mark_centres_mm.tolist()):
        shapes.append(_square(x, top - y, sheet.mark_mm, "#000000"))
        if number == 0:
            shapes.append(_square(x, top - y, sheet.hole_mm, "#FFFFFF"))
    for field in sheet.fields:
        grey = field.grey_lightness
        shapes.append(
            Rect(
                x_mm=field.x_mm,
                y_mm=top - field.y_mm - field.height_mm,
                width_mm=field.width_mm,
                height_mm=field.height_mm,
                stroke=Stroke.THIN,
                fill=None if grey is None else Fill(colour=lab_to_hex((grey, 0.0, 0.0))),
                layer="greys" if grey is not None else "fields",
                name=field.name,
            )
        )
        x, y, width, _ = sheet.label_box_mm(field)
        lines = [(field.name, 0.4, 3.2, True)]
        for number, text in enumerate(_lines(mixes.get(field.name, ""), width - 0.8)):
            lines.append((text, 4.3 + 2.9 * number, 2.8, False))
        for text, down, size, bold in lines:
            fits = min(size, (width - 0.8) / text_width(text, bold=bold))
            shapes.append(
                Label(
                    at=(x + width / 2, top - y - down),
                    text=text,
                    size_mm=max(LEAST_TEXT_MM, fits),
                    bold=bold,
                    align=Align.MIDDLE,
                    stand=Stand.TOP,
                    layer="names",
                )
            )
    return Drawing(
        title="Test card sheet",
        description="Four black marks, a row of greys, and fields to be covered: " + ", ".join(mixes) + ".",
        shapes=tuple(shapes),
    )


def _lines(text: str, width_mm: float) -> list[str]:
    """A mix on as few lines as hold it in type that can be read."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer) * LEAST_TEXT_MM > width_mm:
            lines.append(word)
        else:
            lines[-1:] = [longer]
    return lines


def _square(x: float, y: float, side_mm: float, colour: str) -> Rect:
    return Rect(
        x_mm=x - side_mm / 2,
        y_mm=y - side_mm / 2,
        width_mm=side_mm,
        height_mm=side_mm,
        stroke=None,
        fill=Fill(colour=colour),
        layer="marks",
    )


def _touching(one: Shade, other: Shade, x: float, y: float, patch_w: float) -> list[Shape]:
    """Two shades edge to edge, as they will be seen, with their names below: a difference shows at a shared edge."""
    height = TOUCHING_MM - 13.0
    names = [(one.name, x, Align.LEFT, 0.0), (other.name, x + 2 * patch_w, Align.RIGHT, 0.0)]
    if 3.2 * (text_width(one.name) + text_width(other.name)) > 2 * patch_w - 2:
        names[1] = (other.name, x, Align.LEFT, 3.4)
    return [
        _patch(one, x, y + 7.4, patch_w, height),
        _patch(other, x + patch_w, y + 7.4, patch_w, height),
        *(
            Label(at=(at, y + 5.6 - down), text=text, size_mm=3.2, align=align, stand=Stand.TOP, layer="names")
            for text, at, align, down in names
        ),
    ]


def _patch(shade: Shade, x: float, y: float, width_mm: float, height_mm: float) -> Rect:
    return Rect(
        x_mm=x,
        y_mm=y,
        width_mm=width_mm,
        height_mm=height_mm,
        stroke=Stroke.THIN,
        fill=Fill(colour=shade.colour_hex),
        hatch=tone(shade.lightness),
        layer="shades",
        name=shade.name,
    )


def _spacing(families: Sequence[Sequence[Shade]], height_mm: float) -> tuple[float, float]:
    """Millimetres on paper for one of lightness, and the height of a patch, so that no two patches meet."""
    every = [shade.lightness for shades in families for shade in shades]
    span = max(every) - min(every)
    steps = [b - a for shades in families for a, b in pairwise(sorted(shade.lightness for shade in shades))]
    least = min((step for step in steps if step > 0), default=10.0)
    per_l = min((height_mm - HIGHEST_MM - 10) / span if span else 1.0, (HIGHEST_MM + 3) / least)
    return per_l, max(min(HIGHEST_MM, per_l * least - GAP_MM), min(LEAST_MM, per_l * least))


def _meeting(
    first: tuple[float, float], second: tuple[float, float], column_mm: float, patch_w: float, patch_mm: float
) -> list[Shape]:
    """From the name of the one to the patch of the other; a short bar at both ends."""
    y1, y2 = first[1] + patch_mm / 2, second[1] + patch_mm / 2
    start, end = max(first[0] + patch_w + 20.0, second[0] - 0.3 * column_mm), second[0] - 1.0
    bar = 2.2
    return [
        Line(start=(start, y1), end=(end, y2), stroke=Stroke.PENCIL, layer="meeting"),
        Line(start=(start, y1 - bar), end=(start, y1 + bar), stroke=Stroke.PENCIL, layer="meeting"),
        Line(start=(end, y2 - bar), end=(end, y2 + bar), stroke=Stroke.PENCIL, layer="meeting"),
    ]


def _meeting_words(one: Shade, other: Shade, at: tuple[float, float], patch_mm: float, *, below: bool) -> Label:
    """How far apart the two that meet are, at the line's end at the second, on the side that the line does not take."""
    apart = float(delta_e(one.lab, other.lab))
    return Label(
        at=(at[0] - 2.0, at[1] + patch_mm / 2 + (-3.0 if below else 3.0)),
        text=f"meet: ΔL {abs(other.lightness - one.lightness):.1f}, ΔE {apart:.1f}",
        size_mm=2.8,
        align=Align.RIGHT,
        stand=Stand.TOP if below else Stand.BOTTOM,
        ink=Ink.PENCIL,
        layer="meeting",
    )
