"""The piece on a photo of its wall: a plane through four points, the lit picture laid into it.

A photo shows a wall as a plane seen in perspective, so wall and photo are tied by a homography: eight numbers, found
from four points whose places on the wall are known. Source: Hartley and Zisserman, Multiple View Geometry, 2nd ed.
2004, section 4.1 (direct linear transformation) [from memory].

Leaves out: that the piece stands off the wall. Its picture lies in the plane of the wall, so from far aside its faces
are drawn a little nearer to the wall's own place than they would be seen. Nor is the camera's lens straightened.
"""

from __future__ import annotations

import io
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from bossage.drawing.box import Box
from bossage.drawing.picture import Scene, lit_picture
from bossage.errors import BossageError
from bossage.pack.scene import light_of, solids_of
from bossage.plan import Plan

FloatArray = NDArray[np.float64]
Points = Sequence[tuple[float, float]]

SHADOW_MM = 160.0  # round the piece, so far the picture is darkened by its shadow
LEAST_SPREAD = 0.002  # of the photo's area that three of the four points must enclose
PX_MOST = 9_000_000  # of the picture that is laid in


class NoPlane(BossageError):
    """Four points that do not tell where the wall is."""


def homography(places_mm: Points, points_px: Points) -> FloatArray:
    """The 3 × 3 matrix that takes places on the wall (x right, y up) to points of the photo (x right, y down).

    Raises:
        NoPlane: Three of the points lie on one line, or all lie close together.
    """
    here, there = np.asarray(places_mm, dtype=np.float64), np.asarray(points_px, dtype=np.float64)
    for points in (here, there):
        span = max(np.ptp(points[:, 0]), np.ptp(points[:, 1]), 1e-9)
        for left_out in range(4):
            a, b, c = np.delete(points, left_out, axis=0)
            if abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) < LEAST_SPREAD * span**2:
                raise NoPlane(
                    "Three of the four points lie nearly on one line. Mark four that span a wide quadrangle, such as "
                    "the corners of what is to be hidden, in the order that is asked for."
                )
    first, second = _normal(here), _normal(there)
    p, q = _applied(first, here), _applied(second, there)
    rows = []
    for (x, y), (u, v) in zip(p, q, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, -u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, -v])
    _, _, right = np.linalg.svd(np.array(rows))
    found = np.linalg.inv(second) @ right[-1].reshape(3, 3) @ first
    depth = _depth(found, here)
    scaled: FloatArray = found / np.linalg.norm(found) * np.sign(depth.sum())  # what is seen lies at positive depth
    if np.min(depth) < 0 < np.max(depth):
        raise NoPlane("The four points cross over. Mark them in the order that is asked for, round the quadrangle.")
    return scaled


def piece_on_photo(photo: NDArray[np.uint8], matrix: FloatArray, plan: Plan) -> NDArray[np.uint8]:
    """The photo with the piece on it, lit from the side that the brief names.

    Args:
        photo: Rows from the top, sRGB bytes, height × width × 3.
        matrix: From the wall (mm) to the photo, see `homography`.
        plan: The plan; of a series, its first copy.

    Raises:
        NoPlane: The piece would hang outside of the photo.
    """
    layout = plan.layout
    piece = Box(
        left_mm=layout.x_nm / 1e6,
        bottom_mm=layout.y_nm / 1e6,
        right_mm=(layout.x_nm + layout.width_nm) / 1e6,
        top_mm=(layout.y_nm + layout.height_nm) / 1e6,
    )
    window = piece.grown(SHADOW_MM)
    rows, columns = photo.shape[:2]
    left, top, right, bottom = _covered(matrix, window, piece, rows, columns)
    px_per_mm = _px_per_mm(matrix, piece, window)
    scene = Scene(window=window, wall=(1.0, 1.0, 1.0), solids=solids_of(plan))
    lit = lit_picture(scene, px_per_mm=px_per_mm, light=light_of(plan.brief)).astype(np.float64) / 255
    solid = _solid_share(scene, px_per_mm, lit.shape[:2])

    down, across = np.mgrid[top:bottom, left:right]
    back = np.asarray(np.linalg.inv(matrix), dtype=np.float64)
    wall = _applied(back, np.stack([across.ravel() + 0.5, down.ravel() + 0.5], axis=1))
    x = (wall[:, 0] - window.left_mm) * px_per_mm - 0.5
    y = (window.top_mm - wall[:, 1]) * px_per_mm - 0.5
    inside = (x > -0.5) & (x < lit.shape[1] - 0.5) & (y > -0.5) & (y < lit.shape[0] - 0.5)
    out = photo.copy()
    part = out[top:bottom, left:right].reshape(-1, 3)
    seen = _sampled(lit, x[inside], y[inside])
    share = _sampled(solid[:, :, None], x[inside], y[inside])
    behind = part[inside].astype(np.float64) / 255
    # on the wall the picture is white where light falls and darker in shadow: the photo is darkened as much
    shaded = _to_srgb(_to_linear(behind) * _to_linear(seen))
    part[inside] = np.rint(255 * np.clip(share * seen + (1 - share) * shaded, 0, 1)).astype(np.uint8)
    out[top:bottom, left:right] = part.reshape(bottom - top, right - left, 3)
    return out


