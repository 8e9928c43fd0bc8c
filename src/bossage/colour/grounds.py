"""The colour of the backer where it shows between blocks: which candidate vanishes.

A gap is seen as a dark line. It vanishes when what is seen of the ground, dimmed because little light gets in, looks
like the shadow that the blocks beside it would cast anyway. How much light gets in is an assumption and printed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bossage.colour.difference import delta_e
from bossage.colour.spaces import FloatArray, lab_to_xyz, xyz_to_lab

IntArray = NDArray[np.int64]

# Share of the light on a face that reaches the bottom of a narrow gap, and of that on a block's side in the same
# gap (our choice, no source).
LIGHT_ON_GROUND: Final = 0.35
LIGHT_ON_SIDES: Final = 0.10
# By so much the light on the sides may be more or less than assumed (our choice, no source).
LIGHT_MAY_BE: Final = (0.5, 1.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundContrast:
    """One candidate for the backer's colour."""

    name: str
    lab: tuple[float, float, float]
    seen_lab: tuple[float, float, float]  # as seen at the bottom of a gap
    contrast_de: float  # mean CIEDE2000 between that and the shadow of the blocks beside it; the least vanishes
    against_faces_de: float  # mean CIEDE2000 to the lit faces beside it
    unsure_de: float  # half of what the contrast moves by while the light on the sides runs through its range
    vanishes: bool  # has the least contrast somewhere in that range
    advised: bool  # the darkest of those that vanish


def compare_grounds(
    candidates: Mapping[str, ArrayLike],
    shade_labs: FloatArray,
    shade: IntArray,
    edges: IntArray,
    *,
    light_on_ground: float = LIGHT_ON_GROUND,
    light_on_sides: float = LIGHT_ON_SIDES,
) -> tuple[GroundContrast, ...]:
    """Compare colours for the backer over every gap between neighbours, in the order given.

    Args:
        candidates: CIELAB of each candidate, by name.
        shade_labs: CIELAB of every shade, one row each.
        shade: Shade of each block.
        edges: m x 2 pairs of neighbours, that is the gaps; where there are none, every block stands for itself.
        light_on_ground: Share of light that reaches the ground.
        light_on_sides: Share of light on the blocks' sides beside it.

    Which ground has the least contrast may change while the light on the sides runs through its range. All that have
    it somewhere vanish as far as this reckoning can tell, and the darkest of them is advised: a dark ground errs
    towards shadow.
    """
    pairs = edges if len(edges) else np.stack([np.arange(len(shade))] * 2, axis=1)
    # Pairs of shades, counted, so that a large piece costs no more than a small one.
    kinds, count = np.unique(np.sort(shade[pairs], axis=1), axis=0, return_counts=True)
    beside = lab_to_xyz(shade_labs)[kinds]
    lit = beside.mean(axis=1) * light_on_sides
    shadow = xyz_to_lab(lit)
    extremes = [xyz_to_lab(lit * share) for share in LIGHT_MAY_BE]
    rows, by_light = [], []
    for name, given in candidates.items():
        lab = np.asarray(given, dtype=np.float64)
        seen = xyz_to_lab(lab_to_xyz(lab) * light_on_ground)
        contrast = float(np.average(delta_e(seen, shadow), weights=count))
        faces = float(np.average(delta_e(seen, shade_labs[kinds]).mean(axis=1), weights=count))
        by_light.append([contrast, *(float(np.average(delta_e(seen, dark), weights=count)) for dark in extremes)])
        rows.append((name, lab, seen, contrast, faces, (max(by_light[-1]) - min(by_light[-1])) / 2))
    least = _least([row[3] for row in rows])
    vanish = [any(mine <= of_least for mine, of_least in zip(one, by_light[least], strict=True)) for one in by_light]
    advised = min((i for i, so in enumerate(vanish) if so), key=lambda i: float(rows[i][1][0]), default=-1)
    return tuple(
        GroundContrast(
            name=name,
            lab=(float(lab[0]), float(lab[1]), float(lab[2])),
            seen_lab=(float(seen[0]), float(seen[1]), float(seen[2])),
            contrast_de=contrast,
            against_faces_de=faces,
            unsure_de=unsure,
            vanishes=vanish[i],
            advised=i == advised,
        )
        for i, (name, lab, seen, contrast, faces, unsure) in enumerate(rows)
    )


def _least(values: Sequence[float]) -> int:
    return min(range(len(values)), key=lambda i: values[i], default=-1)
