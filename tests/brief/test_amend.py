from __future__ import annotations

import copy
import random
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.brief.generate import made_up

from bossage.brief import BriefFaults
from bossage.brief.amend import Document, amend_text
from bossage.checks import Edit
from bossage.examples import example_names, example_text

TEXTS = [example_text(name) for name in sorted(example_names())]


def commented(seed: int) -> str:
    """A made-up brief with comments and blank lines strewn over it."""
    rng = random.Random(seed)
    lines = []
    for line in made_up(seed).text.splitlines():
        if rng.random() < 0.2:
            lines.append(rng.choice(["", "# a thought", "   # another, indented"]))
        lines.append(line + rng.choice(["", "", "  # why"]) if "=" in line and '"""' not in line else line)
    return "\n".join(lines) + rng.choice(["\n", "", "\n\n# the end\n"])


def keys_of(plain: dict[str, Any]) -> list[tuple[str | int, ...]]:
    """The path of every key whose value stands on a line of its own."""
    paths: list[tuple[str | int, ...]] = []
    for name, section in plain.items():
        for place, table in enumerate(section) if isinstance(section, list) else [(None, section)]:
            paths += [(name, *([] if place is None else [place]), key) for key in table]
    return paths


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10_000), st.data())
def test_one_key_is_changed_and_every_other_byte_stays(seed: int, data: st.DataObject) -> None:
    text = commented(seed) if seed % 3 else TEXTS[seed % len(TEXTS)]
    path = data.draw(st.sampled_from(keys_of(tomllib.loads(text))))
    value = data.draw(st.one_of(st.integers(-9, 9999), st.sampled_from([0.5, True, "3 1/2 in", 'a "quote"', "é·7"])))
    after = amend_text(text, [Edit(op="set", path=path, value=value)])
    old, new = text.split("\n"), after.split("\n")
    # an array over several lines becomes one; all before and after it is the same
    head = next((n for n, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), len(new))
    tail = next((n for n, (a, b) in enumerate(zip(reversed(old), reversed(new), strict=False)) if a != b), 0)
    assert head + tail >= len(new) - 1
    if head < len(new):
        changed, before = new[head], old[head]
        assert changed.split("=")[0] == before.split("=")[0]
        said, mark, comment = before.partition("#")
        # what stands among the lines of an array goes with them
        if mark and '"' not in before and said.count("[") == said.count("]"):
            assert changed.endswith(mark + comment)
    want = copy.deepcopy(tomllib.loads(text))
    holder: Any = want
    for step in path[:-1]:
        holder = holder[step]
    holder[path[-1]] = value
    assert tomllib.loads(after) == want


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.data())
def test_any_row_of_changes_means_what_it_says(seed: int, data: st.DataObject) -> None:
    document = Document(commented(seed))
    for _ in range(data.draw(st.integers(1, 5))):
        plain = tomllib.loads(document.text)
        paths = keys_of(plain)
        pins = len(plain.get("pin", []))
        edit = data.draw(
            st.one_of(
                st.sampled_from(paths).map(lambda path: Edit(op="set", path=path, value=7)),
                st.sampled_from(paths).map(lambda path: Edit(op="remove", path=path)),
                st.just(Edit(op="append", path=("pin",), value={"block": "1·1", "level": 3})),
                st.just(Edit(op="set", path=("lift", "people"), value=2)),
                st.integers(0, pins).map(lambda n: Edit(op="insert", path=("pin", n), value={"block": "2·2"}))
                if pins
                else st.just(Edit(op="set", path=("glue", "name"), value="hide glue")),
                st.integers(0, max(0, pins - 1)).map(lambda n: Edit(op="remove", path=("pin", n)))
                if pins
                else st.just(Edit(op="set", path=("wall", "colour"), value="#FFFFFF")),
            )
        )
        # a document says itself if what it wrote is not what was asked for
        document.amend([edit])
    assert document.amend([]) == document.text


@pytest.mark.parametrize("text", TEXTS)
def test_nothing_asked_for_changes_nothing(text: str) -> None:
    assert amend_text(text, []) == text


@pytest.mark.parametrize("end", ["", "\n", "\n\n", "\r\n"])
def test_a_new_section_stands_on_lines_of_its_own(end: str) -> None:
    after = amend_text(f"[piece]\nseed = 1{end}", [Edit(op="append", path=("pin",), value={"block": "1·1"})])
    assert after.startswith(f"[piece]\nseed = 1{end}")
    assert after.replace("\r", "").endswith('\n\n[[pin]]\nblock = "1·1"\n')


