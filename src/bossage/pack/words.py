"""How a pack writes quantities: in the piece's own unit, rounded as a shop reads them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from bossage.fasteners import drill_words, screw_words
from bossage.units import format_area, format_length, format_mass, format_money, format_size, format_thin, format_volume

FRACTIONS = {"1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Writers for one piece. `unit` is `mm` or `in`."""

    unit: str
    currency: str

    @property
    def inches(self) -> bool:
        """Whether papers are in inches."""
        return self.unit == "in"

    def length(self, nm: int) -> str:
        """With its unit: `89 mm`, `3-1/2 in`."""
        return format_length(nm, self.unit)

    def bare(self, nm: int) -> str:
        """Without its unit, for a column or a drawing that names it."""
        return format_length(nm, self.unit, bare=True)

    def compact(self, nm: int) -> str:
        """The shortest form, for a block on a map: `1½` where the font has that fraction."""
        return _compact(self.unit, nm)

    @property
    def unit_name(self) -> str:
        """The unit within a sentence: `mm`, `inches`."""
        return "inches" if self.inches else self.unit

    def of_mm(self, mm: float) -> str:
        """The same for a float of millimetres, as a drawing measures itself."""
        return self.bare(round(mm * 1e6))

    def size(self, width_nm: int, height_nm: int) -> str:
        """`600 × 480 mm`."""
        return format_size(width_nm, height_nm, self.unit)

    def thin(self, nm: int) -> str:
        """A kerf or a tolerance."""
        return format_thin(nm, self.unit)

    def screw(self, gauge: str, length_nm: int) -> str:
        """`4 × 40 mm`, `#8 × 1-1/2 in`."""
        return screw_words(gauge, length_nm, self.unit)

    def drill(self, across_mm: float) -> str:
        """`2.5 mm`, `5/64 in`."""
        return drill_words(across_mm, self.unit)

    def mass(self, g: float) -> str:
        """`18.6 kg`."""
        return format_mass(g, self.unit)

    def volume(self, ml: float) -> str:
        """`96 mL`."""
        return format_volume(ml, self.unit)

    def area_mm2(self, mm2: float) -> str:
        """`1.8 m²`."""
        return format_area(mm2 * 1e12, self.unit)

    def money(self, cents: int) -> str:
        """`€142.70`."""
        return format_money(cents, self.currency)


def count_of(number: int, one: str, many: str = "") -> str:
    """`1 stick`, `3 sticks`."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def split_unit(text: str) -> tuple[str, str]:
    """Figure and unit of a written quantity, to be set in two sizes: `18.6 kg` gives `18.6` and `kg`."""
    found = re.fullmatch(r"(.*\d)\s+([^\d\s]\D*)", text)
    return (found[1], found[2]) if found else (text, "")


def hours(value_h: float) -> str:
    """`31.9 h`."""
    return f"{value_h:.1f} h"


def listed(words: list[str] | tuple[str, ...]) -> str:
    """`a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def sentence(text: str) -> str:
    """With a full stop, if it has none."""
    return text if not text or text.endswith((".", "!", "?", ":")) else text + "."


def full(text: str) -> str:
    """A sentence: it begins large and ends with a stop."""
    return sentence(text[:1].upper() + text[1:])


@lru_cache(maxsize=1 << 12)  # a map of thousands of blocks has a handful of levels
def _compact(unit: str, nm: int) -> str:
    text = format_length(nm, unit, bare=True)
    for long, short in FRACTIONS.items():
        if text == long or text.endswith("-" + long):
            return text.removesuffix(long).removesuffix("-") + short
    return text
