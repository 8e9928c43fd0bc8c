"""The icon of the program: nine blocks of three heights, from moss to cream, in light that rakes from the left.

Drawn by ours, for the menu of a system, the corner of a window and the tab of a browser. The shapes are the same as
SVG and as pixels.
"""

from __future__ import annotations

import io
from dataclasses import dataclass

SIZE = 96  # units of the drawing, a side
_CELL, _EDGE, _FROM = 28, 2, 6
_ROUND = 14  # radius of the ground's corners
_GROUND = "#2f2b26"
# No two neighbours are alike, as on the wall; a step is so wide a shadow.
_LEVELS = ((2, 0, 1), (0, 1, 2), (1, 2, 0))
_STEP = 3
_SHADES = ("#4d6148", "#748a69", "#a2b192", "#cdd2ba", "#eeecdd")
_LIT, _SHADED = 0.35, 0.45  # how much of white, of black an edge takes


@dataclass(frozen=True, slots=True)
class Patch:
    """A rectangle of one colour, in units of the drawing from its upper left corner."""

    x: float
    y: float
    width: float
    height: float
    colour: str


def icon_patches() -> tuple[Patch, ...]:
    """What lies on the ground, from the back to the front."""
    found: list[Patch] = []
    for row, levels in enumerate(_LEVELS):
        for column, level in enumerate(levels):
            x, y = _FROM + column * _CELL, _FROM + row * _CELL
            shade = _SHADES[row + column]
            found.append(Patch(x, y, _CELL, _CELL, shade))
            found.append(Patch(x, y, _EDGE, _CELL, _mixed(shade, "#ffffff", _LIT)))
            found.append(Patch(x, y + _CELL - _EDGE, _CELL, _EDGE, _mixed(shade, "#000000", _SHADED)))
            left = levels[column - 1] - level if column else 0
            if left > 0:  # the taller neighbour keeps the light off
                found.append(Patch(x, y, left * _STEP, _CELL, _mixed(shade, "#000000", _SHADED)))
    return tuple(found)


def icon_svg() -> bytes:
    """The icon as SVG."""
    shapes = [
        f'<rect x="{one.x}" y="{one.y}" width="{one.width}" height="{one.height}" fill="{one.colour}"/>'
        for one in icon_patches()
    ]
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE} {SIZE}" width="{SIZE}" height="{SIZE}">'
    ground = f'<rect width="{SIZE}" height="{SIZE}" rx="{_ROUND}" fill="{_GROUND}"/>'
    return "\n".join([head, ground, *shapes, "</svg>", ""]).encode("ascii")


def icon_png(side_px: int) -> bytes:
    """The icon in pixels; the same bytes at any time."""
    from PIL import Image, ImageDraw

    scale = 4 * side_px / SIZE  # drawn four times as large, so that edges between pixels come out soft
    image = Image.new("RGBA", (4 * side_px, 4 * side_px))
    draw = ImageDraw.Draw(image)
    draw.rounded_rectangle((0, 0, 4 * side_px - 1, 4 * side_px - 1), radius=_ROUND * scale, fill=_GROUND)
    for one in icon_patches():
        right, bottom = (one.x + one.width) * scale - 1, (one.y + one.height) * scale - 1
        draw.rectangle((one.x * scale, one.y * scale, right, bottom), fill=one.colour)
    out = io.BytesIO()
    image.resize((side_px, side_px), Image.Resampling.BOX).save(out, "PNG")
    return out.getvalue()


def _mixed(colour: str, other: str, share: float) -> str:
    pairs = zip(_parts(colour), _parts(other), strict=True)
    return "#" + "".join(f"{round(one + (two - one) * share):02x}" for one, two in pairs)


def _parts(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
