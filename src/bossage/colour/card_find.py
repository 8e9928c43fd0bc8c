"""Finding the sheet's four marks in a photo, and going from millimetres on the sheet to pixels."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from math import inf
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bossage.colour.card_sheet import CardSheet
from bossage.colour.spaces import FloatArray
from bossage.errors import BossageError

_CANDIDATES_MOST: Final = 60
# Seen at a slant the far marks are smaller, and a frame is not as long as it should be: by so much at most.
_UNLIKE, _FAR = 2.5, 1.6
_MISFIT_MOST: Final = 0.7
# The mark's hole is a fifth of it; a box to tick is nearly all hole.
_HOLE_LEAST, _HOLE_MOST = 0.06, 0.5
_Spot = tuple[float, float, float, bool]  # x, y, area with any hole filled, whether there is a hole
_WORK_PX: Final = 700  # marks are found on a picture made about this wide; more pixels would not find them better


def homography(from_points: FloatArray, to_points: FloatArray) -> FloatArray:
    """3 x 3 matrix of the plane-to-plane view that takes four points to four others."""
    rows, right = [], []
    for (x, y), (u, v) in zip(from_points, to_points, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    try:
        h = np.linalg.solve(np.array(rows, dtype=np.float64), np.array(right, dtype=np.float64))
    except np.linalg.LinAlgError as error:
        raise BossageError("Three of the four corners lie in one line; give the centres of the four marks.") from error
    return np.append(h, 1.0).reshape(3, 3)


def onto_photo(H: FloatArray, points: FloatArray) -> FloatArray:
    """Points moved by a homography."""
    p = np.concatenate([points, np.ones((len(points), 1))], axis=1) @ H.T
    return np.asarray(p[:, :2] / p[:, 2:])


def find_marks(photo: NDArray[np.uint8], sheet: CardSheet) -> FloatArray:
    """Centres of the four marks in pixels: upper left (the one with a hole), upper right, lower right, lower left.

    Raises:
        BossageError: Four marks of one size, one of them with a hole, are not in the photo.
    """
    skip = max(1, round(photo.shape[1] / _WORK_PX))
    tone = photo[::skip, ::skip].astype(np.float64).mean(axis=2)
    spots = _candidates(tone)
    best: tuple[tuple[int, float], FloatArray] | None = None
    for holed in (spot for spot in spots if spot[3]):
        for four in _frames(holed, spots, sheet):
            centres = np.array([spot[:2] for spot in four])
            misfit = _misfit(centres, np.array([spot[2] for spot in four]), sheet)
            if misfit > _MISFIT_MOST:
                continue
            score = (_greys_out_of_order(tone, centres, sheet), misfit)
            if best is None or score < best[0]:
                best = (score, centres)
    if best is None:
        raise BossageError(
            "The four black marks of the sheet cannot be found. Photograph the whole sheet from straight above, or "
            "give the centres of its marks, the one with the hole first and then clockwise."
        )
    return np.asarray(best[1] * skip)


def _frames(holed: _Spot, spots: list[_Spot], sheet: CardSheet) -> Iterator[tuple[_Spot, _Spot, _Spot, _Spot]]:
    """Four spots, clockwise from the one with the hole, that could be the marks by their size and distances."""
    like = [spot for spot in spots if not spot[3] and holed[2] / _UNLIKE < spot[2] < holed[2] * _UNLIKE]
    px_per_mm = float(np.sqrt(holed[2])) / sheet.mark_mm
    marks = sheet.mark_centres_mm
    corners = []
    for corner in (1, 2, 3):
        far = px_per_mm * float(np.hypot(*(marks[corner] - marks[0])))
        corners.append([s for s in like if far / _FAR < float(np.hypot(s[0] - holed[0], s[1] - holed[1])) < far * _FAR])
    for one, two, three in itertools.product(*corners):
        if one is not two and two is not three and one is not three:
            yield holed, one, two, three


def _candidates(tone: FloatArray) -> list[_Spot]:
    """Dark compact spots, the largest first."""
    from scipy import ndimage

    around = ndimage.uniform_filter(tone, size=max(15, tone.shape[1] // 8))
    dark = tone < 0.55 * around
    label, found_n = ndimage.label(dark)
    spots = []
    for i, box in enumerate(ndimage.find_objects(label, found_n)):
        shape = label[box] == i + 1
        height, width = shape.shape
        if min(height, width) < 5 or max(height, width) > 2.5 * min(height, width) or height > tone.shape[0] / 4:
            continue
        filled = ndimage.binary_fill_holes(shape)
        area = float(filled.sum())
        if area < 0.5 * height * width:
            continue
        hole = (area - float(shape.sum())) / area
        if hole > _HOLE_MOST:
            continue
        y, x = ndimage.center_of_mass(filled)
        spots.append((x + box[1].start, y + box[0].start, area, hole > _HOLE_LEAST))
    # Print that stands on the page is smaller than the marks, and there is much of it.
    spots.sort(key=lambda spot: -spot[2])
    return spots[:_CANDIDATES_MOST]


def _misfit(corners: FloatArray, areas: FloatArray, sheet: CardSheet) -> float:
    """How far the four spots' sizes are from what marks in that frame would have, as a logarithm; inf if no frame."""
    side = np.roll(corners, -1, axis=0) - corners
    turn = side[:, 0] * np.roll(side[:, 1], -1) - side[:, 1] * np.roll(side[:, 0], -1)
    if not (turn > 0).all():
        return inf
    marks, half = sheet.mark_centres_mm, sheet.mark_mm / 2
    H = homography(marks, corners)
    square = np.array([[-half, -half], [half, -half], [half, half], [-half, half]])
    seen = onto_photo(H, (marks[:, None] + square).reshape(-1, 2)).reshape(4, 4, 2)
    x, y = seen[..., 0], seen[..., 1]
    expected = np.abs((x * np.roll(y, -1, axis=1) - y * np.roll(x, -1, axis=1)).sum(axis=1)) / 2
    return float(np.abs(np.log(areas / expected)).max())


def _greys_out_of_order(tone: FloatArray, corners: FloatArray, sheet: CardSheet) -> int:
    """Neighbours of the grey row that do not darken as they should: the sheet's own mark against chance frames."""
    greys = [field for field in sheet.fields if field.grey_lightness is not None]
    middles = np.array([[f.x_mm + f.width_mm / 2, f.y_mm + f.height_mm / 2] for f in greys])
    at = np.rint(onto_photo(homography(sheet.mark_centres_mm, corners), middles)).astype(int)
    seen = tone[np.clip(at[:, 1], 0, tone.shape[0] - 1), np.clip(at[:, 0], 0, tone.shape[1] - 1)]
    known = np.array([float(field.grey_lightness or 0) for field in greys])
    return int((np.diff(seen) * np.diff(known) <= 0).sum())
