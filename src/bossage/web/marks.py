"""Four marked points of a photo, and where they are on the wall."""

from __future__ import annotations

from typing import Any

from bossage.brief.records import Brief
from bossage.units import parse_length_nm
from bossage.web.models import MarksIn
from bossage.web.photo import FloatArray, NoPlane, homography

Points = dict[str, list[list[float]]]


def points_of(marks: MarksIn, brief: Brief) -> Points:
    """The marks with their places in millimetres, as they are kept.

    Raises:
        NoPlane: The fixture does not exist.
        UnreadableQuantity: A place is no length.
    """
    if marks.places is not None:
        unit = brief.piece.unit.value
        places = [[parse_length_nm(value, unit) / 1e6 for value in place] for place in marks.places]
    else:
        places = _corners(brief, marks.fixture or 0)
    return {"points_px": [list(point) for point in marks.points], "places_mm": places}


def matrix_of(points: Points) -> FloatArray:
    """From the wall to the photo.

    Raises:
        NoPlane: Nothing was marked, or the points do not tell where the wall is.
    """
    if not points:
        raise NoPlane("Mark four points of the photo first, and say where they are on the wall.")
    return homography(_pairs(points["places_mm"]), _pairs(points["points_px"]))


def _corners(brief: Brief, index: int) -> list[list[float]]:
    if index >= len(brief.fixtures):
        raise NoPlane(f"The brief hides {len(brief.fixtures)} things; there is no number {index + 1}.")
    fixture = brief.fixtures[index]
    left, right = fixture.x_nm / 1e6, fixture.right_nm / 1e6
    low, high = fixture.y_nm / 1e6, fixture.top_nm / 1e6
    return [[left, high], [right, high], [right, low], [left, low]]


def _pairs(values: list[list[float]]) -> list[tuple[Any, Any]]:
    return [(x, y) for x, y in values]
