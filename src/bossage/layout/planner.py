"""From a brief to a layout: grid, leaves, blocks, edge, place on the wall, and every rule about them."""

from __future__ import annotations

from dataclasses import replace

from bossage.brief.records import Brief, EdgeStyle
from bossage.checks import Check
from bossage.layout.access import check_access
from bossage.layout.apart import check_apart
from bossage.layout.cover import check_covers, check_needs, leaf_rect, plan_covers
from bossage.layout.drift import check_build, check_drift, plan_drifts
from bossage.layout.edges import backer_rect, check_edge, outer_shares, plan_strips, ring_bond
from bossage.layout.fill import fill_leaves
from bossage.layout.grid import Grid, plan_grid
from bossage.layout.lived_in import check_lived_in
from bossage.layout.mosaic_checks import check_mosaics
from bossage.layout.passers import check_passers
from bossage.layout.records import Layout, Leaf, NoLayout, OpenCell
from bossage.layout.rect import Rect, around
from bossage.layout.remedies import check_remedies
from bossage.layout.sightline import check_eyes
from bossage.layout.stand_off import check_air, stand_off_of
from bossage.layout.tiling import check_mixed
from bossage.layout.wall_rules import Standing, check_furniture, check_wall
from bossage.layout.words import Voice


def plan_layout(brief: Brief, *, draw: int = 0) -> Layout | NoLayout:
    """Where every block sits and how the piece stands on the wall, with the checks of both.

    Args:
        brief: What the maker said.
        draw: Which draw of the split modules; another number gives another fair draw with the same counts.

    Returns:
        The layout; `NoLayout` only where there is nothing to draw. A rule that is broken is a check that says stop.

    Leaves out:
        Mass: what weighs too much is found by `hang`.
    """
    grid = plan_grid(brief)
    refusal = _undrawable(brief, grid)
    if refusal is not None:
        return refusal
    leaves = plan_leaves(brief, grid)
    open_cells = open_cells_of(brief, leaves)
    filled = fill_leaves(brief, leaves, open_cells, draw)
    if isinstance(filled, NoLayout):
        return filled
    field = filled.field

    voice = Voice(brief)
    stand_off = stand_off_of(brief)
    outline = around(leaf_rect(leaf) for leaf in leaves if leaf.copy == 1)
    base = stand_off.stand_off_nm + brief.backer.thickness_nm
    standing = Standing(
        outline=outline,
        depth_nm=base + brief.blocks.levels_nm[-1],
        base_depth_nm=base,
        levels_nm=brief.blocks.levels_nm,
    )
    covers = plan_covers(brief, leaves)
    drifts = plan_drifts(brief, field, leaves[0])
    bond = ring_bond(brief)

    mixed, mismatch = check_mixed(brief, voice)
    needs, areas = check_needs(brief, leaves, open_cells, voice)
    wall, wall_figures = check_wall(brief, standing, voice)
    furniture, gaps, ratios = check_furniture(brief, standing, voice)
    passers, passing = check_passers(brief, standing, voice)
    access, space, angles = check_access(brief, leaves, voice)
    checks: tuple[Check, ...] = (
        *access,
        *check_apart(brief, voice),
        *passers,
        *needs,
        *mixed,
        *check_mosaics(brief, leaves, filled.mosaics, voice),
        *check_covers(brief, covers, stand_off, voice),
        *check_air(brief, stand_off, voice),
        *check_drift(drifts, voice),
        *check_build(brief, field, leaves[0], voice),
        *check_edge(brief, leaves, field, bond, voice),
        *wall,
        *furniture,
        *check_lived_in(brief, standing, field, voice),
        *check_eyes(brief, outline, stand_off.stand_off_nm, voice),
        *check_remedies(brief, voice),
    )
    figures = {**wall_figures, **gaps, **passing, **space}
    if mismatch is not None:
        figures["mismatch"] = mismatch
    return Layout(
        leaves=leaves,
        blocks=field,
        open_cells=open_cells,
        strips=plan_strips(brief, leaves[0]),
        ring_bond=bond,
        covers=covers,
        stand_off=stand_off,
        depth_nm=standing.depth_nm,
        backer_nm=brief.backer.thickness_nm,
        lift_room_nm=wall_figures["lift_room"],
        x_nm=outline.x,
        y_nm=outline.y,
        width_nm=outline.width,
        height_nm=outline.height,
        figures_nm=figures,
        areas_nm2=areas,
        angles_deg=angles,
        ratios={**ratios, **outer_shares(brief, leaves, field)},
        draw=draw,
        checks=checks,
        mosaics=filled.mosaics,
        drifts=drifts,
    )


def plan_leaves(brief: Brief, grid: Grid) -> tuple[Leaf, ...]:
    """Every leaf of every copy, copy by copy; copies hang at the same place, each in its own room."""
    names = [leaf.name for leaf in brief.blocks.leaves] or ["leaf 1"]
    first = []
    for name, (x, y) in zip(names, grid.places, strict=True):
        board = backer_rect(brief, Rect(x, y, grid.width_nm, grid.height_nm))
        first.append(
            Leaf(
                name=name,
                copy=1,
                x_nm=x,
                y_nm=y,
                width_nm=grid.width_nm,
                height_nm=grid.height_nm,
                columns=grid.columns,
                rows=grid.rows,
                backer_x_nm=board.x,
                backer_y_nm=board.y,
                backer_width_nm=board.width,
                backer_height_nm=board.height,
            )
        )
    return tuple(replace(leaf, copy=copy) for copy in range(1, brief.piece.copies + 1) for leaf in first)


def open_cells_of(brief: Brief, leaves: tuple[Leaf, ...]) -> tuple[OpenCell, ...]:
    """The open cells of every leaf, in wall coordinates."""
    blocks = brief.blocks
    given = blocks.leaves
    cells = []
    for number, leaf in enumerate(leaves):
        wanted = given[number % len(given)].open_cells if given else ()
        for row, column in sorted(set(wanted)):
            cells.append(
                OpenCell(
                    leaf=number,
                    row=row,
                    column=column,
                    x_nm=leaf.x_nm + (column - 1) * (blocks.module_width_nm + blocks.gap_nm),
                    y_nm=leaf.y_nm + leaf.height_nm - row * blocks.module_height_nm - (row - 1) * blocks.gap_nm,
                    width_nm=blocks.module_width_nm,
                    height_nm=blocks.module_height_nm,
                )
            )
    return tuple(cells)


def _undrawable(brief: Brief, grid: Grid) -> NoLayout | None:
    """Why nothing can be drawn: a ring without a field, a backer of no size, an open cell outside the grid."""
    if brief.edge.style is EdgeStyle.OUTRIGGER and (grid.columns < 3 or grid.rows < 3):
        return NoLayout(
            reason=f"an outrigger edge needs a field inside its ring, but the grid is {grid.columns} × {grid.rows}",
            remedy="use at least 3 columns and 3 rows, or another edge style",
        )
    board = backer_rect(brief, Rect(0, 0, grid.width_nm, grid.height_nm))
    if board.width <= 0 or board.height <= 0:
        return NoLayout(
            reason="the edge takes more than the whole face, so no backer is left",
            remedy="take a smaller overhang or lipping, or more columns and rows",
        )
    for leaf in brief.blocks.leaves:
        for row, column in leaf.open_cells:
            if not (1 <= row <= grid.rows and 1 <= column <= grid.columns):
                return NoLayout(
                    reason=f"open cell {row}·{column} of {leaf.name} lies outside the grid of {grid.columns} columns "
                    f"and {grid.rows} rows",
                    remedy="give open cells as row and column from the upper left, counted from 1",
                )
    return None
