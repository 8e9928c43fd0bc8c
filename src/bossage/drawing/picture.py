"""The lit picture: a relief seen square from the front, with the shadows that its heights cast on it and on the wall.

Light comes from one side as parallel rays. A place lies in shadow if somewhere towards the light the relief stands
higher than the ray: with s the distance towards the light and e its elevation, if any height there exceeds
h + Δs · tan e. Walking the picture column by column from the light with the running maximum of h − s · tan e
answers that for every place at once; on upright boxes it is right to a pixel. Colours are linear light, so that
adding light and averaging pixels are honest; a face in full light has exactly the colour of its paint.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bossage.drawing.box import Box

FloatArray = NDArray[np.floating]
Rgb = tuple[float, float, float]

#: How far the soft edge of a shadow spreads: rays within so many degrees of the light, on both sides.
SPREAD_DEG = 3.0

#: Tilt and turn of the rays of soft light over that spread, drawn against each other so that no two edges of shadow
#: fall together.
RAYS = tuple(
    (tilt / 4, turn)
    for tilt, turn in ((-4, 0.3), (-3, -0.8), (-2, 0.9), (-1, -0.4), (0, 0.0), (1, 1.0), (2, -0.9), (3, 0.6), (4, -0.3))
)

#: Two rings round a place within which taller things take soft light from it, mm.
SOFT_REACH_MM = (8.0, 40.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """Parallel light. `azimuth_deg` says where it comes from: 0 from the right, 90 from above, 180 from the left.

    `elevation_deg` is its angle to the wall; `ambient` the share that reaches shadows.
    """

    azimuth_deg: float = 125.0
    elevation_deg: float = 38.0
    ambient: float = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Solids:
    """Upright boxes on the wall, later ones over earlier ones; heights from the wall, colours linear RGB."""

    left_mm: FloatArray
    bottom_mm: FloatArray
    right_mm: FloatArray
    top_mm: FloatArray
    height_mm: FloatArray
    colour: FloatArray  # n × 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Flat:
    """Something that stands round the piece and is drawn quietly: furniture, floor. Neither casts nor takes shadows."""

    box: Box
    colour: Rgb
    edge: Rgb | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What the picture shows: a window on the wall, its colour, the relief, quiet things behind and before it."""

    window: Box
    wall: Rgb
    solids: Solids
    behind: tuple[Flat, ...] = ()
    before: tuple[Flat, ...] = ()


def lit_picture(
    scene: Scene,
    *,
    px_per_mm: float,
    light: Light | None = None,
    fine_n: int = 2,
    soft: bool = True,
    arris_mm: float = 1.2,
) -> NDArray[np.uint8]:
    """The picture as sRGB bytes, rows from the top.

    Args:
        scene: What is seen.
        px_per_mm: Pixels a millimetre of wall.
        light: Where it comes from; from the upper left if not said.
        fine_n: Every pixel is the mean of `fine_n` × `fine_n` finer ones.
        soft: Soft shadow edges from several rays; else one ray and hard edges.
        arris_mm: Width of the broken edge of every block, which catches the light.
    """
    sun = light or Light()
    window = scene.window
    rows, columns = max(1, round(window.height_mm * px_per_mm)), max(1, round(window.width_mm * px_per_mm))
    seen = np.empty((rows, columns, 3), dtype=np.float32)
    seen[:] = scene.wall
    for thing in scene.behind:
        _lay_flat(seen, thing, window, px_per_mm)
    if scene.solids.height_mm.size:
        _lay_relief(seen, scene, px_per_mm, fine_n, sun, soft, arris_mm)
    for thing in scene.before:
        _lay_flat(seen, thing, window, px_per_mm)
    return _srgb_bytes(seen)


