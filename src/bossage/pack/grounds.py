"""Ground colours side by side in the lit picture: one close look at the piece, once on each of two or three grounds."""

from __future__ import annotations

import numpy as np

from bossage.body import Role
from bossage.drawing.box import Box
from bossage.drawing.picture import Scene, linear, lit_picture, png_bytes
from bossage.fade.records import GroundColour
from bossage.layout.records import OpenCell
from bossage.pack.scene import WALL_HEX, light_of, solids_of
from bossage.plan import Plan

GROUNDS = "grounds.png"
MOST_SHOWN = 3
PLACES = ("left", "middle", "right")
PANEL_PX, PANEL_ROWS_PX, GUTTER_PX = 420, 340, 24
MODULES_ACROSS = 4.6
"""So near that a gap of two millimetres is a few pixels wide."""


def shown_grounds(plan: Plan) -> tuple[GroundColour, ...]:
    """The grounds to look at: the one taken and the one advised among them, the rest by how well they vanish.

    None where the ground shows nowhere on the face.
    """
    if plan.paint.ground.shows_mm2 <= 0:
        return ()
    ranked = sorted(plan.fade.grounds, key=lambda g: (not (g.chosen or g.advised), g.contrast_de))[:MOST_SHOWN]
    return tuple(sorted(ranked, key=lambda g: g.contrast_de))


def grounds_picture(plan: Plan) -> bytes:
    """The grounds of `shown_grounds` from left to right, as one PNG file."""
    window = _close_look(plan)
    px_per_mm = PANEL_PX / window.width_mm
    panels = []
    for ground in shown_grounds(plan):
        solids = solids_of(plan, ground_hex=ground.colour_hex)
        scene = Scene(window=window, wall=linear(plan.brief.wall.colour_hex or WALL_HEX), solids=solids)
        seen = lit_picture(scene, px_per_mm=px_per_mm, light=light_of(plan.brief))
        panels.append(seen[:PANEL_ROWS_PX, :PANEL_PX])
    rows = min(panel.shape[0] for panel in panels)
    gutter = np.full((rows, GUTTER_PX, 3), 255, dtype=np.uint8)
    parts = [part for panel in panels for part in (gutter, panel[:rows])][1:]
    return png_bytes(np.concatenate(parts, axis=1), px_per_mm=px_per_mm)


def _close_look(plan: Plan) -> Box:
    """A window a few blocks wide: round an open cell that shows the ground, else round the middle of the first leaf."""
    layout, blocks = plan.layout, plan.brief.blocks
    leaf = layout.leaves[0]
    width_mm = MODULES_ACROSS * (blocks.module_width_nm + blocks.gap_nm) / 1e6
    width_mm = min(max(width_mm, 120.0), leaf.width_nm / 1e6)
    height_mm = min(width_mm * PANEL_ROWS_PX / PANEL_PX, leaf.height_nm / 1e6)
    middle_x, middle_y = (leaf.x_nm + leaf.width_nm / 2) / 1e6, (leaf.y_nm + leaf.height_nm / 2) / 1e6
    holes = [hole for part in plan.body.parts if part.role is Role.BACKER for hole in part.openings_nm]
    mine = [cell for cell in layout.open_cells if cell.leaf == 0 and not _sawn_out(cell, holes)]
    if mine:
        cell = mine[0]
        middle_x, middle_y = (cell.x_nm + cell.width_nm / 2) / 1e6, (cell.y_nm + cell.height_nm / 2) / 1e6
    left = min(max(middle_x - width_mm / 2, leaf.x_nm / 1e6), (leaf.x_nm + leaf.width_nm) / 1e6 - width_mm)
    bottom = min(max(middle_y - height_mm / 2, leaf.y_nm / 1e6), (leaf.y_nm + leaf.height_nm) / 1e6 - height_mm)
    return Box(left_mm=left, bottom_mm=bottom, right_mm=left + width_mm, top_mm=bottom + height_mm)


def _sawn_out(cell: OpenCell, holes: list[tuple[int, int, int, int]]) -> bool:
    """Whether the middle of an open cell lies in an opening of the backer, where the wall is seen."""
    x, y = cell.x_nm + cell.width_nm // 2, cell.y_nm + cell.height_nm // 2
    return any(x0 <= x <= x1 and y0 <= y <= y1 for x0, y0, x1, y1 in holes)
