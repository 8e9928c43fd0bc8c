"""From tables to records: sticks, and the section that each footprint is sliced from."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from bossage.brief.face import Footprint
from bossage.brief.kinds import nearest
from bossage.brief.making import StickStock
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.settle_making import on_hand
from bossage.brief.tables_making import StickTable
from bossage.units import NM_PER_MM, format_length, format_size

_STICK_NM = 2400 * NM_PER_MM
_BOX_STUB_NM = 80 * NM_PER_MM
_BOX_WHY = "80 mm (3 in) can be clamped in a mitre box (our assumption)"


def settle_sticks(
    tables: Tables, notes: Notes, footprints: tuple[Footprint, ...]
) -> tuple[tuple[StickStock, ...], tuple[Footprint, ...]]:
    """The sticks, and the footprints with the section that each is sliced from."""
    species = tables.one("blocks").species
    if not tables.repeated["stick"]:
        return _usual_sticks(tables, notes, footprints, species)
    sections: dict[str, tuple[int, int]] = {}
    sticks = []
    alone = footprints[0] if len(footprints) == 1 else None
    for path, table in tables.many("stick"):
        stub_nm = _stub_nm(tables, notes, path, table)
        size = _section_size(tables, path, table, footprints, alone)
        name = table.name or (format_size(*size, tables.unit) if size else "")
        if size is None:
            continue
        known = sections.setdefault(name.casefold(), size)
        if set(known) != set(size) and tables.sound(f"{path}.width", f"{path}.height", f"{path}.name"):
            found, allowed = format_size(*size, tables.unit), f"{format_size(*known, tables.unit)}, as above for {name}"
            tables.fault(path, found, allowed, "Give sticks of another section another name.")
        _check_lengths(tables, path, table, stub_nm)
        sticks.append(
            StickStock(
                name=name,
                section_width_nm=size[0],
                section_height_nm=size[1],
                bought_as=table.bought_as,
                length_nm=table.length,
                price_cents=table.price,
                count=on_hand(path, table, notes),
                owned=table.owned,
                trim_nm=table.trim,
                stub_nm=stub_nm,
                no_go_nm=table.no_go,
                spares_pct=table.spares,
                species=table.species or species,
            )
        )
    names = {stick.name.casefold(): stick.name for stick in sticks}
    return tuple(sticks), tuple(
        _with_section(tables, path, footprint, names, sections)
        for (path, _), footprint in zip(tables.many("footprint"), footprints, strict=True)
    )


def _usual_sticks(
    tables: Tables, notes: Notes, footprints: tuple[Footprint, ...], species: str
) -> tuple[tuple[StickStock, ...], tuple[Footprint, ...]]:
    """A stick of 2.4 m for each footprint, as wide and high as its face."""
    usual = _usual_stick_values(by_hand=tables.one("tools").saw == "mitre box")
    sticks: dict[str, StickStock] = {}
    sized = []
    lying: dict[tuple[int, int], str] = {}  # a block on its side comes off the same stick as one that stands
    for footprint in footprints:
        size_nm = (footprint.width_nm, footprint.height_nm)
        name = footprint.section or lying.get(size_nm[::-1]) or format_size(*size_nm, tables.unit)
        lying.setdefault(size_nm, name)
        if name not in sticks:
            size = format_size(footprint.width_nm, footprint.height_nm, tables.unit)
            notes.add(
                "stick",
                f"{size}, {_say(tables, _STICK_NM)} long, without a price",
                f"no stick was given; the section is the face of {footprint.name}",
            )
            sticks[name] = StickStock(
                name=name,
                section_width_nm=footprint.width_nm,
                section_height_nm=footprint.height_nm,
                length_nm=_STICK_NM,
                species=species,
                **usual,
            )
        sized.append(replace(footprint, section=name))
    return tuple(sticks.values()), tuple(sized)


def _stub_nm(tables: Tables, notes: Notes, path: str, table: StickTable) -> int:
    """The end that is never cut: as said, or what this saw must hold; the other defaults are noted beside it."""
    by_hand = tables.one("tools").saw == "mitre box" and "stub" not in table.model_fields_set
    notes.table(path, table, leave=("stub",) if by_hand else ())
    return notes.length(f"{path}.stub", _BOX_STUB_NM, _BOX_WHY) if by_hand else table.stub


def _usual_stick_values(*, by_hand: bool) -> dict[str, Any]:
    usual = StickTable.model_construct()
    return {
        "bought_as": "",
        "price_cents": None,
        "count": None,
        "owned": False,
        "trim_nm": usual.trim,
        "stub_nm": _BOX_STUB_NM if by_hand else usual.stub,
        "no_go_nm": (),
        "spares_pct": usual.spares,
    }


def _section_size(
    tables: Tables, path: str, table: Any, footprints: tuple[Footprint, ...], alone: Footprint | None
) -> tuple[int, int] | None:
    """A stick's measured section: as given, or the face of the footprint that it is for."""
    if table.width is not None and table.height is not None:
        return table.width, table.height
    if not tables.sound(f"{path}.width", f"{path}.height", "footprint[*].name", "footprint[*].section"):
        return None
    name = (table.name or "").casefold()
    fits = [one for one in footprints if name and name in {one.section.casefold(), one.name.casefold()}]
    face = fits[0] if fits else alone
    if face is None or (table.width or table.height) is not None:
        allowed = "width and height of the section, as measured"
        tables.fault(path, "a stick without both", allowed, "Add width and height.")
        return None
    return face.width_nm, face.height_nm


