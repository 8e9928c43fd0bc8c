"""What a dry coat can look like: the range of its reflectance, and hex colours that lie outside it.

A hex colour is a mark on a screen's range, from no light at all to all of it. A coat of paint reaches neither end: its
surface alone returns some light, and no pigment returns all of it. A colour that a coat can have is left alone. One
that no coat can have is moved no further than to the edge of that range. Why, with the measurement:
docs/decisions/0011.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from bossage.colour.difference import delta_e
from bossage.colour.kubelka_munk import K1
from bossage.colour.spaces import (
    WHITE_D65,
    FloatArray,
    hex_to_lab,
    hex_to_srgb,
    lab_to_xyz,
    linear_to_xyz,
    srgb_to_linear,
    xyz_to_lab,
)
from bossage.colour.spectrum import coat_spectrum, lab_to_spectrum, spectrum_to_lab

# The surface's own reflection may be at most this part of the darkest reading: nearer to it absorption cannot be told.
K1_SHARE: Final = 0.9
# Reflectance of a dry coat at any wavelength. 36 of 37 measured oil films return 0.037 or more everywhere, and the
# whitest of them 0.895 at most (Geldof et al. 2018, see docs/decisions/0011). The brightest is a convention.
COAT_LEAST: Final = K1 / K1_SHARE
COAT_MOST: Final = 0.96
_HALVINGS_N: Final = 12
_INSIDE: Final = 1e-4  # of reflectance: a colour on the very edge has one spectrum alone, which no search settles on
_INWARD_GAIN, _INWARD_LIFT = 0.96, 0.004  # draws screen white and black off the ends, where no spectrum exists


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat:
    """The coat that a hex colour stands for."""

    lab: tuple[float, float, float]  # CIELAB (D65)
    moved_de: float  # CIEDE2000 from the hex colour as a screen shows it; 0 for a colour that a coat can have


@lru_cache(maxsize=256)
def coat_of_hex(text: str) -> Coat:
    """The coat nearest to a hex colour: the colour itself where a coat can have it.

    Outside that range the colour moves on the straight line, in XYZ, towards what is left of its spectrum between the
    two bounds, and stops at the edge.

    Raises:
        BossageError: The hex colour cannot be read.
    """
    lab = hex_to_lab(text)
    if coat_spectrum(lab, COAT_LEAST, COAT_MOST) is not None:
        return Coat(lab=_triple(lab), moved_de=0.0)
    start = linear_to_xyz(srgb_to_linear(hex_to_srgb(text)))
    drawn = xyz_to_lab(_INWARD_GAIN * start + _INWARD_LIFT * WHITE_D65)
    end = lab_to_xyz(spectrum_to_lab(np.clip(lab_to_spectrum(drawn), COAT_LEAST + _INSIDE, COAT_MOST - _INSIDE)))
    near, far = 0.0, 1.0
    for _ in range(_HALVINGS_N):
        middle = (near + far) / 2
        within = coat_spectrum(xyz_to_lab(start + middle * (end - start)), COAT_LEAST, COAT_MOST) is not None
        near, far = (near, middle) if within else (middle, far)
    found = xyz_to_lab(start + far * (end - start))
    return Coat(lab=_triple(found), moved_de=float(delta_e(found, lab)))


def coat_of_lab(lab: FloatArray) -> tuple[FloatArray, float]:
    """Reflectance of a coat of a CIELAB colour, and what its surface returns by itself (`k1`).

    A reading that no coat with its gloss can have was taken without the gloss: it keeps its own spectrum, and the
    surface's share falls below the darkest of it.

    Raises:
        BossageError: No surface at all has such a colour.
    """
    plain = lab_to_spectrum(lab)
    if plain.min() >= COAT_LEAST:
        return plain, K1
    bound = coat_spectrum(lab, COAT_LEAST, 1.0)
    return (plain, K1_SHARE * float(plain.min())) if bound is None else (bound, K1)


def _triple(lab: FloatArray) -> tuple[float, float, float]:
    L, a, b = (float(v) for v in lab)
    return L, a, b
