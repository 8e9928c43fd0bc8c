"""The air that wood lives in: of the shop while it is sawn, of the room through the year."""

from __future__ import annotations

from dataclasses import dataclass

SEASONS = ("winter", "summer")
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """The air of one stretch of the year, and where wood settles in it."""

    when: str  # "all year", a season, or a month
    air_degc: float
    humidity_pct: float
    moisture_pct: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """Shop and room over the year. Empty where the brief gives the wood's moisture itself.

    `sawn_when` names the stretch of the shop's year in which the blocks are sawn.
    """

    shop: tuple[Air, ...]
    room: tuple[Air, ...]
    sawn_when: str
