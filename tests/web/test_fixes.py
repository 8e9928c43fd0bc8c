from __future__ import annotations

from pathlib import Path

import pytest
from pydantic import TypeAdapter

from bossage.examples import example_text
from bossage.web import models as m
from tests.web.making import client_of, made

FIXES = TypeAdapter(list[m.FixOut])


@pytest.mark.parametrize("name", ["s2-brenlow-terrace", "s7-hollin-yard"])
def test_a_remedy_heals_its_check_in_one_press_and_is_undone(tmp_path: Path, name: str) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text(name))["piece_id"]
    before = m.Answer.model_validate(client.get(f"/api/pieces/{piece_id}/plan").json())
    fixes = FIXES.validate_json(client.get(f"/api/pieces/{piece_id}/fixes").content)
    assert any(fix.advice == "remedy" for fix in fixes)
    assert before.plan is not None
    told = {check.check_id: check.verdict for check in before.plan.checks}
    for fix in fixes:
        assert told[fix.check_id] != "fine"
        if fix.fix_id is None:
            assert (fix.advice, fix.price, fix.edits) == ("question", "", [])
            assert "?" in fix.remedy
            continue
        assert fix.remedy == f"{fix.words}. {fix.price}"
        done = client.post(f"/api/pieces/{piece_id}/fixes", json={"base_revision_n": 1, "fix_id": fix.fix_id})
        after = m.Answer.model_validate(done.json())
        assert after.plan is not None
        assert after.piece.undo_words == fix.words
        tells = {check.check_id: check.verdict for check in after.plan.checks}
        assert tells.get(fix.check_id, "fine") == "fine"
        weight = ["fine", "caution", "stop"].index
        assert all(weight(verdict) <= weight(told.get(key, "fine")) for key, verdict in tells.items())
        undone = client.post(f"/api/pieces/{piece_id}/undo", json={"base_revision_n": after.revision_n}).json()
        assert undone["plan"] == before.model_dump(mode="json")["plan"]


def test_a_remedy_of_another_revision_is_not_applied(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    answer = client.post(f"/api/pieces/{piece_id}/fixes", json={"base_revision_n": 1, "fix_id": "0" * 16})
    assert answer.status_code == 404
