from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.body import plan_body
from bossage.brief import BriefFaults, read_brief
from bossage.brief.amend import amend_text
from bossage.checks import Edit
from bossage.costing import plan_cost
from bossage.examples import example_names, example_text
from bossage.fade import plan_fade
from bossage.hang import plan_hang
from bossage.layout import plan_layout
from bossage.paint import plan_paint
from bossage.plan import READS, Memory, Plan, make_plan, read_by
from bossage.press import bench_of, plan_press
from bossage.relief import plan_relief
from bossage.saw import plan_saw
from bossage.serial import plan_json

WORK: dict[str, Callable[..., Any]] = {
    "layout": plan_layout,
    "body": plan_body,
    "relief": plan_relief,
    "fade": plan_fade,
    "saw": plan_saw,
    "paint": plan_paint,
    "press": plan_press,
    "hang": plan_hang,
    "cost": plan_cost,
}
TAKES = {
    "layout": (),
    "body": ("layout",),
    "relief": ("layout",),
    "fade": ("layout", "relief"),
    "saw": ("body", "fade"),
    "paint": ("layout", "body", "relief", "fade"),
    "press": ("bench", "relief", "saw", "hang"),
    "hang": ("layout", "body", "relief", "paint"),
    "cost": ("layout", "body", "saw", "paint", "press", "hang"),
}
EXAMPLES = sorted(example_names())


class Touched(AssertionError):
    """A stage read what it does not declare."""


class Poison:
    """Stands for a part that is not declared; may be handed on, as `replace` does, but not looked at."""

    def __init__(self, path: str) -> None:
        object.__setattr__(self, "_path", path)

    def __getattribute__(self, name: str) -> Any:
        if name in ("__class__", "__reduce_ex__"):
            return object.__getattribute__(self, name)
        raise Touched(object.__getattribute__(self, "_path"))


def _raise(self: Poison, *others: object) -> Any:
    raise Touched(object.__getattribute__(self, "_path"))


DUNDERS = """eq ne lt le gt ge hash bool len iter getitem contains add radd sub rsub mul rmul truediv rtruediv
floordiv rfloordiv neg index int float str repr format array call abs round"""
for _name in DUNDERS.split():
    setattr(Poison, f"__{_name}__", _raise)


def poisoned(record: Any, paths: list[list[str]], name: str) -> Any:
    """The record, true in the declared parts and poison in all others."""
    if any(not path for path in paths):
        # a layout as a whole is declared without its checks
        return (
            poisoned(record, [[f.name] for f in fields(record) if f.name != "checks"], name)
            if name == "layout"
            else record
        )
    if isinstance(record, tuple):
        return tuple(poisoned(entry, paths, f"{name}[]") for entry in record)
    if not is_dataclass(record):
        return Poison(name) if not paths else record
    blank = object.__new__(type(record))
    for field in fields(record):
        below = [path[1:] for path in paths if path[0] == field.name]
        value = getattr(record, field.name)
        whole = poisoned(value, below, f"{name}.{field.name}") if below else Poison(f"{name}.{field.name}")
        object.__setattr__(blank, field.name, whole)
    return blank


def only_declared(stage: str, records: dict[str, Any]) -> dict[str, Any]:
    paths = [path.split(".") for path in READS[stage]]
    return {
        name: poisoned(record, [path[1:] for path in paths if path[0] == name], name)
        for name, record in records.items()
    }


def test_poison_bites() -> None:
    brief = read_brief(example_text("first"))
    blank = poisoned(brief, [["piece", "seed"]], "brief")
    assert blank.piece.seed == brief.piece.seed
    for touch in (lambda: blank.piece.name == "x", lambda: blank.wall.width_nm, lambda: list(blank.fixtures)):
        with pytest.raises(Touched):
            touch()


def stage_result(plan: Plan, name: str) -> Any:
    """A stage's record of the plan; the bench lies between two stages, and no plan keeps it."""
    return bench_of(plan.layout, plan.body) if name == "bench" else getattr(plan, name)


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_stage_reads_only_what_it_declares(name: str) -> None:
    brief = read_brief(example_text(name))
    plan = make_plan(brief)
    assert isinstance(plan, Plan)
    for stage in READS:
        records = {"brief": brief, **{taken: stage_result(plan, taken) for taken in TAKES[stage]}}
        more = {"draw": plan.layout.draw} if stage == "layout" else {}
        WORK[stage](**only_declared(stage, records), **more)


def test_what_is_declared_is_there() -> None:
    plan = make_plan(read_brief(example_text("s2")))
    assert isinstance(plan, Plan)
    for stage in READS:
        records = {"brief": plan.brief, **{taken: stage_result(plan, taken) for taken in TAKES[stage]}}
        assert read_by(stage, **records) == read_by(stage, **records)
        assert {path.split(".")[0] for path in READS[stage]} == set(records)