@pytest.mark.parametrize(
    "edit",
    [
        Edit(op="remove", path=("piece", "nothing")),
        Edit(op="remove", path=("nothing",)),
        Edit(op="set", path=("fixture", 9, "x"), value=1),
        Edit(op="set", path=("fixture", "x"), value=1),
        Edit(op="set", path=("piece", 0), value=1),
        Edit(op="set", path=(0,), value=1),
        Edit(op="set", path=(), value=1),
        Edit(op="set", path=("a",) * 9, value=1),
        Edit(op="append", path=("piece",), value=1),
        Edit(op="append", path=("piece", "name"), value=1),
        Edit(op="insert", path=("fixture", 9), value={}),
        Edit(op="insert", path=("piece", "name"), value=1),
        Edit(op="set", path=("piece", "seed"), value=None),
        Edit(op="set", path=("piece", "seed"), value=float("nan")),
        Edit(op="set", path=("piece", "seed"), value=float("inf")),
        Edit(op="set", path=("piece", "seed"), value=2**70),
        Edit(op="set", path=("piece", "seed", "deeper"), value=2),
    ],
)
def test_a_path_that_leads_nowhere_is_a_fault_in_words(edit: Edit) -> None:
    with pytest.raises(BriefFaults) as refused:
        amend_text(example_text("s2"), [edit])
    assert refused.value.faults[0].remedy


@pytest.mark.parametrize(
    ("edit", "field", "allowed"),
    [
        # what the writer has no form for, said where it would stand
        (Edit(op="append", path=("pin",), value=5), "pin", "what this place of a brief holds"),
        (Edit(op="insert", path=("fixture", 0), value=5), "fixture[1]", "what this place of a brief holds"),
        # what leads nowhere: a place in a table, a key in a list
        (Edit(op="set", path=("piece", 0), value=1), "piece[1]", "a key or a place that is there"),
        (Edit(op="set", path=("fixture", "x"), value=1), "fixture.x", "a key or a place that is there"),
        # what it writes otherwise than asked
        (Edit(op="set", path=("fixture", 0), value=5), "", "[section] headings"),
        (Edit(op="remove", path=("fixture", 3, "x"), value=None), "fixture[4]", "a key or a place that is there"),
        (Edit(op="append", path=("fixture", 0), value=1), "fixture[1]", "a key or a place that is there"),
        (Edit(op="set", path=("piece", "x"), value=-(2**63)), "piece.x", "a number, a text"),
        (Edit(op="set", path=("piece", "x"), value={"a": [float("inf")]}), "piece.x", "a number, a text"),
        (Edit(op="set", path=("piece", "x"), value={1: 2}), "piece.x", "a number, a text"),
    ],
)
def test_a_change_that_cannot_be_made_says_where_and_what_would_do(edit: Edit, field: str, allowed: str) -> None:
    with pytest.raises(BriefFaults) as refused:
        amend_text(example_text("s2"), [edit])
    (fault,) = refused.value.faults
    assert fault.field == field
    assert fault.allowed.startswith(allowed)


def nested(deep: int) -> Any:
    value: Any = 1
    for _ in range(deep):
        value = [value]
    return value


@pytest.mark.parametrize(("path", "value"), [(("a",) * 8, 1), (("piece", "x"), nested(7)), (("piece", "x"), 2**63 - 1)])
def test_paths_go_eight_keys_deep_and_values_eight_levels(path: tuple[str, ...], value: Any) -> None:
    text = amend_text("[piece]\nseed = 1\n", [Edit(op="set", path=path, value=value)])
    here: Any = tomllib.loads(text)
    for step in path:
        here = here[step]
    assert here == value


@pytest.mark.parametrize(("path", "value"), [(("a",) * 9, 1), (("piece", "x"), nested(8)), (("piece", "x"), 2**63)])
def test_a_level_more_is_refused(path: tuple[str, ...], value: Any) -> None:
    with pytest.raises(BriefFaults):
        amend_text("[piece]\nseed = 1\n", [Edit(op="set", path=path, value=value)])


def test_what_is_no_toml_is_refused_before_it_is_changed() -> None:
    with pytest.raises(BriefFaults):
        amend_text("[piece\n", [])
