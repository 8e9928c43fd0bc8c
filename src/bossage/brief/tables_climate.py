# ruff: noqa: RUF012 - a kind's schema is a constant
"""The table of a brief that tells of the air: temperature and humidity of shop and room over the year."""

from __future__ import annotations

from typing import Annotated, Any

from bossage import units
from bossage.brief.climate import MONTHS, SEASONS
from bossage.brief.faults import Bad, quoted
from bossage.brief.kinds import Choice, Kind, Percent, read_all
from bossage.brief.tables import Table, said

COLDEST_DEGC, WARMEST_DEGC = -1.0, 50.0
DRIEST_PCT, DAMPEST_PCT = 5.0, 95.0
"""What the table of equilibrium moisture covers, as far as anybody keeps wood in it."""

HEATED = "a heated room, dry in winter (common practice, no source); a hygrometer knows better"
AIRED = "a shop that is dry and aired (common practice, no source); a hygrometer knows better"


class Temperature(Kind):
    """A temperature with its unit; a bare number is in °C beside millimetres, in °F beside inches."""

    schema = {"anyOf": [{"type": "number"}, {"type": "string"}], "examples": ["21 °C", "70 °F"]}

    def read(self, value: Any, unit: str) -> float:
        """Degrees Celsius."""
        low, high = (self.show(degc, unit) for degc in (COLDEST_DEGC, WARMEST_DEGC))
        allowed = f"a temperature from {low} to {high}"
        if isinstance(value, bool | list | dict):
            raise Bad(quoted(value), allowed, "Write it as 21 °C or 70 °F, in quotes.")
        try:
            degc = units.parse_temperature_degc(value, "F" if unit == "in" else "C")
        except units.UnreadableQuantity as error:
            raise Bad(error.found, allowed, error.remedy) from None
        if not COLDEST_DEGC <= degc <= WARMEST_DEGC:
            raise Bad(quoted(value), allowed, "Write °C or °F behind it, in quotes.")
        return degc

    def show(self, value: float, unit: str) -> str:
        """In the unit of the brief."""
        return units.format_temperature(value, unit)


class OverTheYear(Kind):
    """One value for all year, [winter, summer], or twelve from January on; read as a tuple."""

    def __init__(self, kind: Kind) -> None:
        self.kind = kind
        lists = [{"type": "array", "items": kind.schema, "minItems": n, "maxItems": n} for n in (2, 12)]
        self.schema = {"anyOf": [kind.schema, *lists]}

    def read(self, value: Any, unit: str) -> tuple[Any, ...]:
        """One, two or twelve values."""
        if not isinstance(value, list):
            return (self.kind.read(value, unit),)
        if len(value) not in (1, 2, 12):
            allowed = "one value, [winter, summer], or twelve from January on"
            raise Bad(f"{len(value)} values", allowed, "Leave some out, or write all twelve months.")
        return read_all([(f"[{k + 1}]", self.kind, one) for k, one in enumerate(value)], unit)

    def show(self, value: tuple[Any, ...], unit: str) -> str:
        """All of them."""
        return ", ".join(self.kind.show(one, unit) for one in value)


class ClimateTable(Table):
    """The air of shop and room over the year: all year one, [winter, summer], or twelve months from January on."""

    room_temperature: Annotated[Any, OverTheYear(Temperature())] = said(
        "Temperature of the room that the piece hangs in.", (21.0, 24.0), HEATED
    )
    room_humidity: Annotated[Any, OverTheYear(Percent(DRIEST_PCT, DAMPEST_PCT))] = said(
        "Relative humidity there.", (30.0, 55.0), HEATED
    )
    shop_temperature: Annotated[Any, OverTheYear(Temperature())] = said(
        "Temperature of the shop where the sticks lie before they are sawn.", (20.0,), AIRED
    )
    shop_humidity: Annotated[Any, OverTheYear(Percent(DRIEST_PCT, DAMPEST_PCT))] = said(
        "Relative humidity there.", (65.0,), AIRED
    )
    sawn: Annotated[str | None, Choice((*SEASONS, *MONTHS))] = said(
        "When in the shop's year the blocks are sawn; its dampest stretch if left out.", None
    )
