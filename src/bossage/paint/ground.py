"""The backer's front: where the ground shows, the field that stays free for glue, and the ways to colour it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bossage.body import Body, Role
from bossage.brief.records import Brief
from bossage.layout.records import Layout, Zone
from bossage.paint.areas import LAP_MM
from bossage.paint.way_records import GroundWay

FloatArray = NDArray[np.float64]

# Minutes and rates: first guesses, ours.
LINE_MM_PER_MIN = 1_500.0  # a brush as broad as the gap and its laps, along a pencil line
DYE_MM2_PER_MIN = 250_000.0  # a rag or a pad, wiped once
PAINT_MM2_PER_MIN = 150_000.0
DRAW_MM_PER_MIN = 6_000.0  # pencil lines to paint along
SCRAP_TEST_MIN = 12.0  # two blocks glued on a dyed scrap, knocked off the day after
TRAY_MIN = 5.0

LEAST_SHOWN_MM2 = 1.0
"""Less than that is a sum's rounding. Ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueField:
    """The front of all backers, openings left out: what stays bare under the blocks, what shows or lies close by."""

    front_mm2: float
    bare_mm2: FloatArray  # by block; 0 for a ring block, which stands beside the backer
    lines_mm: float  # of edge between the two
    shows_mm2: float  # of the front, where no block stands before it
    openings_mm: float  # round all openings: their edges are seen

    @property
    def painted_mm2(self) -> float:
        """Where the ground shows, with its lap under the blocks."""
        return max(0.0, self.front_mm2 - float(self.bare_mm2.sum()))


