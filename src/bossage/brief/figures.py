# ruff: noqa: D102 - `read` and `schema` are explained once, on `Kind`
"""Figures whose unit another key of their table decides: kept as written, then read in that unit."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from bossage import units
from bossage.brief.faults import Bad, quoted
from bossage.brief.kinds import MASS, SIGNED_LENGTH, Kind, Number
from bossage.settling import Unit
from bossage.units import NM_PER_MM

_TAILS = {"deg": ("°", "degrees", "degree"), "a year": ("times a year", "a year", "times")}
_FORMS = {"mm": "a length", "g": "a mass", "deg": "degrees, as 80°", "a year": "how often, as 60 times a year"}


class AsWritten(Kind):
    """A figure with its unit, kept as it is written; which unit it must have depends on another key."""

    def __init__(self, *examples: str) -> None:
        self.examples = examples
        self.schema = {"anyOf": [{"type": "number"}, {"type": "string"}], "examples": list(examples)}

    def read(self, value: Any, unit: str) -> Any:
        if isinstance(value, bool) or not isinstance(value, str | int | float | Decimal):
            raise Bad(quoted(value), f"a figure with its unit, such as {self.examples[0]}", "Write the figure.")
        return value


def read_figure(wanted: Unit, value: Any, unit: str, what: str, remedy: str) -> float:
    """A figure in millimetres, grams, degrees or times a year. `unit` is that of bare lengths.

    Raises:
        Bad: It is no figure of that unit; `what` and `remedy` go into its words.
    """
    try:
        if wanted == "mm":
            return float(SIGNED_LENGTH.read(value, unit)) / NM_PER_MM
        if wanted == "g":
            return float(MASS.read(value, unit))
        text = value
        for tail in _TAILS[wanted]:
            text = text.removesuffix(tail).strip() if isinstance(text, str) else text
        return float(Number(0, 10_000).read(text, unit))
    except (Bad, units.UnreadableQuantity):
        raise Bad(quoted(value), f"{what}: {_FORMS[wanted]}", remedy) from None
