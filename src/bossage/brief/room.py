"""The room as it is lived in: what the brief says of it gives cause for a short list of checks."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Who is in it and what happens there. None or False: nobody has said so, and nothing is asked."""

    children_reach_nm: int | None = None  # as high over the floor as small children reach
    earthquakes: bool = False
    sun_hours: float | None = None  # of direct sun on the piece, on a usual day


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatSource:
    """Something hot in the room. `clear_nm`: how far its maker wants wood from it; None: nobody has looked."""

    name: str
    kind: str  # a word of `HEAT_KINDS`
    x_nm: int
    width_nm: int
    bottom_nm: int
    top_nm: int
    near_nm: int  # from the wall
    far_nm: int
    clear_nm: int | None


HEAT_KINDS = ("radiator", "heater", "stove", "lamp")
"""A radiator is filled with warm water, a heater is electric or burns gas, a stove or fireplace burns something."""