def glue_field(layout: Layout, body: Body, *, gap_nm: int, build_nm: int) -> GlueField:
    """The glue field of every block: its footprint on the backer, drawn in by a lap where the backer is seen beside it.

    A side has no lap where nothing is seen beside it: it lies tight against a neighbour, or hangs over the backer's
    edge. A gap that the paint of both sides fills counts as tight. An open cell that is sawn out of the backer shows
    the wall, not the ground; its edges show, and a lap goes round it.
    """
    blocks = layout.blocks
    filled_nm = gap_nm if gap_nm <= 2 * build_nm else 0
    left, below = (start.astype(np.int64) - filled_nm // 2 for start in (blocks.x_nm, blocks.y_nm))
    right, above = left + blocks.width_nm + filled_nm, below + blocks.height_nm + filled_nm
    box = {
        "left": np.array([leaf.backer_x_nm for leaf in layout.leaves]),
        "below": np.array([leaf.backer_y_nm for leaf in layout.leaves]),
        "right": np.array([leaf.backer_x_nm + leaf.backer_width_nm for leaf in layout.leaves]),
        "above": np.array([leaf.backer_y_nm + leaf.backer_height_nm for leaf in layout.leaves]),
    }
    on = {side: edge[blocks.leaf] for side, edge in box.items()}
    tight = _tight(layout, filled_nm)
    tight["left"] |= left < on["left"]
    tight["below"] |= below < on["below"]
    tight["right"] |= right > on["right"]
    tight["above"] |= above > on["above"]
    lap = LAP_MM * 1e6
    covers = np.maximum(np.minimum(right, on["right"]) - np.maximum(left, on["left"]), 0) / 1e6
    covers = covers * np.maximum(np.minimum(above, on["above"]) - np.maximum(below, on["below"]), 0) / 1e6
    across = (np.minimum(right, on["right"]) - np.where(tight["right"], 0, lap)) - (
        np.maximum(left, on["left"]) + np.where(tight["left"], 0, lap)
    )
    up = (np.minimum(above, on["above"]) - np.where(tight["above"], 0, lap)) - (
        np.maximum(below, on["below"]) + np.where(tight["below"], 0, lap)
    )
    field = blocks.zone != Zone.RING
    across_mm, up_mm = np.maximum(across, 0) / 1e6, np.maximum(up, 0) / 1e6
    lines = sum(
        float(np.where(field & ~tight[side], length, 0.0).sum())
        for side, length in (("left", up_mm), ("right", up_mm), ("below", across_mm), ("above", across_mm))
    )
    holes = [
        ((x1 - x0) / 1e6, (y1 - y0) / 1e6)
        for part in body.parts
        if part.role is Role.BACKER
        for x0, y0, x1, y1 in part.openings_nm
    ]
    whole_mm2 = sum(leaf.backer_width_nm * leaf.backer_height_nm for leaf in layout.leaves) / 1e12
    front_mm2 = whole_mm2 - sum(wide * high for wide, high in holes)
    shows_mm2 = front_mm2 - float(covers.sum())
    return GlueField(
        front_mm2=front_mm2,
        bare_mm2=np.where(field, across_mm * up_mm, 0.0),
        lines_mm=lines,
        shows_mm2=shows_mm2 if shows_mm2 > LEAST_SHOWN_MM2 else 0.0,
        openings_mm=sum(2 * (wide + high) for wide, high in holes),
    )


def ground_ways(brief: Brief, layout: Layout, field: GlueField) -> tuple[GroundWay, ...]:
    """Where it shows alone, a stain over the whole front, or paint all over; the first two leave wood for the glue.

    Advised is the one of those two that takes the fewest minutes.
    """
    coats = brief.paint.coats
    lines = field.lines_mm
    ways = (
        GroundWay(
            name="lines",
            painted_mm2=field.painted_mm2,
            dyed_mm2=0.0,
            bare_field_mm2=float(field.bare_mm2.sum()),
            lines_mm=lines,
            minutes=coats * (lines / LINE_MM_PER_MIN + TRAY_MIN) + lines / DRAW_MM_PER_MIN,
            why="Paint along the gap lines, round edges and in open cells only: glue meets wood under every block.",
        ),
        GroundWay(
            name="dye",
            painted_mm2=0.0,
            dyed_mm2=field.front_mm2,
            bare_field_mm2=field.front_mm2,
            lines_mm=0.0,
            minutes=field.front_mm2 / DYE_MM2_PER_MIN + TRAY_MIN + SCRAP_TEST_MIN,
            why="A water dye or thin stain over the whole front, no film; try whether wood glue holds on it.",
        ),
        GroundWay(
            name="all over",
            painted_mm2=field.front_mm2,
            dyed_mm2=0.0,
            bare_field_mm2=0.0,
            lines_mm=0.0,
            minutes=coats * (field.front_mm2 / PAINT_MM2_PER_MIN + TRAY_MIN),
            why="Paint under the glue: every block then hangs on how well the paint holds on the board.",
        ),
    )
    best = min(ways[:2], key=lambda way: way.minutes)
    wanted = brief.paint.ground_way or best.name
    return tuple(replace(way, advised=way.name == best.name, chosen=way.name == wanted) for way in ways)


def _tight(layout: Layout, filled_nm: int) -> dict[str, NDArray[np.bool_]]:
    """By side, which blocks lie against neighbours along the whole of it, with no gap but one that is filled."""
    blocks = layout.blocks
    touching = {side: np.zeros(blocks.count) for side in ("left", "right", "below", "above")}
    right, above = blocks.x_nm + blocks.width_nm + filled_nm, blocks.y_nm + blocks.height_nm + filled_nm
    for i, j in blocks.edges:
        for one, other in ((i, j), (j, i)):
            if right[one] == blocks.x_nm[other]:
                shared = min(above[one], above[other]) - max(blocks.y_nm[one], blocks.y_nm[other])
                touching["right"][one] += shared
                touching["left"][other] += shared
            elif above[one] == blocks.y_nm[other]:
                shared = min(right[one], right[other]) - max(blocks.x_nm[one], blocks.x_nm[other])
                touching["above"][one] += shared
                touching["below"][other] += shared
    size = {"left": blocks.height_nm, "right": blocks.height_nm, "below": blocks.width_nm, "above": blocks.width_nm}
    return {side: touching[side] >= size[side] for side in touching}
