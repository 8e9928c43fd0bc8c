"""Whatever a brief may say at its edges is set on paper: keys at their least and most, by one and by several."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.pack.pdf_checks import outside

from bossage.brief import BriefFaults, read_brief
from bossage.pack import Form, Order, ordered_files
from bossage.plan import Plan, make_plan

FIRST = (Path(__file__).parents[2] / "examples" / "first.toml").read_text(encoding="utf-8")
GRID = FIRST[: FIRST.index("[[family]]")]

pytestmark = pytest.mark.slow


def _family(shades: int, name: str = "moss") -> str:
    lightness = ", ".join(f"{30 + 60 * k / max(1, shades - 1):.1f}" for k in range(shades))
    return f'\n[[family]]\nname = "{name}"\ncolour = "#5F7A55"\nlightness = [{lightness}]\n'


def _changed(*pairs: tuple[str, str]) -> str:
    text = FIRST
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return text


EDGES = {
    "60 shades": GRID + _family(60),
    "60 shades across": GRID.replace("[blocks]", "[blocks]\ncolumns = 24\nrows = 4") + _family(60),
    "40 levels": _changed(("{ from = 18, to = 42, step = 6 }", "{ from = 18, to = 57, step = 1 }")),
    "far apart": _changed(("{ from = 18, to = 42, step = 6 }", "[18, 999]")),
    "one block": _changed(("[blocks]", "[blocks]\ncolumns = 1\nrows = 1")),
    "one column in one shade": GRID.replace("[blocks]", "[blocks]\ncolumns = 1\nrows = 40") + _family(1),
    "one row in 12 families": GRID.replace("[blocks]", "[blocks]\ncolumns = 120\nrows = 1").replace('"3.2 m"', '"12 m"')
    + "".join(_family(5, f"family {chr(97 + n)}") for n in range(12)),
    "a hall": _changed(('"3.2 m"', '"20 m"'), ('"2.5 m"', '"20 m"')),
    "a niche": _changed(('"3.2 m"', '"0.9 m"'), ('"2.5 m"', '"1.8 m"'), ("[1400, 1500]", "[450, 1200]")),
    "large blocks": _changed(("width = 70\n", "width = 1900\n"), ("height = 70\n", "height = 1900\n")),
}


def _set(text: str, *sheets: str) -> None:
    plan = make_plan(read_brief(text))
    if isinstance(plan, Plan):
        files = ordered_files(plan, Order(sheets=sheets or None, forms=(Form.PRINT,)))
        for name, data in files.items():
            if name.endswith(".pdf"):
                assert outside(data)[:3] == [], name


@pytest.mark.parametrize("edge", EDGES)
def test_what_check_passes_is_set(edge: str) -> None:
    _set(EDGES[edge])


@given(
    shades=st.integers(1, 60),
    columns=st.integers(1, 30),
    rows=st.integers(1, 12),
    levels=st.integers(2, 20),
    paper=st.sampled_from(["A4", "Letter"]),
    seed=st.integers(0, 10**6),
)
@settings(max_examples=2, deadline=None, suppress_health_check=list(HealthCheck))
def test_several_at_once(shades: int, columns: int, rows: int, levels: int, paper: str, seed: int) -> None:
    text = GRID.replace("[blocks]", f"[blocks]\ncolumns = {columns}\nrows = {rows}")
    text = text.replace("to = 42, step = 6", f"to = {18 + 3 * (levels - 1)}, step = 3")
    text = text.replace('unit = "mm"', f'unit = "mm"\npaper = "{paper}"\nseed = {seed}') + _family(shades)
    try:
        read_brief(text)
    except BriefFaults:
        return
    _set(text, "first", "map", "counts", "paint", "saw", "approval")
