"""The command line as a maker meets it: what is printed, which code it ends with, what it never does."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest

from bossage.cli import FAULTY, NO_PLAN, NOT_WRITTEN, PLANNED, SAYS_STOP, main

ROOT = Path(__file__).parents[1]
S2 = ROOT / "examples" / "s2-brenlow-terrace.toml"
S4 = ROOT / "examples" / "s4-cinder-row.toml"
FIRST = ROOT / "examples" / "first.toml"


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("pack") / "terrace"
    assert main(["plan", str(S2), "--out", str(out), "--quiet"]) == PLANNED
    return out


def test_a_plan_writes_its_papers(pack: Path) -> None:
    names = {path.name for path in pack.iterdir()}
    assert {"plan.json", "pack.pdf", "elevation.svg", "picture.png"} <= names
    assert {"blocks.csv", "counts.csv", "cuts.csv", "shopping.csv", "paint.csv", "checks.csv"} <= names


def test_a_plan_names_every_file_that_it_wrote(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    words = ["--sheets", "household,care", "--form", "print,text", "--files", "svg"]
    assert main(["plan", str(S2), "--out", str(out), *words]) == PLANNED
    said = capsys.readouterr().out
    listed = said.split(" papers and files lie in ")[1].split(":\n", 1)[1]
    written = [path for path in out.rglob("*.*") if path.is_file() and not path.name.startswith(".")]
    assert len(written) >= 8
    for path in written:
        assert path.name in listed
        assert path.parent == out or f"{path.parent.name}/: " in listed
    assert f"{len(written)} papers and files" in said


def test_the_same_brief_gives_the_same_bytes(pack: Path, tmp_path: Path) -> None:
    assert main(["plan", str(S2), "--out", str(tmp_path / "again"), "--quiet"]) == PLANNED
    for path in pack.iterdir():
        assert (tmp_path / "again" / path.name).read_bytes() == path.read_bytes(), path.name


def test_every_number_has_its_unit(pack: Path) -> None:
    plan = json.loads((pack / "plan.json").read_text())
    assert plan["format"] == "bossage.plan/2"
    assert plan["layout"]["width_mm"] == 1120
    assert plan["layout"]["blocks"]["x_mm"][0] == 890
    # the body and the zones round it keep whole nanometres, so that parts can be added up and held against outlines
    body, _ = plan.pop("body"), plan.pop("zones")
    assert body["parts"][0]["from_x_nm"] == 900_000_000
    assert not [name for name in _names(plan) if name.endswith("_nm")]


def test_the_words_say_what_was_found(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(S2)]) == PLANNED
    out = capsys.readouterr().out
    assert "256 blocks, 1120 × 720 mm" in out
    assert "△ caution" in out
    assert "○ fine" in out


def test_defaults_are_printed_with_their_reasons(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(FIRST)]) in (PLANNED, SAYS_STOP)
    out = capsys.readouterr().out
    assert "Taken where the brief says nothing:" in out
    assert "tools.kerf = 3.2 mm" in out


def test_a_stop_ends_with_its_own_code_and_still_plans(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(S4)]) == SAYS_STOP
    assert "■ stop" in capsys.readouterr().out


def test_json_for_programs(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(S2), "--json"]) == PLANNED
    body = json.loads(capsys.readouterr().out)
    assert body["outcome"] == "planned"
    assert body["verdict"] == "caution"
    assert body["blocks"] == 256
    assert {"stage", "name", "verdict", "found", "allowed", "why", "remedy", "source"} <= set(body["checks"][0])


def test_all_faults_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = S2.read_text().replace("kerf = 2.2", "kerf = -2").replace("width = 3200", 'width = "wide"')
    (tmp_path / "faulty.toml").write_text(
        text.replace('species = "norway_spruce"\nmoisture', 'species = "spruse"\nmoisture')
    )
    assert main(["plan", str(tmp_path / "faulty.toml"), "--out", str(tmp_path / "out")]) == FAULTY
    err = capsys.readouterr().err
    assert all(field in err for field in ("tools.kerf", "wall.width", "blocks.species"))
    assert not (tmp_path / "out").exists()
    assert main(["check", str(tmp_path / "faulty.toml"), "--json"]) == FAULTY
    assert len(json.loads(capsys.readouterr().out)["faults"]) == 3


def test_not_toml_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "b.toml").write_text("[piece\nname = 1")
    assert main(["check", str(tmp_path / "b.toml")]) == FAULTY
    assert "line 1" in capsys.readouterr().err


@pytest.mark.parametrize(
    "arguments",
    [
        ["plan"],
        ["plan", "x.toml"],
        ["nothing"],
        ["check", "--loud"],
        ["plan", "none.toml", "--out", "o"],
        ["check", "."],
    ],
)
def test_a_faulty_command_is_a_sentence(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == FAULTY
    err = capsys.readouterr().err
    assert err
    assert "Traceback" not in err


def test_a_field_of_heights_that_cannot_be(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One level on 70 of 128 blocks of a chessboard-like terrace cannot stand apart: proven, nothing is written."""
    brief = tomllib.loads(FIRST.read_text())
    text = FIRST.read_text().replace(
        "levels = { from = 18, to = 42, step = 6 }", "levels = [18, 24]\ncolumns = 8\nrows = 9"
    )
    text = text.replace("height = 70\n", "height = 70\nquotas = [50, 22]\n", 1)
    (tmp_path / "b.toml").write_text(text)
    assert brief["blocks"]
    assert main(["plan", str(tmp_path / "b.toml"), "--out", str(tmp_path / "out")]) == NO_PLAN
    err = capsys.readouterr().err
    assert "cannot be planned" in err
    assert "18 mm" in err
    assert not (tmp_path / "out").exists()


def test_papers_that_cannot_be_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "out").write_text("a file")
    assert main(["plan", str(S2), "--out", str(tmp_path / "out")]) == NOT_WRITTEN
    assert "is a file" in capsys.readouterr().err
    assert (tmp_path / "out").read_text() == "a file"


def test_ten_thousand_columns_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "b.toml").write_text(S2.read_text().replace("columns = 8 ", "columns = 10_000 "))
    assert main(["check", str(tmp_path / "b.toml")]) == FAULTY
    assert "10,000 columns" in capsys.readouterr().err


def test_examples_are_listed_and_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["example"]) == PLANNED
    assert "first" in capsys.readouterr().out
    assert main(["example", "first"]) == PLANNED
    assert capsys.readouterr().out == FIRST.read_text()
    assert main(["example", "frist"]) == FAULTY
    assert "first" in capsys.readouterr().err


def test_the_schema_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == PLANNED
    assert json.loads(capsys.readouterr().out)["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def _names(value: object) -> list[str]:
    if isinstance(value, dict):
        return [*value, *(name for item in value.values() for name in _names(item))]
    if isinstance(value, list) and value and isinstance(value[0], dict | list):
        return [name for item in value for name in _names(item)]
    return []
