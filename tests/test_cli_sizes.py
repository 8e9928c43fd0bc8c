"""`bossage sizes`: the table a maker chooses from, the JSON, and what is said when nothing fits."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bossage.body import sizes_to_choose
from bossage.brief import read_brief
from bossage.cli import FAULTY, NO_PLAN, PLANNED, main

S1 = Path(__file__).parents[1] / "examples" / "s1-fernhollow-hall.toml"


def test_the_table_begins_with_the_maker_s_own(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sizes", str(S1)]) == PLANNED
    lines = capsys.readouterr().out.splitlines()
    assert lines[1].startswith("yours  42 × 24 in")
    assert "against it: misses leaves of at most 39.7 lb" in lines[2]
    assert lines[3].startswith("1 ")
    assert "against it:" in lines[4]
    # on two rows fewer the frame leaves its cleat no more than a stub
    assert any(
        line.startswith("  To think about: Would it help to take 2 rows fewer? It heals this,") for line in lines
    )
    assert any(
        line.startswith("  To think about: Would it help to split it into 2 leaves of 7 columns") for line in lines
    )
    assert lines[-2].startswith("What the measured sections fill evenly")


def test_json_holds_every_candidate_with_units(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sizes", str(S1), "--json"]) == PLANNED
    body = json.loads(capsys.readouterr().out)
    candidates = sizes_to_choose(read_brief(S1.read_text()))
    assert [size["width_mm"] for size in body["sizes"]] == [c.width_nm / 1e6 for c in candidates]
    assert body["own"]["columns"] == 14
    lighter, split = body["amiss"]
    assert (lighter["name"], lighter["advice"], lighter["price"]) == ("lighter", "question", None)
    assert lighter["edits"][0] == {"op": "set", "path": ["blocks", "columns"], "value": 14}
    assert (split["name"], split["advice"], split["price"]) == ("leaf_split", "question", None)
    assert body["tilings"][0].startswith("3 in = 1-1/2 in + 1-1/2 in")


def test_nothing_fits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = S1.read_text() + '\n[[keep_clear]]\nname = "switch"\nx = 42\ny = 59\nwidth = 3\nheight = 4\n'
    (tmp_path / "b.toml").write_text(text)
    assert main(["sizes", str(tmp_path / "b.toml")]) == NO_PLAN
    assert "No size fits" in capsys.readouterr().out


def test_quiet_and_faulty(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sizes", str(S1), "--quiet"]) == PLANNED
    assert capsys.readouterr().out == ""
    assert main(["sizes", str(tmp_path / "none.toml")]) == FAULTY