def _with_section(
    tables: Tables, path: str, footprint: Footprint, names: dict[str, str], sections: dict[str, tuple[int, int]]
) -> Footprint:
    """The footprint with the stick section that it is sliced from, which must have its size."""
    if not tables.sound("stick[*].name", "stick[*].width", "stick[*].height", "stick", f"{path}.section"):
        return footprint
    face = (footprint.width_nm, footprint.height_nm)
    asked = footprint.section.casefold()
    if asked and asked not in names:
        near = nearest(asked, names)
        advice = f'Did you mean "{names[near]}"?' if near else "Name a section that some [[stick]] has."
        known = f"a section: {', '.join(names.values())}"
        tables.fault(f"{path}.section", f'"{footprint.section}"', known, advice)
        return footprint
    fitting = [key for key, size in sections.items() if sorted(size) == sorted(face)]
    key = asked or (footprint.name.casefold() if footprint.name.casefold() in names else "")
    if not key and (fitting or len(names) == 1):
        key = fitting[0] if fitting else next(iter(names))
    if not key:
        allowed = f"a stick of that section; there are {', '.join(names.values())}"
        tables.fault(f"{path}.section", "nothing", allowed, "Add section = …, or a [[stick]] for it.")
        return footprint
    if key not in fitting and tables.sound(f"{path}.width", f"{path}.height"):
        found = (
            f"a face of {format_size(*face, tables.unit)} from a section of {format_size(*sections[key], tables.unit)}"
        )
        remedy = "Measure both; a slice is as large as its stick."
        tables.fault(f"{path}.section", found, "the same size", remedy)
    return replace(footprint, section=names[key])


def _check_lengths(tables: Tables, path: str, table: Any, stub_nm: int) -> None:
    if table.trim + stub_nm >= table.length and tables.sound(f"{path}.trim", f"{path}.stub", f"{path}.length"):
        found = f"{_say(tables, table.length)} long with {_say(tables, table.trim + stub_nm)} of trim and stub"
        tables.fault(f"{path}.length", found, "a length of which something is left", "Nothing could be cut from it.")
    for number, (start, end) in enumerate(table.no_go, 1):
        if (start >= end or end > table.length) and tables.sound(f"{path}.no_go", f"{path}.length"):
            found = f"{_say(tables, start)} to {_say(tables, end)}"
            allowed = f"[from, to] within {_say(tables, table.length)}"
            tables.fault(f"{path}.no_go[{number}]", found, allowed, "Measure both from the end that is trimmed.")


def _say(tables: Tables, nm: int) -> str:
    return format_length(nm, tables.unit)
