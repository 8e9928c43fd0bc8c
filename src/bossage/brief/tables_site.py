# ruff: noqa: RUF012 - a kind's schema is a constant
"""The tables of a brief that tell of the room: piece, wall, fixtures, furniture, what must stay clear, eyes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from pydantic import create_model

from bossage.brief.faults import Bad, quoted
from bossage.brief.kinds import (
    LENGTH,
    LENGTH_OR_ZERO,
    MASS,
    MONEY,
    Choice,
    Colour,
    Count,
    Flag,
    Kind,
    Length,
    ListOf,
    Number,
    read_all,
)
from bossage.brief.kinds_words import Date, Text
from bossage.brief.tables import Table, said, woods
from bossage.brief.terms import (
    Below,
    ClearKind,
    Facing,
    FixtureKind,
    FoundBy,
    LengthUnit,
    Medium,
    Need,
    RunKind,
    Side,
    WallBuild,
    Wiring,
)
from bossage.fasteners import metal_studs
from bossage.units import NM_PER_MM


def steels() -> tuple[str, ...]:
    """Names of the thicknesses of metal stud that are listed."""
    return tuple(stud.name for stud in metal_studs())


POINT = ListOf(LENGTH_OR_ZERO, size=2)


class Studs(Kind):
    """Centre lines of studs: a list, or `{ first, every }` to be counted out over the wall."""

    schema = {
        "anyOf": [
            ListOf(LENGTH_OR_ZERO).schema,
            {
                "type": "object",
                "properties": {"first": LENGTH_OR_ZERO.schema, "every": LENGTH.schema},
                "required": ["first", "every"],
                "additionalProperties": False,
            },
        ]
    }

    def read(self, value: Any, unit: str) -> tuple[int, ...] | dict[str, int]:
        """A tuple of centre lines, or a dict with `first` and `every`, still to be counted out."""
        if not isinstance(value, dict):
            lines: tuple[int, ...] = ListOf(LENGTH_OR_ZERO, most=500).read(value, unit)
            return lines
        if set(value) != {"first", "every"}:
            raise Bad(quoted(value), "a list of centre lines, or { first = …, every = … }", "Write one of the two.")
        first, every = read_all(
            [(".first", LENGTH_OR_ZERO, value["first"]), (".every", Length(50 * NM_PER_MM), value["every"])], unit
        )
        return {"first": first, "every": every}


class PieceTable(Table):
    """The piece as a whole: its name, units, paper and the numbers that stand over everything."""

    name: Annotated[str, Text()] = said(
        "What the piece is called; printed on every paper.", "Untitled piece", "it needs some name on the papers"
    )
    unit: Annotated[LengthUnit, Choice(LengthUnit)] = said(
        "The unit of bare numbers in this file, and of the papers.",
        LengthUnit.MM,
        "bare numbers have to be in something",
    )
    paper: Annotated[str | None, Choice(("A4", "Letter"))] = said("Paper size of the pack.", None)
    seed: Annotated[int, Count(0, 2**31 - 1)] = said(
        "Start of all drawing by lot: another seed, another piece.", 1, "the same brief must give the same plan"
    )
    date: Annotated[str, Date()] = said("The date to print; nothing is printed if left out.", "")
    currency: Annotated[str | None, Text(3)] = said("Sign or code printed with money.", None)
    client: Annotated[str, Text(empty=True)] = said("Whom the piece is for.", "")
    copies: Annotated[int, Count(1, 200)] = said("How many of the piece; more than 1 makes it a series.", 1)
    budget: Annotated[int | None, MONEY] = said("What the materials may cost.", None)
    mass_cap: Annotated[float | None, MASS] = said("The most that a leaf may weigh.", None)
    weighed: Annotated[float | None, MASS] = said("What one finished leaf weighs on the scales.", None)


class WallTable(Table):
    """The wall: x runs right from its left corner, y up from the floor."""

    width: Annotated[int, LENGTH] = said("Width of the wall.")
    height: Annotated[int, LENGTH] = said("From floor to ceiling.")
    build: Annotated[WallBuild | None, Choice(WallBuild)] = said("What stands behind the covering.", None)
    covering: Annotated[int | None, LENGTH_OR_ZERO] = said("Thickness of the wallboard or plaster.", None)
    studs: Annotated[Any, Studs()] = said("Centre lines of the studs from the left corner.", None)
    stud_width: Annotated[int, LENGTH] = said(
        "Width of a stud's face.", 38_100_000, "dressed framing is 1-1/2 in (38 mm) thick"
    )
    stud_species: Annotated[str, Choice(woods)] = said("Wood of the studs.", "spf", "the usual framing lumber")
    stud_steel: Annotated[str | None, Choice(steels)] = said(
        "Steel of metal studs: its gauge or thickness, as marked on the stud.", None
    )
    studs_seen: Annotated[bool, Flag()] = said(
        "Whether somebody has opened the wall and seen that nothing runs in the studs where screws go.", False
    )
    wiring: Annotated[Wiring, Choice(Wiring)] = said(
        "Whose bands for wiring are kept clear besides what leads to boxes, sockets and taps: house (none), BS 7671 "
        "(150 mm under the ceiling and beside corners) or DIN 18015-3 (level and upright bands).",
        Wiring.HOUSE,
        "no rule set was named; wires follow none in old houses",
    )
    passage: Annotated[int | None, LENGTH] = said("Clear width in front, where the wall lines a passage.", None)
    circulation: Annotated[bool, Flag()] = said("Whether people walk along the wall.", False)
    escape_route: Annotated[bool, Flag()] = said(
        "Whether it is an escape route.", False, "a room at home is not one; say so if this is"
    )
    escape_width: Annotated[int | None, LENGTH] = said(
        "Escape route: how wide the way has to stay, as the fire officer says.", None
    )
    below: Annotated[Below | None, Choice(Below)] = said(
        "Who may lie, sit or work under the piece; furniture says it where left out.", None
    )
    light_from: Annotated[Side, Choice(Side)] = said(
        "Where the light comes from.", Side.LEFT, "a picture needs light from one side"
    )
    colour: Annotated[str, Colour()] = said("Colour of the wall in the picture.", "#E9E6DF", "an off-white wall")


class DoorTable(Table):
    """The fixture's own door."""

    width: Annotated[int, LENGTH] = said("Width of the door.")
    hinge: Annotated[Side, Choice(Side)] = said(
        "The side that it is hung on.", Side.LEFT, "no side was given; look before you build"
    )
    plane: Annotated[int | None, LENGTH_OR_ZERO] = said("How far its face stands from the wall.", None)


