"""What one unit is in another, and rounding that never adds up."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Final

GRAVITY_M_S2: Final = 9.80665
"""Standard gravity (3rd General Conference on Weights and Measures, 1901; exact by definition)."""

NM_PER_MM: Final = 1_000_000
NM_PER_IN: Final = 25_400_000
NM_PER_FT: Final = 12 * NM_PER_IN
G_PER_LB: Final = 453.59237
G_PER_OZ: Final = G_PER_LB / 16
ML_PER_GAL: Final = 3785.411784
ML_PER_QT: Final = ML_PER_GAL / 4
ML_PER_FL_OZ: Final = ML_PER_GAL / 128
Number = int | float | Decimal | Fraction
Typed = str | Number


def round_to_step(nm: int, step_nm: int) -> int:
    """The multiple of `step_nm` nearest to `nm`; a half goes away from zero."""
    whole, rest = divmod(abs(nm), step_nm)
    rounded = (whole + (2 * rest >= step_nm)) * step_nm
    return rounded if nm >= 0 else -rounded


def round_cents(cents: Number) -> int:
    """Whole cents, half a cent away from zero, as money is rounded: once, at the end."""
    exact = Fraction(cents)
    return int((Decimal(exact.numerator) / Decimal(exact.denominator)).to_integral_value(ROUND_HALF_UP))
