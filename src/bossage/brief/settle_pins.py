"""From tables to records: pins, each on the grid, with a level and shade that exist."""

from __future__ import annotations

import re
from typing import Any

from bossage.brief.face import Family, LeafBrief, Pin
from bossage.brief.kinds import nearest
from bossage.brief.sections import Tables
from bossage.units import format_length

_READ_ADDRESS = "Row first, both from the upper left."
_READ_LEVEL = "Write a height that the blocks have."


def settle_pins(
    tables: Tables, leaves: tuple[LeafBrief, ...], levels: tuple[int, ...], families: tuple[Family, ...]
) -> tuple[Pin, ...]:
    """Blocks that are settled, each on the grid, with a level and shade that exist."""
    blocks = tables.one("blocks")
    seen: dict[tuple[str, str], str] = {}
    out = []
    for path, table in tables.many("pin"):
        leaf = next((one for one in leaves if table.leaf is None or one.name.casefold() == table.leaf.casefold()), None)
        if leaf is None:
            if tables.sound("leaf[*].name"):
                known = ", ".join(one.name for one in leaves)
                tables.fault(f"{path}.leaf", f'"{table.leaf}"', f"a leaf: {known}", "Write the leaf's name.")
            continue
        address = _address(tables, path, table.block, leaf, blocks)
        if table.level is None and table.shade is None and tables.sound(f"{path}.level", f"{path}.shade"):
            tables.fault(path, "neither level nor shade", "a level, a shade or both", "Say what is settled.")
        level = None
        if table.level is not None and tables.sound("blocks.levels"):
            if table.level in levels:
                level = levels.index(table.level)
            else:
                known = ", ".join(format_length(one, tables.unit) for one in levels)
                found = format_length(table.level, tables.unit)
                tables.fault(f"{path}.level", found, f"one of the levels {known}", _READ_LEVEL)
        shade = None
        if table.shade is not None and tables.sound("family[*].name", "family[*].lightness"):
            shades = [f"{family.name} {light:.0f}" for family in families for light in family.lightness]
            spelt = {one.casefold(): one for one in shades}
            # where two shades of a family would share a number, a letter tells them apart
            asked = table.shade.casefold()
            plain = re.sub(r"(?<=\d)[a-z]$", "", asked)
            letter = asked[len(plain) :]
            if plain in spelt:
                shade = spelt[plain] + letter
            else:
                near = nearest(table.shade, shades)
                advice = f'Did you mean "{near}"?' if near else "Write family and lightness."
                tables.fault(f"{path}.shade", f'"{table.shade}"', f"a shade: {', '.join(shades)}", advice)
        if address is None:
            continue
        key = (leaf.name, address)
        if key in seen:
            tables.fault(f"{path}.block", f"{address}, as in {seen[key]}", "each block once", "Put the pins together.")
        seen.setdefault(key, path)
        out.append(Pin(leaf=leaf.name, address=address, level=level, shade=shade))
    return tuple(out)


def _address(tables: Tables, path: str, text: str, leaf: LeafBrief, blocks: Any) -> str | None:
    found = re.fullmatch(r"\s*(\d{1,5})\s*[·.]\s*(\d{1,5})\s*([a-z]?)\s*", text)
    if found is None:
        tables.fault(f"{path}.block", f'"{text}"', "row·column, as 7·12 or 7.12b", _READ_ADDRESS)
        return None
    row, column = int(found[1]), int(found[2])
    if tables.sound("blocks.columns", "blocks.rows", "leaf[*].open"):
        outside = (blocks.rows is not None and row > blocks.rows) or (
            blocks.columns is not None and column > blocks.columns
        )
        if row < 1 or column < 1 or outside:
            allowed = f"row 1 to {blocks.rows or 'the last'}, column 1 to {blocks.columns or 'the last'}"
            tables.fault(f"{path}.block", f"row {row}, column {column}", allowed, _READ_ADDRESS)
            return None
        if (row, column) in leaf.open_cells:
            allowed = "a block of the piece"
            tables.fault(f"{path}.block", f"{row}·{column}, an open cell", allowed, "Pin another, or close the cell.")
            return None
    return f"{row}·{column}{found[3]}"
