"""Files for other programs, made once: of the worked scenarios, of sizes mixed on one grid, and of made-up briefs."""

from __future__ import annotations

from functools import cache

import pytest
from tests.brief.generate import made_up, mosaic
from tests.scenarios.cases import BRIEFS, ROOT, plan_of

from bossage.brief import read_brief
from bossage.pack.exports import Export, export_files
from bossage.pack.files import table_files
from bossage.plan import Plan, make_plan

MADE_UP = ("made up 301", "made up 302", "made up 304", "made up 308", "mosaic 5")
CASES = [
    pytest.param(case, marks=pytest.mark.xdist_group(f"files {case}")) for case in (*BRIEFS, "mixed-sizes", *MADE_UP)
]


@cache
def case_plan(case: str) -> Plan:
    if case in BRIEFS:
        return plan_of(case)
    kind, _, seed = case.rpartition(" ")
    if kind:
        text = (mosaic if kind == "mosaic" else made_up)(int(seed)).text
    else:
        text = (ROOT / "examples" / f"{case}.toml").read_text(encoding="utf-8")
    made = make_plan(read_brief(text))
    assert isinstance(made, Plan), made
    return made


@cache
def exported(case: str) -> dict[str, bytes]:
    """Drawings and models."""
    return export_files(case_plan(case), tuple(Export))


@cache
def tabled(case: str) -> dict[str, bytes]:
    """Tables, without any paper or picture."""
    return table_files(case_plan(case), b"")