class FixtureTable(Table):
    """Something to hide. Its place is `x`, `y` of the lower left corner, or `centre = [x, y]`."""

    name: Annotated[str | None, Text()] = said("What the shop calls it.", None)
    kind: Annotated[FixtureKind, Choice(FixtureKind)] = said(
        "What it is; rules of access, air and refusal follow from it.",
        FixtureKind.OTHER,
        "no kind was given, so no special rule is applied",
    )
    x: Annotated[int | None, LENGTH_OR_ZERO] = said("Left edge, from the left corner of the wall.", None)
    y: Annotated[int | None, LENGTH_OR_ZERO] = said("Lower edge, from the floor.", None)
    centre: Annotated[tuple[int, int] | None, POINT] = said("Middle, instead of x and y.", None)
    width: Annotated[int, LENGTH] = said("Width.")
    height: Annotated[int, LENGTH] = said("Height.")
    proud: Annotated[int, LENGTH_OR_ZERO] = said("How far it stands out from the wall.")
    opened_per_year: Annotated[float, Number(0, 10_000)] = said(
        "How often it must be reached in a year.", 2, "most things that are hidden are opened once or twice a year"
    )
    needs: Annotated[tuple[Need, ...], ListOf(Choice(Need))] = said("What must still get through.", ())
    cover_screws: Annotated[tuple[tuple[int, int], ...], ListOf(POINT)] = said(
        "Screws of its cover, as [x, y] on the wall.", ()
    )
    door: DoorTable | None = said("Its own door, if it has one.", None)
    volts: Annotated[float | None, Number(1, 35_000, " V")] = said(
        "Electrical, thermostat, chime, keypad, router: voltage to ground. Working space follows from it; up to 50 V "
        "bell wire leads there.",
        None,
    )
    medium: Annotated[Medium | None, Choice(Medium)] = said(
        "Meter and valve box: gas, water or electricity; from its name if left out. A meter of which nobody says it is "
        "kept clear of as if cables led there.",
        None,
    )
    facing: Annotated[Facing | None, Choice(Facing)] = said(
        "Electrical: what is opposite, across the working space: nothing (wood, plasterboard, open room), earthed "
        "(brick, concrete, tile, metal) or live (another board).",
        None,
    )
    handle: Annotated[int | None, LENGTH] = said(
        "Electrical: middle of its highest grip in the highest position, over the floor; measure it.", None
    )
    recess: Annotated[int | None, LENGTH_OR_ZERO] = said(
        "How deep it sits in the wall, 0 where it sits on it; electrical boxes in a studded wall are taken as sunk in "
        "if left out.",
        None,
    )
    fed_from: Annotated[tuple[Side, ...] | None, ListOf(Choice(Side))] = said(
        "Sides from which its cables, pipes or ducts come in the wall; [] for straight through the wall. It frees the "
        "other sides for drilling, so write it only where it was seen; every side that its kind allows if left out.",
        None,
    )
    flue_in_use: Annotated[bool, Flag()] = said("Whether a flue behind it is still in use.", False)
    flue_capped: Annotated[bool, Flag()] = said("Whether that flue has been capped.", False)
    copies: Annotated[tuple[int, ...], ListOf(Count(1, 200))] = said(
        "In which copies of a series it occurs; all if left out.", ()
    )


