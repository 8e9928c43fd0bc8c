"""What is behind the wall, as the page is given it: zones cut at the wall and beside studs, runs, depths, fixings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from bossage.examples import example_text
from bossage.web import models as m
from tests.web.making import changed, client_of, made, put

PIPE = {"kind": "pipe", "from": [2000, 0], "to": [2000, 1200], "found": "detector"}


def drawn(client: Any, piece_id: str) -> m.Geometry:
    answer = m.Answer.model_validate(client.get(f"/api/pieces/{piece_id}/plan").json())
    assert answer.plan is not None
    return answer.plan.geometry


def test_a_run_is_drawn_with_its_words_and_its_zone_goes_where_it_is_dragged(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text("s2-brenlow-terrace"))["piece_id"]
    changed(client, piece_id, 1, {"op": "append", "path": ["run"], "value": PIPE})
    before = drawn(client, piece_id)
    (run,) = before.runs
    assert run.words == "pipe, found by detector"
    assert (
        run.text == "pipe from 2000 mm along, 0 mm up to 2000 mm along, 1200 mm up, found by detector, 50 mm kept clear"
    )
    (zone,) = [zone for zone in before.zones if zone.cause == "the pipe, known by: detector"]
    # by hand: 50 mm to either side of its line, for what a detector finds, and past its upper end
    xs, ys = ({round(point[axis]) for point in zone.parts_mm[0]} for axis in (0, 1))
    assert (min(xs), max(xs)) == (1950, 2050)
    assert min(ys) == 0  # nothing is drawn under the floor
    assert zone.text == "as deep as the wall is"

    edits = [put("run", 0, "from", to=[2300, 0]), put("run", 0, "to", to=[2300, 1200])]
    tried = m.Tried.model_validate(
        client.post(f"/api/pieces/{piece_id}/try", json={"base_revision_n": 2, "edits": edits}).json()
    )
    (held,) = [zone for zone in tried.zones if zone.cause == "the pipe, known by: detector"]
    assert {round(x) for x, _ in held.parts_mm[0]} == {2250, 2350}
    assert drawn(client, piece_id) == before  # nothing was saved
    changed(client, piece_id, 2, *edits)
    assert [one.parts_mm for one in drawn(client, piece_id).zones] == [one.parts_mm for one in tried.zones]


def test_how_deep_a_fixture_sits_is_told_and_no_fixing_is_drawn_in_a_zone(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text("s7-hollin-yard"))["piece_id"]
    before = drawn(client, piece_id)
    assert before.fixings
    assert (before.fixtures[0].recess_mm, before.fixtures[0].recess) == (None, "depth in the wall not measured")
    changed(client, piece_id, 1, put("fixture", 0, "recess", to=90))
    after = drawn(client, piece_id)
    assert (after.fixtures[0].recess_mm, after.fixtures[0].recess) == (90, "90 mm deep in the wall")
    for fixing in after.fixings:
        for zone in after.zones:
            if zone.hollow and fixing.into == "stud":
                continue
            for part in zone.parts_mm:
                inside = min(x for x, _ in part) < fixing.x_mm < max(x for x, _ in part)
                assert not (inside and min(y for _, y in part) < fixing.y_mm < max(y for _, y in part))


def test_the_questions_are_a_sheet_of_their_own(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text("s7-hollin-yard"))["piece_id"]
    sheet = client.get(f"/api/pieces/{piece_id}/stages/ask").json()[0]
    assert sheet["title"] == "Ask first"
    others = client.get(f"/api/pieces/{piece_id}/stages/papers").json()
    assert "ask" not in {one["name"] for one in others}


def test_a_check_leads_to_the_questions_just_where_its_question_stands_there(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text("s2-brenlow-terrace"))["piece_id"]
    answer = m.Answer.model_validate(client.get(f"/api/pieces/{piece_id}/plan").json())
    assert answer.plan is not None
    sheet = client.get(f"/api/pieces/{piece_id}/stages/ask").json()[0]
    told = str(sheet["parts"])
    offered = {check.title: check.settle for check in answer.plan.checks if check.settle is not None}
    assert {settle.asked for settle in offered.values()} == {True, False}
    for title, settle in offered.items():
        assert settle.asked == (settle.question in told), title
