"""A colour for the backer that makes the gaps read as shadow between these shades."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief
from bossage.colour.difference import delta_e
from bossage.colour.spaces import hex_to_lab, lab_to_hex, lab_to_xyz, xyz_to_lab
from bossage.fade.records import GroundColour, Shade

FloatArray = NDArray[np.float64]

NARROWEST_GAP_MM = 0.3  # blocks set tight still part by about this much; common practice, no source
VANISHES_DE = 2.0  # within this of the best, the maker's own choice vanishes as well
DARK_NEUTRAL_L, MID_L, DEEP_L = 14.0, 45.0, 18.0


def ground_colours(
    brief: Brief, shades: tuple[Shade, ...], counts: NDArray[np.int64], mean_level_mm: float
) -> tuple[GroundColour, ...]:
    """Two or three candidates and the maker's own, each with its contrast to shadow; the least is advised.

    A gap is a long slot as deep as the blocks are high. Its floor and its walls see a share of the room's light; the
    floor vanishes when it looks like the walls beside it, which have the shades of the blocks.

    Args:
        brief: The ground colour that the maker chose, if any, and the gap.
        shades: All shades.
        counts: Blocks of each shade.
        mean_level_mm: Mean height of the blocks.

    Source:
        View factors of a long slot by crossed strings: Hottel 1954, as given in heat-transfer handbooks (from
        memory); the comparison itself is ours.
    """
    slot = max(brief.blocks.gap_nm / 1e6, NARROWEST_GAP_MM)
    ratio = mean_level_mm / slot
    floor_sees = math.sqrt(1 + ratio**2) - ratio
    wall_sees = (1 - floor_sees) / (2 * ratio)
    labs = np.array([shade.lab for shade in shades])
    walls = _dimmed(labs, wall_sees)
    rows: list[tuple[str, str, float]] = []
    for name, colour_hex in _candidates(brief, labs, counts):
        floor = _dimmed(hex_to_lab(colour_hex).reshape(1, 3), floor_sees)
        contrast = float(np.average(delta_e(np.broadcast_to(floor, walls.shape), walls), weights=np.maximum(counts, 0)))
        rows.append((name, colour_hex, contrast))
    best = min(range(len(rows)), key=lambda number: rows[number][2])
    own = bool(brief.backer.colour_hex)
    return tuple(
        GroundColour(
            name=name,
            colour_hex=colour_hex,
            lightness=float(hex_to_lab(colour_hex)[0]),
            contrast_de=contrast,
            advised=number == best,
            chosen=number == (0 if own else best),
        )
        for number, (name, colour_hex, contrast) in enumerate(rows)
    )


def _candidates(brief: Brief, labs: FloatArray, counts: NDArray[np.int64]) -> list[tuple[str, str]]:
    """The maker's own first, then a deep shade of the darkest family, a dark neutral and a middle grey."""
    darkest = labs[int(np.argmin(labs[:, 0]))]
    deep = np.array([DEEP_L, *(darkest[1:] * 0.5)])
    mean = np.average(labs, axis=0, weights=np.maximum(counts, 0))
    found = [
        ("deep, of the darkest shade's hue", lab_to_hex(deep)),
        ("dark neutral", lab_to_hex(np.array([DARK_NEUTRAL_L, 0.0, 1.5]))),
        ("middle tone of all shades", lab_to_hex(np.array([MID_L, *(mean[1:] * 0.6)]))),
    ]
    own = brief.backer.colour_hex
    return [(brief.backer.colour_name or "as asked", own), *found] if own else found


def _dimmed(labs: FloatArray, share: float) -> FloatArray:
    return xyz_to_lab(lab_to_xyz(labs) * share)
