"""Finding the sheet's four marks in a photo, and going from millimetres on the sheet to pixels."""

from __future__ import annotations

import itertools
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bossage.colour.card_sheet import CardSheet
from bossage.colour.spaces import FloatArray
from bossage.errors import BossageError

_CANDIDATES_MOST: Final = 16
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
    best: tuple[float, FloatArray] | None = None
    for four in itertools.combinations(spots, 4):
        sizes = [spot[2] for spot in four]
        if max(sizes) > 3.0 * min(sizes):
            continue
        centres = np.array([spot[:2] for spot in four])
        clockwise = _clockwise(centres)
        corner = [four[i] for i in clockwise]
        holes = [i for i, spot in enumerate(corner) if spot[3]]
        if len(holes) != 1:
            continue
        turned = centres[np.roll(clockwise, -holes[0])]
        score = _agreement(turned, sizes, sheet)
        if score is not None and (best is None or score > best[0]):
            best = (score, turned)
    if best is None:
        raise BossageError(
            "The four black marks of the sheet cannot be found. Photograph the whole sheet from straight above, or "
            "give the centres of its marks, the one with the hole first and then clockwise."
        )
    return np.asarray(best[1] * skip)


def _candidates(tone: FloatArray) -> list[tuple[float, float, float, bool]]:
    """Dark compact spots: x, y, area with any hole filled, whether there is a hole; likeliest marks first."""
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
        y, x = ndimage.center_of_mass(filled)
        spots.append((x + box[1].start, y + box[0].start, area, bool(0.06 < hole < 0.5)))
    # Marks are the smallest square things on the sheet, and dust is smaller than any candidate.
    spots.sort(key=lambda spot: spot[2])
    return spots[:_CANDIDATES_MOST]


def _clockwise(centres: FloatArray) -> NDArray[np.intp]:
    middle = centres - centres.mean(axis=0)
    return np.argsort(np.arctan2(middle[:, 1], middle[:, 0]))


def _agreement(corners: FloatArray, sizes: list[float], sheet: CardSheet) -> float | None:
    """How well four centres fit the sheet: its area in pixels, if the marks' sizes and its shape agree; else None."""
    side = np.roll(corners, -1, axis=0) - corners
    turn = side[:, 0] * np.roll(side[:, 1], -1) - side[:, 1] * np.roll(side[:, 0], -1)
    if not (turn > 0).all():
        return None
    x, y = corners[:, 0], corners[:, 1]
    area = float(abs((x * np.roll(y, -1) - y * np.roll(x, -1)).sum()) / 2)
    marks = sheet.mark_centres_mm
    sheet_area = float(np.prod(marks[2] - marks[0]))
    # A mark should be as large, beside the frame that the marks span, as it is on the sheet.
    ratio = float(np.mean(sizes)) / area * sheet_area / sheet.mark_mm**2
    return area if 0.5 < ratio < 2.0 else None
