from __future__ import annotations

import io
import json
import time
import zipfile
from pathlib import Path

import pytest
from pydantic import TypeAdapter
from starlette.testclient import TestClient

from bossage.body import sizes_to_choose
from bossage.brief import read_brief
from bossage.examples import example_names, example_text
from bossage.layout.grid import hidden_rect
from bossage.layout.sizes_rules import RULES
from bossage.pack import SHEETS as NAMES
from bossage.plan import make_plan, stamp_of
from bossage.remedies import advised
from bossage.run import papers
from bossage.store import Pieces
from bossage.web import models as m
from bossage.web.sheets import STAGE_SHEETS
from tests.web.making import changed, client_of, made, put

SHEETS = TypeAdapter(list[m.SheetOut])
STAGES = ("wall", "sizes", "relief", "fade", "saw", "paint", "press", "hang", "papers")


@pytest.mark.parametrize("name", ["first", "s4-cinder-row", "s7-hollin-yard"])
def test_every_stage_has_its_sheets(tmp_path: Path, name: str) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text(name))["piece_id"]
    for stage in STAGES:
        sheets = SHEETS.validate_json(client.get(f"/api/pieces/{piece_id}/stages/{stage}").content)
        assert sheets or stage == "sizes"


def test_every_sheet_of_the_pack_is_shown_at_one_stage() -> None:
    assert sorted(name for names in STAGE_SHEETS.values() for name in names) == sorted(NAMES)
    for name, stage in (("grounds", "paint"), ("basis", "hang"), ("answers", "ask"), ("costs", "papers")):
        assert name in STAGE_SHEETS[stage]


def test_no_drawing_needs_a_style_that_the_policy_forbids(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text("s2"))["piece_id"]
    text = "".join(client.get(f"/api/pieces/{piece_id}/stages/{stage}").text for stage in STAGES)
    assert "<svg" in text
    assert "style=" not in text
    assert "<script" not in text
    assert 'href=\\"http' not in text


def test_a_size_is_chosen_by_its_edits(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    sizes = m.SizesOut.model_validate(client.get(f"/api/pieces/{piece_id}/sizes").json())
    chosen = next(size for size in sizes.sizes if not size.own)
    edits = [edit.model_dump() for edit in chosen.edits]
    answer = m.Answer.model_validate(changed(client, piece_id, 1, *edits).json())
    assert answer.plan is not None
    outline = answer.plan.geometry.outline
    assert outline.model_dump() == {key: getattr(chosen, key) for key in ("x_mm", "y_mm", "width_mm", "height_mm")}


@pytest.mark.parametrize("name", ["first", "s2"])
def test_a_size_says_how_far_it_covers_what_it_breaks_and_gives_up(tmp_path: Path, name: str) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text(name))["piece_id"]
    sizes = m.SizesOut.model_validate(client.get(f"/api/pieces/{piece_id}/sizes").json()).sizes
    brief = read_brief(example_text(name))
    hidden = hidden_rect(brief)
    for size, one in zip(sizes, sizes_to_choose(brief), strict=True):
        beside_mm = (
            hidden.x / 1e6 - size.x_mm,
            size.x_mm + size.width_mm - hidden.right / 1e6,
            hidden.y / 1e6 - size.y_mm,
            size.y_mm + size.height_mm - hidden.top / 1e6,
        )
        assert size.covers_by.value == pytest.approx(min(beside_mm))
        assert (size.breaks, size.gives_up) == ([RULES[rule] for rule in one.broken], list(one.gives_up))
    assert any(size.gives_up for size in sizes)
    assert any(size.breaks for size in sizes) == (name == "s2")


def test_trying_tells_what_breaks_and_saves_nothing(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text("s2"))["piece_id"]
    body = {"base_revision_n": 1, "edits": [put("edge", "overhang", to=30)]}
    tried = m.Tried.model_validate(client.post(f"/api/pieces/{piece_id}/try", json=body).json())
    assert "layout.outer_bond" in tried.appeared
    body["edits"] = [put("edge", "overhang", to=-1)]
    faulty = m.Tried.model_validate(client.post(f"/api/pieces/{piece_id}/try", json=body).json())
    assert [fault.field for fault in faulty.faults] == ["edge.overhang"]
    assert client.get(f"/api/pieces/{piece_id}").json()["head_n"] == 1