def put(*path: str | int, to: Any) -> Edit:
    return Edit(op="set", path=path, value=to)


EDITS = {
    "price": (put("price", 0, "price", to=31), {"cost"}),
    "name": (put("piece", "name", to="Another"), set()),
    "rate": (put("rates", "hourly", to=30), {"paint", "press", "hang", "cost"}),
    "kerf": (put("tools", "kerf", to=2.4), {"saw", "paint", "press", "hang", "cost"}),
    "pin": (
        Edit(op="append", path=("pin",), value={"leaf": "whole", "block": "3·3a", "shade": "clay 58"}),
        {"layout", "body", "relief", "fade", "saw", "paint", "press", "hang", "cost"},
    ),
    "lightness": (put("family", 0, "lightness", 1, to=71), {"fade", "saw", "paint", "hang", "cost"}),
    "grain": (put("fade", "grain", to=0.5), {"fade", "saw", "paint", "hang", "cost"}),
    "move": (put("leaf", 0, "x", to=881), {"layout", "body", "relief", "fade", "saw", "paint", "hang", "cost"}),
    "wall's colour": (put("wall", "colour", to="#FFFFFF"), {"layout", "body", "saw", "paint", "hang", "cost"}),
}


@pytest.mark.parametrize("kind", EDITS)
def test_an_edit_reworks_no_more_than_it_must(kind: str) -> None:
    text = example_text("s2")
    edit, allowed = EDITS[kind]
    memory = Memory()
    make_plan(read_brief(text), memory=memory)
    worked: list[str] = []
    brief = read_brief(amend_text(text, [edit]))
    plan = make_plan(brief, memory=memory, tell=worked.append)
    assert set(worked) <= allowed
    assert plan_json(plan) == plan_json(make_plan(brief))
    worked.clear()
    make_plan(brief, memory=memory, tell=worked.append)
    assert worked == []


def edits_of_s2() -> st.SearchStrategy[Edit]:
    address = st.tuples(st.integers(1, 16), st.integers(1, 8), st.sampled_from("ab"))
    pin = address.map(lambda a: {"leaf": "whole", "block": f"{a[0]}·{a[1]}{a[2]}"})
    return st.one_of(
        st.integers(1, 99).map(lambda n: put("piece", "seed", to=n)),
        st.integers(700, 1000).map(lambda n: put("leaf", 0, "x", to=n)),
        st.integers(430, 520).map(lambda n: put("leaf", 0, "y", to=n)),
        st.sampled_from([0, 0.5, 1, 2]).map(lambda n: put("blocks", "gap", to=n)),
        st.sampled_from([0, 0.5, 1.2]).map(lambda n: put("fade", "grain", to=n)),
        st.sampled_from([1.8, 2.2, 3]).map(lambda n: put("tools", "kerf", to=n)),
        st.integers(60, 78).map(lambda n: put("family", 0, "lightness", 1, to=n)),
        st.sampled_from(["free", "path", "bands"]).map(lambda n: put("fade", "shape", to=n)),
        st.sampled_from(["plywood_birch", "mdf"]).map(lambda n: put("backer", "material", to=n)),
        st.tuples(pin, st.sampled_from([18, 26, 40])).map(
            lambda p: Edit(op="append", path=("pin",), value={**p[0], "level": p[1]})
        ),
        st.tuples(pin, st.sampled_from(["clay 58", "rust 42"])).map(
            lambda p: Edit(op="append", path=("pin",), value={**p[0], "shade": p[1]})
        ),
    )


@settings(max_examples=4, deadline=None)
@given(st.lists(edits_of_s2(), min_size=2, max_size=4))
def test_a_remembered_plan_is_the_plan_made_anew(edits: list[Edit]) -> None:
    memory = Memory()
    text = example_text("s2")
    make_plan(read_brief(text), memory=memory)
    for edit in edits:
        changed = amend_text(text, [edit])
        try:
            brief = read_brief(changed)
        except BriefFaults:
            continue
        text = changed
        assert plan_json(make_plan(brief, memory=memory)) == plan_json(make_plan(brief))


def test_memory_forgets_the_longest_unused() -> None:
    memory = Memory(blocks_n=10)
    memory.keep(("a",), "A", 5)
    memory.keep(("b",), "B", 5)
    assert memory.recall(("a",)) == "A"
    memory.keep(("c",), "C", 5)
    assert [memory.recall((key,)) for key in "abc"] == ["A", None, "C"]


def test_arrays_are_told_apart_by_what_is_in_them() -> None:
    plan = make_plan(read_brief(example_text("first")))
    assert isinstance(plan, Plan)
    other = np.array(plan.relief.level)
    other[0] += 1
    from dataclasses import replace

    changed = replace(plan.relief, level=other)
    marks = [read_by("fade", brief=plan.brief, layout=plan.layout, relief=r) for r in (plan.relief, changed)]
    assert marks[0] != marks[1]
