# ruff: noqa: RUF012 - a kind's schema is a constant
"""Kinds of value that only the face has: heights of blocks, lightness of shades, numbers for each height."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bossage.brief.faults import Bad, quoted
from bossage.brief.kinds import (
    Count,
    Kind,
    Length,
    ListOf,
    Number,
    read_all,
)
from bossage.units import NM_PER_MM

LEVEL = Length(1, 1000 * NM_PER_MM)


def is_list(value: Any) -> bool:
    """Whether TOML gave a list."""
    return isinstance(value, list)


class Levels(Kind):
    """Heights of blocks: a list, or `{ from, to, step }` that lands on its last one."""

    schema = {
        "anyOf": [
            ListOf(LEVEL, least=1, most=200).schema,
            {
                "type": "object",
                "properties": {"from": LEVEL.schema, "to": LEVEL.schema, "step": LEVEL.schema},
                "required": ["from", "to", "step"],
                "additionalProperties": False,
            },
        ]
    }

    def read(self, value: Any, unit: str) -> tuple[int, ...]:
        """All levels in the order written; equal ones and their order are looked at with the other fields."""
        if not isinstance(value, dict):
            listed: tuple[int, ...] = ListOf(LEVEL, least=1, most=200).read(value, unit)
            return listed
        keys = ("from", "to", "step")
        if set(value) != set(keys):
            allowed = "a list of heights, or { from = …, to = …, step = … }"
            raise Bad(quoted(value), allowed, "Give all of from, to and step, and nothing else.")
        low, high, step = read_all([(f".{key}", LEVEL, value[key]) for key in keys], unit)
        if high < low:
            raise Bad(
                LEVEL.show(high, unit),
                f"at least {LEVEL.show(low, unit)}, where the levels start",
                "Exchange from and to.",
                below=".to",
            )
        steps, rest = divmod(high - low, step)
        if rest:
            below, above = (LEVEL.show(low + n * step, unit) for n in (steps, steps + 1))
            raise Bad(
                LEVEL.show(high, unit),
                f"a whole number of steps of {LEVEL.show(step, unit)} from {LEVEL.show(low, unit)}: {below} or {above}",
                "Change to or step.",
                below=".to",
            )
        if steps >= 200:
            raise Bad(f"{steps + 1} levels", "at most 200 levels", "Make the step larger.", below=".step")
        return tuple(low + n * step for n in range(steps + 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenLightness:
    """A scale asked for by its ends, even in CIEDE2000; without `shades` the fade shares its own out."""

    first: float
    last: float
    shades: int | None


class Lightness(Kind):
    """CIE lightness of each shade: a list, or `{ from, to, shades }` for even steps between two ends."""

    listed = ListOf(Number(0, 100), least=1, most=60)
    ends = Number(0, 100)
    count = Count(2, 60)

    @property
    def schema(self) -> dict[str, Any]:  # type: ignore[override]
        """Either form."""
        return {
            "anyOf": [
                self.listed.schema,
                {
                    "type": "object",
                    "properties": {"from": self.ends.schema, "to": self.ends.schema, "shades": self.count.schema},
                    "required": ["from", "to"],
                    "additionalProperties": False,
                },
            ]
        }

    def read(self, value: Any, unit: str) -> tuple[float, ...] | EvenLightness:
        """The list as numbers, or the two ends."""
        if not isinstance(value, dict):
            numbers: tuple[float, ...] = self.listed.read(value, unit)
            return numbers
        allowed = "a list of lightnesses, or { from = …, to = …, shades = … }"
        if not {"from", "to"} <= set(value) <= {"from", "to", "shades"}:
            raise Bad(quoted(value), allowed, "Give from and to, and how many shades; nothing else.")
        first, last = read_all([(f".{key}", self.ends, value[key]) for key in ("from", "to")], unit)
        if abs(first - last) < 1:
            raise Bad(f"from {first:g} to {last:g}", "two ends a step apart", "Take ends further apart.")
        shades = read_all([(".shades", self.count, value["shades"])], unit)[0] if "shades" in value else None
        return EvenLightness(first=first, last=last, shades=shades)


class PerLevel(Kind):
    """One number a level: a list in the order of the levels, or a table by height, `{ "18" = 20, "22" = 22 }`.

    Read as a tuple, or as a dict from height in nanometres to (key as written, number).
    """

    def __init__(self, kind: Kind) -> None:
        self.kind = kind
        self.schema = {
            "anyOf": [
                ListOf(kind, least=1).schema,
                {"type": "object", "additionalProperties": kind.schema, "minProperties": 1},
            ]
        }

    def read(self, value: Any, unit: str) -> tuple[Any, ...] | dict[int, tuple[str, Any]]:
        """The numbers; which level each belongs to is settled with the other fields."""
        if not isinstance(value, dict):
            listed: tuple[Any, ...] = ListOf(self.kind, least=1, most=200).read(value, unit)
            return listed
        heights = read_all([(f'."{key}"', LEVEL, key) for key in value], unit)
        numbers = read_all([(f'."{key}"', self.kind, number) for key, number in value.items()], unit)
        if len(set(heights)) < len(heights):
            raise Bad(quoted(value), "each level once", "Two keys are the same height in other words; keep one.")
        return dict(zip(heights, zip(value, numbers, strict=True), strict=True))
