"""Reading what a maker types and writing what a shop reads: lengths, areas, masses, volumes, money, warmth.

Inside the project lengths are whole nanometres and other quantities are floats in g, mL and °C. The international
inch is exactly 25.4 mm and the pound exactly 453.59237 g (US Federal Register, 1 July 1959, doc. 59-5442); the US
gallon is 231 cubic inches. A `unit` argument is `"mm"` or `"in"`: the one that the maker's papers are printed in.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Final

from bossage.errors import BossageError

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

_LONGEST_TEXT = 60
_LARGEST = 10**15
_SMALLEST_EXPONENT = -40
_LENGTH_FORMS = '89 mm, 8.9 cm, 1.2 m, 3 1/2 in, 3-1/2", 4 ft 2 in'


class UnreadableQuantity(BossageError):
    """Something typed that is not a quantity of the wanted kind.

    Attributes:
        found: What was typed, shortened if it is long.
        allowed: The forms that can be read.
        remedy: What to type instead.
    """

    def __init__(self, found: str, allowed: str, remedy: str) -> None:
        self.found, self.allowed, self.remedy = found, allowed, remedy
        super().__init__(f"{found} cannot be read: allowed is {allowed}. {remedy}")


# --------------------------------------------------------------------------------------------- lengths


def parse_length_nm(value: Typed, default_unit: str = "mm", *, allow_negative: bool = False) -> int:
    """Whole nanometres of a length as a maker types it.

    Args:
        value: Text such as `3 1/2 in`, `3-1/2"`, `½"`, `89 mm`, `8,9 cm`, `4' 2-1/2"`, or a bare number.
        default_unit: `"mm"` or `"in"`; what a bare number is in.
        allow_negative: Whether a minus sign may stand in front.

    Returns:
        The length, rounded once to the nearest nanometre (only thirds and the like need it).

    Raises:
        UnreadableQuantity: Not a length, or a comma that could mean two things, or a sign where none may be.
    """
    per_unit = Fraction(_unit_nm(default_unit))
    if isinstance(value, str):
        exact = _read_length_text(value, per_unit, default_unit)
    else:
        exact = _exact(value, f"a length such as {_LENGTH_FORMS}") * per_unit
    if exact < 0 and not allow_negative:
        raise UnreadableQuantity(_quoted(value), "a length of 0 or more", "Leave out the minus sign.")
    return round(exact)


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


def round_to_step(nm: int, step_nm: int) -> int:
    """The multiple of `step_nm` nearest to `nm`; a half goes away from zero."""
    whole, rest = divmod(abs(nm), step_nm)
    rounded = (whole + (2 * rest >= step_nm)) * step_nm
    return rounded if nm >= 0 else -rounded


def round_running(lengths_nm: Iterable[int], step_nm: int) -> tuple[int, ...]:
    """Lengths that follow one another, rounded so that the errors are never summed up.

    Each is the difference of two rounded positions, so the sum of the first n is never off by more than half a step,
    however many there are.
    """
    position = shown = 0
    out: list[int] = []
    for length in lengths_nm:
        position += length
        mark = round_to_step(position, step_nm)
        out.append(mark - shown)
        shown = mark
    return tuple(out)


def mm(nm: int | float) -> float:
    """Millimetres of a length in nanometres."""
    return nm / NM_PER_MM


def inches(nm: int | float) -> float:
    """Inches of a length in nanometres."""
    return nm / NM_PER_IN


# --------------------------------------------------------------------------------- areas, masses, volumes


def format_area(nm2: int | float, unit: str) -> str:
    """An area in square nanometres, in the unit that suits its size: mm², cm², m² or in², ft²."""
    if unit == "mm":
        mm2 = nm2 / NM_PER_MM**2
        if abs(mm2) < 10_000:
            return f"{_plain(mm2, 1)} mm²"
        return f"{_plain(mm2 / 100, 1)} cm²" if abs(mm2) < 100_000 else f"{_plain(mm2 / 1e6, 3)} m²"
    in2 = nm2 / NM_PER_IN**2
    return f"{_plain(in2, 2)} in²" if abs(in2) < 1440 else f"{_plain(in2 / 144, 2)} ft²"


def format_area_m2(area_m2: float, unit: str) -> str:
    """An area in square metres, in the unit that suits its size."""
    return format_area(area_m2 * 1e18, unit)


def parse_mass_g(value: Typed, default_unit: str = "g") -> float:
    """Grams of a mass such as `6 kg`, `25 lb`, `4 oz`, `1 lb 4 oz`, or a bare number in `default_unit`."""
    return _read_scaled(value, _MASS_G, default_unit, "a mass such as 6 kg, 250 g, 25 lb, 4 oz")


def format_mass(g: float, unit: str) -> str:
    """A mass as a shop reads it: g under 1 kg, kg; oz under 1 lb, lb."""
    if unit == "mm":
        return f"{_plain(g, 0)} g" if abs(g) < 999.5 else f"{_plain(g / 1000, 1 if abs(g) >= 9995 else 2)} kg"
    if abs(g) < G_PER_LB:
        return f"{_plain(g / G_PER_OZ, 1)} oz"
    return f"{_plain(g / G_PER_LB, 1)} lb"


def parse_volume_ml(value: Typed, default_unit: str = "ml") -> float:
    """Millilitres of a volume such as `250 mL`, `2.5 L`, `8 fl oz`, `1 qt`, `1 gal`, or a bare number."""
    return _read_scaled(value, _VOLUME_ML, default_unit, "a volume such as 250 mL, 2.5 L, 8 fl oz, 1 qt, 1 gal")


def format_volume(ml: float, unit: str) -> str:
    """A volume as a shop reads it: mL, L; fl oz, qt, gal."""
    if unit == "mm":
        if abs(ml) < 10:
            return f"{_plain(ml, 1)} mL"
        return f"{_plain(ml, 0)} mL" if abs(ml) < 999.5 else f"{_plain(ml / 1000, 2)} L"
    if abs(ml) < ML_PER_QT:
        return f"{_plain(ml / ML_PER_FL_OZ, 1)} fl oz"
    return f"{_plain(ml / ML_PER_QT, 2)} qt" if abs(ml) < ML_PER_GAL else f"{_plain(ml / ML_PER_GAL, 2)} gal"


# ------------------------------------------------------------------------------ money, warmth, shares


def parse_money_cents(value: Typed) -> int:
    """Whole cents of an amount such as `15`, `8.40`, `8,40`, `$15`, `4.20 £`; half a cent is rounded up."""
    allowed = "an amount of money such as 15, 8.40 or $8.40"
    if isinstance(value, str):
        bare = re.sub(r"[$€£¥]|\b[A-Z]{3}\b|\bkr\b", "", value.strip(), count=1).strip()
        amount = _read_number(bare, value, allowed)
    else:
        amount = _exact(value, allowed)
    return round_cents(amount * 100)


def round_cents(cents: Number) -> int:
    """Whole cents, half a cent away from zero, as money is rounded: once, at the end."""
    exact = Fraction(cents)
    return int((Decimal(exact.numerator) / Decimal(exact.denominator)).to_integral_value(ROUND_HALF_UP))


def format_money(cents: int, currency: str) -> str:
    """An amount with its sign in front: `$4,449.06`, `€8.40`; a code such as `CHF` stands apart."""
    sign = "-" if cents < 0 else ""
    gap = " " if currency.isalpha() else ""
    return f"{sign}{currency}{gap}{abs(cents) // 100:,}.{abs(cents) % 100:02d}"


def parse_temperature_degc(value: Typed, default_unit: str = "C") -> float:
    """Degrees Celsius of `21 °C`, `70 °F`, or a bare number in `default_unit` (`"C"` or `"F"`)."""
    allowed = "a temperature such as 21 °C or 70 °F"
    scale = default_unit.upper()
    if isinstance(value, str):
        found = re.fullmatch(r"\s*(.*?)\s*(?:°|deg)?\s*([CcFf])?\s*", value)
        number, letter = found.groups() if found else (value, None)
        degrees = _read_number(number, value, allowed)
        scale = (letter or scale).upper()
    else:
        degrees = _exact(value, allowed)
    return float((degrees - 32) * Fraction(5, 9) if scale == "F" else degrees)


def format_temperature(degc: float, unit: str) -> str:
    """Whole degrees, °C beside millimetres and °F beside inches."""
    return f"{_plain(degc, 0)} °C" if unit == "mm" else f"{_plain(degc * 9 / 5 + 32, 0)} °F"


def parse_percent(value: Typed) -> float:
    """Percent of `8 %`, `8%`, `7,5 %` or a bare number: 8 means eight in a hundred."""
    allowed = "a percentage such as 8 or 8 %"
    if isinstance(value, str):
        return float(_read_number(re.sub(r"\s*%\s*$", "", value.strip()), value, allowed))
    return float(_exact(value, allowed))


def format_percent(pct: float, decimals: int = 1) -> str:
    """`8 %`, `12.5 %`; zeros at the end are left off."""
    return f"{_plain(pct, decimals)} %"


# ---------------------------------------------------------------------------------------------- helpers

_MASS_G: Final[dict[str, Fraction]] = {
    "g": Fraction(1), "gram": Fraction(1), "grams": Fraction(1), "kg": Fraction(1000), "kilo": Fraction(1000),
    "lb": Fraction("453.59237"), "lbs": Fraction("453.59237"), "pound": Fraction("453.59237"),
    "pounds": Fraction("453.59237"), "oz": Fraction("453.59237") / 16, "ounce": Fraction("453.59237") / 16,
    "ounces": Fraction("453.59237") / 16,
}  # fmt: skip
_GAL = Fraction("3785.411784")
_VOLUME_ML: Final[dict[str, Fraction]] = {
    "ml": Fraction(1), "cl": Fraction(10), "dl": Fraction(100), "l": Fraction(1000), "litre": Fraction(1000),
    "litres": Fraction(1000), "liter": Fraction(1000), "liters": Fraction(1000), "fl oz": _GAL / 128,
    "floz": _GAL / 128, "pt": _GAL / 8, "pint": _GAL / 8, "pints": _GAL / 8, "qt": _GAL / 4, "quart": _GAL / 4,
    "quarts": _GAL / 4, "gal": _GAL, "gallon": _GAL, "gallons": _GAL,
}  # fmt: skip
_LENGTH_NM: Final[dict[str, int]] = {
    "mm": NM_PER_MM, "millimetre": NM_PER_MM, "millimetres": NM_PER_MM, "millimeter": NM_PER_MM,
    "millimeters": NM_PER_MM, "cm": 10 * NM_PER_MM, "centimetre": 10 * NM_PER_MM,
    "centimetres": 10 * NM_PER_MM, "centimeter": 10 * NM_PER_MM, "centimeters": 10 * NM_PER_MM,
    "m": 1000 * NM_PER_MM, "metre": 1000 * NM_PER_MM, "metres": 1000 * NM_PER_MM, "meter": 1000 * NM_PER_MM,
    "meters": 1000 * NM_PER_MM, "in": NM_PER_IN, "inch": NM_PER_IN, "inches": NM_PER_IN, '"': NM_PER_IN,
    "ft": NM_PER_FT, "foot": NM_PER_FT, "feet": NM_PER_FT, "'": NM_PER_FT,
}  # fmt: skip
_FRACTION_SIGNS: Final[dict[str, str]] = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3",
    "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_SPELLINGS: Final[dict[str, str]] = {
    "″": '"', "”": '"', "“": '"', "''": '"', "′′": '"', "′": "'", "’": "'", "‘": "'", "⁄": "/", "∕": "/", "−": "-",
    "–": "-", "‑": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " ",
}  # fmt: skip
_MIXED = re.compile(r"(\d+)(?:\s+|\s*-\s*)(\d+)\s*/\s*(\d+)")
_FRACTION = re.compile(r"(\d+)\s*/\s*(\d+)")
_DECIMAL = re.compile(r"\d+[.,]?\d*|[.,]\d+")
_PART = re.compile(
    rf"\s*(?P<number>{_MIXED.pattern}|{_FRACTION.pattern}|\d[\d.,]*|[.,]\d+)\s*(?P<unit>[A-Za-zµ]+\.?|[\"'])?\s*"
)


def _unit_nm(unit: str) -> int:
    if unit not in {"mm", "in"}:
        raise ValueError(f"a default unit is 'mm' or 'in', not {unit!r}")
    return _LENGTH_NM[unit]


def _plain_text(text: str) -> str:
    """One spelling for the marks and fractions that keyboards and word processors make many of."""
    for sign, plain in _SPELLINGS.items():
        text = text.replace(sign, plain)
    for sign, plain in _FRACTION_SIGNS.items():
        text = text.replace(sign, f" {plain}")
    return text.replace("- ", "-").strip() if text.lstrip().startswith("-") else text.strip()


def _read_length_text(text: str, per_unit: Fraction, default_unit: str) -> Fraction:
    allowed = f"a length such as {_LENGTH_FORMS}, or a bare number in {default_unit}"
    if len(text) > _LONGEST_TEXT:
        raise UnreadableQuantity(_quoted(text), allowed, "Write one length, number and unit.")
    plain = _plain_text(text)
    negative, plain = plain.startswith("-"), plain.lstrip("+-").strip() if plain[:1] in {"+", "-"} else plain
    total, last, at, parts = Fraction(0), None, 0, 0
    while at < len(plain):
        found = _PART.match(plain, at)
        if found is None:
            raise UnreadableQuantity(_quoted(text), allowed, _length_hint(plain[at:]))
        number = _read_number(found["number"], text, allowed)
        size = _unit_of(found["unit"], text, allowed)
        at, parts = found.end(), parts + 1
        if size is None and (parts > 1 or at < len(plain)):
            raise UnreadableQuantity(_quoted(text), allowed, "Write the unit behind each number: 4 ft 2 in.")
        if last is not None and size is not None and (size >= last or _imperial(size) != _imperial(last)):
            raise UnreadableQuantity(_quoted(text), allowed, "Write one length with the larger unit first.")
        total += number * (per_unit if size is None else size)
        last = size
        if plain[at : at + 1] == "-" and size == NM_PER_FT:  # the builder's 4'-2"
            at += 1
    if parts == 0:
        raise UnreadableQuantity(_quoted(text), allowed, "Write a number and its unit.")
    return -total if negative else total


def _imperial(size_nm: int) -> bool:
    return size_nm in {NM_PER_IN, NM_PER_FT}


def _unit_of(word: str | None, text: str, allowed: str) -> int | None:
    if word is None:
        return None
    size = _LENGTH_NM.get(word.rstrip(".").lower())
    if size is None:
        raise UnreadableQuantity(_quoted(text), allowed, f"'{word}' is not a unit of length here: mm, cm, m, in, ft.")
    return size


def _length_hint(rest: str) -> str:
    return f"'{rest[:12]}' was not expected there." if rest else "Write a number and its unit."


def _read_number(text: str, whole: str, allowed: str) -> Fraction:
    """An unsigned or signed number: mixed, fraction or decimal with a point or an unambiguous comma."""
    text = _plain_text(text)
    if len(text) > _LONGEST_TEXT:
        raise UnreadableQuantity(_quoted(whole), allowed, "Write fewer digits.")
    sign = -1 if text.startswith("-") else 1
    text = text[1:].strip() if text[:1] in {"+", "-"} else text
    if mixed := _MIXED.fullmatch(text):
        units, top, bottom = (int(part) for part in mixed.groups())
    elif fraction := _FRACTION.fullmatch(text):
        units, (top, bottom) = 0, (int(part) for part in fraction.groups())
    elif _DECIMAL.fullmatch(text):
        return sign * Fraction(_decimal_point(text, whole, allowed))
    else:
        raise UnreadableQuantity(_quoted(whole), allowed, "Write digits with a point, or a fraction such as 3-1/2.")
    if bottom == 0:
        raise UnreadableQuantity(_quoted(whole), allowed, "A fraction cannot have 0 below the line.")
    return sign * (units + Fraction(top, bottom))


def _decimal_point(text: str, whole: str, allowed: str) -> str:
    """`8,9` is 8.9, but `1,200` could be 1200 as well as 1.2, so that is asked back."""
    before, comma, after = text.partition(",")
    if not comma:
        return text.rstrip(".") or "0"
    if len(after) == 3 and before not in {"", "0"} and len(before) <= 3:
        smaller = f"{before}.{after}".rstrip("0").rstrip(".")
        remedy = f"Write {before}{after} or {smaller}, whichever is meant."
        raise UnreadableQuantity(_quoted(whole), allowed, remedy)
    return f"{before or 0}.{after or 0}"


def _exact(value: Number, allowed: str) -> Fraction:
    """The exact value of a number as it was written: 0.1 is one tenth, not its nearest float."""
    if isinstance(value, bool) or not isinstance(value, (int, float, Decimal, Fraction)):
        raise UnreadableQuantity(_quoted(value), allowed, "Write a number, or a text with number and unit.")
    if isinstance(value, float | Decimal):
        decimal = Decimal(repr(value)) if isinstance(value, float) else value
        if not decimal.is_finite():
            raise UnreadableQuantity(_quoted(value), allowed, "Write a finite number.")
        if decimal != 0 and not _SMALLEST_EXPONENT <= decimal.adjusted() <= 15:
            raise UnreadableQuantity(_quoted(value), allowed, "Write a number of a size that a shop can use.")
        return Fraction(decimal)
    fraction = Fraction(value)
    if abs(fraction) > _LARGEST:
        raise UnreadableQuantity(_quoted(value), allowed, "Write a number of a size that a shop can use.")
    return fraction


def _read_scaled(value: Typed, scale: dict[str, Fraction], default_unit: str, allowed: str) -> float:
    """A sum of numbers with units from one scale, as `1 lb 4 oz`."""
    if not isinstance(value, str):
        exact = _exact(value, allowed) * scale[default_unit]
    else:
        exact, at = Fraction(0), 0
        text = re.sub(r"(?i)\bfl\.?\s*oz\.?", "floz", _plain_text(value))
        while at < len(text) or at == 0:
            found = _PART.match(text, at) if len(text) <= _LONGEST_TEXT else None
            word = (found["unit"] or default_unit).rstrip(".").lower() if found else ""
            if found is None or word not in scale:
                raise UnreadableQuantity(_quoted(value), allowed, "Write a number and its unit.")
            exact += _read_number(found["number"], value, allowed) * scale[word]
            at = found.end()
    if exact < 0:
        raise UnreadableQuantity(_quoted(value), allowed, "Leave out the minus sign.")
    return float(exact)


def _quoted(value: Typed) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    # str() of an int of thousands of digits is refused by Python itself, so a size is told instead
    if isinstance(value, int) and abs(value) > 10**30:
        return "a number of more than 30 digits"
    text = str(value)
    text = text if len(text) <= 40 else f"{text[:37]}…"
    return f'"{text}"' if isinstance(value, str) else text


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
