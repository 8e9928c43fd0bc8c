"""Files that other programs open: drawings as SVG and DXF, the piece as a GLB model."""

from __future__ import annotations

import re
from enum import StrEnum
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from bossage import __version__
from bossage.body import Part, Role, uncut
from bossage.drawing.glb import Boxes, glb_bytes
from bossage.drawing.model import Drawing
from bossage.drawing.picture import linear
from bossage.drawing.svg import svg_text
from bossage.layout.records import Leaf, Zone
from bossage.pack.drawings.back import back_drawing
from bossage.pack.drawings.backer import backer_drawing
from bossage.pack.drawings.fit import fitted
from bossage.pack.drawings.leafmap import Letters, map_drawing
from bossage.pack.drawings.ring import ring_drawing
from bossage.pack.drawings.section import section_drawing
from bossage.pack.drawings.wall import wall_drawing
from bossage.pack.sheets.common import words_of
from bossage.plan import Plan

AT_FULL_SIZE = Letters(level_mm=16.0, shade_mm=7.0)  # read while the whole map is on a screen, or from across a bench

PART_HEX = "#a08b72"  # bare wood behind the piece


class Export(StrEnum):
    """What kind of file."""

    SVG = "svg"
    DXF = "dxf"
    GLB = "glb"


def export_files(plan: Plan, kinds: tuple[Export, ...]) -> dict[str, bytes]:
    """Drawings go into `drawings/`, the model is `piece.glb` (`piece-2.glb` for the second of a series)."""
    files: dict[str, bytes] = {}
    if Export.SVG in kinds or Export.DXF in kinds:
        for name, drawing in drawings_of(plan).items():
            if Export.SVG in kinds:
                files[f"drawings/{name}.svg"] = svg_text(drawing).encode("utf-8")
            if Export.DXF in kinds:
                from bossage.drawing.dxf import dxf_bytes

                files[f"drawings/{name}.dxf"] = dxf_bytes(drawing)
    if Export.GLB in kinds:
        for copy in range(1, plan.brief.piece.copies + 1):
            name = "piece" if plan.brief.piece.copies == 1 else f"piece-{copy}"
            files[f"{name}.glb"] = glb_bytes(boxes_of(plan, copy), generator=f"bossage {__version__}")
    return files


def drawings_of(plan: Plan) -> dict[str, Drawing]:
    """Wall, and for each leaf map, backer, its whole back, a cut through it and ring template, in true millimetres.

    All but the wall are at full size. Copies of a series whose fixtures differ have a wall each.
    """
    words = words_of(plan)
    found = {
        f"wall{slug}": fitted(wall_drawing(plan, words, copy=copies[0]), width_mm=400.0, height_mm=277.0)
        for slug, copies in wall_slugs(plan).items()
    }
    for number, leaf in enumerate(plan.layout.leaves):
        suffix = leaf_slug(plan, leaf)
        found[f"map{suffix}"] = map_drawing(plan, number, words, letters=AT_FULL_SIZE)(1.0)
        found[f"backer{suffix}"] = backer_drawing(plan, number, words)(1.0)
        found[f"back{suffix}"] = back_drawing(plan, leaf, words)(1.0)
        found[f"cut{suffix}"] = section_drawing(plan, leaf, words)(1.0)
        if plan.press.ring is not None:
            found[f"ring{suffix}"] = ring_drawing(plan, words, leaf=number)(1.0)
    return found


def leaf_slug(plan: Plan, leaf: Leaf) -> str:
    """What tells a leaf's file from the others: nothing for the only one, `-left`, `-2`, `-2-left`."""
    several = sum(other.copy == leaf.copy for other in plan.layout.leaves) > 1
    name = re.sub(r"[^a-z0-9]+", "-", leaf.name.casefold()).strip("-")
    return (f"-{leaf.copy}" if plan.brief.piece.copies > 1 else "") + (f"-{name}" if several else "")


def wall_slugs(plan: Plan) -> dict[str, tuple[int, ...]]:
    """What tells the file of a wall from the others, and the copies that it is for: nothing where all are alike."""
    behind: dict[tuple[str, ...], tuple[int, ...]] = {}
    for copy in range(1, plan.brief.piece.copies + 1):
        names = tuple(one.name for one in plan.brief.fixtures if not one.copies or copy in one.copies)
        behind[names] = (*behind.get(names, ()), copy)
    if len(behind) == 1:
        return {"": next(iter(behind.values()))}
    return {f"-{copies[0]}": copies for copies in behind.values()}


def boxes_of(plan: Plan, copy: int) -> list[Boxes]:
    """Blocks and every part of the body of one copy, from the piece's lower left corner and the wall."""
    layout, blocks = plan.layout, plan.layout.blocks
    origin = np.array([layout.x_nm, layout.y_nm]) / 1e6
    back = layout.stand_off.stand_off_nm / 1e6
    thick = layout.backer_nm / 1e6
    shades = np.array([linear(shade.colour_hex) for shade in plan.fade.shades])
    ground = next((g.colour_hex for g in plan.fade.grounds if g.chosen), "#3a3530")
    groups = []
    for number, leaf in enumerate(layout.leaves):
        if leaf.copy != copy:
            continue
        mine = np.flatnonzero(blocks.leaf == number)
        low = np.stack([blocks.x_nm[mine] / 1e6 - origin[0], blocks.y_nm[mine] / 1e6 - origin[1]], axis=1)
        size = np.stack([blocks.width_nm[mine] / 1e6, blocks.height_nm[mine] / 1e6], axis=1)
        # Ring blocks stand outside the backer and begin at its back.
        foot = np.where(blocks.zone[mine] == int(Zone.RING), back, back + thick)
        length = plan.relief.length_nm[mine] / 1e6
        groups.append(
            Boxes(
                name=f"blocks {leaf.name}",
                low_mm=np.column_stack([low, foot]),
                high_mm=np.column_stack([low + size, foot + length]),
                colour=shades[plan.fade.shade[mine]],
            )
        )
        groups += [
            _part_boxes(part, origin, ground if part.role is Role.BACKER else PART_HEX)
            for part in plan.body.of(leaf.name, copy)
        ]
    return groups


def _part_boxes(part: Part, origin: NDArray[np.float64], hex_colour: str) -> Boxes:
    """A part of the body by its leaf and name, cut into boxes round what is sawn out of it, bevelled as it is."""
    spans = np.array(uncut(part), dtype=np.float64) / 1e6
    rise = None
    if part.bevelled:
        back, front = (np.array([_edges_mm(part, z) for z in spans[:, k]]) for k in (2, 5))
        spans[:, [1, 4]], rise = back, front - back
    shift = np.array([*origin, 0.0])
    return Boxes(
        name=f"{part.leaf}: {part.name}",
        low_mm=spans[:, :3] - shift,
        high_mm=spans[:, 3:] - shift,
        colour=_colour(hex_colour, len(spans)),
        rise_mm=rise,
    )


def _edges_mm(part: Part, z_mm: float) -> tuple[float, float]:
    """The lower and the upper edge of a part's cross-section so far off the wall."""
    corners = [(y / 1e6, z / 1e6) for y, z in part.outline_nm]
    met = []
    for (y0, z0), (y1, z1) in pairwise([*corners, corners[0]]):
        if min(z0, z1) <= z_mm <= max(z0, z1):
            met += [y0, y1] if z0 == z1 else [y0 + (y1 - y0) * (z_mm - z0) / (z1 - z0)]
    return min(met), max(met)


def _colour(hex_colour: str, count: int) -> NDArray[np.float64]:
    return np.tile(np.array(linear(hex_colour)), (count, 1))
