"""From TOML text to checked tables: all faults of single values, each with its path, and what can still be read.

A table with a faulty value is read again without it, so that faults between tables are found in the same go.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal, DecimalException
from typing import Any

from pydantic import BaseModel, ConfigDict, ValidationError

from bossage.brief.bounds import MOST_ENTRIES, MOST_PINS, look_at_size
from bossage.brief.faults import Bad, BriefFaults, Fault, quoted
from bossage.brief.kinds import nearest
from bossage.brief.tables import Table, said
from bossage.brief.tables_climate import ClimateTable
from bossage.brief.tables_face import (
    BlocksTable,
    EdgeTable,
    FadeTable,
    FamilyTable,
    FillTable,
    FootprintTable,
    LeafTable,
    PinTable,
)
from bossage.brief.tables_making import (
    AccessTable,
    BackerTable,
    BehindTable,
    CleatTable,
    FixingsTable,
    GlueTable,
    LiftTable,
    PriceTable,
    RatesTable,
    SheetTable,
    StickTable,
    ToolsTable,
)
from bossage.brief.tables_paint import PaintTable
from bossage.brief.tables_papers import CrewTable, PapersTable
from bossage.brief.tables_room import HeatTable, RoomTable
from bossage.brief.tables_rules import LocalTable, RulesTable
from bossage.brief.tables_settled import SettledTable
from bossage.brief.tables_site import (
    EyeTable,
    FixtureTable,
    FurnitureTable,
    KeepClearTable,
    PieceTable,
    RunTable,
    WallTable,
)

_TOML = "lines of TOML: [section] headings, and key = value with words and lengths in quotes"


class BriefFile(BaseModel):
    """The whole file: single tables in [brackets], repeated ones in [[double brackets]]."""

    model_config = ConfigDict(extra="forbid")

    piece: PieceTable = said("The piece as a whole.", None)
    wall: WallTable = said("The wall.")
    fixture: list[FixtureTable] = said("What to hide.")
    furniture: list[FurnitureTable] = said("What stands below or in front.", [])
    keep_clear: list[KeepClearTable] = said("What must not be covered.", [])
    run: list[RunTable] = said("Cables, pipes and ducts in the wall.", [])
    room: RoomTable = said("The room as it is lived in.", None)
    heat: list[HeatTable] = said("What is hot near the piece.", [])
    eye: list[EyeTable] = said("Places that somebody looks from.", [])
    climate: ClimateTable = said("The air of shop and room over the year.", None)
    blocks: BlocksTable = said("Grid, heights and wood of the blocks.", None)
    footprint: list[FootprintTable] = said("Face sizes of blocks.")
    fill: list[FillTable] = said("How footprints fill a cell.", [])
    leaf: list[LeafTable] = said("Parts with a backer of their own.", [])
    edge: EdgeTable = said("How the outer blocks end.", None)
    backer: BackerTable = said("The board behind.", None)
    sheet: list[SheetTable] = said("Boards as bought.", [])
    behind: list[BehindTable] = said("Ribs, frames and stiles.", [])
    cleat: CleatTable = said("What each leaf hangs on.", None)
    fixings: FixingsTable = said("What goes into the wall.", None)
    access: AccessTable = said("How the piece opens.", None)
    lift: LiftTable = said("The lift at the hook.", None)
    family: list[FamilyTable] = said("Families of colours.")
    fade: FadeTable = said("How colours run over the piece.", None)
    stick: list[StickTable] = said("Sticks as bought, and offcuts on hand.", [])
    tools: ToolsTable = said("What the shop has.", None)
    glue: GlueTable = said("The glue.", None)
    paint: PaintTable = said("Coats and coverage.", None)
    rates: RatesTable = said("Minutes and money.", None)
    price: list[PriceTable] = said("Lump prices.", [])
    pin: list[PinTable] = said("Blocks that are settled.", [])
    rules: RulesTable = said("Whose rules about room, reach and ways count.", None)
    local: list[LocalTable] = said("Figures of the place, which go before those of a country.", [])
    settled: list[SettledTable] = said("What somebody has agreed to.", [])
    papers: PapersTable = said("Sticker sheets and notches.", None)
    crew: CrewTable = said("Those who paint together.", None)


SINGLE: dict[str, type[Table]] = {
    name: info.annotation
    for name, info in BriefFile.model_fields.items()
    if isinstance(info.annotation, type) and issubclass(info.annotation, Table)
}
REPEATED: dict[str, type[Table]] = {
    name: info.annotation.__args__[0]  # type: ignore[union-attr]
    for name, info in BriefFile.model_fields.items()
    if name not in SINGLE
}
_WANTED = {
    "wall": "[wall] with width and height",
    "fixture": "at least one [[fixture]]: what is to be hidden, with its place, width, height and proud",
    "footprint": "at least one [[footprint]] with width and height, as measured",
    "family": "at least one [[family]] with name, lightness and colour",
}


@dataclass(slots=True)
class Tables:
    """What could be read. A table or entry that could not is None; `broken` are the paths that are faulty."""

    unit: str
    single: dict[str, Any] = field(default_factory=dict)
    repeated: dict[str, list[Any]] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    faults: list[Fault] = field(default_factory=list)

    def one(self, name: str) -> Any:
        """The single table of that name, None if it could not be read."""
        return self.single[name]

    def many(self, name: str) -> list[tuple[str, Any]]:
        """The readable entries of a repeated table, each with its path."""
        return [(path, entry) for path, entry in self.all(name) if entry is not None]

    def all(self, name: str) -> list[tuple[str, Any]]:
        """All entries of a repeated table with their paths, None for those that could not be read."""
        return [(f"{name}[{number}]", entry) for number, entry in enumerate(self.repeated[name], 1)]

    def sound(self, *paths: str) -> bool:
        """Whether none of these tables, entries or fields is faulty.

        A table's name stands for all of it, `footprint[*].name` for that field of every entry.
        """
        return not any(
            bad == path or bad.startswith((f"{path}.", f"{path}[")) or path.startswith((f"{bad}.", f"{bad}["))
            for path in paths
            for bad in (self.broken if "[*]" not in path else map(_any_entry, self.broken))
        )

    def fault(self, path: str, found: str, allowed: str, remedy: str) -> None:
        """Note one more fault, and that its field is broken."""
        self.broken.add(path)
        self.faults.append(Fault(field=path, found=found, allowed=allowed, remedy=remedy))


def parse_toml(text: str) -> dict[str, Any]:
    """The TOML of a brief; raises `BriefFaults` with line and column if it is none, or far too long or deep."""
    look_at_size(text)
    try:
        return tomllib.loads(text.removeprefix("\ufeff"), parse_float=exact_number)
    except tomllib.TOMLDecodeError as error:
        raise BriefFaults([_not_toml(text, str(error))]) from None
    except (ValueError, RecursionError):
        # an integer of thousands of digits, or brackets nested hundreds deep
        fault = Fault(
            field="",
            found="a number or a nest of brackets of absurd size",
            allowed=_TOML,
            remedy="Look for a line with a very long number or very many brackets.",
        )
        raise BriefFaults([fault]) from None


def read_tables(raw: dict[str, Any]) -> Tables:
    """Every table of the file, and every fault of a single value."""
    piece = raw.get("piece")
    unit = piece.get("unit") if isinstance(piece, dict) else None
    plain = unit.strip().lower() if isinstance(unit, str) else "mm"
    tables = Tables(unit=plain if plain in {"mm", "in"} else "mm")
    known = [*SINGLE, *REPEATED]
    for name in raw:
        if name not in known:
            near = nearest(name, known)
            advice = f"Did you mean {_heading(near)}?" if near else "Take it out."
            tables.fault(name, "a section that no brief has", ", ".join(sorted(known)), advice)
    for name in BriefFile.model_fields:
        if name in SINGLE:
            tables.single[name] = _read_single(name, raw.get(name), tables)
        else:
            tables.repeated[name] = _read_repeated(name, raw.get(name), tables)
    return tables


def _read_single(name: str, value: Any, tables: Tables) -> Table | None:
    if value is None and name in _WANTED:
        tables.fault(name, "nothing", _WANTED[name], f"Add {_heading(name)}.")
        return None
    if value is not None and not isinstance(value, dict):
        tables.fault(name, quoted(value), f"one table, headed {_heading(name)}", f"Write {_heading(name)} once.")
        value = {}
    return _read_table(SINGLE[name], value or {}, name, tables)


def _read_repeated(name: str, value: Any, tables: Tables) -> list[Any]:
    if value is None or value == []:
        if name in _WANTED:
            tables.fault(name, "nothing", _WANTED[name], f"Add {_heading(name)}.")
        return []
    if not isinstance(value, list):
        allowed = f"tables headed {_heading(name)}, one for each"
        tables.fault(name, quoted(value), allowed, f"Write {_heading(name)} with double brackets.")
        return []
    most = MOST_PINS if name == "pin" else MOST_ENTRIES
    if len(value) > most:
        tables.fault(name, f"{len(value):,} of them", f"at most {most:,}", "Leave out what the piece does not need.")
        return []
    entries: list[Any] = []
    for number, entry in enumerate(value, 1):
        path = f"{name}[{number}]"
        if isinstance(entry, dict):
            entries.append(_read_table(REPEATED[name], entry, path, tables))
        else:
            tables.fault(path, quoted(entry), f"a table headed {_heading(name)}", f"Write {_heading(name)}.")
            entries.append(None)
    return entries


def _read_table(model: type[Table], value: dict[str, Any], path: str, tables: Tables) -> Table | None:
    try:
        return model.model_validate(value, context={"unit": tables.unit})
    except ValidationError as error:
        faulty = set()
        for detail in error.errors(include_url=False, include_input=True):
            faulty.add(str(detail["loc"][0]))
            for where, found, allowed, remedy in _in_words(detail, model, value):
                tables.fault(f"{path}{_path(detail['loc'])}{where}", found, allowed, remedy)
    tables.broken |= {f"{path}.{key}" for key in faulty}
    rest = {key: part for key, part in value.items() if key not in faulty}
    try:
        return model.model_validate(rest, context={"unit": tables.unit})
    except ValidationError:
        tables.broken.add(path)
        return None


def _in_words(detail: Any, model: type[Table], value: Any) -> Iterator[tuple[str, str, str, str]]:
    """What pydantic found, as (path below, found, allowed, remedy)."""
    kind, loc = detail["type"], detail["loc"]
    inner, key = _table_at(model, loc)
    if kind == "value_error" and isinstance(detail["ctx"]["error"], Bad):
        yield from detail["ctx"]["error"].items
    elif kind == "missing":
        info = inner.model_fields[key]
        yield "", "nothing", (info.description or key).rstrip(".").lower(), f"Add {key} = …"
    elif kind == "extra_forbidden":
        keys = list(inner.model_fields)
        near = nearest(key, keys)
        advice = f"Did you mean {near}?" if near else "Take it out."
        yield "", "a key that is not known here", ", ".join(keys), advice
    elif kind == "list_type":
        yield "", quoted(detail["input"]), "a list of tables", f"Write {key} = [ {{ … }}, {{ … }} ]."
    else:
        yield "", quoted(detail["input"]), "a table", "Write { key = value, … }."


def _table_at(model: type[Table], loc: tuple[int | str, ...]) -> tuple[type[Table], str]:
    """The table that the last key of a location belongs to, and that key."""
    inner = model
    for step in loc[:-1]:
        if isinstance(step, str) and step in inner.model_fields:
            annotation = inner.model_fields[step].annotation
            parts = [annotation, *getattr(annotation, "__args__", ())]
            tables = [part for part in parts if isinstance(part, type) and issubclass(part, Table)]
            inner = tables[0] if tables else inner
    names = [step for step in loc if isinstance(step, str)]
    return inner, names[-1]


def _any_entry(path: str) -> str:
    return re.sub(r"^(\w+)\[\d+\]", r"\1[*]", path)


def _path(loc: tuple[int | str, ...]) -> str:
    return "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in loc)


def _heading(name: str | None) -> str:
    return f"[[{name}]]" if name in REPEATED else f"[{name}]"


def exact_number(text: str) -> Decimal:
    """A decimal of the file with all its digits."""
    try:
        return Decimal(text)
    except DecimalException:
        return Decimal("NaN")


def _not_toml(text: str, message: str) -> Fault:
    at = re.search(r"\(at line (\d+), column (\d+)\)", message)
    if at is None:
        found = "an end of the file where more was expected"
        return Fault(field="", found=found, allowed=_TOML, remedy="Close the last bracket or quote.")
    number, column = int(at[1]), int(at[2])
    lines = text.splitlines()
    line = lines[number - 1].strip() if number <= len(lines) else ""
    if "overwrite" in message or "Cannot declare" in message or "immutable" in message:
        remedy = "The same key or heading stands twice; keep one."
    elif re.search(r"=\s*[-\d.]+[\s\-/]*[\d/]*\s*(in|mm|cm|m|ft|\"|')", line):
        remedy = 'Put a length with its unit in quotes: "3 1/2 in", \'3-1/2"\'.'
    else:
        remedy = "Look there for a missing quote, bracket or equals sign."
    return Fault(field="", found=f"at line {number}, column {column}: {quoted(line)}", allowed=_TOML, remedy=remedy)
