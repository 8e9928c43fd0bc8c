"""Writing quantities as a shop reads them. A `unit` is `"mm"` or `"in"`: what the maker's papers are printed in."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from bossage.units.scale import (
    G_PER_LB,
    G_PER_OZ,
    ML_PER_FL_OZ,
    ML_PER_GAL,
    ML_PER_QT,
    NM_PER_IN,
    NM_PER_MM,
    round_to_step,
)


def format_length(
    nm: int,
    unit: str,
    *,
    denominator: int = 16,
    decimals: int = 1,
    exact_to: int = 64,
    show_error: bool = False,
    bare: bool = False,
) -> str:
    """A length as a shop reads it: `3-1/2 in` in lowest terms, or `88.9 mm`.

    Args:
        nm: The length.
        unit: `"mm"` or `"in"`.
        denominator: Inches are rounded to this part of an inch: 16 or 32 on a tape, 64 on calipers.
        decimals: Millimetres are rounded to so many decimals; zeros at the end are left off.
        exact_to: An inch length that is a whole number of this part of an inch is printed as it is, unrounded.
        show_error: Add how far the printed length is off, if it is.
        bare: Leave the unit off, for a column headed by it.
    """
    if unit == "mm":
        step = NM_PER_MM // 10**decimals
    else:
        step = NM_PER_IN // exact_to if nm % (NM_PER_IN // exact_to) == 0 else NM_PER_IN // denominator
    shown = round_to_step(nm, step)
    text = _mm_text(shown) if unit == "mm" else _inch_text(shown)
    if not bare:
        text = f"{text} {unit}"
    return f"{text}{_error_text(shown - nm, unit)}" if show_error else text


def format_thin(nm: int, unit: str) -> str:
    """A kerf, a swelling, a tolerance: to 0.01 mm, or as an inch fraction if it is one to 1/64, else to 0.001 in."""
    if unit == "mm":
        return f"{_mm_text(round_to_step(nm, NM_PER_MM // 100))} mm"
    if nm % (NM_PER_IN // 64) == 0:
        return f"{_inch_text(nm)} in"
    return f"{_plain(Fraction(nm, NM_PER_IN), 3)} in"


def format_size(width_nm: int, height_nm: int, unit: str, *, denominator: int = 16) -> str:
    """Two lengths across and up: `600 × 480 mm`, `8 × 5-1/2 in`."""
    width = format_length(width_nm, unit, denominator=denominator, bare=True)
    return f"{width} × {format_length(height_nm, unit, denominator=denominator)}"


def format_area(nm2: int | float, unit: str) -> str:
    """An area in square nanometres, in the unit that suits its size: mm², cm², m² or in², ft²."""
    if unit == "mm":
        mm2 = nm2 / NM_PER_MM**2
        if abs(mm2) < 10_000:
            return f"{_plain(mm2, 1)} mm²"
        return f"{_plain(mm2 / 100, 1)} cm²" if abs(mm2) < 100_000 else f"{_plain(mm2 / 1e6, 3)} m²"
    in2 = nm2 / NM_PER_IN**2
    return f"{_plain(in2, 2)} in²" if abs(in2) < 1440 else f"{_plain(in2 / 144, 2)} ft²"


def format_mass(g: float, unit: str) -> str:
    """A mass as a shop reads it: g under 1 kg, kg; oz under 1 lb, lb."""
    if unit == "mm":
        return f"{_plain(g, 0)} g" if abs(g) < 999.5 else f"{_plain(g / 1000, 1 if abs(g) >= 9995 else 2)} kg"
    if abs(g) < G_PER_LB:
        return f"{_plain(g / G_PER_OZ, 1)} oz"
    return f"{_plain(g / G_PER_LB, 1)} lb"


def format_volume(ml: float, unit: str) -> str:
    """A volume as a shop reads it: mL, L; fl oz, qt, gal."""
    if unit == "mm":
        if abs(ml) < 10:
            return f"{_plain(ml, 1)} mL"
        return f"{_plain(ml, 0)} mL" if abs(ml) < 999.5 else f"{_plain(ml / 1000, 2)} L"
    if abs(ml) < ML_PER_QT:
        return f"{_plain(ml / ML_PER_FL_OZ, 1)} fl oz"
    return f"{_plain(ml / ML_PER_QT, 2)} qt" if abs(ml) < ML_PER_GAL else f"{_plain(ml / ML_PER_GAL, 2)} gal"


def format_money(cents: int, currency: str) -> str:
    """An amount with its sign in front: `$4,449.06`, `€8.40`; a code such as `CHF` stands apart."""
    sign = "-" if cents < 0 else ""
    gap = " " if currency.isalpha() else ""
    return f"{sign}{currency}{gap}{abs(cents) // 100:,}.{abs(cents) % 100:02d}"


def format_temperature(degc: float, unit: str) -> str:
    """Whole degrees, °C beside millimetres and °F beside inches."""
    return f"{_plain(degc, 0)} °C" if unit == "mm" else f"{_plain(degc * 9 / 5 + 32, 0)} °F"


def format_percent(pct: float, decimals: int = 1) -> str:
    """`8 %`, `12.5 %`; zeros at the end are left off."""
    return f"{_plain(pct, decimals)} %"


def _plain(value: float | Fraction, decimals: int) -> str:
    """A decimal with a half rounded up, no zeros at the end and no minus zero."""
    number = float(value)
    if not math.isfinite(number):
        return str(number)
    quantum = Decimal(1).scaleb(-decimals)
    text = f"{Decimal(repr(number)).quantize(quantum, ROUND_HALF_UP):f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in {"-0", ""} else text


def _mm_text(nm: int) -> str:
    whole, rest = divmod(abs(nm), NM_PER_MM)
    text = f"{whole}.{rest:06d}".rstrip("0").rstrip(".")
    return f"-{text}" if nm < 0 else text


def _inch_text(nm: int) -> str:
    whole, rest = divmod(abs(nm), NM_PER_IN)
    part = Fraction(rest, NM_PER_IN)
    if not part:
        text = str(whole)
    else:
        text = f"{whole}-{part.numerator}/{part.denominator}" if whole else f"{part.numerator}/{part.denominator}"
    return f"-{text}" if nm < 0 else text


def _error_text(error_nm: int, unit: str) -> str:
    if error_nm == 0:
        return ""
    size = Fraction(abs(error_nm), NM_PER_MM if unit == "mm" else NM_PER_IN)
    text = _plain(size, 2 if unit == "mm" else 3)
    side = "over" if error_nm > 0 else "under"
    return f" (less than 0.001 {unit} {side})" if text == "0" else f" ({text} {unit} {side})"
