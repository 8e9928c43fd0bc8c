"""A check is settled on the page: what the server offers, put into the brief as an ordinary change, makes it quiet."""

from __future__ import annotations

from pathlib import Path

from bossage.web import models as m
from tests.test_settled import text_of
from tests.web.making import client_of, made


def test_what_the_page_is_offered_settles_the_check_and_is_taken_back_like_any_change(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, text_of(often=100))["piece_id"]
    before = m.Answer.model_validate(client.get(f"/api/pieces/{piece_id}/plan").json())
    assert before.plan is not None
    (check,) = [one for one in before.plan.checks if one.name == "lift_off"]
    assert (check.verdict, check.kind, check.at_stake, check.settled) == ("stop", "harm", "people", "")
    assert check.settle is not None
    assert check.settle.agreed == "100 times a year"

    value = {**check.settle.table, "by": "R. Voss", "on": "2026-03-02", "words": "we are used to it"}
    edits = [{"op": "append", "path": ["settled"], "value": value}]
    said = client.post(f"/api/pieces/{piece_id}/changes", json={"base_revision_n": 1, "edits": edits})
    after = m.Answer.model_validate(said.json())
    assert after.plan is not None
    (quiet,) = [one for one in after.plan.checks if one.name == "lift_off"]
    assert quiet.verdict == "fine"
    assert quiet.settle is None
    assert quiet.settled == "settled by R. Voss on 2026-03-02, for 100 times a year (“we are used to it”)"

    undone = client.post(f"/api/pieces/{piece_id}/undo", json={"base_revision_n": after.revision_n}).json()
    assert undone["plan"] == before.model_dump(mode="json")["plan"]


def test_what_nobody_can_agree_to_is_not_offered(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, text_of(below="bed"))["piece_id"]
    answer = m.Answer.model_validate(client.get(f"/api/pieces/{piece_id}/plan").json())
    assert answer.plan is not None
    offered = {check.name for check in answer.plan.checks if check.settle is not None}
    assert "over_bed" in offered
    assert offered.isdisjoint({"load_path", "tug", "studs", "drill_zones", "short_stock"})
