"""`bossage replan` as a maker meets it: what is glued stays, the trays are held to, the work order is right."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from pathlib import Path

import pytest

from bossage.cli import FAULTY, NO_PLAN, PLANNED, main

ROOT = Path(__file__).parents[1]
S1 = ROOT / "examples" / "s1-fernhollow-hall.toml"
S2 = ROOT / "examples" / "s2-brenlow-terrace.toml"
S3 = ROOT / "examples" / "s3-tarnwick-school.toml"


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The plan.json and counts.csv of the terrace, without its drawings."""
    from bossage.pack.tables import csv_files
    from bossage.run import plan_only
    from bossage.serial import plan_json

    out = tmp_path_factory.mktemp("pack")
    plan = plan_only(S2).plan
    assert plan is not None
    (out / "plan.json").write_bytes(plan_json(plan))
    (out / "counts.csv").write_bytes(csv_files(plan)["counts.csv"])
    return out


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict:
    assert main(["replan", *words, "--json"]) == PLANNED
    return json.loads(capsys.readouterr().out)


def planned(pack: Path) -> dict:
    return json.loads((pack / "plan.json").read_text())


def check_relief(body: dict, plan: dict) -> None:
    """No two neighbours alike, and every block that is laid is there: by hand from the JSON alone."""
    levels = [place["level_mm"] for place in body["levels"]]
    for a, b in plan["layout"]["blocks"]["edges"]:
        assert levels[a] != levels[b]
    before = plan["relief"]["level"]
    changed = sum(plan["relief"]["levels_mm"][old] != new for old, new in zip(before, levels, strict=True))
    assert changed == body["changes"]


