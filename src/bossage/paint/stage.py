"""Which faces and sides are painted, in which shade, and how much that takes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief
from bossage.fade.records import Fade
from bossage.layout.records import Layout
from bossage.paint.cautions import PAINT_CAUTIONS
from bossage.paint.pots import family_pots
from bossage.paint.records import EdgeWork, GroundPaint, Paint, ShadePaint
from bossage.paint.sides import sides_shown_mm2
from bossage.relief import Relief

FloatArray = NDArray[np.float64]

MM2_PER_M2 = 1e6
ML_PER_L = 1e3
GRITS = (120, 180, 240)  # common practice, no source: end grain is taken to 220-320 before the primer


def plan_paint(brief: Brief, layout: Layout, relief: Relief, fade: Fade) -> Paint:
    """Paint by shade, primer, ground colour and the edge work, over all leaves and copies.

    The painted area of a block is its face and a share of its four sides up to its level (a ring block's extra
    length hides behind the face and is not painted). The share is the brief's, or, where the brief leaves it open,
    just what shows above the neighbours.

    Args:
        brief: The checked brief.
        layout: Where the blocks sit.
        relief: Their levels.
        fade: Their shades.

    Returns:
        Areas in mm², volumes in mL; volumes of colour hold all coats and the reserve, primer has no reserve.

    Leaves out:
        Losses in brush and roller beyond the reserve; how much more one species drinks than another.

    Source:
        Coverage is the brief's; the default rates are this project's own assumption (practice, no source).
    """
    asked = brief.paint
    face = _mm(layout.blocks.width_nm) * _mm(layout.blocks.height_nm)
    sides = 2 * (_mm(layout.blocks.width_nm) + _mm(layout.blocks.height_nm)) * _levels_mm(relief)
    shown = sides_shown_mm2(layout, relief)
    painted = face + (shown if asked.side_share is None else asked.side_share * sides)
    ml_per_mm2 = asked.coats / asked.colour_m2_per_l * ML_PER_L / MM2_PER_M2 * (1 + asked.reserve)
    rows = tuple(
        ShadePaint(
            shade=shade.name,
            blocks=int(mine.sum()),
            face_mm2=float(face[mine].sum()),
            sides_shown_mm2=float(shown[mine].sum()),
            painted_mm2=float(painted[mine].sum()),
            colour_ml=float(painted[mine].sum()) * ml_per_mm2,
        )
        for number, shade in enumerate(fade.shades)
        for mine in (fade.shade == number,)
    )
    area = float(painted.sum())
    pots, checks = family_pots(brief, fade, rows)
    return Paint(
        rows=rows,
        painted_mm2=area,
        shown_mm2=float((face + shown).sum()),
        primer_ml=area * asked.primer_coats / asked.primer_m2_per_l * ML_PER_L / MM2_PER_M2,
        colour_ml=area * ml_per_mm2,
        mean_per_shade_ml=area * ml_per_mm2 / len(fade.shades),
        coats=asked.coats,
        reserve=asked.reserve,
        basis=_basis(asked.side_share),
        ground=_ground(brief, layout, fade),
        edge_work=_edge_work(brief, layout),
        pots=pots,
        dry_paint_g_per_leaf=_dry_g_per_leaf(brief, layout, painted),
        cautions=PAINT_CAUTIONS,
        checks=checks,
    )


def _mm(lengths_nm: NDArray[np.int64]) -> FloatArray:
    return lengths_nm / 1e6


def _levels_mm(relief: Relief) -> FloatArray:
    return np.asarray(relief.levels_nm, dtype=np.int64)[relief.level] / 1e6


def _basis(side_share: float | None) -> str:
    if side_share is None:
        return "faces, and the sides as far as they stand above their neighbours"
    return f"faces, and {100 * side_share:.0f} % of the four sides of every block"


def _ground(brief: Brief, layout: Layout, fade: Fade) -> GroundPaint:
    chosen = next(ground for ground in fade.grounds if ground.chosen)
    front = back = edges = 0.0
    thickness_mm = brief.backer.thickness_nm / 1e6
    for leaf in layout.leaves:
        width_mm, height_mm = leaf.backer_width_nm / 1e6, leaf.backer_height_nm / 1e6
        front += width_mm * height_mm
        back += width_mm * height_mm
        edges += 2 * (width_mm + height_mm) * thickness_mm
    asked = brief.paint
    ml = ML_PER_L / MM2_PER_M2
    return GroundPaint(
        name=chosen.name,
        colour_hex=chosen.colour_hex,
        front_mm2=front,
        edges_mm2=edges,
        back_mm2=back,
        colour_ml=(front + edges) * asked.coats / asked.colour_m2_per_l * ml * (1 + asked.reserve),
        seal_ml=(front + back + edges) * asked.primer_coats / asked.primer_m2_per_l * ml,
    )


def _edge_work(brief: Brief, layout: Layout) -> EdgeWork:
    blocks = layout.blocks
    return EdgeWork(
        blocks=blocks.count,
        front_edges=4 * blocks.count,
        front_edges_mm=float((2 * (_mm(blocks.width_nm) + _mm(blocks.height_nm))).sum()),
        grits=GRITS,
        minutes=brief.rates.sand_min * blocks.count,
    )


def _dry_g_per_leaf(brief: Brief, layout: Layout, painted_mm2: FloatArray) -> tuple[float, ...]:
    per_leaf = np.bincount(layout.blocks.leaf, weights=painted_mm2, minlength=len(layout.leaves))
    return tuple(float(area) * brief.paint.dry_g_per_m2 / MM2_PER_M2 for area in per_leaf)