def shadow(heights_mm: FloatArray, *, px_per_mm: float, light: Light) -> NDArray[np.bool_]:
    """Where a field of heights lies in its own shadow; row 0 is the top.

    Args:
        heights_mm: Height of every pixel over the wall.
        px_per_mm: Pixels a millimetre.
        light: Its direction; the elevation must lie between 0 and 90 degrees.
    """
    if not 0 < light.elevation_deg < 90:
        return np.zeros(heights_mm.shape, dtype=bool)
    rise = math.tan(math.radians(light.elevation_deg)) / px_per_mm  # mm a pixel
    # Towards the light, in columns to the right and rows downwards.
    right, down = math.cos(math.radians(light.azimuth_deg)), -math.sin(math.radians(light.azimuth_deg))
    if abs(right) >= abs(down):
        return _swept(heights_mm, right, down, rise)
    return _swept(heights_mm.T, down, right, rise).T


def png_bytes(picture: NDArray[np.uint8], *, px_per_mm: float) -> bytes:
    """The picture as a PNG file that knows its scale; the same bytes for the same picture."""
    from io import BytesIO

    from PIL import Image

    file = BytesIO()
    per_inch = px_per_mm * 25.4
    Image.fromarray(picture).save(file, format="PNG", compress_level=6, dpi=(per_inch, per_inch))
    return file.getvalue()


