from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from bossage.brief import read_brief
from bossage.brief.amend import amend_text
from bossage.checks import Edit
from bossage.examples import example_text
from bossage.plan import Plan, make_plan
from bossage.web import models as m
from bossage.web.photo import NoPlane, homography, piece_on_photo
from tests.web.making import client_of, made

WALL = (200, 205, 210)  # of the synthetic photo: bluish, so that the piece's paint stands off
PLACES = [(1150.0, 1020.0), (1750.0, 1020.0), (1750.0, 540.0), (1150.0, 540.0)]


def project(matrix: np.ndarray, places) -> np.ndarray:
    """Where places land, by homogeneous coordinates."""
    here = np.column_stack([np.asarray(places, dtype=float), np.ones(len(places))]) @ matrix.T
    return here[:, :2] / here[:, 2:]


def plan_of(text: str) -> Plan:
    plan = make_plan(read_brief(text))
    assert isinstance(plan, Plan)
    return plan


@pytest.fixture(scope="module")
def plan() -> Plan:
    # one dark family and no ground that could be taken for the wall
    text = example_text("s2")
    for number in range(3):
        text = amend_text(text, [put_edit("family", number, "colour", to="#7A2A1E")])
    return plan_of(amend_text(text, [put_edit("backer", "colour", to="#5A1E16"), put_edit("blocks", "gap", to=0)]))


def put_edit(*path: str | int, to: Any) -> Edit:
    return Edit(op="set", path=path, value=to)


def camera(turn_deg: float, tilt_deg: float, distance_mm: float, focal_px: float, size: tuple[int, int]) -> Any:
    """The homography of a pinhole camera that looks at the middle of the piece; known, not estimated."""
    turn, tilt = np.radians([turn_deg, tilt_deg])
    middle = np.array([1450.0, 840.0, 0.0])
    out = np.array([np.sin(turn) * np.cos(tilt), np.sin(tilt), np.cos(turn) * np.cos(tilt)])
    eye = middle + distance_mm * out
    look = middle - eye
    look /= np.linalg.norm(look)
    right = np.cross(look, [0.0, 1.0, 0.0])
    right /= np.linalg.norm(right)
    down = np.cross(look, right)
    rows = np.stack([right, down, look])
    K = np.array([[focal_px, 0, size[0] / 2], [0, focal_px, size[1] / 2], [0, 0, 1]])
    P = K @ np.column_stack([rows, -rows @ eye])
    return P[:, [0, 1, 3]]


def corners_of(plan: Plan) -> list[tuple[float, float]]:
    layout = plan.layout
    left, right = layout.x_nm / 1e6, (layout.x_nm + layout.width_nm) / 1e6
    low, high = layout.y_nm / 1e6, (layout.y_nm + layout.height_nm) / 1e6
    return [(left, high), (right, high), (right, low), (left, low)]


