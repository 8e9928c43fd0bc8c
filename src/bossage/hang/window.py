"""A window in a leaf: the part in front of what is opened often comes away by itself, cut out along the joints."""

from __future__ import annotations

import numpy as np

from bossage.body import HINGE_INSET_NM
from bossage.brief.records import Fixture
from bossage.hang.case import Case
from bossage.hang.records import WindowPlan
from bossage.hang.statics import hinge_pull_n, weight_n
from bossage.layout.access import LIFT_OFF_MOST
from bossage.timber import species_or_board
from bossage.units import NM_PER_MM

BATTEN_NM = 20 * NM_PER_MM
"""Width of the battens behind the hole, half of it as a stop for the lid; common practice, no source."""

LEAST_REST_NM = 50 * NM_PER_MM
"""Backer that must stay beside the hole on every side; a narrower strip breaks while it is carried. Ours."""


def window_for(case: Case, fixtures: tuple[Fixture, ...]) -> WindowPlan | None:
    """Where the window would be cut for the fixtures that are opened too often to lift the leaf off each time.

    The lid is the least rectangle of whole cells before them; its board is sawn out of the backer along the joints.

    Args:
        case: The leaf.
        fixtures: What is hidden behind it in this copy.

    Returns:
        Position on the wall, blocks, mass and what is left of the backer; `fits` False where too little is left. None
        where nothing behind the leaf is opened so often.
    """
    often = [f for f in fixtures if f.opened_per_year > LIFT_OFF_MOST and _behind(case, f)]
    if not often:
        return None
    blocks = case.layout.blocks
    mine = np.flatnonzero(blocks.leaf == case.number)
    left, right = min(f.x_nm for f in often), max(f.right_nm for f in often)
    foot, top = min(f.y_nm for f in often), max(f.top_nm for f in often)
    x0, y0 = blocks.x_nm[mine], blocks.y_nm[mine]
    x1, y1 = x0 + blocks.width_nm[mine], y0 + blocks.height_nm[mine]
    columns = blocks.column[mine][(x0 < right) & (x1 > left)]
    rows = blocks.row[mine][(y0 < top) & (y1 > foot)]
    if not columns.size or not rows.size:
        return None
    inside = (
        (blocks.column[mine] >= columns.min())
        & (blocks.column[mine] <= columns.max())
        & (blocks.row[mine] >= rows.min())
        & (blocks.row[mine] <= rows.max())
    )
    x, y = int(x0[inside].min()), int(y0[inside].min())
    width, height = int(x1[inside].max()) - x, int(y1[inside].max()) - y
    leaf, board = case.leaf, case.brief.backer
    rest = min(
        x - leaf.backer_x_nm,
        leaf.backer_x_nm + leaf.backer_width_nm - x - width,
        y - leaf.backer_y_nm,
        leaf.backer_y_nm + leaf.backer_height_nm - y - height,
    )
    mass_g = (
        _lid_g(case, mine[inside])
        + width * height * board.thickness_nm / 1e24 * species_or_board(board.material).density_12pct_kg_m3
    )
    spacing = max(NM_PER_MM, height - 2 * HINGE_INSET_NM)
    return WindowPlan(
        fixtures=tuple(f.name for f in often),
        x_nm=x,
        y_nm=y,
        width_nm=width,
        height_nm=height,
        from_row=int(rows.min()),
        to_row=int(rows.max()),
        from_column=int(columns.min()),
        to_column=int(columns.max()),
        blocks=int(inside.sum()),
        mass_g=mass_g,
        rest_nm=rest,
        fits=rest >= LEAST_REST_NM,
        battens_nm=2 * (width + height) + 4 * BATTEN_NM,
        hinge_spacing_nm=spacing,
        hinge_pull_n=hinge_pull_n(weight_n(mass_g), width / 2, spacing),
    )


def _behind(case: Case, fixture: Fixture) -> bool:
    leaf = case.leaf
    return (
        fixture.x_nm < leaf.x_nm + leaf.width_nm
        and fixture.right_nm > leaf.x_nm
        and fixture.y_nm < leaf.y_nm + leaf.height_nm
        and fixture.top_nm > leaf.y_nm
    )


def _lid_g(case: Case, chosen: np.ndarray) -> float:
    """Blocks of the lid with their share of paint and glue."""
    blocks, relief = case.layout.blocks, case.relief
    volume = blocks.width_nm.astype(np.float64) * blocks.height_nm * relief.length_nm
    parts = {part.name: part.mass_g for part in case.mass.parts}
    share = float(volume[chosen].sum() / volume[blocks.leaf == case.number].sum())
    return share * (parts["blocks"] + parts["paint and glue"])
