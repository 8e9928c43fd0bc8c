"""The tables of a brief that tell of the room as it is lived in."""

from __future__ import annotations

from typing import Annotated

from bossage.brief.kinds import LENGTH, LENGTH_OR_ZERO, Choice, Flag, Number
from bossage.brief.kinds_words import Text
from bossage.brief.room import HEAT_KINDS
from bossage.brief.tables import Table, said


class RoomTable(Table):
    """Who is in the room, and what happens there."""

    children_reach: Annotated[int | None, LENGTH] = said(
        "Where small children are: how high over the floor they reach; leave it out where there are none.", None
    )
    earthquakes: Annotated[bool, Flag()] = said("Whether the ground shakes there.", False)
    sun_hours: Annotated[float | None, Number(0, 16)] = said(
        "Hours of direct sun on the piece on a usual day; leave it out where there is none.", None
    )


class HeatTable(Table):
    """Something hot near the piece: a radiator, a heater, a stove or fireplace, a lamp."""

    name: Annotated[str | None, Text()] = said("What it is called.", None)
    kind: Annotated[str, Choice(HEAT_KINDS)] = said("What it is.")
    x: Annotated[int, LENGTH_OR_ZERO] = said("Left edge, from the left corner of the wall.")
    width: Annotated[int, LENGTH] = said("Width along the wall.")
    bottom: Annotated[int, LENGTH_OR_ZERO] = said("Lower edge, from the floor.")
    top: Annotated[int, LENGTH] = said("Upper edge, from the floor.")
    near: Annotated[int, LENGTH_OR_ZERO] = said("How far its near edge stands from the wall.", 0)
    far: Annotated[int, LENGTH] = said("How far it reaches into the room.")
    clear: Annotated[int | None, LENGTH_OR_ZERO] = said(
        "How far its maker wants wood away from it, as on its plate or in its instructions.", None
    )