def test_a_file_carries_a_piece_with_its_history(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    changed(client, piece_id, 1, put("piece", "seed", to=5), words="draw again")
    changed(client, piece_id, 1, put("piece", "seed", to=6), words="refused")
    client.post(f"/api/pieces/{piece_id}/undo", json={"base_revision_n": 2})
    client.post(f"/api/pieces/{piece_id}/versions", json={"name": "first"})
    file = client.get(f"/api/pieces/{piece_id}/export")
    assert file.headers["content-disposition"].endswith('.bossage.json"')
    taken = client.post("/api/import", content=file.content, headers={"content-type": "application/octet-stream"})
    assert taken.status_code == 201
    other = taken.json()["piece_id"]
    assert other != piece_id
    for what in ("", "/history"):
        one, two = (client.get(f"/api/pieces/{which}{what}").text for which in (piece_id, other))
        assert one.replace(piece_id, other) == two
    again = client.get(f"/api/pieces/{other}/export")
    assert again.content == file.content


@pytest.mark.parametrize(
    "spoil",
    [
        lambda body: body.update(format="other"),
        lambda body: body.update(head_n=9),
        lambda body: body["revisions"][0].update(parent_n=1),
        lambda body: body["revisions"][0].update(next_n=1),
        lambda body: body["revisions"][0].update(toml=3),
        lambda body: body["revisions"][0].update(verdict="good"),
        lambda body: body["revisions"].append(body["revisions"][0]),
        lambda body: body["revisions"].clear(),
        lambda body: body.update(versions=[{"name": "x", "revision_n": 7, "made_at": ""}]),
        lambda body: body.update(photos=[{"image_base64": "AAAA", "points": {}, "made_at": ""}]),
        lambda body: body.update(revisions="none"),
    ],
)
def test_a_spoiled_file_is_refused_whole(tmp_path: Path, spoil) -> None:  # type: ignore[no-untyped-def]
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    body = client.get(f"/api/pieces/{piece_id}/export").json()
    spoil(body)
    answer = client.post("/api/import", content=json.dumps(body), headers={"content-type": "application/octet-stream"})
    assert answer.status_code in (415, 422)
    m.Refused.model_validate(answer.json())
    assert len(client.get("/api/pieces").json()) == 1


ANSWERS = {
    "name": "Stair foot",
    "unit": "in",
    "wall": {"width": "11' 6\"", "height": 96, "build": "timber studs", "first_stud": 16, "stud_spacing": 16},
    "hide": {"kind": "hatch", "x": 40, "y": "48 1/2", "width": 18, "height": "14 in", "proud": "1/2"},
    "below": {"kind": "bench", "x": 30, "width": 48, "top": 18},
    "block": {"width": "2 3/4", "height": "2 3/4", "tallest": "1 3/4"},
    "colours": {"left": "#B4BA92", "right": "#8F4A2E", "left_name": "lichen", "right_name": "rust"},
}


def test_five_answers_make_a_piece(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    answer = client.post("/api/pieces", json={"answers": ANSWERS})
    assert answer.status_code == 201, answer.text
    brief = read_brief(answer.json()["toml"])
    assert (brief.piece.name, brief.piece.unit.value, len(brief.wall.studs_nm)) == ("Stair foot", "in", 8)
    shown = m.Answer.model_validate(client.get(f"/api/pieces/{answer.json()['piece_id']}/plan").json())
    assert shown.plan is not None
    meeting = [check for check in shown.plan.checks if check.name == "meeting"]
    assert {check.verdict for check in meeting} == {"fine"}


def test_what_is_moved_is_written_and_what_stays_is_not(tmp_path: Path) -> None:
    client = client_of(tmp_path)

    def standing(**more: object) -> tuple[m.Plan, tuple[int | None, str]]:
        below = {"kind": "sofa", "x": 30, "width": 48, "top": 30, "far": 36, **more}
        answer = client.post("/api/pieces", json={"answers": {**ANSWERS, "below": below}})
        assert answer.status_code == 201, answer.text
        (sofa,) = read_brief(answer.json()["toml"]).furniture
        assert sofa.far_nm == 36 * 25_400_000
        shown = m.Answer.model_validate(client.get(f"/api/pieces/{answer.json()['piece_id']}/plan").json())
        assert shown.plan is not None
        return shown.plan, (sofa.moved_nm, sofa.moved_by)

    stays, said = standing()
    assert said == (None, "")
    assert [check.verdict for check in stays.checks if check.name == "lift"] == ["stop"]
    moved, said = standing(moved="3 ft", moved_by="Ida and Jo")
    assert said == (914_400_000, "Ida and Jo")
    assert "stop" not in [check.verdict for check in moved.checks if check.name == "lift"]


@pytest.mark.parametrize(
    ("where", "value", "field"),
    [
        (("wall", "width"), "wide", "wall.width"),
        (("below", "moved"), "a bit", "furniture[1].moved"),
        (("hide", "proud"), "a bit", "fixture[1].proud"),
        (("hide", "kind"), "dragon", "fixture[1].kind"),
        (("block", "width"), -3, "footprint[1].width"),
        (("block", "tallest"), "tall", "blocks.levels"),
        (("colours", "left"), "greenish", "family[1].colour"),
        (("below", "kind"), "piano", "furniture[1].kind"),
    ],
)
def test_an_answer_that_will_not_do_is_named(tmp_path: Path, where: tuple[str, str], value: object, field: str) -> None:
    answers = json.loads(json.dumps(ANSWERS))
    answers[where[0]][where[1]] = value
    refused = client_of(tmp_path).post("/api/pieces", json={"answers": answers})
    assert refused.status_code == 422
    fields = [fault.field for fault in m.Refused.model_validate(refused.json()).faults]
    assert any(found.startswith(field) for found in fields), fields


def finished(client: TestClient, job: dict[str, object]) -> m.JobOut:
    for _ in range(1200):
        now = m.JobOut.model_validate(client.get(f"/api/jobs/{job['job_id']}").json())
        if now.state not in ("waiting", "working"):
            return now
        time.sleep(0.1)
    raise AssertionError("never done")


def test_papers_are_those_of_the_command_line(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece = made(client)
    begun = client.post(f"/api/pieces/{piece['piece_id']}/papers", json={})
    assert begun.status_code == 202
    job = finished(client, begun.json())
    assert (job.state, job.share) == ("done", 1.0)
    file = client.get(f"/api/jobs/{job.job_id}/file")
    with zipfile.ZipFile(io.BytesIO(file.content)) as archive:
        found = {name: archive.read(name) for name in archive.namelist()}
    brief = read_brief(piece["toml"])
    assert found == papers(advised(piece["toml"], make_plan(brief)))  # type: ignore[arg-type]
    assert job.stamp == stamp_of(brief)
    assert job.file_name is not None
    assert job.stamp in job.file_name


def test_one_station_is_one_file_and_work_can_be_stopped(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    job = finished(client, client.post(f"/api/pieces/{piece_id}/papers", json={"sheets": ["saw"]}).json())
    file = client.get(f"/api/jobs/{job.job_id}/file")
    assert file.headers["content-type"] == "application/pdf"
    assert file.content.startswith(b"%PDF")
    begun = client.post(f"/api/pieces/{piece_id}/papers", json={}).json()
    stopped = m.JobOut.model_validate(client.delete(f"/api/jobs/{begun['job_id']}").json())
    assert stopped.state == "cancelled"
    assert finished(client, begun).state == "cancelled"
    assert client.get(f"/api/jobs/{begun['job_id']}/file").status_code == 409
    unknown = client.post(f"/api/pieces/{piece_id}/papers", json={"sheets": ["songs"]})
    assert unknown.status_code == 422


def test_the_picture_is_the_packs(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    picture = client.get(f"/api/pieces/{piece_id}/picture.png")
    assert picture.headers["content-type"] == "image/png"
    assert picture.content.startswith(b"\x89PNG")


def test_a_session_says_what_there_is(tmp_path: Path) -> None:
    session = m.Session.model_validate(client_of(tmp_path, open_piece=None, unit="in").get("/api/session").json())
    assert session.unit_default == "in"
    assert {example.name for example in session.examples} == set(example_names())
    assert "saw" in session.sheets
    assert Pieces(tmp_path / "pieces.sqlite").all() == ()
