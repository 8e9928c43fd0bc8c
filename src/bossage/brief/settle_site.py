"""From tables to records: the piece, the wall and what is on it, with the faults between their fields."""

from __future__ import annotations

from typing import Any

from bossage.brief.by_name import fixture_kind_of, medium_of
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.site import Door, Eye, Fixture, Furniture, Piece, Wall
from bossage.brief.terms import (
    PEOPLE_ON,
    PERHAPS_PEOPLE_AT,
    Below,
    Facing,
    FixtureKind,
    LengthUnit,
    Medium,
    WallBuild,
)
from bossage.fasteners import metal_studs
from bossage.units import NM_PER_MM, format_length

HOUSE_VOLTS = 230.0
BELL_VOLTS = 24.0
_ON_BELL_WIRE = (FixtureKind.CHIME, FixtureKind.KEYPAD, FixtureKind.ROUTER)
_COUNTED = (FixtureKind.METER, FixtureKind.VALVES)
_STUDDED = (WallBuild.TIMBER_STUDS, WallBuild.METAL_STUDS)
_REACH_NM = {"bed": 2000 * NM_PER_MM, "sofa": 900 * NM_PER_MM}
_REACH_ELSE_NM = 600 * NM_PER_MM


def settle_piece(tables: Tables, notes: Notes) -> Piece:
    """The piece; paper and currency follow the unit where they are left out."""
    table = tables.one("piece")
    notes.table("piece", table)
    inches = table.unit is LengthUnit.IN
    paper, currency = table.paper, table.currency
    if paper is None:
        paper = "Letter" if inches else "A4"
        notes.add("piece.paper", paper, f"papers in {'inches' if inches else 'millimetres'} are mostly of that size")
    if currency is None:
        currency = "$" if inches else "€"
        notes.add("piece.currency", currency, "no currency was given; only the sign is meant")
    return Piece(
        name=table.name,
        unit=table.unit,
        paper=paper,
        seed=table.seed,
        date=table.date,
        currency=currency,
        client=table.client,
        copies=table.copies,
        budget_cents=table.budget,
        mass_cap_g=table.mass_cap,
        weighed_g=table.weighed,
    )


def settle_wall(tables: Tables, notes: Notes) -> Wall | None:
    """The wall; its build follows from studs where they are given."""
    table = tables.one("wall")
    if table is None:
        return None
    build = _build(tables, table, notes)
    studs = _studs(tables, table, build)
    covering = table.covering
    if covering is None:
        board = build in _STUDDED
        nm, what = (12_700_000, "1/2 in (12.7 mm) wallboard") if board else (15 * NM_PER_MM, "15 mm of plaster")
        covering = notes.length("wall.covering", nm, f"{what} is usual (common practice, no source)")
    notes.table("wall", table, leave=() if build in _STUDDED else ("stud_width", "stud_species"))
    return Wall(
        width_nm=table.width,
        height_nm=table.height,
        build=build,
        covering_nm=covering,
        studs_nm=studs,
        stud_width_nm=table.stud_width,
        stud_species=table.stud_species,
        passage_nm=table.passage,
        circulation=table.circulation,
        escape_route=table.escape_route,
        escape_width_nm=table.escape_width,
        below=_below(tables, table, notes),
        light_from=table.light_from,
        colour_hex=table.colour,
        stud_steel=_steel(table, build, notes),
        studs_seen=table.studs_seen,
        wiring=table.wiring,
    )


def settle_fixtures(tables: Tables, copies: int, notes: Notes) -> tuple[Fixture, ...]:
    """What is hidden, each named and placed by its lower left corner."""
    names = names_of(tables, "fixture", {path: table.kind.value for path, table in tables.many("fixture")})
    out = []
    for path, table in tables.many("fixture"):
        notes.table(path, table)
        place = place_of(tables, path, table)
        for number, copy in enumerate(table.copies, 1):
            if copy > copies and tables.sound(f"{path}.copies", "piece.copies"):
                found, allowed = f"copy {copy}", f"copies 1 to {copies}"
                tables.fault(f"{path}.copies[{number}]", found, allowed, "Take it out, or raise piece.copies.")
        if place is None:
            continue
        door = table.door
        volts, facing = _electrical(path, table, notes)
        kind = _kind(path, names[path], table.kind, notes)
        out.append(
            Fixture(
                name=names[path],
                kind=kind,
                x_nm=place[0],
                y_nm=place[1],
                width_nm=table.width,
                height_nm=table.height,
                proud_nm=table.proud,
                opened_per_year=table.opened_per_year,
                needs=table.needs,
                cover_screws_nm=table.cover_screws,
                door=door
                and Door(
                    width_nm=door.width,
                    hinge=door.hinge,
                    plane_nm=table.proud if door.plane is None else door.plane,
                ),
                flue_in_use=table.flue_in_use,
                flue_capped=table.flue_capped,
                copies=table.copies,
                volts=volts,
                facing=facing,
                handle_nm=table.handle,
                recess_nm=table.recess,
                fed_from=table.fed_from,
                medium=_medium(path, names[path], table, notes),
            )
        )
    return tuple(out)


