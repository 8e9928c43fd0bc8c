# ruff: noqa: RUF012 - a kind's schema is a constant
"""The table of a brief that tells of a butt hinge, and how the size of a screw is written."""

from __future__ import annotations

import re
from typing import Annotated, Any

from bossage.brief.faults import Bad, quoted
from bossage.brief.kinds import LENGTH, Count, Kind
from bossage.brief.tables import Table, said

MEASURED = "measured on the hinge; that of a usual one of 50 mm (2 in) if left out."


class Gauge(Kind):
    """A screw's size: a gauge number, or its shank in millimetres."""

    schema = {"type": "string", "pattern": r"^\s*(#\s*\d{1,2}|\d+([.,]\d+)?\s*mm)\s*$", "examples": ["#10", "5 mm"]}

    def read(self, value: Any, unit: str) -> str:
        """`#10` or `5 mm`, spelt in one way."""
        found = (
            re.fullmatch(r"\s*(?:#\s*(\d{1,2})|(\d+(?:[.,]\d+)?)\s*mm)\s*", value) if isinstance(value, str) else None
        )
        if (
            found
            and found[1]
            and found[1].lstrip("0") in {"6", "7", "8", "9", "10", "12", "14", "16", "18", "20", "24"}
        ):
            return f"#{int(found[1])}"
        if found and found[2] and 2 <= float(found[2].replace(",", ".")) <= 12:
            return f"{float(found[2].replace(',', '.')):g} mm"
        allowed = "a gauge from #6 to #24 (as #10), or a shank from 2 mm to 12 mm (as 5 mm)"
        raise Bad(quoted(value), allowed, "Read it off the box.")


class ButtTable(Table):
    """The butt hinge that a piece swings on, as measured on the one that is bought."""

    height: Annotated[int | None, LENGTH] = said(f"Length of its knuckle, {MEASURED}", None)
    flap: Annotated[int | None, LENGTH] = said(f"Middle of the pin to the edge of a flap, {MEASURED}", None)
    line: Annotated[int | None, LENGTH] = said(
        "Middle of the pin to the line of its holes, measured on the hinge; the middle of what shows of a flap if left "
        "out. Of holes that stand zigzag the line that is farther from the pin.",
        None,
    )
    knuckle: Annotated[int | None, LENGTH] = said(f"Diameter of its knuckle, {MEASURED}", None)
    thickness: Annotated[int | None, LENGTH] = said(f"Thickness of a flap, {MEASURED}", None)
    holes: Annotated[int | None, Count(2, 12)] = said("Holes in each flap; 3 if left out.", None)
    gauge: Annotated[str | None, Gauge()] = said("Size of screw that its holes take.", None)