FURNITURE = ("bed", "sofa", "bench", "table", "counter", "desk", "cabinet", "shelf", "other")


class FurnitureTable(Table):
    """Something that stands below or in front of the piece."""

    name: Annotated[str | None, Text()] = said("What it is called.", None)
    kind: Annotated[str, Choice(FURNITURE)] = said("What it is.")
    x: Annotated[int | None, LENGTH_OR_ZERO] = said("Left edge, from the left corner of the wall.", None)
    centre: Annotated[int | None, LENGTH_OR_ZERO] = said("Middle along the wall, instead of x.", None)
    width: Annotated[int, LENGTH] = said("Width along the wall.")
    bottom: Annotated[int, LENGTH_OR_ZERO] = said("Lower edge, from the floor.", 0)
    top: Annotated[int, LENGTH] = said("Upper edge, from the floor; of a bed, that of its headboard.")
    near: Annotated[int, LENGTH_OR_ZERO] = said("How far its near edge stands from the wall.", 0)
    far: Annotated[int | None, LENGTH] = said("How far it reaches into the room.", None)
    moved: Annotated[int | None, LENGTH] = said(
        "How far it is moved out into the room before the piece is lifted; it stays where it is if left out.", None
    )
    moved_by: Annotated[str, Text(empty=True)] = said("Who moves it.", "")


class KeepClearTable(Table):
    """A part of the wall that the piece must not cover: a switch, a socket, a window."""

    name: Annotated[str, Text()] = said("What it is.")
    x: Annotated[int | None, LENGTH_OR_ZERO] = said("Left edge, from the left corner of the wall.", None)
    y: Annotated[int | None, LENGTH_OR_ZERO] = said("Lower edge, from the floor.", None)
    centre: Annotated[tuple[int, int] | None, POINT] = said("Middle, instead of x and y.", None)
    width: Annotated[int, LENGTH] = said("Width.")
    height: Annotated[int, LENGTH] = said("Height.")
    why: Annotated[str, Text(empty=True)] = said("Why it must stay clear.", "")
    margin: Annotated[int, LENGTH_OR_ZERO] = said("How far the piece must stay away from it all round.", 0)
    kind: Annotated[ClearKind | None, Choice(ClearKind)] = said(
        "What it is to the wall behind: nothing is drilled above, below or beside a socket or switch, nor below a tap; "
        "from its name if left out.",
        None,
    )


class _RunRest(Table):
    """A run but for its beginning, whose key is a word of Python."""

    name: Annotated[str | None, Text()] = said("What it is called.", None)
    kind: Annotated[RunKind, Choice(RunKind)] = said("cable, pipe or duct.")
    to: Annotated[tuple[int, int], POINT] = said("Where it ends, as [x, y] on the wall.")
    clear: Annotated[int | None, LENGTH_OR_ZERO] = said(
        "How far to keep from its middle line at each side; by how it was found if left out.", None
    )
    found: Annotated[FoundBy, Choice(FoundBy)] = said(
        "How it is known: seen, detector, drawing or told.", FoundBy.TOLD, "nothing was said, so it counts as hearsay"
    )


if TYPE_CHECKING:

    class RunTable(_RunRest):
        """A cable, pipe or duct in the wall, as a straight line; a bent one is several runs."""
else:
    RunTable = create_model(
        "RunTable",
        __base__=_RunRest,
        __doc__="A cable, pipe or duct in the wall, as a straight line; a bent one is several runs.",
        **{"from": (Annotated[tuple[int, int], POINT], said("Where it begins, as [x, y] on the wall."))},
    )


class EyeTable(Table):
    """A place that somebody looks from."""

    name: Annotated[str, Text()] = said("Who or where: 'at the table', 'lying in bed'.")
    x: Annotated[int, LENGTH_OR_ZERO] = said("Along the wall, from its left corner.")
    height: Annotated[int, LENGTH] = said("Above the floor.")
    distance: Annotated[int, LENGTH] = said("Out from the wall.")