def linear(hex_colour: str) -> Rgb:
    """Linear light of an sRGB colour `#rrggbb` (IEC 61966-2-1)."""
    channels = [int(hex_colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return (red, green, blue)


def _swept(field: FloatArray, major: float, minor: float, rise: float) -> NDArray[np.bool_]:
    """Shadow with the light's direction nearer to the columns' axis (`major`) than to the rows' (`minor`)."""
    rows, columns = field.shape
    step = np.arange(columns)
    level = np.array(field.T, dtype=np.float32, order="C")  # a column at a time lies together in memory
    level -= (step * (major * rise)).astype(np.float32)[:, None]
    level -= (np.arange(rows) * (minor * rise)).astype(np.float32)[None, :]
    shift = np.rint(step * (minor / major)).astype(np.int64)  # rows that a ray has moved by, at each column
    shift -= int(shift.max())
    horizon = np.full(rows - int(shift.min()), -np.inf, dtype=np.float32)
    dark = np.zeros((columns, rows), dtype=bool)
    order = reversed(range(columns)) if major > 0 else range(columns)
    for column in order:
        start = -int(shift[column])
        ray = horizon[start : start + rows]
        np.less(level[column], ray, out=dark[column])
        np.maximum(ray, level[column], out=ray)
    return dark.T


def _lay_relief(
    seen: FloatArray, scene: Scene, px_per_mm: float, fine_n: int, sun: Light, soft: bool, arris_mm: float
) -> None:
    """Lights the relief and the wall as far as its shadow reaches, on the picture's own grid of pixels."""
    window = scene.window
    tallest_mm = float(scene.solids.height_mm.max())
    lowest_deg = max(1.0, sun.elevation_deg - SPREAD_DEG)
    reach_mm = tallest_mm / math.tan(math.radians(lowest_deg)) + 2 * SOFT_REACH_MM[-1]
    # What stands outside the window still casts its shadow in; what stands farther off than that is not lit at all.
    near = window.grown(reach_mm)
    solids = _near(scene.solids, near)
    if not solids.height_mm.size:
        return
    scene = replace(scene, solids=solids)
    left = math.floor((max(float(solids.left_mm.min()) - reach_mm, near.left_mm) - window.left_mm) * px_per_mm)
    right = math.ceil((min(float(solids.right_mm.max()) + reach_mm, near.right_mm) - window.left_mm) * px_per_mm)
    top = math.floor((window.top_mm - min(float(solids.top_mm.max()) + reach_mm, near.top_mm)) * px_per_mm)
    bottom = math.ceil((window.top_mm - max(float(solids.bottom_mm.min()) - reach_mm, near.bottom_mm)) * px_per_mm)
    part = Box(
        left_mm=window.left_mm + left / px_per_mm,
        right_mm=window.left_mm + right / px_per_mm,
        top_mm=window.top_mm - top / px_per_mm,
        bottom_mm=window.top_mm - bottom / px_per_mm,
    )
    fine = px_per_mm * fine_n
    heights_mm, paint, facing = _rastered(scene, part, fine, sun, arris_mm)
    lit = _light_share(heights_mm, fine, sun, soft)
    # The soft light changes slowly from place to place: the picture's own pixels are fine enough for it.
    air = _openness(heights_mm[::fine_n, ::fine_n], px_per_mm).repeat(fine_n, axis=0).repeat(fine_n, axis=1)
    shade = lit
    shade *= facing
    shade *= 1 - sun.ambient
    shade += sun.ambient * air
    paint *= shade[:, :, None]
    mean = _thinned(paint, fine_n)
    rows, columns = seen.shape[:2]
    in_rows, in_columns = slice(max(0, top), min(rows, bottom)), slice(max(0, left), min(columns, right))
    seen[in_rows, in_columns] = mean[
        in_rows.start - top : max(in_rows.stop, in_rows.start) - top,
        in_columns.start - left : max(in_columns.stop, in_columns.start) - left,
    ]


def _near(solids: Solids, box: Box) -> Solids:
    """Those solids that reach into a box, cut at its sides."""
    left_mm, right_mm = np.maximum(solids.left_mm, box.left_mm), np.minimum(solids.right_mm, box.right_mm)
    bottom_mm, top_mm = np.maximum(solids.bottom_mm, box.bottom_mm), np.minimum(solids.top_mm, box.top_mm)
    kept = (left_mm < right_mm) & (bottom_mm < top_mm)
    return Solids(
        left_mm=left_mm[kept],
        bottom_mm=bottom_mm[kept],
        right_mm=right_mm[kept],
        top_mm=top_mm[kept],
        height_mm=solids.height_mm[kept],
        colour=solids.colour[kept],
    )


def _rastered(
    scene: Scene, window: Box, fine: float, sun: Light, arris_mm: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    rows, columns = round(window.height_mm * fine), round(window.width_mm * fine)
    heights_mm = np.zeros((rows, columns), dtype=np.float32)
    facing = np.ones((rows, columns), dtype=np.float32)
    paint = np.empty((rows, columns, 3), dtype=np.float32)
    paint[:] = scene.wall
    for thing in scene.behind:
        _lay_flat(paint, thing, window, fine)
    solids = scene.solids
    lefts = np.clip(np.rint((solids.left_mm - window.left_mm) * fine), 0, columns).astype(int).tolist()
    rights = np.clip(np.rint((solids.right_mm - window.left_mm) * fine), 0, columns).astype(int).tolist()
    tops = np.clip(np.rint((window.top_mm - solids.top_mm) * fine), 0, rows).astype(int).tolist()
    bottoms = np.clip(np.rint((window.top_mm - solids.bottom_mm) * fine), 0, rows).astype(int).tolist()
    arris = max(1, round(arris_mm * fine)) if arris_mm > 0 else 0
    to_right, to_top = _arris_light(sun)
    for left, right, top, bottom, height_mm, colour in zip(
        lefts, rights, tops, bottoms, solids.height_mm.tolist(), solids.colour, strict=True
    ):
        heights_mm[top:bottom, left:right] = height_mm
        paint[top:bottom, left:right] = colour
        facing[top:bottom, left:right] = 1.0
        if arris and min(right - left, bottom - top) > 6 * arris:
            facing[top:bottom, left : left + arris] = 2 - to_right
            facing[top:bottom, right - arris : right] = to_right
            facing[top : top + arris, left:right] = to_top
            facing[bottom - arris : bottom, left:right] = 2 - to_top
    return heights_mm, paint, facing


def _arris_light(sun: Light) -> tuple[float, float]:
    """How much brighter than the face a broken edge on the right, or on top, is; mild, so that shades stay true."""
    flat = math.tan(math.radians(sun.elevation_deg))
    right = math.cos(math.radians(sun.azimuth_deg)) / flat
    top = math.sin(math.radians(sun.azimuth_deg)) / flat
    return (1 + max(-0.3, min(0.3, 0.3 * right)), 1 + max(-0.3, min(0.3, 0.3 * top)))


def _light_share(heights_mm: FloatArray, fine: float, sun: Light, soft: bool) -> FloatArray:
    """Share of the light that reaches each pixel: the mean over a few rays round its direction."""
    rays = RAYS if soft else ((0.0, 0.0),)
    share = np.zeros(heights_mm.shape, dtype=np.float32)
    for tilt, turn in rays:
        ray = Light(
            azimuth_deg=sun.azimuth_deg + turn * SPREAD_DEG,
            elevation_deg=min(89.0, max(1.0, sun.elevation_deg + tilt * SPREAD_DEG)),
            ambient=sun.ambient,
        )
        share += ~shadow(heights_mm, px_per_mm=fine, light=ray)
    return share / len(rays)


def _openness(heights_mm: FloatArray, fine: float) -> FloatArray:
    """How much of the room's soft light reaches a place: less at the foot of what stands round it."""
    open_share = np.ones(heights_mm.shape, dtype=np.float32)
    for reach_mm in SOFT_REACH_MM:
        radius = max(1, round(reach_mm * fine))
        deeper_mm = np.maximum(0.0, _box_mean(heights_mm, radius) - heights_mm)
        open_share -= 0.22 * deeper_mm / (deeper_mm + reach_mm)
    return open_share


def _thinned(paint: FloatArray, fine_n: int) -> FloatArray:
    """Mean of each square of fine pixels; summed by strides, several times faster than a mean over two axes."""
    total = paint[::fine_n, ::fine_n].copy()
    for down in range(fine_n):
        for across in range(fine_n):
            if down or across:
                total += paint[down::fine_n, across::fine_n]
    return total / fine_n**2


def _box_mean(field: FloatArray, radius: int) -> FloatArray:
    """Mean over a square of `2 radius + 1` pixels, the field going on outside as it ends."""
    mean = field
    span = 2 * radius + 1
    for _ in range(2):
        padded = np.pad(mean, ((radius + 1, radius), (0, 0)), mode="edge")
        # Sums in double: a running sum of a thousand singles would drift.
        total = np.cumsum(padded, axis=0, dtype=np.float64)
        mean = ((total[span:] - total[:-span]) / span).astype(np.float32).T
    return mean


def _lay_flat(paint: FloatArray, thing: Flat, window: Box, fine: float) -> None:
    rows, columns = paint.shape[:2]
    left, right = (
        min(max(round((side - window.left_mm) * fine), 0), columns) for side in (thing.box.left_mm, thing.box.right_mm)
    )
    top, bottom = (
        min(max(round((window.top_mm - side) * fine), 0), rows) for side in (thing.box.top_mm, thing.box.bottom_mm)
    )
    if right <= left or bottom <= top:
        return
    if thing.edge is None:
        paint[top:bottom, left:right] = thing.colour
        return
    line = max(1, round(2.0 * fine))
    paint[top:bottom, left:right] = thing.edge
    paint[top + line : bottom - line, left + line : right - line] = thing.colour


def _srgb_bytes(light: FloatArray) -> NDArray[np.uint8]:
    """IEC 61966-2-1, by a table of 4096 steps: off by less than half a byte step anywhere that shows."""
    steps = np.linspace(0, 1, 4096)
    table = np.where(steps <= 0.0031308, steps * 12.92, 1.055 * np.power(steps, 1 / 2.4) - 0.055)
    index = np.clip(np.rint(light * 4095), 0, 4095).astype(np.int64)
    found: NDArray[np.uint8] = np.rint(table * 255).astype(np.uint8)[index]
    return found