def test_nothing_amiss_changes_nothing(pack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    body = asked(capsys, str(pack / "plan.json"))
    assert (body["changes"], body["bound"], body["proven"], body["places"]) == (0, 0, True, [])
    assert main(["replan", str(pack / "plan.json")]) == PLANNED
    assert "Nothing has to be done" in capsys.readouterr().out


def test_a_spoiled_block_is_taken_from_the_spares(pack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    body = asked(capsys, str(pack / "plan.json"), "--spoiled", "7·3b")
    assert body["changes"] == 0
    (one,) = body["places"]
    assert one["address"] == "7·3b"
    assert one["from_shade"] is None
    assert one["needs_paint"]


def test_without_the_saw_the_fewest_places_change_and_never_a_glued_one(
    pack: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    body = asked(capsys, str(pack / "plan.json"), "--glued", "rows 1-8", "--tray", "70/22 = 3", "--no-saw")
    plan = planned(pack)
    check_relief(body, plan)
    blocks = plan["layout"]["blocks"]
    open_22 = sum(
        row > 8 and footprint == 0 and level == 1
        for row, footprint, level in zip(blocks["row"], blocks["footprint"], plan["relief"]["level"], strict=True)
    )
    assert body["changes"] == body["bound"] == open_22 - 3
    assert body["proven"]
    assert body["saw"] == []
    for place in body["places"]:
        assert int(place["address"].split("·")[0]) > 8
    now = Counter(place["level_mm"] for place in body["levels"] if place["footprint"] == "70" and not place["glued"])
    assert now[22] == 3


def test_only_taller_blocks_are_re_cut(pack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    body = asked(capsys, str(pack / "plan.json"), "--lost", "70/22 = 9")
    assert body["changes"] == 0
    assert sum(cut["count"] for cut in body["saw"]) == 9 - 2  # two spares of 22 mm
    assert all(cut["from_mm"] > cut["to_mm"] for cut in body["saw"])
    short = asked(capsys, str(pack / "plan.json"), "--lost", "70/40 = 9")
    assert short["changes"] == short["bound"] == 9 - 2
    assert short["saw"] == []
    check_relief(short, planned(pack))


def test_the_work_order_speaks_as_a_shop_does(pack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["--found", "70/35 = 9", "--lost", "70/22 = 22", "--tray", "70/40 = 20; 70/30 = 22; 70/26 = 22"]
    assert main(["replan", str(pack / "plan.json"), *words]) == PLANNED
    out = capsys.readouterr().out
    assert "as 22 mm" in out
    assert "Re-cut eleven 70 blocks of 35 mm as 22 mm" in out
    assert ": saw " in out
    assert "too short to hold by hand" in out


def test_more_blocks_missing_than_spare_are_sawn_new(pack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = planned(pack)
    gone = [f"{row}·{column}" for row, column in ((2, 2), (2, 3), (2, 4), (3, 2), (3, 3), (3, 4))]
    body = asked(capsys, str(pack / "plan.json"), "--spoiled", ", ".join(gone), "--shop", str(pack / "counts.csv"))
    # counts.csv is a count of all trays: the spoiled blocks are still in it, and there are no spares
    assert body["changes"] == 0
    assert body["places"] == []
    check_relief(body, plan)


def test_a_counted_csv_is_held_to(pack: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = list(csv.DictReader(io.StringIO((pack / "counts.csv").read_text())))
    first = next(row for row in rows if int(row["blocks"]) >= 3 and row["length_mm"] != "40")
    first["blocks"] = str(int(first["blocks"]) - 2)
    other = next(row for row in rows if row["footprint"] == first["footprint"] and row["length_mm"] == "40")
    other["blocks"] = str(int(other["blocks"]) + 2)
    counted = tmp_path / "trays.csv"
    with counted.open("w", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)
    body = asked(capsys, str(pack / "plan.json"), "--shop", str(counted))
    assert body["changes"] == 0
    assert body["saw"] == [
        {"footprint": first["footprint"], "from_mm": 40, "to_mm": float(first["length_mm"]), "count": 2}
    ]
    without = asked(capsys, str(pack / "plan.json"), "--shop", str(counted), "--no-saw")
    assert without["changes"] == without["bound"] == 2
    check_relief(without, planned(pack))


def test_a_file_says_the_same_as_the_words(pack: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "shop.toml"
    file.write_text(
        'glued = ["rows 1-8"]\nspoiled = "9·1a"\nsaw = false\nlight_from = "right"\n[trays]\n"70/22" = 3\n'
        '[found]\n"45/18" = 2\n'
    )
    words = ["--glued", "rows 1-8", "--spoiled", "9·1a", "--no-saw", "--light", "right", "--tray", "70/22=3"]
    plan = str(pack / "plan.json")
    assert asked(capsys, plan, "--shop", str(file)) == asked(capsys, plan, *words, "--found", "45/18=2")


def test_painted_blocks_keep_their_shade_unless_repainted(pack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = str(pack / "plan.json")
    words = ["--tray", "70/22/rust 42 = 0", "--found", "70/22/lichen 82 = 3", "--lost", "70/22/bare = 2", "--no-saw"]
    painted = asked(capsys, plan, *words)
    over = [one for one in painted["places"] if one["from_shade"] and one["needs_paint"]]
    assert over
    assert all(one["shade"] == one["planned_shade"] for one in painted["places"])
    kept = asked(capsys, plan, *words, "--no-repaint")
    assert not [one for one in kept["places"] if one["from_shade"] and one["needs_paint"]]
    assert [one for one in kept["places"] if one["shade"] != one["planned_shade"]]
    bare = asked(capsys, plan, "--unpainted", "--spoiled", "9·1a")
    assert bare["changes"] == 0
    assert "No block in the trays is painted yet." in bare["notes"]


@pytest.mark.parametrize("brief", [S1, S2, S3])
def test_the_brief_that_is_written_gives_the_piece_as_it_now_is(
    brief: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from bossage.run import plan_only

    now = tmp_path / "now.toml"
    first = plan_only(brief).plan
    assert first is not None
    footprint = first.brief.blocks.footprints[0].name
    low = f"{first.relief.levels_nm[1] / 1e6:g} mm"
    leaf = first.layout.leaves[0].name
    several = len({one.name for one in first.layout.leaves}) > 1
    glued = f"{leaf}: rows 1-2" if several else "rows 1-2"
    words = ["--glued", glued, "--tray", f"{footprint}/{low} = 6", "--no-saw", "--no-repaint"]
    body = asked(capsys, str(brief), *words, "--write", str(now))
    assert body["changes"] > 0
    assert "#" in now.read_text()  # the maker's comments are still there
    plan = plan_only(now).plan
    assert plan is not None
    levels_mm = [plan.relief.levels_nm[int(level)] / 1e6 for level in plan.relief.level]
    assert levels_mm == [place["level_mm"] for place in body["levels"]]
    assert [plan.fade.shades[int(s)].name for s in plan.fade.shade] == [place["shade"] for place in body["levels"]]


def test_a_plan_json_gives_the_lines_for_its_brief(
    pack: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import tomllib

    lines = tmp_path / "lines.toml"
    asked(capsys, str(pack / "plan.json"), "--lost", "70/40 = 9", "--write", str(lines))
    text = lines.read_text()
    assert 'quotas = { "18"' in text
    assert len(tomllib.loads(text)["pin"]) == 256


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--spoiled", "7·12"], "columns 1 to 8"),
        (["--spoiled", "the blue one"], "is not understood"),
        (["--glued", "left: rows 1-2"], 'no leaf or copy "left"'),
        (["--glued", "7·1a = 33"], "18 mm, 22 mm, 26 mm, 30 mm, 35 mm, 40 mm"),
        (["--tray", "60/22 = 3"], "70, 95, 45"),
        (["--tray", "70/22"], "gives no count"),
        (["--tray", "70/22 = many"], "is no count"),
        (["--tray", "70/22/puce 12 = 3"], 'no shade "puce 12"'),
        (["--tray", "70/tall = 3"], "70/tall"),
        (["--lost", "70/22 = 99"], "only 24"),
        (["--light", "the cellar"], "left, right, top, bottom"),
        (["--shop", "nowhere.toml"], "no file nowhere.toml"),
    ],
)
def test_what_is_not_understood_is_said(
    pack: Path, capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    assert main(["replan", str(pack / "plan.json"), *words]) == FAULTY
    assert said in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("a.toml", "gleud = 1", "it may say glued"),
        ("a.toml", "glued = 3", "write texts"),
        ("a.toml", "trays = 3", "a table of counts"),
        ("a.toml", "saw = 3", "true or false"),
        ("a.toml", "= 3", "is not TOML"),
        ("a.csv", "size,n\n1,2\n", "no column footprint"),
        ("a.csv", "footprint,length_mm,blocks\n70,22,x\n", "line 2"),
        ("a.csv", "footprint,length_mm,blocks\n71,22,1\n", "no footprint"),
    ],
)
def test_a_file_that_is_not_understood_is_said(
    pack: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, text: str, said: str
) -> None:
    (tmp_path / name).write_text(text)
    assert main(["replan", str(pack / "plan.json"), "--shop", str(tmp_path / name)]) == FAULTY
    assert said in capsys.readouterr().err


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[1]", '{"format": "bossage.plan/1"}', '{"format": "bossage.plan/2"}', '{"format": "bossage.plan/9"}'],
)
def test_a_file_that_is_no_plan_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str) -> None:
    (tmp_path / "plan.json").write_text(text)
    assert main(["replan", str(tmp_path / "plan.json")]) == FAULTY
    assert "plan.json" in capsys.readouterr().err


def test_no_way_out_is_said_with_its_reason(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from bossage.examples import example_text

    brief = tmp_path / "three.toml"
    lines = []
    for line in example_text("first").splitlines():
        lines.append("levels = [20, 30, 40]" if line.startswith("levels") else line)
    brief.write_text("\n".join(lines) + "\n")
    glued = ["1·2 = 20", "2·1 = 30", "2·3 = 40", "3·2 = 20"]
    assert main(["replan", str(brief), "--glued", ", ".join(glued)]) == NO_PLAN
    err = capsys.readouterr().err
    assert "Nothing fits at 2·2" in err
    assert main(["replan", str(brief), "--glued", ", ".join(glued), "--json"]) == NO_PLAN
    assert json.loads(capsys.readouterr().out)["proven"]


def test_glued_neighbours_that_are_alike_stay_and_are_named(pack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    body = asked(capsys, str(pack / "plan.json"), "--glued", "7·1a = 22, 7·1b = 22")
    assert body["already_alike"] == 1
    assert any("7·1a and 7·1b" in note for note in body["notes"])


def test_counts_with_names_that_a_spreadsheet_would_run_read_back(tmp_path: Path) -> None:
    from bossage.brief import read_brief
    from bossage.cells import read_rows
    from bossage.pack.tables import csv_files
    from bossage.plan import Plan, make_plan
    from bossage.replan import standing_of
    from bossage.replan.shop import Said
    from tests.pack.named import with_names

    plan = make_plan(read_brief(with_names("first", lambda name: f"=HYPERLINK({name})")))
    assert isinstance(plan, Plan)
    tables = csv_files(plan)
    for name, data in tables.items():
        cells = [cell for row in csv.reader(io.StringIO(data.decode())) for cell in row]
        assert not [
            cell for cell in cells if cell.startswith(("=", "@", "+", "-")) and not cell.lstrip("+-").isdecimal()
        ]
        assert any(cell.startswith("'=") for cell in cells) or name in ("checks.csv", "cuts.csv", "shopping.csv"), name
    said = Said(standing=standing_of(plan))
    said.read_csv(tables["counts.csv"].decode(), "counts.csv")
    assert sum(one.count for one in said.counted) == plan.layout.blocks.count
    assert {one.shade for one in said.counted} <= {shade.name for shade in plan.fade.shades}
    assert any("=HYPERLINK" in cell for row in read_rows(tables["counts.csv"].decode(), "x") for cell in row)


def test_a_name_is_the_same_however_its_letters_were_typed() -> None:
    import unicodedata

    from bossage.brief import read_brief
    from bossage.plan import Plan, make_plan
    from bossage.replan import standing_of
    from bossage.replan.shop import tray_count
    from tests.pack.named import with_names

    plan = make_plan(read_brief(with_names("first", lambda name: unicodedata.normalize("NFD", f"{name} é"))))
    assert isinstance(plan, Plan)
    standing = standing_of(plan)
    assert unicodedata.normalize("NFC", "moss é 46") in standing.shades
    for form in ("NFC", "NFD"):
        said = unicodedata.normalize(form, f"{standing.footprints[0]}/18/moss é 46 = 3")
        assert tray_count(standing, said).shade == unicodedata.normalize("NFC", "moss é 46")
