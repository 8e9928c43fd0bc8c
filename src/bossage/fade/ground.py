"""A colour for the backer that makes the gaps read as shadow between these shades."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief
from bossage.colour.grounds import compare_grounds
from bossage.colour.spaces import hex_to_lab, lab_to_hex
from bossage.fade.records import GroundColour, Shade

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

# The least kind light comes from the front: it falls to the ground in full, while the blocks' sides lie in shadow with
# a fraction of it. With the kinder shares of a deep gap any ground looks dark. Both are our assumptions.
LIGHT_ON_GROUND, LIGHT_ON_SIDES = 1.0, 0.15
DARK_NEUTRAL_L, MID_L, DEEP_L = 14.0, 45.0, 18.0


def ground_colours(
    brief: Brief, shades: tuple[Shade, ...], shade: IntArray, edges: IntArray
) -> tuple[GroundColour, ...]:
    """Two or three candidates and the maker's own, each with its contrast to the shadow beside it.

    Those whose contrast cannot be told from the least vanish; the darkest of them is advised.

    Args:
        brief: The ground colour that the maker chose, if any.
        shades: All shades.
        shade: Shade of each block.
        edges: Pairs of neighbours, between which the ground shows.

    Source:
        `bossage.colour.grounds`; that a dark ground vanishes: common practice, no source.
    """
    labs = np.array([one.lab for one in shades])
    hexes = dict(_candidates(brief, labs, np.bincount(shade, minlength=len(shades))))
    compared = compare_grounds(
        {name: hex_to_lab(text) for name, text in hexes.items()},
        labs,
        shade,
        edges,
        light_on_ground=LIGHT_ON_GROUND,
        light_on_sides=LIGHT_ON_SIDES,
    )
    own = next(iter(hexes)) if brief.backer.colour_hex else ""
    return tuple(
        GroundColour(
            name=ground.name,
            colour_hex=hexes[ground.name],
            lightness=ground.lab[0],
            contrast_de=ground.contrast_de,
            unsure_de=ground.unsure_de,
            vanishes=ground.vanishes,
            advised=ground.advised,
            chosen=ground.name == own if own else ground.advised,
        )
        for ground in compared
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
