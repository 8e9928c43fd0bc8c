"""The picture of the piece on its wall: what the lit picture is told, from the plan."""

from __future__ import annotations

import numpy as np

from bossage.body import Role, uncut
from bossage.brief.records import Brief, Side
from bossage.drawing.box import Box
from bossage.drawing.picture import Flat, Light, Scene, Solids, linear
from bossage.plan import Plan

FLOOR_HEX, FURNITURE_HEX, EDGE_HEX = "#cfcac3", "#e0dcd6", "#b4aea7"
WALL_HEX = "#e9e6e1"  # where the brief names no colour: warm, light, nearly neutral

LEAST_OVER = 0.1  # of the longer side of the piece, seen over it

#: Light from a side comes slanting from above it, as from a window or a lamp.
AZIMUTH_DEG = {Side.LEFT: 138.0, Side.RIGHT: 42.0, Side.TOP: 90.0, Side.BOTTOM: 270.0}


def wall_scene(plan: Plan, *, aspect: float, copy: int = 1, margin_share: float = 0.28) -> Scene:
    """The piece with the furniture under it and, where they are near, floor and ceiling.

    The window reaches down to the foot of what stands under the piece, or to the floor where that is near; it is
    `aspect` times as wide as high, where the wall is wide enough.
    """
    layout = plan.layout
    left, bottom = layout.x_nm / 1e6, layout.y_nm / 1e6
    piece = Box(
        left_mm=left, bottom_mm=bottom, right_mm=left + layout.width_nm / 1e6, top_mm=bottom + layout.height_nm / 1e6
    )
    return Scene(
        window=_window(plan.brief, piece, margin_share, aspect),
        wall=linear(plan.brief.wall.colour_hex or WALL_HEX),
        solids=solids_of(plan, copy=copy),
        before=_before(plan.brief, piece),
    )


def light_of(brief: Brief) -> Light:
    """Light from the side that the brief names."""
    return Light(azimuth_deg=AZIMUTH_DEG[brief.wall.light_from])


def solids_of(plan: Plan, *, copy: int = 1, ground_hex: str = "") -> Solids:
    """Backers with their openings sawn out and every block of one copy, by height over the wall; no strips.

    `ground_hex` shows the backers in another ground colour than the one taken.
    """
    layout, blocks, fade = plan.layout, plan.layout.blocks, plan.fade
    front_mm = (layout.stand_off.stand_off_nm + plan.brief.backer.thickness_nm) / 1e6
    numbers = [number for number, leaf in enumerate(layout.leaves) if leaf.copy == copy]
    ground = ground_hex or next((g.colour_hex for g in fade.grounds if g.chosen), "#3a3530")
    backers = [part for part in plan.body.parts if part.role is Role.BACKER and part.copy == copy]
    boards = np.array([box for part in backers for box in uncut(part)], dtype=np.float64).reshape(-1, 6) / 1e6
    mine = np.isin(blocks.leaf, numbers)
    x_mm, y_mm = blocks.x_nm[mine] / 1e6, blocks.y_nm[mine] / 1e6
    width_mm, height_mm = blocks.width_nm[mine] / 1e6, blocks.height_nm[mine] / 1e6
    level_mm = np.asarray(plan.relief.levels_nm, dtype=np.float64)[plan.relief.level[mine]] / 1e6
    shades = np.array([linear(shade.colour_hex) for shade in fade.shades])
    return Solids(
        left_mm=np.concatenate([boards[:, 0], x_mm]),
        bottom_mm=np.concatenate([boards[:, 1], y_mm]),
        right_mm=np.concatenate([boards[:, 3], x_mm + width_mm]),
        top_mm=np.concatenate([boards[:, 4], y_mm + height_mm]),
        height_mm=np.concatenate([np.full(len(boards), front_mm), front_mm + level_mm]),
        colour=np.concatenate([np.tile(linear(ground), (len(boards), 1)), shades[fade.shade[mine]]]),
    )


def _window(brief: Brief, piece: Box, margin_share: float, aspect: float) -> Box:
    wall = Box(left_mm=0, bottom_mm=0, right_mm=brief.wall.width_nm / 1e6, top_mm=brief.wall.height_nm / 1e6)
    margin_mm = margin_share * max(piece.width_mm, piece.height_mm)
    seen = piece.grown(margin_mm)
    under = [thing for thing in brief.furniture if _below(thing.x_nm, thing.right_nm, thing.bottom_nm, piece)]
    for thing in under:
        seen = seen.joined(
            Box(
                left_mm=max(thing.x_nm / 1e6 - 60, piece.left_mm - 1.2 * piece.width_mm),
                bottom_mm=max(thing.bottom_nm / 1e6 - 60, piece.bottom_mm - 1.5 * piece.height_mm),
                right_mm=min(thing.right_nm / 1e6 + 60, piece.right_mm + 1.2 * piece.width_mm),
                top_mm=piece.top_mm,
            )
        )
    floor_seen = seen.bottom_mm < 80
    low = -0.05 * piece.width_mm if floor_seen else seen.bottom_mm
    high = min(seen.top_mm, wall.top_mm)
    wide_mm = min(max(aspect * (high - low), seen.width_mm), wall.width_mm)
    # Beside a corner the piece stands out of the middle; where the wall is too narrow, less is seen over the piece,
    # then less of what stands under it.
    left = min(max((seen.left_mm + seen.right_mm - wide_mm) / 2, wall.left_mm), wall.right_mm - wide_mm)
    least_mm = LEAST_OVER * max(piece.width_mm, piece.height_mm)
    high = max(min(high, low + wide_mm / aspect), min(high, piece.top_mm + least_mm))
    low = min(max(low, high - wide_mm / aspect), max(low, piece.bottom_mm - 3 * least_mm))
    return Box(left_mm=left, bottom_mm=low, right_mm=left + wide_mm, top_mm=high)


def _below(left_nm: int, right_nm: int, bottom_nm: int, piece: Box) -> bool:
    return left_nm / 1e6 < piece.right_mm and right_nm / 1e6 > piece.left_mm and bottom_nm / 1e6 < piece.bottom_mm


def _before(brief: Brief, piece: Box) -> tuple[Flat, ...]:
    wall_mm = brief.wall.width_nm / 1e6
    floor = Flat(box=Box(left_mm=-1e4, bottom_mm=-1e4, right_mm=wall_mm + 1e4, top_mm=0.0), colour=linear(FLOOR_HEX))
    furniture = tuple(
        Flat(
            box=Box(
                left_mm=thing.x_nm / 1e6,
                bottom_mm=thing.bottom_nm / 1e6,
                right_mm=thing.right_nm / 1e6,
                top_mm=thing.top_nm / 1e6,
            ),
            colour=linear(FURNITURE_HEX),
            edge=linear(EDGE_HEX),
        )
        for thing in brief.furniture
        # What stands away from the wall would hide the piece; the picture shows the piece.
        if _below(thing.x_nm, thing.right_nm, thing.bottom_nm, piece) or thing.top_nm / 1e6 <= piece.bottom_mm
    )
    return (floor, *furniture)