def corners_seen(picture: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """Corners of the painted piece in a picture: the lines along its four sides, cut with one another."""
    red = picture[:, :, 0].astype(int) - picture[:, :, 2]
    inside = red > 8  # the wall is bluer than red, in light and in shadow; the piece is redder than blue
    rows, columns = np.nonzero(inside)
    sides = []
    for axis, first in ((0, True), (1, False), (0, False), (1, True)):  # top, right, foot, left
        # along the top and the foot by columns, along left and right by rows
        lines = columns if axis == 0 else rows
        across = rows if axis == 0 else columns
        low, high = np.percentile(lines, [12, 88])
        points = []
        for at in range(int(low), int(high) + 1, 2):
            here = across[lines == at]
            points.append((at + 0.5, here.min() if first else here.max() + 1.0))
        where, edge = np.array(points).T
        slope, start = np.polyfit(where, edge, 1)
        sides.append((slope, start))
    top, right, foot, left = sides

    def cut(level: Any, upright: Any) -> tuple[float, float]:
        y = (level[0] * upright[1] + level[1]) / (1 - level[0] * upright[0])
        return upright[0] * y + upright[1], y

    return np.array([cut(top, left), cut(top, right), cut(foot, right), cut(foot, left)])


VIEWS = [(0, 0, 2600), (25, 0, 2600), (-30, 8, 2800), (12, -14, 2400), (-8, 5, 3400)]


@pytest.mark.parametrize(("turn", "tilt", "distance"), VIEWS)
def test_corners_land_within_two_pixels(plan: Plan, turn: float, tilt: float, distance: float) -> None:
    size = (1600, 1200)
    truth = camera(turn, tilt, distance, 1500.0, size)
    photo = np.full((size[1], size[0], 3), WALL, dtype=np.uint8)
    marked = np.round(project(truth, PLACES), 1)  # as a hand marks them, to a tenth of a pixel
    matrix = homography(PLACES, [tuple(point) for point in marked])
    picture = piece_on_photo(photo, matrix, plan)
    wanted = project(truth, corners_of(plan))
    assert wanted.min() > 0
    assert np.abs(project(matrix, corners_of(plan)) - wanted).max() < 0.5
    off = np.linalg.norm(corners_seen(picture) - wanted, axis=1)
    assert off.max() < 2.0, off


def test_the_shadow_falls_away_from_the_light(plan: Plan) -> None:
    size = (1600, 1200)
    truth = camera(0, 0, 2600, 1500.0, size)
    photo = np.full((size[1], size[0], 3), WALL, dtype=np.uint8)
    brightness = {}
    for side in ("left", "right"):
        lit = plan_of(amend_text(example_text("s2"), [put_edit("wall", "light_from", to=side)]))
        picture = piece_on_photo(photo, truth / truth[2, 2], lit).astype(float)
        (left, _), (right, _), *_ = project(truth, corners_of(lit))
        rows = slice(500, 700)
        beside = (picture[rows, int(left) - 12 : int(left) - 3], picture[rows, int(right) + 3 : int(right) + 12])
        brightness[side] = [part.mean() for part in beside]
    assert brightness["left"][0] > brightness["left"][1] + 5
    assert brightness["right"][1] > brightness["right"][0] + 5


def test_the_rest_of_the_photo_stays(plan: Plan) -> None:
    rng = np.random.default_rng(4)
    photo = rng.integers(0, 255, (600, 800, 3), dtype=np.uint8)
    matrix = camera(10, 5, 3600, 750.0, (800, 600))
    picture = piece_on_photo(photo, matrix / np.linalg.norm(matrix), plan)
    same = (picture == photo).all(axis=2)
    corners = project(matrix, corners_of(plan))
    middle = corners.mean(axis=0).astype(int)
    assert not same[middle[1], middle[0]]
    assert same[:20].all()
    assert same[:, :20].all()


@settings(max_examples=40, deadline=None)
@given(st.floats(-40, 40), st.floats(-25, 25), st.floats(1500, 6000), st.floats(500, 3000))
def test_a_homography_takes_every_place_where_the_camera_does(
    turn: float, tilt: float, distance: float, focal: float
) -> None:
    truth = camera(turn, tilt, distance, focal, (1600, 1200))
    found = homography(PLACES, [tuple(point) for point in project(truth, PLACES)])
    places = np.array([(900.0, 500.0), (2000.0, 1400.0), (1450.0, 840.0)])
    assert project(found, places) == pytest.approx(project(truth, places), abs=1e-4)


@pytest.mark.parametrize(
    "points",
    [
        [(0, 0), (10, 0), (20, 0), (0, 10)],
        [(5, 5), (5, 5), (5, 5), (5, 5)],
        [(0, 0), (100, 100), (100, 0), (0, 100)],
    ],
)
def test_points_that_tell_no_plane_are_refused(points: list[tuple[float, float]]) -> None:
    with pytest.raises(NoPlane):
        homography(PLACES, points)


def test_a_photo_is_kept_marked_and_shown(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text("s2"))["piece_id"]
    out = io.BytesIO()
    Image.new("RGB", (1600, 1200), WALL).save(out, "PNG")
    octets = {"content-type": "application/octet-stream"}
    kept = client.post(f"/api/pieces/{piece_id}/photos", content=out.getvalue(), headers=octets)
    photo = m.PhotoOut.model_validate(kept.json())
    assert not photo.marked
    assert client.get(f"/api/pictures/{photo.photo_id}.png").status_code == 422
    points = project(camera(20, 5, 2600, 1500.0, (1600, 1200)), PLACES).tolist()
    marked = client.put(f"/api/photos/{photo.photo_id}/marks", json={"points": points, "fixture": 0})
    assert m.PhotoOut.model_validate(marked.json()).marked
    one = client.get(f"/api/pictures/{photo.photo_id}.png")
    assert Image.open(io.BytesIO(one.content)).size == (1600, 1200)
    typed = [["1150", "1020 mm"], ["175 cm", 1020], [1750, 540], [1150.0, "54 cm"]]
    client.put(f"/api/photos/{photo.photo_id}/marks", json={"points": points, "places": typed})
    assert client.get(f"/api/pictures/{photo.photo_id}.png").content == one.content
    crossed = [points[0], points[2], points[1], points[3]]
    refused = client.put(f"/api/photos/{photo.photo_id}/marks", json={"points": crossed, "fixture": 0})
    assert refused.status_code == 422
    assert client.delete(f"/api/photos/{photo.photo_id}").status_code == 204
    assert client.get(f"/api/photos/{photo.photo_id}.jpg").status_code == 404
