"""A colour for the backer that makes the gaps read as shadow between these shades."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief
from bossage.colour.difference import delta_e
from bossage.colour.spaces import hex_to_lab, lab_to_hex, lab_to_xyz, xyz_to_lab
from bossage.fade.records import GroundColour, Shade

FloatArray = NDArray[np.float64]

SHADOW_SHARE = 0.15  # of the room's light that reaches the foot of a block in shadow; our assumption
DARK_NEUTRAL_L, MID_L, DEEP_L = 14.0, 45.0, 18.0


def ground_colours(brief: Brief, shades: tuple[Shade, ...], counts: NDArray[np.int64]) -> tuple[GroundColour, ...]:
    """Two or three candidates and the maker's own, each with its contrast to shadow; the least is advised.

    A gap vanishes when its floor, lit from the front, looks like the shadow that lies beside the blocks anyhow: their
    own shades in a fraction of the light. Darker than that it draws lines, lighter it shines through.

    Args:
        brief: The ground colour that the maker chose, if any.
        shades: All shades.
        counts: Blocks of each shade.

    Source:
        That a dark ground vanishes: common practice, no source. The share of light in a shadow is our assumption.
    """
    labs = np.array([shade.lab for shade in shades])
    shadows = xyz_to_lab(lab_to_xyz(labs) * SHADOW_SHARE)
    rows: list[tuple[str, str, float]] = []
    for name, colour_hex in _candidates(brief, labs, counts):
        floor = np.broadcast_to(hex_to_lab(colour_hex), shadows.shape)
        contrast = float(np.average(delta_e(floor, shadows), weights=counts))
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
    mean = np.average(labs, axis=0, weights=counts)
    found = [
        ("deep, of the darkest shade's hue", lab_to_hex(deep)),
        ("dark neutral", lab_to_hex(np.array([DARK_NEUTRAL_L, 0.0, 1.5]))),
        ("middle tone of all shades", lab_to_hex(np.array([MID_L, *(mean[1:] * 0.6)]))),
    ]
    own = brief.backer.colour_hex
    return [(brief.backer.colour_name or "as asked", own), *found] if own else found
