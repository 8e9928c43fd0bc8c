"""From a colour to a smooth reflectance spectrum and back, 380 to 730 nm in steps of 10.

The spectrum with the least slope in a hyperbolic-tangent coordinate (Burns, arXiv 1710.05732 describes the family;
this member by name [from memory]): reflectance stays between 0 and 1, colours outside sRGB are allowed.
The weights are CIE 1931 2 degree observer times D65 (`data/cie1931_d65_10nm.csv`, source in each row).
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from bossage.colour.spaces import FloatArray, lab_to_xyz, xyz_to_lab
from bossage.errors import BossageError
from bossage.tables import table_rows

R_LEAST, R_MOST = 0.001, 0.999


@lru_cache(maxsize=1)
def weights() -> tuple[FloatArray, FloatArray]:
    """Wavelengths in nm, and the weights (wavelength x XYZ) that turn a reflectance into XYZ with Y = 1 for white."""
    rows = table_rows("bossage.colour", "cie1931_d65_10nm.csv")
    nm = np.array([float(row["wavelength_nm"]) for row in rows])
    A = np.array([[float(row[key]) for key in ("wx", "wy", "wz")] for row in rows])
    nm.setflags(write=False)
    A.setflags(write=False)
    return nm, A


def table_white() -> FloatArray:
    """XYZ of a perfect white under the table's own weights: the Lab white for spectra computed with it."""
    white: FloatArray = weights()[1].sum(axis=0)
    return white


def spectrum_to_lab(R: ArrayLike) -> FloatArray:
    """CIELAB (D65) of reflectance spectra, last axis the wavelength."""
    return xyz_to_lab(np.asarray(R, dtype=np.float64) @ weights()[1], table_white())


def lab_to_spectrum(lab: ArrayLike) -> FloatArray:
    """The smoothest reflectance spectrum of each CIELAB colour.

    Args:
        lab: CIELAB (D65), last axis three long.

    Returns:
        Reflectance 0.001 to 0.999, last axis 36 wavelengths. Colour agrees to 1e-9 unless that cap bites.

    Raises:
        BossageError: No reflectance between 0 and 1 has that colour (black, white, or beyond any surface).

    Leaves out:
        Everything a real pigment does that is not smooth: two paints of one colour may mix differently.
    """
    v = np.asarray(lab, dtype=np.float64)
    flat = v.reshape(-1, 3)
    nm, _ = weights()
    found = np.empty((len(flat), len(nm)))
    for i, one in enumerate(flat):
        found[i] = _least_slope(one)
    return np.clip(found, R_LEAST, R_MOST).reshape(*v.shape[:-1], len(nm))


def coat_spectrum(lab: ArrayLike, least: float, most: float) -> FloatArray | None:
    """The smoothest reflectance spectrum of one CIELAB colour that stays between two reflectances everywhere.

    A dry coat returns at least what its surface reflects, so many dark or vivid colours whose smoothest spectrum dips
    below that have another spectrum that does not. The search is that of `lab_to_spectrum` in the narrower range.

    Args:
        lab: CIELAB (D65), three numbers.
        least: Least reflectance, 0 or more.
        most: Greatest reflectance, 1 or less.

    Returns:
        36 reflectances, or None where no spectrum within the two bounds has that colour.
    """
    span = most - least
    inner = (lab_to_xyz(np.asarray(lab, dtype=np.float64), table_white()) - least * table_white()) / span
    if not (0 < inner[1] < 1 and inner.min() > 0):
        return None
    try:
        R = _least_slope(xyz_to_lab(inner, table_white()))
    except BossageError:
        return None
    return np.asarray(least + span * np.clip(R, R_LEAST, R_MOST))


def _least_slope(lab: FloatArray) -> FloatArray:
    _, A = weights()
    n = len(A)
    target = lab_to_xyz(lab, table_white())
    if not 0 < target[1] < 1:
        raise _no_spectrum(lab)
    D = _slope_matrix(n)
    z = np.full(n, np.arctanh(np.clip(2 * target[1] - 1, -0.999999, 0.999999)))
    multiplier = np.zeros(3)
    J = np.zeros((n + 3, n + 3))
    for _ in range(200):
        t = np.tanh(z)
        R, R1 = (1 + t) / 2, (1 - t * t) / 2
        R2 = -2 * t * R1
        pull = A @ multiplier
        F = np.concatenate([D @ z + R1 * pull, A.T @ R - target])
        if np.abs(F).max() < 1e-12:
            return np.asarray(R)
        J[:n, :n] = D + np.diag(R2 * pull)
        J[:n, n:] = R1[:, None] * A
        J[n:, :n] = J[:n, n:].T
        try:
            step = np.linalg.solve(J, -F)
        except np.linalg.LinAlgError:
            break
        size = np.abs(step[:n]).max()
        step *= min(1.0, 2.0 / size) if size > 0 else 1.0
        z, multiplier = z + step[:n], multiplier + step[n:]
    R = (1 + np.tanh(z)) / 2
    if np.abs(A.T @ R - target).max() < 1e-9:
        return np.asarray(R)
    raise _no_spectrum(lab)


@lru_cache(maxsize=2)
def _slope_matrix(n: int) -> FloatArray:
    step = np.diff(np.eye(n), axis=0)
    D: FloatArray = 2 * step.T @ step
    return D


def _no_spectrum(lab: FloatArray) -> BossageError:
    L, a, b = (float(v) for v in lab)
    return BossageError(
        f"No paint surface can have the colour L* {L:.1f}, a* {a:.1f}, b* {b:.1f}: it is black, white or more vivid "
        "than a reflecting surface can be. Check the reading; ordinary paint lies between L* 10 and 98."
    )
