from __future__ import annotations

import tomllib
from typing import Any

import jsonschema
import pytest
from tests.brief.generate import made_up, with_fault

from bossage.brief import brief_schema
from bossage.examples import example_names, example_text

SCHEMA = brief_schema()
CHECKER = jsonschema.Draft202012Validator(SCHEMA)

# what form alone can tell; sums, names and places need the reader
FORM = [
    "unknown key", "unknown section", "no wall", "no fixture", "no footprint", "no family", "no width", "no proud",
    "words for a count", "a fraction for a count", "words for a length", "a number for a name",
    "a word for yes or no", "a negative length", "an unknown build", "an unknown wood", "an unknown kind",
    "an unknown unit of the piece", "a bad colour", "a bad home", "lightness over 100",
]  # fmt: skip


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"].endswith("2020-12/schema")


@pytest.mark.parametrize("name", example_names())
def test_examples_pass(name: str) -> None:
    assert not list(CHECKER.iter_errors(tomllib.loads(example_text(name))))


@pytest.mark.parametrize("seed", range(40))
def test_made_up_briefs_pass(seed: int) -> None:
    assert not [error.message for error in CHECKER.iter_errors(tomllib.loads(made_up(seed).text))]


@pytest.mark.parametrize("kind", FORM)
def test_faults_of_form_do_not_pass(kind: str) -> None:
    assert list(CHECKER.iter_errors(tomllib.loads(with_fault(3, kind).text)))


def test_every_key_tells_what_it_means() -> None:
    def walk(schema: dict[str, Any], path: str) -> None:
        for key, inner in schema.get("properties", {}).items():
            assert inner.get("description"), f"{path}.{key}"

    walk(SCHEMA, "brief")
    for name, table in SCHEMA["$defs"].items():
        walk(table, name)
        assert table["additionalProperties"] is False


def test_an_editor_is_told_defaults_and_forms() -> None:
    glue = SCHEMA["$defs"]["GlueTable"]["properties"]["open_time"]
    assert "Left out: 8 min, because sources disagree" in glue["description"]
    assert "3 1/2 in" in SCHEMA["$defs"]["FixtureTable"]["properties"]["proud"]["examples"]
    assert "null" not in str(SCHEMA)
