"""Boxes, plumb or bevelled, as a binary glTF 2.0 file (GLB), by the Khronos specification: metres, y up, z outwards.

Each box has its own 24 corners, so that every face is flat and has its own normal; its colour stands at its corners
in linear light, as glTF asks. One mesh for each group of boxes, one material for all.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

GLTF, JSON_CHUNK, BIN_CHUNK = 0x46546C67, 0x4E4F534A, 0x004E4942
FLOAT, UINT16, UINT32 = 5126, 5123, 5125
ARRAY_BUFFER, ELEMENT_ARRAY_BUFFER = 34962, 34963

#: Corners of the six faces of the unit box, each counter-clockwise seen from outside, and the faces' normals.
_CORNERS = np.array(
    [
        [[1, 0, 0], [1, 1, 0], [1, 1, 1], [1, 0, 1]],
        [[0, 0, 0], [0, 0, 1], [0, 1, 1], [0, 1, 0]],
        [[0, 1, 0], [0, 1, 1], [1, 1, 1], [1, 1, 0]],
        [[0, 0, 0], [1, 0, 0], [1, 0, 1], [0, 0, 1]],
        [[0, 0, 1], [1, 0, 1], [1, 1, 1], [0, 1, 1]],
        [[0, 0, 0], [0, 1, 0], [1, 1, 0], [1, 0, 0]],
    ],
    dtype=np.float64,
).reshape(24, 3)
_NORMALS = np.repeat(
    np.array([[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]], dtype=np.float32), 4, axis=0
)
_TRIANGLES = (4 * np.arange(6)[:, None] + np.array([0, 1, 2, 0, 2, 3])[None, :]).ravel()


@dataclass(frozen=True, slots=True, kw_only=True)
class Boxes:
    """Boxes that belong together: lower corners, upper corners (n × 3, mm), colours in linear light (n × 3, 0 to 1).

    `rise_mm` (n × 2) bevels them: how much higher their lower and their upper edge lies at the front than at the back,
    where the corners are told.
    """

    name: str
    low_mm: NDArray[np.float64]
    high_mm: NDArray[np.float64]
    colour: NDArray[np.float64]
    rise_mm: NDArray[np.float64] | None = None


def glb_bytes(groups: Sequence[Boxes], *, generator: str) -> bytes:
    """The file, the same bytes for the same boxes. Groups without boxes are left out.

    Raises:
        ValueError: There is no box at all: glTF has no empty mesh.
    """
    groups = [group for group in groups if len(group.low_mm)]
    if not groups:
        raise ValueError("a model needs a box at least")
    data = bytearray()
    views: list[dict[str, int]] = []
    accessors: list[dict[str, object]] = []

    def put(array: NDArray[np.generic], kind: str, component: int, target: int, **more: object) -> int:
        views.append({"buffer": 0, "byteOffset": len(data), "byteLength": array.nbytes, "target": target})
        data.extend(array.tobytes())
        data.extend(b"\0" * (-len(data) % 4))
        accessors.append(
            {"bufferView": len(views) - 1, "componentType": component, "count": len(array), "type": kind, **more}
        )
        return len(accessors) - 1

    meshes = []
    for group in groups:
        places, normals, colours, indices = _vertices(group)
        attributes = {
            "POSITION": put(
                places, "VEC3", FLOAT, ARRAY_BUFFER, min=places.min(axis=0).tolist(), max=places.max(axis=0).tolist()
            ),
            "NORMAL": put(normals, "VEC3", FLOAT, ARRAY_BUFFER),
            "COLOR_0": put(colours, "VEC4", UINT16, ARRAY_BUFFER, normalized=True),
        }
        index = put(indices, "SCALAR", UINT16 if indices.dtype == np.uint16 else UINT32, ELEMENT_ARRAY_BUFFER)
        meshes.append({"name": group.name, "primitives": [{"attributes": attributes, "indices": index, "material": 0}]})
    head = {
        "asset": {"version": "2.0", "generator": generator},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(groups)))}],
        "nodes": [{"name": group.name, "mesh": number} for number, group in enumerate(groups)],
        "meshes": meshes,
        "materials": [{"name": "painted wood", "pbrMetallicRoughness": {"metallicFactor": 0, "roughnessFactor": 0.9}}],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(data)}],
    }
    text = json.dumps(head, ensure_ascii=False, separators=(",", ":")).encode("utf-8")
    text += b" " * (-len(text) % 4)
    body = struct.pack("<II", len(text), JSON_CHUNK) + text + struct.pack("<II", len(data), BIN_CHUNK) + bytes(data)
    return struct.pack("<III", GLTF, 2, 12 + len(body)) + body


def _vertices(
    group: Boxes,
) -> tuple[NDArray[np.float32], NDArray[np.float32], NDArray[np.uint16], NDArray[np.uint16] | NDArray[np.uint32]]:
    count = len(group.low_mm)
    size = group.high_mm - group.low_mm
    places = group.low_mm[:, None, :] + _CORNERS[None] * size[:, None, :]
    normals = np.tile(_NORMALS, (count, 1, 1)).astype(np.float64)
    if group.rise_mm is not None:
        low, high = group.rise_mm[:, :1], group.rise_mm[:, 1:]
        places[:, :, 1] += _CORNERS[None, :, 2] * (low + _CORNERS[None, :, 1] * (high - low))
        # what looks up or down leans by the rise over the depth; the sides stay plumb
        for side, rise in ((2, high), (3, low)):
            normals[:, 4 * side : 4 * side + 4, 2] = -_NORMALS[4 * side, 1] * rise / size[:, 2:]
        normals /= np.linalg.norm(normals, axis=2, keepdims=True)
    opaque = np.concatenate([np.clip(group.colour, 0, 1), np.ones((count, 1))], axis=1)
    colours = np.repeat(np.rint(opaque * 65535).astype("<u2"), 24, axis=0)
    indices = (24 * np.arange(count)[:, None] + _TRIANGLES[None, :]).ravel()
    # 65,535 itself would restart a strip in some readers; glTF forbids it.
    return (
        (places / 1000).reshape(-1, 3).astype("<f4"),
        normals.reshape(-1, 3).astype("<f4"),
        colours,
        indices.astype("<u2") if 24 * count < 65535 else indices.astype("<u4"),
    )
