from __future__ import annotations

import json
import os
from contextlib import suppress
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis.errors import Unsatisfiable
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)
from starlette.testclient import TestClient
from tools.openapi import described

from bossage.store import Pieces
from bossage.web.app import make_app
from tests.web.making import NO_BUNDLE, SMALL, TOKEN

# `tools/trust/inputs.py` asks for more; `.ci/run` draws others for every change
EXAMPLES = int(os.environ.get("BOSSAGE_ROUTE_EXAMPLES", "4"))
DRAWN = int(os.environ.get("BOSSAGE_ROUTE_SEED", "1"))


@pytest.fixture
def api(tmp_path_factory: pytest.TempPathFactory) -> Any:
    folder = tmp_path_factory.mktemp("api")
    pieces = Pieces(folder / "pieces.sqlite")
    app = make_app(pieces, hosts=frozenset({"localhost", "testserver"}), token=TOKEN, bundle=NO_BUNDLE)
    client_of(app).post("/api/pieces", json={"toml": SMALL})
    return schemathesis.openapi.from_asgi("/openapi.json", app)


def client_of(app: Any) -> TestClient:
    return TestClient(app, base_url="http://localhost", headers={"x-bossage-token": TOKEN})


CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]


@pytest.mark.parametrize("mode", list(GenerationMode))
def test_every_answer_is_as_described(api: Any, mode: GenerationMode) -> None:
    seen = 0
    for found in api.get_all_operations():
        operation = found.ok()

        @seed(DRAWN)
        @settings(
            max_examples=EXAMPLES,
            deadline=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
            database=None,
        )
        @given(operation.as_strategy(generation_mode=mode))
        def asked(case: Any) -> None:
            # half of the requests are about the piece that is there, or little would be reached
            if "piece_id" in (case.path_parameters or {}) and len(json.dumps(case.body, default=str)) % 2:
                case.path_parameters["piece_id"] = _known(case)
            case.call_and_validate(headers={"x-bossage-token": TOKEN}, checks=CHECKS)

        # some operations take nothing that could be wrong
        with suppress(Unsatisfiable):
            asked()
            seen += 1
    assert seen > 20


def _known(case: Any) -> str:
    listed = client_of(case.operation.schema.app).get("/api/pieces").json()
    return str(listed[0]["piece_id"]) if listed else "0" * 12


def test_the_description_is_the_same_each_time_and_whole() -> None:
    text = described()
    assert text == described()
    spec = json.loads(text)
    assert len(spec["paths"]) > 20
    for path, methods in spec["paths"].items():
        for method, operation in methods.items():
            assert {"400", "403", "503"} <= set(operation["responses"]), (method, path)
            assert operation["description"]
