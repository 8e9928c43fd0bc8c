"""The piece as a GLB model: another program reads from it every block, its place, its colour and its wood."""

from __future__ import annotations

import io
import json
import shutil
import struct
import subprocess
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from tests.pack.exported import CASES, case_plan, exported

from bossage.body.solids import area2_nm2
from bossage.layout.records import Zone

VALIDATOR = Path(__file__).parents[1] / "drawing" / "validate_glb.mjs"
PACKAGE = Path(__file__).parents[2] / "ui" / "node_modules" / "gltf-validator"
CORNERS, FACES = 24, 12  # of a box


@pytest.fixture(params=CASES)
def case(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_the_model_holds_as_much_wood_as_the_plan(case: str):
    plan = case_plan(case)
    blocks = plan.layout.blocks
    for copy in range(1, plan.brief.piece.copies + 1):
        volume_mm3 = 1e9 * sum(mesh.volume for mesh in meshes(case, copy).values())
        numbers = [number for number, leaf in enumerate(plan.layout.leaves) if leaf.copy == copy]
        mine = np.isin(blocks.leaf, numbers)
        faces_mm2 = blocks.width_nm[mine] / 1e6 * (blocks.height_nm[mine] / 1e6)
        want = float((faces_mm2 * (plan.relief.length_nm[mine] / 1e6)).sum())
        for part in (part for part in plan.body.parts if part.copy == copy):
            box = part.box
            solid = area2_nm2(part.outline_nm) / 2 * part.length_nm - sum(
                (x1 - x0) * (y1 - y0) * (box.z1 - box.z0) for x0, y0, x1, y1 in part.openings_nm
            )
            solid -= sum((x1 - x0) * (z1 - z0) * (box.y1 - box.y0) for x0, x1, z0, z1 in part.notches_nm)
            want += solid / 1e18
            mesh = meshes(case, copy)[f"{part.leaf}: {part.name}"]
            assert 1e9 * mesh.volume == pytest.approx(solid / 1e18, rel=1e-3)
            assert 1000 * np.ptp(mesh.bounds, axis=0) == pytest.approx(
                np.array([part.length_nm, box.y1 - box.y0, box.z1 - box.z0]) / 1e6, abs=1e-3
            )
        assert volume_mm3 == pytest.approx(want, rel=0.001)


def test_bevels_are_those_of_the_body_and_their_faces_look_outwards(case: str):
    plan = case_plan(case)
    origin = np.array([0.0, plan.layout.y_nm / 1e6, 0.0])
    for part in (part for part in plan.body.parts if part.bevelled):
        mesh = meshes(case, part.copy)[f"{part.leaf}: {part.name}"]
        corners = (1000 * np.asarray(mesh.vertices) + origin)[:, 1:]
        away = np.abs(corners[:, None, :] - np.array(part.outline_nm)[None] / 1e6).max(axis=2)
        assert away.min(axis=0).max() < 0.01
        assert away.min(axis=1).max() < 0.01
        told = np.asarray(mesh.vertex_normals)
        for face in mesh.faces:
            a, b, c = np.asarray(mesh.vertices)[face]
            square = np.cross(b - a, c - a)
            assert np.allclose(told[face], square / np.linalg.norm(square), atol=1e-4)


def test_every_block_is_a_closed_box_of_its_own_with_its_size_place_and_colour(case: str):
    plan = case_plan(case)
    blocks, origin = plan.layout.blocks, np.array([plan.layout.x_nm, plan.layout.y_nm]) / 1e6
    back, thick = plan.layout.stand_off.stand_off_nm / 1e6, plan.layout.backer_nm / 1e6
    for number, leaf in enumerate(plan.layout.leaves):
        mesh = meshes(case, leaf.copy)[f"blocks {leaf.name}"]
        mine = np.flatnonzero(blocks.leaf == number)
        corners_mm = 1000 * np.asarray(mesh.vertices).reshape(mine.size, CORNERS, 3)
        low = np.column_stack(
            [
                blocks.x_nm[mine] / 1e6 - origin[0],
                blocks.y_nm[mine] / 1e6 - origin[1],
                np.where(blocks.zone[mine] == int(Zone.RING), back, back + thick),
            ]
        )
        size = np.column_stack([blocks.width_nm[mine], blocks.height_nm[mine], plan.relief.length_nm[mine]]) / 1e6
        # Metres in single precision: a hundredth of a millimetre is far inside it.
        assert np.allclose(corners_mm.min(axis=1), low, atol=0.002)
        assert np.allclose(corners_mm.max(axis=1), low + size, atol=0.002)
        colours = np.asarray(mesh.visual.vertex_attributes["color"], dtype=float).reshape(mine.size, CORNERS, -1)
        assert (colours == colours[:, :1]).all(), "one colour a block"
        want = np.array([tuple(bytes.fromhex(plan.fade.shades[s].colour_hex[1:])) for s in plan.fade.shade[mine]])
        assert np.abs(srgb(colours[:, 0, :3] / 65535) - want).max() <= 0.5
        for block in range(0, mine.size, max(1, mine.size // 12)):
            assert is_closed(mesh, block)


def test_metres_with_y_up_and_the_face_towards_positive_z(case: str):
    plan = case_plan(case)
    for copy in range(1, plan.brief.piece.copies + 1):
        bounds_mm = 1000 * np.array([mesh.bounds for mesh in meshes(case, copy).values()])
        low, high = bounds_mm[:, 0].min(axis=0), bounds_mm[:, 1].max(axis=0)
        nearest_nm = min(part.box.z0 for part in plan.body.parts if part.copy == copy)
        assert low[2] == pytest.approx(nearest_nm / 1e6, abs=0.01)
        leaves = [leaf for leaf in plan.layout.leaves if leaf.copy == copy]
        parts = [part for part in plan.body.parts if part.copy == copy]  # a hinge reaches past its leaf
        right = max([leaf.x_nm + leaf.width_nm for leaf in leaves] + [part.to_x_nm for part in parts])
        right -= min([leaf.x_nm for leaf in leaves] + [part.from_x_nm for part in parts])
        tall = max([leaf.y_nm + leaf.height_nm for leaf in leaves] + [part.box.y1 for part in parts])
        tall -= min([leaf.y_nm for leaf in leaves] + [part.box.y0 for part in parts])
        assert high[0] - low[0] == pytest.approx(right / 1e6, abs=0.01)
        assert high[1] - low[1] == pytest.approx(tall / 1e6, abs=0.01)
    deepest = max(
        mesh.bounds[1][2] for copy in range(1, plan.brief.piece.copies + 1) for mesh in meshes(case, copy).values()
    )
    assert 1000 * deepest == pytest.approx(plan.layout.depth_nm / 1e6, abs=0.01)
    blocks = plan.layout.blocks
    mine = np.flatnonzero(blocks.leaf == 0)
    mesh = meshes(case, 1)[f"blocks {plan.layout.leaves[0].name}"]
    heights = np.asarray(mesh.vertices).reshape(mine.size, CORNERS, 3)[:, :, 1].mean(axis=1)
    rows = blocks.row[mine]
    assert heights[rows == rows.min()].mean() > heights[rows == rows.max()].mean(), "row 1 is the upper one"


@pytest.mark.skipif(
    shutil.which("node") is None or not PACKAGE.exists(), reason="node or the validator's package is not there"
)
def test_the_khronos_validator_says_nothing_at_all(tmp_path: Path):
    paths = []
    for param in CASES:
        case = str(param.values[0])
        for name, data in exported(case).items():
            if name.endswith(".glb"):
                path = tmp_path / f"{case}-{name}"
                path.write_bytes(data)
                paths.append(str(path))
    said = subprocess.run(["node", str(VALIDATOR), *paths], capture_output=True, text=True, check=True).stdout
    issues = json.loads(said)
    assert set(issues) == set(paths)
    for path, found in issues.items():
        # No error, no warning, no information and no hint.
        assert found["messages"] == [], path
        assert not any(found[f"num{kind}"] for kind in ("Errors", "Warnings", "Infos", "Hints")), path


def test_a_reader_that_goes_by_the_specification_alone_finds_the_two_chunks():
    data = exported("S2")["piece.glb"]
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    head = json.loads(data[20 : 20 + size])
    assert (kind, head["asset"]["version"], size % 4) == (b"JSON", "2.0", 0)
    assert struct.unpack_from("<I4s", data, 20 + size) == (head["buffers"][0]["byteLength"], b"BIN\0")


@cache
def meshes(case: str, copy: int) -> dict[str, Any]:
    name = "piece.glb" if case_plan(case).brief.piece.copies == 1 else f"piece-{copy}.glb"
    scene = trimesh.load(io.BytesIO(exported(case)[name]), file_type="glb", process=False)
    return dict(scene.geometry)


def is_closed(mesh: Any, block: int) -> bool:
    """Whether one box, its corners that share a place made one, has no hole and is turned outside out."""
    own = mesh.faces[FACES * block : FACES * (block + 1)]
    box = trimesh.Trimesh(vertices=mesh.vertices, faces=own, process=False)
    box.remove_unreferenced_vertices()
    box.merge_vertices(merge_norm=True, merge_tex=True)
    return bool(box.is_watertight and box.is_winding_consistent and box.volume > 0 and len(box.vertices) == 8)


def srgb(linear: np.ndarray) -> np.ndarray:
    """8-bit sRGB (IEC 61966-2-1) of linear light."""
    return 255 * np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
