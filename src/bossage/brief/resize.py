"""Another size or place of the piece, as changes of the brief's text.

Counts that fit one grid do not fit another, so with a new grid a footprint's quotas become weights in the same
proportion, counted fills are shared out anew, and pins that lie outside are taken out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bossage.brief.records import Brief
from bossage.checks import Edit, EditValue
from bossage.units import NM_PER_MM

NM_PER_IN_64 = 396_875
LEAF_NAMES = {1: ("whole",), 2: ("left", "right"), 3: ("left", "middle", "right")}


def length_value(nm: int, unit: str) -> EditValue:
    """A length as a brief holds it, exact: a bare number in its unit, or text where the unit's marks miss it."""
    if unit == "in":
        if nm % NM_PER_IN_64:
            return f"{_plain(nm / NM_PER_MM)} mm"
        return _plain(nm / NM_PER_IN_64 / 64)
    return _plain(nm / NM_PER_MM)


def place_edits(said: dict[str, Any], brief: Brief, places: Sequence[tuple[int, int]]) -> tuple[Edit, ...]:
    """Changes that put every leaf's lower left corner where it is to be.

    Args:
        said: The brief as plain values, as the text has them.
        brief: The same brief, read.
        places: x and y of each leaf, nanometres on the wall; as many leaves as it is to have.
    """
    unit = brief.piece.unit.value
    there = said.get("leaf", [])
    if len(there) == len(places):
        return tuple(
            Edit(op="set", path=("leaf", number, key), value=length_value(nm, unit))
            for number, place in enumerate(places)
            for key, nm in zip(("x", "y"), place, strict=True)
        )
    names = LEAF_NAMES.get(len(places)) or tuple(f"leaf {number}" for number in range(1, len(places) + 1))
    leaves: list[EditValue] = [
        {"name": name, "x": length_value(x, unit), "y": length_value(y, unit)}
        for name, (x, y) in zip(names, places, strict=True)
    ]
    return (Edit(op="set", path=("leaf",), value=leaves),)


def size_edits(
    said: dict[str, Any], brief: Brief, *, columns: int, rows: int, places: Sequence[tuple[int, int]]
) -> tuple[Edit, ...]:
    """Changes that give every leaf so many columns and rows, and put it where it is to be; see `place_edits`."""
    blocks = said.get("blocks", {})
    same = blocks.get("columns") == columns and blocks.get("rows") == rows
    edits = list(place_edits(said, brief, places))
    if same and len(said.get("leaf", [])) in (0, len(places)):
        return tuple(edits)
    edits += [
        Edit(op="set", path=("blocks", "columns"), value=columns),
        Edit(op="set", path=("blocks", "rows"), value=rows),
    ]
    edits += _shares(said)
    edits += _fills(said, columns * rows)
    edits += _pins(said, brief, columns, rows, len(places))
    return tuple(edits)


def _shares(said: dict[str, Any]) -> list[Edit]:
    edits = []
    for number, footprint in enumerate(said.get("footprint", [])):
        if "quotas" in footprint:
            edits.append(Edit(op="remove", path=("footprint", number, "quotas")))
            edits.append(Edit(op="set", path=("footprint", number, "weights"), value=footprint["quotas"]))
    if "ring_quotas" in said.get("blocks", {}):
        edits.append(Edit(op="remove", path=("blocks", "ring_quotas")))
    for number, family in enumerate(said.get("family", [])):
        if "quotas" in family:
            edits.append(Edit(op="remove", path=("family", number, "quotas")))
    return edits


def _fills(said: dict[str, Any], modules: int) -> list[Edit]:
    counts = [fill.get("count") for fill in said.get("fill", [])]
    counted = [number for number, count in enumerate(counts) if count is not None]
    total = sum(counts[number] for number in counted)
    if not total:
        return []
    # the last counted one takes what rounding leaves; where another takes the rest, its share stays about the same
    room = modules if len(counted) == len(counts) else min(modules, total)
    shared, edits = 0, []
    for number in counted:
        last = number == counted[-1]
        count = room - shared if last else min(room - shared, round(room * counts[number] / total))
        shared += count
        edits.append(Edit(op="set", path=("fill", number, "count"), value=count))
    return edits


def _pins(said: dict[str, Any], brief: Brief, columns: int, rows: int, leaves: int) -> list[Edit]:
    pins = brief.blocks.pins
    if not said.get("pin"):
        return []
    if len(pins) != len(said["pin"]) or leaves != max(1, len(brief.blocks.leaves)):
        return [Edit(op="remove", path=("pin",))]
    outside = [number for number, pin in enumerate(pins) if not _inside(pin.address, columns, rows)]
    return [Edit(op="remove", path=("pin", number)) for number in reversed(outside)]


def _inside(address: str, columns: int, rows: int) -> bool:
    row, _, column = address.partition("·")
    digits = "".join(letter for letter in column if letter.isdigit())
    return row.isdigit() and digits.isdigit() and int(row) <= rows and int(digits) <= columns


def _plain(value: float) -> int | float:
    return int(value) if value == int(value) else round(value, 6)
