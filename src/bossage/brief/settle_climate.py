"""From the air to the wood: which moisture the blocks have when sawn and through the year."""

from __future__ import annotations

from datetime import date
from typing import Any

from bossage.brief.climate import MONTHS, SEASONS, Air, Climate
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.timber import emc_pct
from bossage.units import format_percent

Moistures = tuple[float, float, float, float]  # sawn, laid, driest in use, dampest in use


def settle_climate(tables: Tables, notes: Notes) -> tuple[Climate, Moistures]:
    """The air of shop and room, and the wood's moisture that follows from it where the brief does not give it.

    A moisture that was measured and air that says another one cannot both stand, so that is a fault.
    """
    air, blocks = tables.one("climate"), tables.one("blocks")
    given = {"shop": blocks.moisture_sawn is not None, "room": blocks.moisture_use is not None}
    for place, key in (("shop", "moisture_sawn"), ("room", "moisture_use")):
        told = [one for one in (f"{place}_temperature", f"{place}_humidity") if one in air.model_fields_set]
        if place == "shop" and air.sawn is not None:
            told.append("sawn")
        if given[place] and told:
            tables.fault(
                f"climate.{told[0]}",
                f"the {place}'s air, beside blocks.{key}",
                "one of the two: the air, or the moisture of the wood",
                f"Take out blocks.{key}, or this.",
            )
    notes.table(
        "climate", air, leave=tuple(f"{p}_{what}" for p in given if given[p] for what in ("temperature", "humidity"))
    )
    shop = () if given["shop"] else _year(tables, air, "shop")
    room = () if given["room"] else _year(tables, air, "room")
    when = ""
    if given["shop"]:
        sawn = blocks.moisture_sawn
    else:
        when = _sawn_when(tables, air, shop, notes)
        sawn = next(one.moisture_pct for one in shop if one.when == when)
        notes.add("blocks.moisture_sawn", format_percent(sawn), f"where wood settles in the shop's air, {when}")
    if given["room"]:
        low, high = _in_use(tables, blocks.moisture_use)
    else:
        low, high = min(one.moisture_pct for one in room), max(one.moisture_pct for one in room)
        said = f"{format_percent(low)} to {format_percent(high)}"
        notes.add("blocks.moisture_use", said, "where wood settles in the room's air over the year")
    laid = blocks.moisture_laid
    if laid is None:
        laid = sawn
        notes.add("blocks.moisture_laid", format_percent(laid), "no rest in the room was told, so as when sawn")
    return Climate(shop=shop, room=room, sawn_when=when), (sawn, laid, low, high)


def _in_use(tables: Tables, value: Any) -> tuple[float, float]:
    low, high = value if isinstance(value, tuple) else (value, value)
    if low > high:
        allowed = "[driest, dampest]"
        tables.fault("blocks.moisture_use", f"{low:g} % to {high:g} %", allowed, "Write the lower figure first.")
    return low, high


def _year(tables: Tables, table: Any, place: str) -> tuple[Air, ...]:
    """Every stretch of the year with its air; one value stands for all stretches of the other."""
    degc, humidity = getattr(table, f"{place}_temperature"), getattr(table, f"{place}_humidity")
    most = max(len(degc), len(humidity))
    if min(len(degc), len(humidity)) not in (1, most):
        tables.fault(
            f"climate.{place}_humidity",
            f"{len(humidity)} beside {len(degc)} of {place}_temperature",
            "as many of both, or a single one",
            "Write both for [winter, summer], or both for twelve months.",
        )
        degc, humidity = degc[:1], humidity[:1]
        most = 1
    names = {1: ("all year",), 2: SEASONS, 12: MONTHS}[most]
    airs = zip(names, degc * (most // len(degc)), humidity * (most // len(humidity)), strict=True)
    # to a tenth: the equation itself is off by more
    return tuple(
        Air(when=when, air_degc=t, humidity_pct=h, moisture_pct=round(float(emc_pct(t, h)), 1)) for when, t, h in airs
    )


def _sawn_when(tables: Tables, table: Any, shop: tuple[Air, ...], notes: Notes) -> str:
    known = [one.when for one in shop]
    if table.sawn is not None:
        if table.sawn in known:
            return str(table.sawn)
        tables.fault(
            "climate.sawn",
            f'"{table.sawn}"',
            f"a stretch of the shop's year: {', '.join(known)}",
            "Give the shop's air for [winter, summer] or for twelve months, or take this out.",
        )
        return known[0]
    month = _month(tables.one("piece").date)
    if month in known:
        notes.add("climate.sawn", month, "the month of piece.date")
        return month
    dampest = max(shop, key=lambda one: one.moisture_pct)
    if len(shop) > 1:
        notes.add("climate.sawn", dampest.when, "when the shop is dampest, so that the wood has most to lose")
    return dampest.when


def _month(text: str) -> str:
    try:
        return MONTHS[date.fromisoformat(text.strip()).month - 1]
    except ValueError:
        return ""