def _electrical(path: str, table: Any, notes: Notes) -> tuple[float, Facing]:
    """Voltage to ground and what is opposite; the usual ones are taken, and said, where a board tells neither."""
    volts, facing = table.volts, table.facing
    if table.kind is FixtureKind.ELECTRICAL:
        if volts is None:
            notes.add(f"{path}.volts", f"{HOUSE_VOLTS:g} V", "the higher of the two usual house voltages")
        if facing is None:
            notes.add(
                f"{path}.facing",
                Facing.NOTHING.value,
                "a wall of wood or plasterboard opposite; brick, concrete and tile are earthed and ask for more",
            )
    elif volts is None and table.kind is FixtureKind.THERMOSTAT:
        reason = "nobody says that it runs on less, so its cable is kept clear of as one of the mains"
        notes.add(f"{path}.volts", f"{HOUSE_VOLTS:g} V", reason)
    elif volts is None and table.kind in _ON_BELL_WIRE:
        volts = BELL_VOLTS
        notes.add(f"{path}.volts", f"{BELL_VOLTS:g} V", "bell wire or a signal cable leads to most of them")
    return HOUSE_VOLTS if volts is None else volts, facing or Facing.NOTHING


def _kind(path: str, name: str, kind: FixtureKind, notes: Notes) -> FixtureKind:
    """Its kind; one of no special kind whose name says that it is a socket or switch is one."""
    if kind is not FixtureKind.OTHER or fixture_kind_of(name) is kind:
        return kind
    notes.add(f"{path}.kind", FixtureKind.ACCESSORY.value, "its name says so, and a cable leads there")
    return FixtureKind.ACCESSORY


def _medium(path: str, name: str, table: Any, notes: Notes) -> Medium | None:
    """What goes through a meter or valves: as the brief says, else as their name does."""
    said: Medium | None = table.medium
    if said is None and table.kind in _COUNTED:
        said = medium_of(name)
        if said is not None:
            notes.add(f"{path}.medium", said.value, "its name says so")
    return said


def settle_furniture(tables: Tables, notes: Notes) -> tuple[Furniture, ...]:
    """What stands around; its reach into the room follows its kind where it is left out."""
    names = names_of(tables, "furniture", {path: table.kind for path, table in tables.many("furniture")})
    out = []
    for path, table in tables.many("furniture"):
        x = table.x
        if tables.sound(f"{path}.x", f"{path}.centre") and (table.x is None) == (table.centre is None):
            found = "neither x nor centre" if x is None else "both x and centre"
            tables.fault(f"{path}.x", found, "one of x and centre", "Say where it stands along the wall, once.")
        if table.centre is not None:
            # a bed wider than its chimney breast may well begin left of the wall's corner
            x = table.centre - table.width // 2
        if table.top <= table.bottom and tables.sound(f"{path}.top", f"{path}.bottom"):
            found = f"top {_say(tables, table.top)} under bottom {_say(tables, table.bottom)}"
            tables.fault(f"{path}.top", found, "a top above its bottom", "Exchange the two.")
        far = table.far
        if far is None:
            reach = _REACH_NM.get(table.kind, _REACH_ELSE_NM)
            far = notes.length(
                f"{path}.far", table.near + reach, f"a usual {table.kind} reaches so far (our assumption)"
            )
        elif far <= table.near and tables.sound(f"{path}.far", f"{path}.near"):
            found = f"far {_say(tables, far)}, near {_say(tables, table.near)}"
            tables.fault(f"{path}.far", found, "a far edge beyond the near one", "Measure both from the wall.")
        out.append(
            Furniture(
                name=names[path],
                kind=table.kind,
                x_nm=x or 0,
                width_nm=table.width,
                bottom_nm=table.bottom,
                top_nm=table.top,
                near_nm=table.near,
                far_nm=far,
                moved_nm=table.moved,
                moved_by=table.moved_by,
            )
        )
    return tuple(out)


def settle_eyes(tables: Tables) -> tuple[Eye, ...]:
    """Places that somebody looks from."""
    return tuple(
        Eye(name=table.name, x_nm=table.x, height_nm=table.height, distance_nm=table.distance)
        for _, table in tables.many("eye")
    )


def _build(tables: Tables, table: Any, notes: Notes) -> WallBuild:
    if table.build is not None:
        build: WallBuild = table.build
        return build
    if table.studs:
        notes.add("wall.build", WallBuild.TIMBER_STUDS.value, "studs were given, and most are of timber")
    elif tables.sound("wall.build", "wall.studs"):
        words = " or ".join(f'"{word.value}"' for word in WallBuild)
        tables.fault("wall.build", "nothing", words, "Knock on the wall: what holds the piece depends on it.")
    return WallBuild.TIMBER_STUDS


