# ruff: noqa: D102, RUF012 - `read`, `show` and `schema` are explained once, on `Kind`
"""The kinds of value that a brief holds: how each is read, what a JSON Schema says of it, how it is printed.

A kind is put beside a type (`Annotated[int, Length()]`); pydantic then calls it. What a maker may write wrongly comes
back as `Bad`, in words.
"""

from __future__ import annotations

import difflib
import re
from abc import ABC, abstractmethod
from collections.abc import Callable, Sequence
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from functools import partial
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from bossage import units
from bossage.brief.faults import Bad, quoted
from bossage.units import NM_PER_MM, UnreadableQuantity

LONGEST_NM = 20_000 * NM_PER_MM
LOOK_AT_UNIT = "Measure again, and look at the unit."
Schema = dict[str, Any]


class Kind(ABC):
    """One kind of value. `read` gets the value as TOML has it and the unit of bare numbers."""

    schema: Schema

    @abstractmethod
    def read(self, value: Any, unit: str) -> Any:
        """The value as the records hold it; raises `Bad`."""

    def show(self, value: Any, unit: str) -> str:
        """A value of the records, as papers print it."""
        return str(value)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        def check(value: Any, info: core_schema.ValidationInfo) -> Any:
            return self.read(value, (info.context or {}).get("unit", "mm"))

        return core_schema.with_info_plain_validator_function(
            check, serialization=core_schema.plain_serializer_function_ser_schema(lambda value: value)
        )

    def __get_pydantic_json_schema__(self, core: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Schema:
        return dict(self.schema)


class Length(Kind):
    """A length, with or without a unit. `low` and `high` in nanometres."""

    def __init__(self, low: int = 1, high: int = LONGEST_NM) -> None:
        self.low, self.high = low, high
        number: Schema = {"type": "number"}
        if low >= 0:
            number["exclusiveMinimum" if low == 1 else "minimum"] = 0
        self.schema = {
            "anyOf": [number, {"type": "string", "pattern": r"^\s*[-+−]?\s*[0-9.,½¼¾⅛⅜⅝⅞⅓⅔]"}],
            "examples": ["3 1/2 in", '3-1/2"', "89 mm", "8.9 cm", "4 ft 2 in", 12],
        }

    def read(self, value: Any, unit: str) -> int:
        try:
            nm = units.parse_length_nm(value, unit, allow_negative=True)
        except UnreadableQuantity as error:
            raise Bad(error.found, error.allowed, error.remedy) from None
        if not self.low <= nm <= self.high:
            low = "more than 0" if self.low == 1 else f"at least {units.format_length(self.low, unit)}"
            allowed = f"{low} and at most {units.format_length(self.high, unit)}"
            raise Bad(units.format_thin(nm, unit), allowed, LOOK_AT_UNIT)
        return nm

    def show(self, value: int, unit: str) -> str:
        return units.format_thin(value, unit) if value < 5 * NM_PER_MM else units.format_length(value, unit)


class Number(Kind):
    """A plain number, or a fraction in quotes such as "1/3". `tail` is its unit in print."""

    def __init__(self, low: float, high: float, tail: str = "", *, above: bool = False) -> None:
        self.low, self.high, self.tail, self.above = low, high, tail, above
        bound = "exclusiveMinimum" if above else "minimum"
        self.schema = {"anyOf": [{"type": "number", bound: low, "maximum": high}, {"type": "string"}]}

    def read(self, value: Any, unit: str) -> float:
        low = f"more than {self.low:g}" if self.above else f"{self.low:g}"
        allowed = f"a number from {low} to {self.high:g}{self.tail}"
        number = self._number(value, allowed)
        if not self.low <= number <= self.high or (self.above and number == self.low):
            raise Bad(quoted(value), allowed, "Write a number in that range.")
        return number

    def show(self, value: float, unit: str) -> str:
        return f"{value:.4g}{self.tail}"

    def _number(self, value: Any, allowed: str) -> float:
        try:
            return units.parse_percent(value)
        except UnreadableQuantity as error:
            raise Bad(error.found, allowed, error.remedy) from None


class Percent(Number):
    """A percentage: 8 or "8 %" is eight in a hundred. `scale` 0.01 gives the records a share."""

    def __init__(self, low: float = 0, high: float = 100, *, scale: float = 1) -> None:
        super().__init__(low, high, " %")
        self.scale = scale
        self.schema = {"anyOf": [{"type": "number", "minimum": low, "maximum": high}, {"type": "string"}]}
        self.schema["examples"] = [8, "8 %"]

    def read(self, value: Any, unit: str) -> float:
        return super().read(value, unit) * self.scale

    def show(self, value: float, unit: str) -> str:
        return units.format_percent(value / self.scale)


class Duration(Number):
    """Minutes, bare or with a unit: 8, "8 min", "1 h". `record_unit` is what bare numbers and the records are in."""

    _PER_MIN = {"s": Fraction(1, 60), "min": Fraction(1), "h": Fraction(60)}

    def __init__(self, low: float, high: float, record_unit: str = "min") -> None:
        super().__init__(low, high, f" {record_unit}")
        self.record_unit = record_unit
        self.schema = {"anyOf": [{"type": "number", "minimum": low, "maximum": high}, {"type": "string"}]}
        self.schema["examples"] = [low + 1, f"{low + 1:g} {record_unit}"]

    def _number(self, value: Any, allowed: str) -> float:
        found = re.fullmatch(r"\s*(.*?\d)\s*(s|min|h)\s*", value) if isinstance(value, str) else None
        if found is None:
            return super()._number(value, allowed)
        factor = self._PER_MIN[found[2]] / self._PER_MIN[self.record_unit]
        return super()._number(found[1], allowed) * float(factor)


class Count(Kind):
    """A whole number."""

    def __init__(self, low: int = 0, high: int = 20_000) -> None:
        self.low, self.high = low, high
        self.schema = {"type": "integer", "minimum": low, "maximum": high}

    def read(self, value: Any, unit: str) -> int:
        allowed = f"a whole number from {self.low:,} to {self.high:,}"
        number = isinstance(value, int) or (isinstance(value, Decimal) and value.is_finite())
        if isinstance(value, bool) or not number or not self.low <= value <= self.high or value % 1:
            raise Bad(quoted(value), allowed, "Write a whole number in that range, without quotes.")
        return int(value)


class Flag(Kind):
    """Yes or no."""

    schema = {"type": "boolean"}

    def read(self, value: Any, unit: str) -> bool:
        if not isinstance(value, bool):
            raise Bad(quoted(value), "true or false", "Write true or false, without quotes.")
        return value

    def show(self, value: bool, unit: str) -> str:
        return "yes" if value else "no"


class Choice(Kind):
    """One of a few words, read without regard to capitals."""

    def __init__(self, words: type[StrEnum] | Sequence[str] | Callable[[], Sequence[str]]) -> None:
        self.enum = words if isinstance(words, type) else None
        self._words = words if callable(words) and not isinstance(words, type) else partial(_words_of, words)

    @property
    def words(self) -> tuple[str, ...]:
        """What may be written; asked for late where the words come from a table of data."""
        return tuple(self._words())

    @property
    def schema(self) -> Schema:  # type: ignore[override]
        """The words, for an editor to offer."""
        return {"type": "string", "enum": list(self.words)}

    def read(self, value: Any, unit: str) -> str:
        known = {word.lower(): word for word in self.words}
        plain = " ".join(value.lower().split()) if isinstance(value, str) else None
        if plain not in known:
            few = list(known.values()) if len(known) <= 16 else []
            near = nearest(plain or "", known)
            allowed = " or ".join(filter(None, [", ".join(few[:-1]), few[-1]])) if few else "a name from its table"
            advice = f'Did you mean "{known[near]}"?' if near else "Write one of these words, in quotes."
            if not few and not near:
                advice = "The JSON Schema (bossage schema) lists all names."
            raise Bad(quoted(value), allowed, advice)
        return self.enum(known[plain]) if self.enum else known[plain]


class Colour(Kind):
    """A colour as six hex digits behind a #."""

    schema = {"type": "string", "pattern": "^#[0-9A-Fa-f]{6}$", "examples": ["#4A6B4E"]}

    def read(self, value: Any, unit: str) -> str:
        if not isinstance(value, str) or not re.fullmatch(r"#[0-9A-Fa-f]{6}", value.strip()):
            raise Bad(quoted(value), 'a colour such as "#4A6B4E"', "Write # and six of the digits 0-9 and A-F.")
        return value.strip().upper()

    def show(self, value: str, unit: str) -> str:
        return value or "none"


class PaintColour(Kind):
    """A dried coat's colour: six hex digits behind a #, or [L, a, b] as a meter or `bossage read-card` gives it.

    Read as the hex in capitals, or as three numbers (CIELAB, D65).
    """

    hex = Colour()

    @property
    def schema(self) -> Schema:  # type: ignore[override]
        """Either form."""
        numbers = {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3}
        return {"anyOf": [self.hex.schema, {**numbers, "examples": [[62.1, -14.0, 11.5]]}]}

    def read(self, value: Any, unit: str) -> str | tuple[float, ...]:
        if not isinstance(value, list):
            try:
                return self.hex.read(value, unit)
            except Bad:
                allowed = 'a colour such as "#4A6B4E", or [L, a, b] as a meter gives it'
                raise Bad(
                    quoted(value), allowed, "Write # and six of the digits 0-9 and A-F, or three numbers."
                ) from None
        if len(value) != 3:
            raise Bad(quoted(value), "three numbers [L, a, b]", "Write lightness first, then a* and b*.")
        limits = (
            ("[1]", Number(0, 100), value[0]),
            ("[2]", Number(-128, 128), value[1]),
            ("[3]", Number(-128, 128), value[2]),
        )
        lab: tuple[float, ...] = read_all(limits, unit)
        return lab


class Quantity(Kind):
    """A mass, volume or amount of money: bare, or with its unit."""

    def __init__(self, reader: Callable[..., Any], shower: Callable[[Any, str], str], what: Schema) -> None:
        self.reader, self.shower = reader, shower
        self.schema = {"anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}], **what}

    def read(self, value: Any, unit: str) -> Any:
        try:
            amount = self.reader(value, unit)
        except UnreadableQuantity as error:
            raise Bad(error.found, error.allowed, error.remedy) from None
        if not 0 <= amount <= 1e9:
            raise Bad(quoted(value), "an amount of 0 or more that a shop can use", "Look at the number and its unit.")
        return amount

    def show(self, value: Any, unit: str) -> str:
        return self.shower(value, unit)


class ListOf(Kind):
    """A list of one kind; `size` if it has a set length. Every faulty entry is told."""

    def __init__(self, kind: Kind, *, size: int | None = None, least: int = 0, most: int = 20_000) -> None:
        self.kind, self.least, self.most = kind, size or least, size or most

    @property
    def schema(self) -> Schema:  # type: ignore[override]
        """An array of the kind."""
        return {"type": "array", "items": self.kind.schema, "minItems": self.least, "maxItems": self.most}

    def read(self, value: Any, unit: str) -> tuple[Any, ...]:
        size = f"{self.least}" if self.least == self.most else f"{self.least} to {self.most:,}"
        if not isinstance(value, list) or not self.least <= len(value) <= self.most:
            raise Bad(quoted(value), f"a list of {size} in square brackets", "Write [first, second, …].")
        return read_all([(f"[{number}]", self.kind, entry) for number, entry in enumerate(value, 1)], unit)


class Choose(Kind):
    """One kind if the value is a list (or whatever `when` says), another if not."""

    def __init__(self, when: Callable[[Any], bool], yes: Kind, no: Kind) -> None:
        self.when, self.yes, self.no = when, yes, no

    @property
    def schema(self) -> Schema:  # type: ignore[override]
        """Either kind."""
        return {"anyOf": [self.yes.schema, self.no.schema]}

    def read(self, value: Any, unit: str) -> Any:
        return (self.yes if self.when(value) else self.no).read(value, unit)


def read_all(parts: Sequence[tuple[str, Kind, Any]], unit: str) -> tuple[Any, ...]:
    """Each part read by its kind; all their faults at once, each with its path."""
    out, faults = [], []
    for path, kind, value in parts:
        try:
            out.append(kind.read(value, unit))
        except Bad as bad:
            faults.append((path, bad))
    if faults:
        raise Bad.several(faults)
    return tuple(out)


def nearest(word: str, known: Sequence[str] | dict[str, Any]) -> str | None:
    """The known word that looks most like it, if any does."""
    near = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return near[0] if near else None


LENGTH = Length()
LENGTH_OR_ZERO = Length(0)
SIGNED_LENGTH = Length(-LONGEST_NM)


def _words_of(words: type[StrEnum] | Sequence[str]) -> Sequence[str]:
    return [word.value for word in words] if isinstance(words, type) else words


def _money(value: Any, unit: str) -> int:
    return units.parse_money_cents(value)


def _mass(value: Any, unit: str) -> float:
    return units.parse_mass_g(value, "kg" if unit == "mm" else "lb")


def _volume(value: Any, unit: str) -> float:
    return units.parse_volume_ml(value, "ml")


MONEY = Quantity(_money, lambda cents, unit: units.format_money(cents, ""), {"examples": [15, "8.40", "$15"]})
MASS = Quantity(_mass, units.format_mass, {"examples": ["6 kg", "25 lb"]})
VOLUME = Quantity(_volume, units.format_volume, {"examples": ["1 mL", 1]})
