"""How each row of the scenarios is read off a plan; one function a row name, given the scenario."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tests.scenarios import rows_colour, rows_hang, rows_layout, rows_saw, rows_work

Row = Callable[[str], Any]

ROWS: dict[str, Row] = {
    **rows_layout.ROWS,
    **rows_saw.ROWS,
    **rows_hang.ROWS,
    **rows_work.ROWS,
    **rows_colour.ROWS,
}