def photo_array(image: bytes) -> NDArray[np.uint8]:
    """The pixels of a photo that was cleaned before."""
    from PIL import Image

    with Image.open(io.BytesIO(image), formats=("JPEG",)) as opened:
        return np.array(opened.convert("RGB"), dtype=np.uint8)


def png_of(picture: NDArray[np.uint8]) -> bytes:
    """A picture as a PNG file."""
    from PIL import Image

    out = io.BytesIO()
    Image.fromarray(picture).save(out, "PNG", compress_level=4)
    return out.getvalue()


def _covered(matrix: FloatArray, window: Box, piece: Box, rows: int, columns: int) -> tuple[int, int, int, int]:
    """The part of the photo that may change: left, top, right, bottom, in whole pixels."""
    corners = np.array([(x, y) for x in (piece.left_mm, piece.right_mm) for y in (piece.bottom_mm, piece.top_mm)])
    if np.min(_depth(matrix, corners)) <= 0:
        raise NoPlane("The piece would hang behind the camera. Look at the four points and their places again.")
    around = np.array([(x, y) for x in (window.left_mm, window.right_mm) for y in (window.bottom_mm, window.top_mm)])
    # the shadow's margin may reach past the horizon where the piece does not
    seen = _applied(matrix, around if np.min(_depth(matrix, around)) > 0 else corners)
    left, top = np.floor(seen.min(axis=0))
    right, bottom = np.ceil(seen.max(axis=0))
    box = max(0, int(left)), max(0, int(top)), min(columns, int(right)), min(rows, int(bottom))
    if box[0] >= box[2] or box[1] >= box[3]:
        raise NoPlane("The piece would hang outside of the photo. Take one that shows more of the wall.")
    return box


def _px_per_mm(matrix: FloatArray, piece: Box, window: Box) -> float:
    """As fine as the photo shows the piece where it is nearest, within what can be painted."""
    corners = np.array(
        [
            (piece.left_mm, piece.bottom_mm),
            (piece.right_mm, piece.bottom_mm),
            (piece.right_mm, piece.top_mm),
            (piece.left_mm, piece.top_mm),
        ]
    )
    seen = _applied(matrix, corners)
    sides_px = np.linalg.norm(seen - np.roll(seen, -1, axis=0), axis=1)
    sides_mm = np.linalg.norm(corners - np.roll(corners, -1, axis=0), axis=1)
    most = float(np.sqrt(PX_MOST / (window.width_mm * window.height_mm)))
    return float(min(max(0.05, np.max(sides_px / sides_mm)), most))


def _solid_share(scene: Scene, px_per_mm: float, shape: tuple[int, ...]) -> FloatArray:
    """How much of each pixel is the piece and not the wall."""
    fine = 2
    mask = np.zeros((shape[0] * fine, shape[1] * fine))
    solids, window, scale = scene.solids, scene.window, px_per_mm * fine
    for x0, x1, y0, y1 in zip(solids.left_mm, solids.right_mm, solids.bottom_mm, solids.top_mm, strict=True):
        left, right = (round((side - window.left_mm) * scale) for side in (x0, x1))
        top, bottom = (round((window.top_mm - side) * scale) for side in (y1, y0))
        mask[max(0, top) : max(0, bottom), max(0, left) : max(0, right)] = 1
    share: FloatArray = mask.reshape(shape[0], fine, shape[1], fine).mean(axis=(1, 3))
    return share


def _sampled(picture: FloatArray, x: FloatArray, y: FloatArray) -> FloatArray:
    """Values between pixels, straight in x and y; the edge goes on outside."""
    rows, columns = picture.shape[:2]
    x, y = np.clip(x, 0, columns - 1), np.clip(y, 0, rows - 1)
    left, top = np.minimum(x.astype(int), columns - 2), np.minimum(y.astype(int), rows - 2)
    fx, fy = (x - left)[:, None], (y - top)[:, None]
    above = picture[top, left] * (1 - fx) + picture[top, left + 1] * fx
    below = picture[top + 1, left] * (1 - fx) + picture[top + 1, left + 1] * fx
    mean: FloatArray = above * (1 - fy) + below * fy
    return mean


def _applied(matrix: FloatArray, places: FloatArray) -> FloatArray:
    ends = np.column_stack([places, np.ones(len(places))]) @ matrix.T
    flat: FloatArray = ends[:, :2] / ends[:, 2:]
    return flat


def _depth(matrix: FloatArray, places: FloatArray) -> FloatArray:
    depth: FloatArray = np.column_stack([places, np.ones(len(places))]) @ matrix[2]
    return depth


def _normal(points: FloatArray) -> FloatArray:
    """Moves the middle to 0 and the mean distance to √2, without which the eight equations are badly scaled."""
    middle = points.mean(axis=0)
    scale = np.sqrt(2) / np.mean(np.linalg.norm(points - middle, axis=1))
    return np.array([[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1]])


def _to_linear(srgb: FloatArray) -> FloatArray:
    from bossage.colour.spaces import srgb_to_linear

    return srgb_to_linear(srgb)


def _to_srgb(linear: FloatArray) -> FloatArray:
    from bossage.colour.spaces import linear_to_srgb

    return linear_to_srgb(linear)
