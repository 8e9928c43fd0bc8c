"""The worked scenarios on paper, made once: plans, sheets and one PDF with every sheet, those on request among them."""

from __future__ import annotations

from functools import cache

import pytest
from tests.scenarios.cases import BRIEFS, plan_of

from bossage.pack.catalogue import SHEETS, pack_sheets
from bossage.pack.files import sheets_pdf, table_files, wall_picture
from bossage.pack.order import Form
from bossage.pack.sheet import Sheet

#: Tests of one scenario go to one worker (`--dist loadgroup`), so that its papers are made once.
SCENARIOS = [pytest.param(scenario, marks=pytest.mark.xdist_group(scenario)) for scenario in BRIEFS]
METRIC, INCH, RING, CLASS = (SCENARIOS[list(BRIEFS).index(scenario)] for scenario in ("S2", "S1", "S7", "S3"))


@cache
def sheets_of(scenario: str) -> tuple[Sheet, ...]:
    """Every sheet, those on request among them."""
    return tuple(pack_sheets(plan_of(scenario), SHEETS))


@cache
def picture_of(scenario: str) -> bytes:
    """The lit picture."""
    return wall_picture(plan_of(scenario))


@cache
def papers_of(scenario: str) -> bytes:
    """Every sheet as one PDF."""
    return sheets_pdf(plan_of(scenario), list(sheets_of(scenario)), picture_of(scenario), Form.PRINT)


@cache
def tables_of(scenario: str) -> dict[str, bytes]:
    """What a pack holds beside its PDF."""
    return table_files(plan_of(scenario), picture_of(scenario))