def _steel(table: Any, build: WallBuild, notes: Notes) -> str:
    """The steel of metal studs; the thinnest that is listed where the brief does not say."""
    if build is not WallBuild.METAL_STUDS:
        return ""
    if table.stud_steel is None:
        notes.add("wall.stud_steel", metal_studs()[0].name, "the thinnest on the list; read the mark on the stud")
    return table.stud_steel or metal_studs()[0].name


def _studs(tables: Tables, table: Any, build: WallBuild) -> tuple[int, ...]:
    studs = table.studs
    if not studs:
        if build in _STUDDED and table.build is not None and tables.sound("wall.studs", "wall.build"):
            allowed = "the centre lines of the studs: a list, or { first = …, every = … }"
            tables.fault("wall.studs", "nothing", allowed, "Find the studs and measure them from the left corner.")
        return ()
    if isinstance(studs, dict):
        studs = tuple(range(studs["first"], table.width + 1, studs["every"]))
        if not studs and tables.sound("wall"):
            allowed = f"at most {_say(tables, table.width)}, the width of the wall"
            tables.fault(
                "wall.studs.first", _say(tables, table.studs["first"]), allowed, "Measure from the left corner."
            )
        return studs
    for number, stud in enumerate(studs, 1):
        if stud > table.width and tables.sound("wall.width"):
            allowed = f"at most {_say(tables, table.width)}, the width of the wall"
            tables.fault(
                f"wall.studs[{number}]", _say(tables, stud), allowed, "Measure from the left corner of the wall."
            )
        elif stud in studs[: number - 1]:
            tables.fault(f"wall.studs[{number}]", f"{_say(tables, stud)} twice", "each stud once", "Take one out.")
    return tuple(sorted(studs))


def _below(tables: Tables, table: Any, notes: Notes) -> Below:
    if table.below is not None:
        below: Below = table.below
        return below
    kinds = {entry.kind: entry.name or entry.kind for _, entry in tables.many("furniture")}
    for kind, word in PEOPLE_ON.items():
        if kind in kinds:
            notes.add("wall.below", word.value, f"a {kind} stands there")
            return word
    for kind in PERHAPS_PEOPLE_AT:
        if kind in kinds:
            notes.add("wall.below", Below.NONE.value, f"write seat where somebody sits or works at the {kinds[kind]}")
            break
    return Below.NONE


def place_of(tables: Tables, path: str, table: Any) -> tuple[int, int] | None:
    """Lower left corner of something on the wall, from x and y or from its centre; None with a fault noted."""
    if not tables.sound(f"{path}.x", f"{path}.y", f"{path}.centre"):
        return None
    corner = (table.x, table.y)
    if table.centre is not None and corner != (None, None):
        tables.fault(f"{path}.centre", "a centre beside x or y", "either x and y, or centre", "Take one of them out.")
        return None
    if table.centre is None and None in corner:
        missing = [key for key, value in zip("xy", corner, strict=True) if value is None]
        at = path if len(missing) == 2 else f"{path}.{missing[0]}"
        allowed = "x and y of its lower left corner, or centre = [x, y]"
        tables.fault(at, f"no {' and no '.join(missing)}", allowed, "Measure from the left corner and from the floor.")
        return None
    x, y = corner if table.centre is None else (
        table.centre[0] - table.width // 2, table.centre[1] - table.height // 2,
    )  # fmt: skip
    wall = tables.one("wall")
    if wall is None or not tables.sound("wall.width", "wall.height"):
        return x, y
    for axis, low, size, whole, edge in (
        ("x", x, table.width, wall.width, "left corner to the right one"),
        ("y", y, table.height, wall.height, "floor to the ceiling"),
    ):
        if low < 0 or low + size > whole:
            key = "centre" if table.centre is not None else axis
            found = f"{axis} from {_say(tables, low)} to {_say(tables, low + size)}"
            allowed = f"0 to {_say(tables, whole)}, from the {edge}"
            tables.fault(f"{path}.{key}", found, allowed, "Measure again: it has to lie on the wall.")
    return x, y


def names_of(tables: Tables, section: str, plain: dict[str, str]) -> dict[str, str]:
    """A name for each entry by path; faults for names given twice, numbers for kinds that occur twice."""
    given: dict[str, str] = {}
    out: dict[str, str] = {}
    for path, table in tables.many(section):
        if table.name is not None:
            key = table.name.casefold()
            if key in given:
                remedy = "Give each a name of its own; checks and papers call them by it."
                tables.fault(f"{path}.name", f'"{table.name}", as in {given[key]}', "a name that stands once", remedy)
            given.setdefault(key, path)
            out[path] = table.name
    for path, _ in tables.many(section):
        if path not in out:
            taken = {name.casefold() for name in out.values()}
            count, name = 1, plain[path]
            while name.casefold() in taken:
                count += 1
                name = f"{plain[path]} {count}"
            out[path] = name
    return out


def _say(tables: Tables, nm: int) -> str:
    return format_length(nm, tables.unit)
