"""Reading quantities as a maker types them."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import Final

from bossage.errors import BossageError
from bossage.units.scale import NM_PER_FT, NM_PER_IN, NM_PER_MM, Number, Typed, round_cents

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


def parse_mass_g(value: Typed, default_unit: str = "g") -> float:
    """Grams of a mass such as `6 kg`, `25 lb`, `4 oz`, `1 lb 4 oz`, or a bare number in `default_unit`."""
    return _read_scaled(value, _MASS_G, default_unit, "a mass such as 6 kg, 250 g, 25 lb, 4 oz")


def parse_volume_ml(value: Typed, default_unit: str = "ml") -> float:
    """Millilitres of a volume such as `250 mL`, `2.5 L`, `8 fl oz`, `1 qt`, `1 gal`, or a bare number."""
    return _read_scaled(value, _VOLUME_ML, default_unit, "a volume such as 250 mL, 2.5 L, 8 fl oz, 1 qt, 1 gal")


def parse_money_cents(value: Typed) -> int:
    """Whole cents of an amount such as `15`, `8.40`, `8,40`, `$15`, `4.20 £`; half a cent is rounded up."""
    allowed = "an amount of money such as 15, 8.40 or $8.40"
    if isinstance(value, str):
        bare = re.sub(r"[$€£¥]|\b[A-Z]{3}\b|\bkr\b", "", value.strip(), count=1).strip()
        amount = _read_number(bare, value, allowed)
    else:
        amount = _exact(value, allowed)
    return round_cents(amount * 100)


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


def parse_percent(value: Typed) -> float:
    """Percent of `8 %`, `8%`, `7,5 %` or a bare number: 8 means eight in a hundred."""
    allowed = "a percentage such as 8 or 8 %"
    if isinstance(value, str):
        return float(_read_number(re.sub(r"\s*%\s*$", "", value.strip()), value, allowed))
    return float(_exact(value, allowed))


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
